"""Lists to take along as rows of a table file: the parts, what to buy where, and what is sawn from what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dossier.design import Design, PartLine
from dossier.design.cut_plans import cut_plans, sheet_pieces
from dossier.design.shopping import for_workshop
from dossier.spec.model_parts import Part
from dossier.views.shopping import bought, kits_words

PARTS_LIST = "lists/parts.csv"
Cell = str | float | int | None


@dataclass(frozen=True, slots=True)
class List:
    """A list: its file's name, what it is, its columns and rows. A None is an empty cell."""

    name: str
    what: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def lists(design: Design) -> tuple[List, ...]:
    """The lists that this design has anything for."""
    group = for_workshop(design)
    found = [_parts(design), _shopping(design), _cuts(design)]
    if group is not None:
        found += [_for_all(_shopping(group), group), _for_all(_cuts(group), group)]
    return tuple(each for each in found if each.rows)


def _for_all(own: List, group: Design) -> List:
    """A list for all kits of the workshop, beside the one for a single builder."""
    return replace(own, name=own.name.replace(".csv", f"-{group.kits}-kits.csv"))


def _parts(design: Design) -> List:
    columns = ("ref", "name", "group", "get", "quantity", "price", "cost", "mass_kg", "pack", "packs", "currency",
               "priced_on", "station_mm")
    rows = ((part.ref, part.name, part.group, part.get, part.quantity, part.price, line.cost, line.mass_kg, line.pack,
             line.packs, _currency(design, part), _day(part), line.station_mm) for part, line in _lined(design))
    return List(PARTS_LIST, "Every part of one kit.", columns, tuple(rows))


def _shopping(design: Design) -> List:
    columns = ("supplier", "ref", "name", "needed", "pack", "packs", "price", "cost", "left_over", "currency",
               "priced_on", "stock", "stock_mm")
    ordered = sorted(bought(design), key=lambda each: (each[0].supplier is None, each[0].supplier or ""))
    rows = tuple(_bought(design, part, line) for part, line in ordered)
    return List("lists/shopping.csv", f"What to buy for {kits_words(design)}, by supplier, and what is left over.",
                columns, rows)


def _bought(design: Design, part: Part, line: PartLine) -> tuple[Cell, ...]:
    """What is cut from lengths is bought by the length, of which ``needed`` and ``packs`` count as many."""
    length = part.cut.stock_length if line.stock and part.cut else None
    return (part.supplier, part.ref, part.name, line.needed, line.pack, line.all_packs, part.price, line.all_cost,
            line.left_over, _currency(design, part), _day(part), line.stock or None, length)


def _cuts(design: Design) -> List:
    columns = ("stock", "length_no", "piece_mm", "ref", "offcut_mm", "stock_mm", "from_shelf", "width_mm", "becomes")
    rows: list[tuple[Cell, ...]] = []
    for plan in cut_plans(design):
        for length in plan.lengths:
            rows += [(plan.stock, length.number, piece.length_mm, piece.ref, length.left_over_mm, length.stock_mm,
                      "no" if length.bought else "yes", None, piece.name or None) for piece in length.pieces]
    for sheet in sheet_pieces(design):  # listed and not nested, so on no length and with no offcut
        rows += [(sheet.stock, None, sheet.length_mm, sheet.ref, None, sheet.stock_mm, None, sheet.width_mm,
                  sheet.name or None)] * sheet.quantity
    what = f"Which piece is sawn from which length, and the pieces of sheets, for {kits_words(design)}."
    return List("lists/cuts.csv", what, columns, tuple(rows))


def _lined(design: Design) -> Iterator[tuple[Part, PartLine]]:
    return zip(design.build.parts, design.parts, strict=True)


def _currency(design: Design, part: Part) -> str | None:
    return design.build.readers.currency if part.price is not None else None


def _day(part: Part) -> str | None:
    return part.priced_on.isoformat() if part.priced_on else None
