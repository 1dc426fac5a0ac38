"""Every source this dossier leans on, how it is known, and what leans on it."""

from __future__ import annotations

from dataclasses import dataclass

from dossier import shelf
from dossier.design import Design
from dossier.shelf import Source
from dossier.views.asides import asides_for
from dossier.views.choices import BUILDERS, VARIANCE, builder_tables
from dossier.views.goals import sentence
from dossier.views.links import SOURCES, caution_on, key_of_source, working_of
from dossier.views.questions import QUESTIONS
from dossier.views.results import label_of
from dossier.views.site import Page
from dossier.views.working import question_anchor
from dossier.working import Given, Result

KNOWN = {
    "read": "The source, or a quotation of it, was read.",
    "worked": "The formula was read and the number computed from it.",
    "recalled": "Known from memory, recomputed, and it agreed.",
}
KIND = {"book": "Book", "paper": "Paper", "standard": "Standard", "web": "Publication on the web",
        "practice": "Practice of the trade"}


@dataclass(frozen=True, slots=True)
class SourceLine:
    """One source as strings. ``uses`` are what leans on it: addresses, titles, and where in the source."""

    key: str
    title: str
    author: str
    details: str
    kind: str
    known: str
    note: str
    uses: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class SourcesView:
    """The sheet of sources."""

    page: Page
    sources: tuple[SourceLine, ...]


def sources_view(design: Design, page: Page) -> SourcesView:
    """The sources of this design, by author and title."""
    uses: dict[str, dict[tuple[str, str, str], None]] = {key: {} for key in shelf.sources()}
    for result in design.results.values():
        _count(result, label_of(result, design), uses)
    _count_asides(design, uses)
    for topic in design.cautions:
        caution = shelf.cautions()[topic]
        for key in caution.authority:
            if key in uses:
                uses[key][(caution_on(topic), f"Caution: {caution.title}", "")] = None
    always = {"iso-80000"}
    lines = [_line(shelf.sources()[key], tuple(used)) for key, used in uses.items() if used or key in always]
    return SourcesView(page, tuple(sorted(lines, key=lambda line: (line.author or line.title).casefold())))


def _count(result: Result, label: str, uses: dict[str, dict[tuple[str, str, str], None]]) -> None:
    here = (working_of(result.id), label)
    uses[result.formula.source][(*here, result.formula.where)] = None
    if result.goal and result.goal.source:
        uses[result.goal.source][(here[0], f"Limit on {label}", "")] = None
    for entry in result.inputs.values():
        for member in (entry, *(entry.members if isinstance(entry, Given) else ())):
            if isinstance(member, Given) and member.source:
                uses[member.source][(*here, "")] = None


def _count_asides(design: Design, uses: dict[str, dict[tuple[str, str, str], None]]) -> None:
    """The sources of the tables beside the results, which lean on them as results do."""
    tables = [(f"{question.page}#{question_anchor(question.key)}", aside) for question in QUESTIONS
              for aside in asides_for(design, question.key)]
    builders = builder_tables(design)
    for place, aside in (*tables, *((BUILDERS, aside) for aside in builders)):
        here = (place, aside.title)
        for work in aside.works:
            uses[key_of_source(work.source.href)][(*here, work.source.where)] = None
            for entry in (each for given in work.inputs for each in (given, *given.members)):
                if entry.href.startswith(SOURCES):
                    uses[key_of_source(entry.href)][(*here, "")] = None
    if builders:
        uses[VARIANCE][(BUILDERS, "Which tolerance spoils most", "")] = None


def _line(source: Source, uses: tuple[tuple[str, str, str], ...]) -> SourceLine:
    details = ", ".join(filter(None, (source.publisher, source.year)))
    return SourceLine(source.key, source.title, source.author, details, KIND[source.kind], KNOWN[source.known],
                      sentence(source.note), uses)
