"""The author's pages: Markdown files in ``pages/``, each with a title and a place in the order, if it says so."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec import text_file, yaml_tree

FOLDER = "pages"
_KEYS = frozenset({"title", "order", "summary"})
_FENCE = "---"
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
    front, body, line = _parted(text, file)
    said = yaml_tree.read(front, file) if front.strip() else None
    values = said.values if said else {}
    for problem in said.problems if said else ():
        problems.append(Problem(file, problem.line + 1, problem.key, problem.message))
    for key in values:
        if key not in _KEYS and said:
            hint = did_you_mean(key, _KEYS) or "; there are " + ", ".join(sorted(_KEYS))
            problems.append(Problem(file, said.places[key].line + 1, key, f"no such key{hint}"))
    order = values.get("order", _LAST)
    if isinstance(order, bool) or not isinstance(order, (int, float)):
        problems.append(Problem(file, 1, "order", "wants a number, such as 3"))
        order = _LAST
    return Source(path.stem, file, str(values.get("title", "")), str(values.get("summary", "")), float(order), body, line)


def _parted(text: str, file: str) -> tuple[str, str, int]:
    """Front matter, body, and the line on which the body begins."""
    lines = text.splitlines(keepends=True)
    if not lines or lines[0].strip() != _FENCE:
        return "", text, 1
    end = next((number for number, line in enumerate(lines[1:], start=1) if line.strip() == _FENCE), None)
    if end is None:
        raise Unusable([Problem(file, 1, "", "begins with --- but has no second --- after its keys")])
    return "".join(lines[1:end]), "".join(lines[end + 1:]), end + 2
