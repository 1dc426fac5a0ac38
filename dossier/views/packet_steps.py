"""Build steps on paper: what to lay out, what can hurt, what to do, what to measure, and who did it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dossier.spec.steps import Step
from dossier.views.links import step_page
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor, with_own_names
from dossier.views.prose import Passage
from dossier.views.safety import CautionView
from dossier.views.steps import StepView

# Columns that the cautions may have beside the work, from the narrowest, with the letters of small type in a line.
_COLUMNS = {"narrow": 42, "even": 60, "broad": 72}
# So many lines of small type fit on a page below the things to lay out.
_MOST_LINES = 44


@dataclass(frozen=True, slots=True)
class InShort:
    """A caution in short: its title, what can happen in one sentence, and where it stands in full."""

    title: str
    first: str
    href: str


@dataclass(frozen=True, slots=True)
class StepSheet:
    """One step. ``running`` is its title in the head of each page. Cautions that the step names stand in full;
    those that its words and tools call up stand in short, and lead to the sheet of cautions.
    ``column`` is how wide the cautions stand beside the work: ``narrow``, ``even`` or ``broad``."""

    anchor: str
    running: str
    title: str
    step: StepView
    body: tuple[Html, ...]
    named: tuple[CautionView, ...]
    called_up: tuple[InShort, ...]
    column: str


def step_sheet(step: Step, view: StepView, body: Passage) -> StepSheet:
    """A step of the site as it stands on paper."""
    page = step_page(step.slug)
    blocks = tuple(with_own_names(piece.html, page) for piece in body.pieces)
    named = tuple(each for each in view.cautions if each.topic in step.cautions)
    called_up = tuple(InShort(each.title, _first_sentence(each.can_happen), each.href) for each in view.cautions
                      if each.topic not in step.cautions)
    return StepSheet(anchor(page), f"Step {view.number}: {step.title}", step.title, view, blocks, named, called_up,
                     _column(named, called_up))


def _column(named: tuple[CautionView, ...], called_up: tuple[InShort, ...]) -> str:
    """The narrowest column in which the cautions end on the page that they begin on."""
    texts = [text for each in named for text in (each.title + each.can_happen, *each.do, "")]
    texts += [text for each in called_up for text in (each.title + each.first, "")]
    return next((name for name, letters in _COLUMNS.items()
                 if sum(1 + len(text) // letters for text in texts) <= _MOST_LINES), "broad")


def _first_sentence(text: str) -> str:
    return re.split(r"(?<=[.!?])\s", text, maxsplit=1)[0]
