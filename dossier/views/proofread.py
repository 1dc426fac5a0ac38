"""Live numbers in steps and pages looked at without setting a page, so that a check finds what publishing would refuse.

Nearly every expression is a plain name, or arithmetic over bare numbers: a line in which all are of these kinds, and
all names known, is passed by eye. Only where one is not are the texts worked out as publishing works them out, so that
what is reported is what publishing says, word for word.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from dossier.design import Design
from dossier.design.machines import machine_minutes
from dossier.design.resolve import spoken_name
from dossier.errors import Problem, Unusable
from dossier.expressions import LONGEST_EXPRESSION
from dossier.spec import text_file
from dossier.spec.keys import value_at
from dossier.spec.steps import FOLDER, Step, parted

PAGES = FOLDER.parent

_EXPRESSION = re.compile(r"\{\{(.*?)\}\}")
_STRANGE = ("{%", "{#")
_NO_MARKS = str.maketrans("", "", "]'\"")
_PATH = re.compile(r"[A-Za-z_]\w*(?:\.\w+|\[(?:'[^']*'|\"[^\"]*\"|\d+)\])*")
_FILTERS = re.compile(r"\| *(?:abs\b|round\b(?: *\( *-?\d* *\))?)")
_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.])")
# Numbers with signs between them, and the same in brackets.
_SUM = re.compile(r"-?n(?:[-+*/]n)*")
_BRACKET = re.compile(rf"\({_SUM.pattern}\)")


def proofread(design: Design) -> None:
    """Raise Unusable with every expression in a step or a page that cannot be worked out, or the first machine time."""
    for step in design.steps:
        machine_minutes(design, step)
    if any(map(Eye(design).doubts, _texts(design))) and (problems := _worked_out(design)):
        raise Unusable(problems)


def _texts(design: Design) -> Iterator[str]:
    """The texts of the steps, and of the pages as they lie in their files, front matter and all."""
    for step in design.steps:
        yield "\n".join((step.body, *(said for _, said in _of_front_matter(step))))
    for path in (design.loaded.folder / PAGES).glob("*.md"):
        yield text_file.read(path)[0]


class Eye:
    """Looks over expressions: doubts each that is not surely one that can be worked out."""

    def __init__(self, design: Design) -> None:
        self._design = design
        self._keys: dict[str, str] = {}

    def doubts(self, text: str) -> bool:
        """Whether something in this text may not be worked out."""
        if "{{" not in text and not any(sign in text for sign in _STRANGE):
            return False
        found = _EXPRESSION.findall(text)
        return (len(found) != text.count("{{") or any(sign in text for sign in _STRANGE)
                or not all(self._sound(each.strip()) for each in dict.fromkeys(found)))

    def _sound(self, expression: str) -> bool:
        if _PATH.fullmatch(expression):
            return self._value(_spelled(expression)) is not None
        known = True

        def number(found: re.Match[str]) -> str:
            nonlocal known
            known = known and self._is_number(_spelled(found[0]))
            return "n"

        if len(expression) > LONGEST_EXPRESSION - 20:  # the braces and their spaces count as well
            return False
        shape = _NUMBER.sub("n", _PATH.sub(number, _FILTERS.sub("", expression))).replace(" ", "")
        while (shorter := _BRACKET.sub("n", shape)) != shape:
            shape = shorter
        return known and bool(_SUM.fullmatch(shape))

    def _is_number(self, path: str) -> bool:
        """Whether a path leads to a bare number: a result's ``.value``, or one of several."""
        name, dot, place = path.partition(".value")
        value = self._value(name) if dot else None
        if isinstance(value, tuple) and place[1:].isdecimal():
            return int(place[1:]) < len(value)
        return isinstance(value, (int, float)) and not place

    def _value(self, name: str) -> object:
        """What a name stands for, or None where it is no name or was not worked out."""
        if result := self._design.results.get(name):
            return result.value
        if not name.startswith("spec."):
            return None
        self._keys = self._keys or {spoken_name(key): key for key in self._design.loaded.spots}
        value = value_at(self._design.build, self._keys[name]) if name in self._keys else None
        return value if isinstance(value, (int, float, str)) else None


def _spelled(path: str) -> str:
    """A path with dots alone: ``eyepiece['9-mm'].exit_pupil`` is ``eyepiece.9-mm.exit_pupil``."""
    return path.replace("[", ".").translate(_NO_MARKS)


def _worked_out(design: Design) -> list[Problem]:
    from dossier.views.spoken import Spoken

    spoken = Spoken(design)
    for step in design.steps:
        for key, said in _of_front_matter(step):
            spoken.marked(said, step.file, step.lines.get(key, 1), key)
        spoken.marked(step.body, step.file, step.body_line)
    for path in sorted((design.loaded.folder / PAGES).glob("*.md")):
        file = text_file.shown(path)
        _, body, line = parted(text_file.read(path)[0], file)
        spoken.marked(body, file, line)
    return spoken.problems


def _of_front_matter(step: Step) -> Iterator[tuple[str, str]]:
    yield "title", step.title
    for key in ("tools", "consumables", "record"):
        yield from ((key, said) for said in getattr(step, key))
    for check in step.checks:
        yield from (("checks", said) for said in (check.what, check.target, check.tolerance))
