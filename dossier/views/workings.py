"""How a number was worked out, for the margin beside it and for its own entry among the workings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePath

from dossier import shelf
from dossier.design import Design
from dossier.notation import rule_html, show, show_result, symbol, working_html
from dossier.notation.given import show_given
from dossier.views.goals import key_words
from dossier.views.links import source_of, spec_line, working_of
from dossier.views.markup import Html
from dossier.working import AnyFormula, Given, Result, unit_of

_LONGEST_LIST = 6


@dataclass(frozen=True, slots=True)
class Cited:
    """A source in a few words, where in it, and its entry on the sheet of sources."""

    href: str
    short: str
    where: str


@dataclass(frozen=True, slots=True)
class Input:
    """A number that went in: its symbol, what it means, how much it is, and where it comes from."""

    symbol: Html
    meaning: str
    number: Html
    origin: str
    href: str
    members: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class Work:
    """The working of one result. ``rule`` is the formula in symbols, ``numbers`` the same with the numbers put in.

    ``href`` is its entry among the workings; empty for a number of an aside, which has none.
    """

    id: str
    href: str
    title: str
    answer: Html
    rule: Html
    numbers: Html
    method: str
    note: str
    strays: tuple[str, ...]
    holds: tuple[str, ...]
    source: Cited
    inputs: tuple[Input, ...]
    used_by: tuple[tuple[str, str], ...] = ()


def work_of(result: Result, design: Design, used_by: tuple[tuple[str, str], ...] = ()) -> Work:
    """The working of a result of this design."""
    readers, formula = design.build.readers, result.formula
    return Work(
        id=result.id, href=working_of(result.id) if result.id in design.results else "", title=result.title,
        answer=Html(show_result(result, readers).html),
        rule=Html(rule_html(formula)), numbers=Html(working_html(result, readers)), method=formula.method,
        note=formula.note, strays=tuple(_stray(stray) for stray in result.strays), holds=_holds(formula, design),
        source=cited(formula.source, formula.where),
        inputs=tuple(_input(name, entry, design) for name, entry in result.inputs.items()), used_by=used_by,
    )


def cited(key: str, where: str = "") -> Cited:
    """A source by its key."""
    source = shelf.sources()[key]
    short = ", ".join(filter(None, (source.author, source.year))) if source.author else source.title
    return Cited(source_of(key), short, where)


def users(design: Design) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """For each result the later ones that use it, as addresses and titles."""
    found: dict[str, dict[str, str]] = {}
    for result in design.results.values():
        for entry in result.inputs.values():
            for member in (entry, *(entry.members if isinstance(entry, Given) else ())):
                if isinstance(member, Result):
                    found.setdefault(member.id, {})[working_of(result.id)] = result.title
    return {name: tuple(later.items()) for name, later in found.items()}


def _stray(stray: str) -> str:
    name, _, rest = stray.partition(" ")
    return f"{symbol(name).meaning} {rest}"


def _holds(formula: AnyFormula, design: Design) -> tuple[str, ...]:
    return tuple(f"{symbol(name).meaning} from {least:g} to {most:g} {_unit(name)}".strip()
                 for name, (least, most) in formula.holds.items())


def _unit(name: str) -> str:
    text = unit_of(name).text
    return "" if text == "1" else text


def _input(name: str, entry: Given | Result, design: Design) -> Input:
    known = symbol(name)
    members = tuple(_member(member, design) for member in entry.members) if isinstance(entry, Given) else ()
    return Input(Html(known.html), known.meaning, _number(entry, design), _origin(entry), _href(entry, design),
                 members)


def _member(entry: Given | Result, design: Design) -> Input:
    return Input(Html(""), entry.title if isinstance(entry, Result) else entry.key, _number(entry, design),
                 _origin(entry), _href(entry, design))


def _number(entry: Given | Result, design: Design) -> Html:
    if isinstance(entry.value, tuple) and len(entry.value) > _LONGEST_LIST:
        return Html(f"{len(entry.value)} numbers")
    if isinstance(entry, Given) and not isinstance(entry.value, tuple):
        return Html(show_given(entry.value, entry.unit, design.build.readers).html)
    result_id = entry.id if isinstance(entry, Result) else ""
    return Html(show(entry.value, entry.unit, result_id=result_id, readers=design.build.readers).html)


def _origin(entry: Given | Result) -> str:
    if isinstance(entry, Result):
        return entry.title
    if entry.origin in ("spec", "measured") and entry.line:
        return f"{PurePath(entry.file).name}:{entry.line}"
    if entry.origin == "shelf":
        return f"{entry.key}; {cited(entry.source).short}" if entry.source else entry.key
    if entry.origin == "default" and not entry.said and "." in entry.key:
        return f"the usual value of {key_words(entry.key)}"
    if entry.origin == "default":
        return entry.said or entry.key
    return entry.key


def _href(entry: Given | Result, design: Design) -> str:
    if isinstance(entry, Result):
        return working_of(entry.id) if entry.id in design.results else ""
    if entry.origin in ("spec", "measured") and entry.line:
        return spec_line(entry.line, measured=entry.origin == "measured")
    return source_of(entry.source) if entry.source else ""
