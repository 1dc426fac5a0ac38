"""The author's pages: Markdown files in ``pages/``, each with a title and a place in the order, if it says so."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec import text_file
from dossier.spec.steps import parted

FOLDER = "pages"
_KEYS = frozenset({"title", "order", "summary"})
_LAST = 1000.0


@dataclass(frozen=True, slots=True)
class Source:
    """One page as its author wrote it. The body begins at ``line`` of ``file``; ``order`` sorts pages of his own."""

    name: str
    file: str
    title: str
    summary: str
    order: float
    body: str
    line: int


def author_pages(folder: Path) -> dict[str, Source]:
    """The pages of a build by name, in order. Raises Unusable with everything that is wrong with any of them."""
    problems: list[Problem] = []
    found: list[Source] = []
    root = folder.resolve()
    for path in sorted((folder / FOLDER).glob("*.md")):
        if not path.resolve().is_relative_to(root):
            problems.append(Problem(text_file.shown(path), 0, "", "leads out of the build's folder"))
            continue
        try:
            found.append(_page(path, problems))
        except Unusable as error:
            problems += error.problems
    if problems:
        raise Unusable(problems)
    return {source.name: source for source in sorted(found, key=lambda each: (each.order, each.name))}


def _page(path: Path, problems: list[Problem]) -> Source:
    file = text_file.shown(path)
    text, _ = text_file.read(path)
    front, body, line = parted(text, file)
    values = front.values
    problems += front.problems
    for key in values:
        if key not in _KEYS:
            hint = did_you_mean(key, _KEYS) or "; there are " + ", ".join(sorted(_KEYS))
            problems.append(Problem(file, front.places[key].line, key, f"is not a key of a page{hint}"))
    order = values.get("order", _LAST)
    if isinstance(order, bool) or not isinstance(order, (int, float)):
        problems.append(Problem(file, front.places["order"].line, "order", "wants a number, such as 3"))
        order = _LAST
    return Source(path.stem, file, str(values.get("title", "")), str(values.get("summary", "")), float(order), body,
                  line)
