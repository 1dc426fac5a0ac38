"""The parts list on paper: boxes to tick, what to buy for all kits, and apart from it the reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.design import Design, PartLine
from dossier.notation import show
from dossier.spec.model_parts import Part
from dossier.views.align import aligned
from dossier.views.known_issues import IssueView
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor
from dossier.views.parts import GET, Instead, PartRow, PartsView, packs_words
from dossier.views.shopping import Shopping
from dossier.views.tables import Cell


@dataclass(frozen=True, slots=True)
class ToGet:
    """One part to get: how many of it are in each kit and its spares, how many for all kits with them, in how many
    packs of how many, and what that costs. ``line`` is where the spec says so."""

    anchor: str
    ref: str
    line: str
    name: Html
    supplier: Html
    priced: Html
    issues: tuple[IssueView, ...]
    get: str
    each: str
    spares: str
    needed: str
    packs: str
    price: Cell
    cost: Cell
    mass: Cell


@dataclass(frozen=True, slots=True)
class Group:
    """The parts of one group."""

    name: str
    rows: tuple[ToGet, ...]


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a part was chosen, and what could stand in its place."""

    ref: str
    name: Html
    why: Html
    instead: tuple[Instead, ...]


@dataclass(frozen=True, slots=True)
class PartsList:
    """The parts list. ``kits`` is empty where the list is for one kit; ``shopping`` is for all of the workshop's."""

    kits: str
    currency: str
    mass_unit: str
    groups: tuple[Group, ...]
    total_cost: Cell
    total_mass: Cell
    shopping: Shopping | None
    reasons: tuple[Reason, ...]


def parts_list(design: Design, view: PartsView) -> PartsList:
    """The parts of a design for all its kits; ``view`` is the site's parts list."""
    rows = {row.ref: row for group in view.groups for row in group.rows}
    listed = {line.ref: (part, line) for part, line in zip(design.build.parts or (), design.parts, strict=True)}
    costs = _costs(design, [line for _, line in listed.values()])
    groups = tuple(Group(group.name, tuple(_to_get(rows[row.ref], *listed[row.ref], design.kits, costs[row.ref])
                                           for row in group.rows)) for group in view.groups)
    reasons = tuple(Reason(row.ref, row.name, row.why, row.instead) for row in rows.values() if row.why or row.instead)
    return PartsList(str(design.kits) if design.kits > 1 else "", view.currency, view.mass_unit, groups, costs["all"],
                     view.total_mass, view.shopping[-1] if view.shopping else None, reasons)


def _costs(design: Design, listed: Sequence[PartLine]) -> dict[str, Cell]:
    """What each part costs for all kits, and all of them (by the name ``all``), on one decimal point."""
    total = design.results.get("parts.cost_all_kits") or design.results.get("parts.cost")
    found = {line.ref: line.all_cost for line in listed} | {"all": total.number if total else None}
    numbers = {ref: show(value, "money", readers=design.build.readers).number for ref, value in found.items()
               if value is not None}
    places = dict(zip(numbers, aligned(list(numbers.values())), strict=True))
    return {ref: Cell(places[ref].number, places[ref].pad) if ref in places else Cell("") for ref in found}


def _to_get(row: PartRow, part: Part, line: PartLine, kits: int, cost: Cell) -> ToGet:
    packs = f"{line.all_packs} × {part.pack}" if line.pack > 1 else packs_words(part, line, line.all_packs)
    needed = (part.quantity + part.spares) * kits
    line_of_spec = row.href.rpartition("#")[2].lstrip("LM")
    return ToGet(anchor("parts", row.anchor), row.ref, line_of_spec, row.name, row.supplier, row.priced, row.issues,
                 GET[part.get], row.quantity, row.spares, str(needed), packs, row.price, cost, row.mass)
