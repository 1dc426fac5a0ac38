"""Results as a reader meets them: grouped by the question they answer, each with its limit and its working."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from dossier.design import Design
from dossier.drawings import limit_gauge
from dossier.drawings.palette import SCREEN, Palette
from dossier.notation import show_result
from dossier.views.align import aligned
from dossier.views.asides import ASIDES, AsideTable, asides_for
from dossier.views.figures import Figure, pictures
from dossier.views.goals import limit_words, outcome_words, remedy_words, sentence, within
from dossier.views.links import working_of
from dossier.views.markup import Html
from dossier.views.planned import planned_words
from dossier.views.prose import Said
from dossier.views.questions import QUESTIONS, Group, Question, grouped
from dossier.views.tables import Table, by_row, called, in_rows, name_in
from dossier.views.words import WORDS
from dossier.views.workings import Cited, Work, cited, work_of
from dossier.working import Result

# With one kit these say again what that kit costs; they stand among the workings all the same.
FOR_SEVERAL_KITS = frozenset({"parts.cost_all_kits", "parts.cost_per_kit"})


@dataclass(frozen=True, slots=True)
class Limit:
    """What is asked of a result and whether it gives it. ``outcome`` is meets, close or misses."""

    outcome: str
    words: str
    asked: str
    because: str
    by: str
    gauge: Html
    source: Cited | None
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One result in a ledger: its label, its number padded to the ledger's decimal point, its unit; and what was
    planned, where this build was measured and differs."""

    id: str
    href: str
    label: str
    number: str
    pad: str
    unit: str
    limit: Limit | None
    work: Work
    planned: str = ""


@dataclass(frozen=True, slots=True)
class Answered:
    """A question with its answer in a sentence, the words on it, the results, tables of results, and asides."""

    key: str
    heading: str
    answer: str
    said: tuple[Said, ...]
    entries: tuple[Entry, ...]
    tables: tuple[Table, ...]
    further: tuple[Entry, ...] = ()
    figures: tuple[Figure, ...] = ()
    asides: tuple[AsideTable, ...] = ()


def answered(design: Design, page: str, said: Mapping[str, tuple[Said, ...]]) -> tuple[Answered, ...]:
    """The questions of one page that this design has an answer to. ``said`` is the prose by question."""
    found = {group.question: group for group in grouped(design)}
    asked = (question for question in QUESTIONS if question.page == page)
    answers = (_answered(found.get(question, Group(question, (), ())), design, said.get(question.key, ()))
               for question in asked if question in found or _has_more(question))
    return tuple(answer for answer in answers if answer.entries or answer.tables or answer.asides or answer.said)


def pages_with_answers(design: Design) -> frozenset[str]:
    """The pages that have something to say of this design."""
    told = {group.question.page for group in grouped(design)}
    further = {question.page for question in QUESTIONS if question.page not in told and _has_more(question)}
    return frozenset(told | {page for page in further if answered(design, page, {})})


def _has_more(question: Question) -> bool:
    """Whether there can be more to this question than results."""
    return question.key in ASIDES or question.key in WORDS


def entries_of(results: Sequence[Result], design: Design, palette: Palette = SCREEN) -> tuple[Entry, ...]:
    """Results as a ledger."""
    shown = [show_result(result, design.build.readers) for result in results]
    column = aligned([each.number for each in shown])
    return tuple(Entry(result.id, working_of(result.id), label_of(result, design), place.number, place.pad, each.unit,
                       limit_of(result, design, palette), work_of(result, design), planned_words(result, design))
                 for result, each, place in zip(results, shown, column, strict=True))


def label_of(result: Result, design: Design) -> str:
    """What a result is called where it stands by itself: with the name of its row, if it is one of a table."""
    rows = next((question.rows for question in QUESTIONS if in_rows(result.id, question)), "")
    name = called(name_in(result.id, rows), design, rows) if rows else ""
    return f"{result.title}, {name}" if name and name not in result.title else result.title


def limit_of(result: Result, design: Design, palette: Palette = SCREEN) -> Limit | None:
    """The goal on a result, judged."""
    goal = result.goal
    if goal is None:
        return None
    return Limit(
        outcome=goal.outcome(result.number), words=outcome_words(result), asked=limit_words(result, design),
        because=sentence(goal.because), by="The author’s own limit" if goal.authors else "The usual limit",
        gauge=Html(limit_gauge.draw(result.number, goal.limit, goal.sense, palette)),
        source=cited(goal.source) if goal.source else None,
        remedies=tuple(remedy_words(remedy, design) for remedy in design.remedies.get(result.id, ())),
    )


def judged(design: Design) -> tuple[Result, ...]:
    """The results with a goal, the missed ones first, then the close ones."""
    order = ("misses", "close", "meets")
    found = [result for result in design.results.values() if result.goal]
    return tuple(sorted(found, key=lambda each: order.index(each.goal.outcome(each.number)) if each.goal else 0))


def verdict(results: Sequence[Result], design: Design) -> str:
    """How many of the limits on these results are met, in a sentence; empty where there are none."""
    outcomes = [result.goal.outcome(result.number) for result in results if result.goal]
    if not outcomes:
        return ""
    missed, close = outcomes.count("misses"), outcomes.count("close")
    met = {1: "The one limit is", 2: "Both limits are"}.get(len(outcomes), f"All {len(outcomes)} limits are")
    if missed and len(outcomes) == 1:
        return "The one limit is missed."
    if missed:
        named = "; ".join(within(label_of(result, design)) for result in results
                          if result.goal and result.goal.outcome(result.number) == "misses")
        if missed == len(outcomes):
            return f"{met} missed: {named}."
        return f"{missed} of {len(outcomes)} limits {'is' if missed == 1 else 'are'} missed: {named}."
    if close:
        which = "" if close == len(outcomes) else "one of them " if close == 1 else f"{close} of them "
        return f"{met} met, {which}with little to spare."
    return f"{met} met."


def illustrated(answers: tuple[Answered, ...], design: Design) -> tuple[Answered, ...]:
    """The same questions with the pictures that help to answer them."""
    return tuple(replace(answer, figures=pictures(design, answer.heading)) for answer in answers)


def _answered(group: Group, design: Design, said: tuple[Said, ...]) -> Answered:
    question = group.question
    tabled = [each for each in group.results if in_rows(each.id, question)]
    others = [each for each in group.results
              if each not in tabled and (design.kits > 1 or each.id not in FOR_SEVERAL_KITS)]
    tables = (by_row(tabled, design, question),) if tabled else ()
    return Answered(question.key, question.heading, verdict((*group.results, *group.further), design), said,
                    entries_of(others, design), tables, entries_of(group.further, design),
                    asides=asides_for(design, question.key))
