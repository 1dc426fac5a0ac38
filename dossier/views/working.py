"""Every number's working on one sheet: formula, numbers put in, answer, where each input came from, source."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.design import Design
from dossier.views.questions import sorted_by_question
from dossier.views.results import Limit, limit_of
from dossier.views.site import Page
from dossier.views.workings import Work, users, work_of


@dataclass(frozen=True, slots=True)
class Worked:
    """One result in full: its working and what is asked of it."""

    work: Work
    limit: Limit | None


@dataclass(frozen=True, slots=True)
class Chapter:
    """The workings that answer one question."""

    key: str
    heading: str
    worked: tuple[Worked, ...]


@dataclass(frozen=True, slots=True)
class Missing:
    """A result, on paper several by their IDs, that could not be worked out, and what the spec would have to say."""

    id: str
    why: str


@dataclass(frozen=True, slots=True)
class WorkingView:
    """The sheet of workings."""

    page: Page
    chapters: tuple[Chapter, ...]
    missing: tuple[Missing, ...]


def working_view(design: Design, page: Page) -> WorkingView:
    """All workings of a design, in the order of the questions they answer."""
    later = users(design)
    chapters = tuple(
        Chapter(question.key, question.heading,
                tuple(Worked(work_of(result, design, later.get(result.id, ())), limit_of(result, design))
                      for result in results))
        for question, results in sorted_by_question(design).items())
    return WorkingView(page, chapters, tuple(Missing(name, why) for name, why in design.left_out.items()))


def question_anchor(key: str) -> str:
    """The name of a question's place on its page."""
    return f"question-{key}"
