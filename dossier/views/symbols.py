"""Every symbol in the printed formulas of this dossier, what it means, and where it is used."""

from __future__ import annotations

from dataclasses import dataclass

from dossier import rules
from dossier.design import Design
from dossier.notation import symbol
from dossier.notation.units import unit_text
from dossier.views.markup import Html
from dossier.views.site import Page
from dossier.views.workings import Cited, cited
from dossier.working import Result, unit_ending


@dataclass(frozen=True, slots=True)
class SymbolLine:
    """A symbol, its meaning and unit, and the results whose formula holds it, as addresses and titles."""

    anchor: str
    symbol: Html
    meaning: str
    unit: str
    used_in: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SymbolsView:
    """The sheet of symbols. ``standard`` is what the writing of quantities follows."""

    page: Page
    symbols: tuple[SymbolLine, ...]
    standard: Cited


def symbols_view(design: Design, page: Page) -> SymbolsView:
    """The symbols of this design's formulas, by alphabet."""
    used: dict[str, list[Result]] = {}
    for result in design.results.values():
        for name in _names(result):
            used.setdefault(name, []).append(result)
    merged: dict[tuple[str, str], tuple[str, list[Result]]] = {}
    for name, results in used.items():
        known = symbol(name)
        if known.html != known.meaning:
            merged.setdefault((known.html, known.meaning), (name, []))[1].extend(results)
    lines = [_line(name, results, design) for name, results in merged.values()]
    return SymbolsView(page, tuple(sorted(lines, key=_alphabet)), cited("iso-80000"))


def _names(result: Result) -> tuple[str, ...]:
    formula = result.formula
    steps = [name for name, _ in rules.steps(formula.rule) if name] if formula.rule else []
    return tuple(dict.fromkeys((*formula.parameters, *formula.constants, *steps, formula.name)))


def _line(name: str, results: list[Result], design: Design) -> SymbolLine:
    known = symbol(name)
    used = dict.fromkeys((f"working.html#{result.id}", result.title) for result in results)
    unit = unit_text(unit_ending(name), design.build.readers.currency)
    return SymbolLine(name, Html(known.html), known.meaning, unit, tuple(used))


def _alphabet(line: SymbolLine) -> tuple[str, str]:
    letters = "".join(sign for sign in line.symbol.replace("<i>", "").replace("</i>", "") if sign.isalpha())
    return letters.casefold(), line.symbol
