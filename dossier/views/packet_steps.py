"""Build steps on paper: what to lay out, what can hurt, what to do, what to measure, and who did it."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.views.links import step_page
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor, with_own_names
from dossier.views.prose import Passage
from dossier.views.steps import StepView


@dataclass(frozen=True, slots=True)
class StepSheet:
    """One step: its sheet's name, and its title as it stands in the head of each page."""

    anchor: str
    running: str
    title: str
    step: StepView
    body: tuple[Html, ...]


def step_sheet(slug: str, title: str, step: StepView, body: Passage) -> StepSheet:
    """A step of the site with its body as it stands on paper."""
    page = step_page(slug)
    return StepSheet(anchor(page), f"Step {step.number}: {title}", title, step,
                     tuple(with_own_names(piece.html, page) for piece in body.pieces))
