"""The build steps: ``pages/steps/*.md``, whose front matter says what a step needs and what it must give."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec import text_file, yaml_tree
from dossier.spec.model import Build
from dossier.spec.quantities import parse
from dossier.spec.yaml_tree import Tree

FOLDER = Path("pages", "steps")
MOST_STEPS = 200
_FENCE = "---"
_LISTS = ("parts", "makes", "tools", "consumables", "cautions", "needs", "record", "pictures")
_KEYS = ("title", *_LISTS, "bench", "time", "machine", "wait", "when", "people", "checks")
LIGHTS = ("daylight", "night")
_CHECK_KEYS = ("what", "target", "tolerance")


@dataclass(frozen=True, slots=True)
class Check:
    """Something to measure in a step: what, the value to reach, how far off it may be. Text may hold expressions."""

    what: str
    target: str = ""
    tolerance: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One build step. ``minutes`` is for one kit; ``machine`` is how long a machine at its bench then works on by
    itself, as its author wrote it; ``wait_minutes`` must pass after it before a step that needs it;
    ``light`` is one of LIGHTS where it can be done by no other; ``needs`` are slugs of earlier steps; ``makes`` are
    parts that are there only after it; ``body`` is the author's
    Markdown, which begins at ``body_line`` of ``file``; ``lines`` tells the line of each key of the front matter."""

    slug: str
    number: int
    title: str
    file: str
    body: str
    body_line: int
    lines: dict[str, int]
    parts: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    bench: str = ""
    tools: tuple[str, ...] = ()
    consumables: tuple[str, ...] = ()
    minutes: float | None = None
    machine: str = ""
    wait_minutes: float = 0.0
    light: str = ""
    people: int = 1
    cautions: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    checks: tuple[Check, ...] = ()
    record: tuple[str, ...] = ()
    pictures: tuple[str, ...] = ()


@dataclass(slots=True)
class _Head:
    """A front matter being read: hands out its values and notes what is wrong with them."""

    file: str
    tree: Tree
    problems: list[Problem] = field(default_factory=list)

    def line(self, key: str) -> int:
        place = self.tree.places.get(key)
        return place.line if place else 1

    def wrong(self, key: str, message: str) -> None:
        self.problems.append(Problem(self.file, self.line(key), key, message))

    def text(self, key: str, value: Any) -> str:
        if isinstance(value, str) and value.strip():
            return value
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return str(value)
        self.wrong(key, f"wants a text (got {value!r})")
        return ""

    def texts(self, key: str) -> tuple[str, ...]:
        value = self.tree.values.get(key)
        if value is None:
            return ()
        if not isinstance(value, list):
            self.wrong(key, f"wants a list, such as [{value}]" if isinstance(value, str) else "wants a list")
            return ()
        return tuple(self.text(key, item) for item in value)


def load_steps(folder: Path, build: Build) -> tuple[Step, ...]:
    """The steps of a build in the order of their file names, which may begin with a number: ``04-the-cell.md``.

    Raises Unusable with every problem of every step: what its front matter says wrongly, parts that the build does not
    have, and needs that no earlier step meets.
    """
    files = sorted((folder / FOLDER).glob("*.md"))
    if len(files) > MOST_STEPS:
        raise Unusable([Problem(text_file.shown(folder / FOLDER), 0, "", f"holds more than {MOST_STEPS} steps")])
    problems: list[Problem] = []
    steps: list[Step] = []
    root = folder.resolve()
    for number, path in enumerate(files, start=1):
        if not path.resolve().is_relative_to(root):
            problems.append(Problem(text_file.shown(path), 0, "", "leads out of the build's folder"))
            continue
        try:
            steps.append(_step(path, number, problems))
        except Unusable as error:
            problems += error.problems
    problems += _misfits(steps, build)
    if problems:
        raise Unusable(problems)
    return tuple(steps)


def parted(text: str, file: str) -> tuple[Tree, str, int]:
    """A Markdown file's front matter, its body, and the line on which the body begins. Without a front matter the tree
    is empty. Raises Unusable where the front matter is not YAML, or has no end."""
    lines = text.splitlines(keepends=True)
    if not lines or lines[0].rstrip() != _FENCE:
        return Tree({}, {}), text, 1
    end = next((index for index, line in enumerate(lines[1:], start=1) if line.rstrip() == _FENCE), None)
    if end is None:
        raise Unusable([Problem(file, 1, "", f"its front matter has no end; put a line {_FENCE} under it")])
    head = "\n" + "".join(lines[1:end])  # one line for the fence, so that line numbers are the file's own
    tree = yaml_tree.read(head, file) if head.strip() else Tree({}, {})
    return tree, "".join(lines[end + 1:]), end + 2


def slug_of(path: Path) -> str:
    """A page's name on the site: its file's name without a leading number."""
    return path.stem.lstrip("0123456789").lstrip("-_ ") or path.stem


def _step(path: Path, number: int, problems: list[Problem]) -> Step:
    file = text_file.shown(path)
    text, _ = text_file.read(path)
    tree, body, body_line = parted(text, file)
    head = _Head(file, tree)
    values = tree.values
    for key in values:
        if key not in _KEYS:
            head.wrong(key, f"is not a key of a step{did_you_mean(key, _KEYS)}")
    if "title" not in values:
        head.wrong("title", "is required")
    lists = {key: head.texts(key) for key in _LISTS}
    step = Step(
        slug=slug_of(path), number=number, title=head.text("title", values.get("title", path.stem)), file=file,
        body=body, body_line=body_line, lines={key: head.line(key) for key in values},
        minutes=_minutes(head, "time"), machine=_machine(head), wait_minutes=_minutes(head, "wait") or 0.0,
        light=_light(head), people=_people(head), checks=tuple(_checks(head)),
        bench=head.text("bench", values["bench"]) if "bench" in values else "", **lists,
    )
    problems += [*tree.problems, *head.problems]
    return step


def minutes_of(text: str) -> float:
    """The minutes that a text such as ``45 min`` says. Raises ValueError with a plain message."""
    # Hours are read as such: the library that turns units into others takes as long to load as all else.
    return parse(text, "h") * 60 if text.rstrip().endswith(" h") else parse(text, "min")


def _machine(head: _Head) -> str:
    """How long a machine works on; an expression is worked out when it is asked for."""
    value = head.tree.values.get("machine")
    if isinstance(value, str) and "{{" in value:
        return value
    return value if _minutes(head, "machine") and isinstance(value, str) else ""


def _minutes(head: _Head, key: str) -> float | None:
    value = head.tree.values.get(key)
    if value is None:
        return None
    try:
        minutes = minutes_of(value) if isinstance(value, str) else None
    except ValueError as error:
        head.wrong(key, str(error))
        return None
    if minutes is None or not minutes > 0:
        head.wrong(key, f"wants a time with its unit, such as 45 min (got {value!r})")
        return None
    return minutes


def _light(head: _Head) -> str:
    value = head.tree.values.get("when", "")
    if value in ("", *LIGHTS):
        return str(value)
    head.wrong("when", f"wants {' or '.join(LIGHTS)} (got {value!r}){did_you_mean(str(value), LIGHTS)}")
    return ""


def _people(head: _Head) -> int:
    value = head.tree.values.get("people", 1)
    if isinstance(value, int) and not isinstance(value, bool) and value >= 1:
        return value
    head.wrong("people", f"wants a whole number of people, such as 2 (got {value!r})")
    return 1


def _checks(head: _Head) -> Iterator[Check]:
    value = head.tree.values.get("checks") or []
    if not isinstance(value, list):
        head.wrong("checks", "wants a list of {what, target, tolerance}")
        return
    for index, item in enumerate(value):
        key = f"checks[{index}]"
        if not isinstance(item, Mapping) or "what" not in item:
            head.wrong(key, "wants {what: …, target: …, tolerance: …}")
            continue
        for name in item:
            if name not in _CHECK_KEYS:
                head.wrong(f"{key}.{name}", f"is not a key of a check{did_you_mean(name, _CHECK_KEYS)}")
        yield Check(*(head.text(f"{key}.{name}", item[name]) if name in item else "" for name in _CHECK_KEYS))


def _misfits(steps: list[Step], build: Build) -> Iterator[Problem]:
    refs = [part.ref for part in build.parts or ()]
    slugs = [step.slug for step in steps]
    for index, step in enumerate(steps):
        if step.slug in slugs[:index]:
            yield Problem(step.file, 1, "", f"two steps are named {step.slug!r}; rename one file")
        for key, ref in (*(("parts", ref) for ref in step.parts), *(("makes", ref) for ref in step.makes)):
            if ref not in refs:
                why = f"there is no part {ref!r}{did_you_mean(ref, refs)}"
                yield Problem(step.file, step.lines[key], key, why)
        for ref in step.parts:
            if later := next((other for other in steps[index + 1:] if ref in other.makes), None):
                why = f"{ref!r} is made later, in step {later.number}, {later.title!r}"
                yield Problem(step.file, step.lines["parts"], "parts", why)
        if step.bench and build.workshop and step.bench not in [bench.name for bench in build.workshop.benches]:
            known = [bench.name for bench in build.workshop.benches]
            why = f"the workshop has no bench {step.bench!r}{did_you_mean(step.bench, known)}"
            yield Problem(step.file, step.lines["bench"], "bench", why)
        if step.machine and not step.bench:
            yield Problem(step.file, step.lines["machine"], "machine", "wants the bench that the machine stands at")
        if build.workshop and step.people > build.workshop.people:
            why = f"wants {step.people} people, and the workshop has {build.workshop.people}"
            yield Problem(step.file, step.lines["people"], "people", why)
        for need in step.needs:
            if need not in slugs[:index]:
                why = "comes later" if need in slugs else f"is no step{did_you_mean(need, slugs)}"
                yield Problem(step.file, step.lines["needs"], "needs", f"{need!r} {why}")
