"""A sheet of questions and results, such as optics or structure, and a sheet of the author's own words."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.design import Design
from dossier.views.figures import Figure, figures
from dossier.views.prose import Said
from dossier.views.results import Answered
from dossier.views.site import Page


@dataclass(frozen=True, slots=True)
class AnswersView:
    """Questions with their results, after the author's introduction."""

    page: Page
    intro: tuple[Said, ...]
    figures: tuple[Figure, ...]
    answers: tuple[Answered, ...]


@dataclass(frozen=True, slots=True)
class OwnView:
    """A page of the author's own."""

    page: Page
    body: tuple[Said, ...]


def answers_view(design: Design, page: Page, intro: tuple[Said, ...], answers: tuple[Answered, ...]) -> AnswersView:
    """A sheet of questions."""
    return AnswersView(page, intro, figures(design, page.href), answers)
