"""The workings on paper: each formula once, under it every number it gives, and what uses which by these numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from dossier.design import Design
from dossier.views.links import SOURCES, WORKING
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor
from dossier.views.questions import Question, sorted_by_question
from dossier.views.results import label_of
from dossier.views.sources import SourcesView
from dossier.views.symbols import SymbolsView
from dossier.views.workings import Cited, Input, Work, work_of
from dossier.working import Result

_MOST_GATHERED = 12


@dataclass(frozen=True, slots=True)
class PutIn:
    """A number that went in: what it is, how much, and where it comes from, a working's number or a line of the spec.
    ``anchor`` is the working's place."""

    symbol: Html
    meaning: str
    number: Html
    origin: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Proof:
    """One result under its number: the numbers put in, the answer, and where each number comes from. ``gathered`` are
    the members of a list among them; ``from_parts`` says that those of the parts are too many and stand in the parts
    list."""

    anchor: str
    ref: str
    label: str
    numbers: Html
    strays: tuple[str, ...]
    inputs: tuple[PutIn, ...]
    gathered: tuple[PutIn, ...]
    from_parts: bool


@dataclass(frozen=True, slots=True)
class Card:
    """A formula, its source and limits, and the results it gives. ``alone`` where it gives one."""

    title: str
    alone: bool
    rule: Html
    method: str
    note: str
    holds: tuple[str, ...]
    source: Cited
    proofs: tuple[Proof, ...]


@dataclass(frozen=True, slots=True)
class Chapter:
    """The formulas that answer one question."""

    heading: str
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class SymbolRow:
    """A symbol, what it means, in which unit, and the numbers of the workings that use it."""

    symbol: Html
    meaning: str
    unit: str
    refs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SourceRow:
    """A source, how it is known, and what leans on it: numbers of workings, and titles of others."""

    anchor: str
    author: str
    title: str
    details: str
    known: str
    refs: tuple[str, ...]
    others: tuple[str, ...]


def references(design: Design) -> Mapping[str, str]:
    """The number of each result's working: ``W1`` and on, by the question it answers and the formula that gives it."""
    ordered = [result.id for _, groups in _by_formula(design) for group in groups for result in group]
    return {name: f"W{number}" for number, name in enumerate(ordered, start=1)}


def chapters(design: Design, refs: Mapping[str, str]) -> tuple[Chapter, ...]:
    """The sheet of workings."""
    return tuple(Chapter(question.heading, tuple(_card(group, design, refs) for group in groups))
                 for question, groups in _by_formula(design))


def symbol_rows(view: SymbolsView, refs: Mapping[str, str]) -> tuple[SymbolRow, ...]:
    """The sheet of symbols."""
    return tuple(SymbolRow(line.symbol, line.meaning, line.unit, _refs((href for href, _ in line.used_in), refs))
                 for line in view.symbols)


def source_rows(view: SourcesView, refs: Mapping[str, str]) -> tuple[SourceRow, ...]:
    """The sheet of sources."""
    return tuple(
        SourceRow(anchor(SOURCES, line.key), line.author, line.title, line.details,
                  " ".join(filter(None, (_sentence(line.kind), line.known, _sentence(line.note)))),
                  _refs((href for href, _, _ in line.uses), refs),
                  tuple(title for href, title, _ in line.uses if not href.startswith(WORKING)))
        for line in view.sources)


def _by_formula(design: Design) -> list[tuple[Question, list[list[Result]]]]:
    """The results of each question, those of one formula together where the first of them stands."""
    found = []
    for question, results in sorted_by_question(design).items():
        first: dict[str, int] = {}
        for place, result in enumerate(results):
            first.setdefault(result.formula.name, place)
        ordered = sorted(results, key=lambda each: first[each.formula.name])
        found.append((question, [list(group) for _, group in groupby(ordered, key=lambda each: each.formula.name)]))
    return found


def _card(results: Sequence[Result], design: Design, refs: Mapping[str, str]) -> Card:
    works = [work_of(result, design) for result in results]
    alone, first = len(works) == 1, works[0]
    title = first.title if alone else results[0].formula.title
    return Card(title, alone, first.rule, first.method, first.note, first.holds, first.source,
                tuple(_proof(work, label_of(result, design), refs)
                      for work, result in zip(works, results, strict=True)))


def _proof(work: Work, label: str, refs: Mapping[str, str]) -> Proof:
    members = [member for each in work.inputs for member in each.members]
    of_parts = [member for member in members if member.meaning.startswith("parts[")]
    in_parts = len(of_parts) > _MOST_GATHERED
    told = [member for member in members if not in_parts or member not in of_parts]
    return Proof(anchor(WORKING, work.id), refs[work.id], label, work.numbers, work.strays,
                 tuple(_put_in(each, refs) for each in work.inputs),
                 tuple(_put_in(each, refs) for each in told), in_parts)


def _put_in(entry: Input, refs: Mapping[str, str]) -> PutIn:
    name = entry.href.removeprefix(f"{WORKING}#")
    return PutIn(entry.symbol, entry.meaning, entry.number, refs.get(name, entry.origin),
                 anchor(WORKING, name) if name in refs else "")


def _refs(hrefs: Iterable[str], refs: Mapping[str, str]) -> tuple[str, ...]:
    """The numbers of these workings in order, three or more in a row as ``W4–W9``; others are passed over."""
    names = {href.removeprefix(f"{WORKING}#") for href in hrefs}
    runs: list[list[int]] = []
    for place in (place for place, name in enumerate(refs, start=1) if name in names):
        if runs and place == runs[-1][-1] + 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    return tuple(word for run in runs for word in _words(run))


def _words(run: list[int]) -> tuple[str, ...]:
    return (f"W{run[0]}–W{run[-1]}",) if len(run) > 2 else tuple(f"W{place}" for place in run)


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}." if text else ""
