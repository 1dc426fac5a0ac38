"""The workings on paper, numbered, and by these numbers the symbols and the sources that they use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from dossier.design import Design
from dossier.drawings.palette import Palette
from dossier.views.links import SOURCES, WORKING
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor
from dossier.views.packet_results import on_paper
from dossier.views.results import Limit
from dossier.views.sources import SourcesView
from dossier.views.symbols import SymbolsView
from dossier.views.working import WorkingView
from dossier.views.workings import Work


@dataclass(frozen=True, slots=True)
class Proof:
    """One result's working under its number."""

    anchor: str
    ref: str
    work: Work
    limit: Limit | None


@dataclass(frozen=True, slots=True)
class Chapter:
    """The workings that answer one question."""

    heading: str
    proofs: tuple[Proof, ...]


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


def chapters(view: WorkingView, design: Design, refs: Mapping[str, str], palette: Palette) -> tuple[Chapter, ...]:
    """The sheet of workings."""
    return tuple(
        Chapter(chapter.heading, tuple(
            Proof(anchor(WORKING, each.work.id), refs[each.work.id], each.work,
                  each.limit and on_paper(each.limit, design.results[each.work.id], palette))
            for each in chapter.worked))
        for chapter in view.chapters)


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


def _refs(hrefs: Iterable[str], refs: Mapping[str, str]) -> tuple[str, ...]:
    """The numbers of these workings, in order, each once; what is no working is passed over."""
    names = {href.removeprefix(f"{WORKING}#") for href in hrefs}
    return tuple(ref for name, ref in refs.items() if name in names)


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}." if text else ""
