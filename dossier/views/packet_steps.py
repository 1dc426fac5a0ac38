"""Build steps on paper: what to lay out, what can hurt, what to do, what to measure, and who did it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from dossier.spec.steps import Step
from dossier.views.links import step_page
from dossier.views.markup import NOTHING, Html
from dossier.views.packet_prose import anchor, with_own_names
from dossier.views.prose import Passage
from dossier.views.safety import CautionView
from dossier.views.steps import StepView

# Columns that the cautions may have beside the work, from the narrowest: letters of small type in a line of theirs, and
# letters in a line of the work beside them.
_COLUMNS = {"narrow": (37, 86), "even": (56, 73), "broad": (70, 62), "most": (84, 46)}
_SMALL = 0.77  # height of a line of small type in lines of the work
# A sentence that forbids stands at the step also where it is not the first of its line.
_FORBIDS = ("Never ", "Do not ", "Leave ")
_TAG = re.compile("<[^>]*>")


@dataclass(frozen=True, slots=True)
class InShort:
    """A caution in short: its title, what can happen in one sentence, what to do, and where it stands in full."""

    title: str
    first: str
    do: tuple[str, ...]
    href: str


@dataclass(frozen=True, slots=True)
class StepSheet:
    """One step. ``running`` is its title in the head of each page. Cautions stand in short and lead to the sheet of
    cautions: first those that the step names, with all that is to be done, then those that its words and tools call up,
    with what can happen. ``column`` is how wide the cautions stand beside the work: ``narrow``, ``even``, ``broad`` or
    ``most``. ``to_write`` is what is to be written down, two in a row."""

    anchor: str
    running: str
    title: str
    step: StepView
    body: tuple[Html, ...]
    cautions: tuple[InShort, ...]
    column: str
    to_write: tuple[tuple[Html, ...], ...]


def step_sheet(step: Step, view: StepView, body: Passage) -> StepSheet:
    """A step of the site as it stands on paper."""
    page = step_page(step.slug)
    blocks = tuple(with_own_names(piece.html, page) for piece in body.pieces)
    shown = (*view.cautions, *view.of_other_choices)
    cautions = tuple(_in_short(each, named=each.topic in step.cautions)
                     for each in sorted(shown, key=lambda each: each.topic not in step.cautions))
    return StepSheet(anchor(page), f"Step {view.number}: {step.title}", step.title, view, blocks, cautions,
                     _column(cautions, blocks), _in_pairs(view.record))


def _in_pairs(lines: tuple[Html, ...]) -> tuple[tuple[Html, ...], ...]:
    """Two lines in a row; beside a last one alone stands nothing."""
    even = (*lines, NOTHING) if len(lines) % 2 else lines
    return tuple(even[at:at + 2] for at in range(0, len(even), 2))


def _in_short(caution: CautionView, *, named: bool) -> InShort:
    return InShort(caution.title, _sentences(caution.can_happen)[0],
                   tuple(map(_line_in_short, caution.do)) if named else (), caution.href)


def _line_in_short(line: str) -> str:
    """What to do without why and without what follows from it; what must not be done stays."""
    first, *more = _sentences(line)
    return " ".join((first, *(each for each in more if each.startswith(_FORBIDS))))


def _column(cautions: tuple[InShort, ...], body: tuple[Html, ...]) -> str:
    """The column with which work and cautions, side by side, come to an end soonest."""
    beside = [text for each in cautions for text in (f"Caution: {each.title}. {each.first}", *each.do, "")]
    told = [_TAG.sub("", item) for block in body for item in block.split("</li>")]

    def height(widths: tuple[int, int]) -> float:
        small, wide = widths
        return max(_SMALL * _lines(beside, small), _lines(told, wide) + 0.4 * len(body))

    return min(_COLUMNS, key=lambda name: height(_COLUMNS[name]))


def _lines(texts: Iterable[str], letters: int) -> int:
    return sum(1 + len(text) // letters for text in texts)


def _sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.!?])\s", text)
