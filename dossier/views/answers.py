"""A sheet of questions and results, such as optics or structure, and a sheet of the author's own words."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.design import Design
from dossier.views.figures import Figure, figures
from dossier.views.known_issues import IssueView, issues_of_drawing
from dossier.views.prose import Said
from dossier.views.results import Answered
from dossier.views.site import Page
from dossier.views.spoken import Spoken


@dataclass(frozen=True, slots=True)
class AnswersView:
    """Questions with their results, after the author's introduction. ``issues`` are the notes on what is drawn."""

    page: Page
    intro: tuple[Said, ...]
    figures: tuple[Figure, ...]
    issues: tuple[IssueView, ...]
    answers: tuple[Answered, ...]


@dataclass(frozen=True, slots=True)
class OwnView:
    """A page of the author's own."""

    page: Page
    body: tuple[Said, ...]


def answers_view(design: Design, page: Page, intro: tuple[Said, ...], answers: tuple[Answered, ...],
                 spoken: Spoken) -> AnswersView:
    """A sheet of questions."""
    drawn = figures(design, page.href)
    return AnswersView(page, intro, drawn, issues_of_drawing(design, spoken) if drawn else (), answers)
