"""What is left over when whole packs are bought, and what the sheets of a plan give."""

from __future__ import annotations

from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.cut_plans import sheet_pieces
from dossier.design.model import Design
from dossier.working import Given


def left_over(design: Design) -> Aside | None:
    """The packs that are not used up by all kits."""
    rows = []
    for part, line in zip(design.build.parts, design.parts, strict=True):
        needed = (part.quantity + part.spares) * design.kits
        if line.all_packs * part.pack > needed and part.get != "have":
            counts = (needed, line.all_packs, part.pack, line.all_packs * part.pack - needed)
            rows.append(AsideRow(f"{part.ref} {part.name}", tuple(_count(part.ref, count) for count in counts)))
    kits = "one kit" if design.kits == 1 else f"{design.kits} kits"
    columns = tuple(AsideColumn(title) for title in ("Needed", "Packs", "In a pack", "Left over"))
    return Aside(f"What is left over of whole packs, {kits}", "Part", columns, tuple(rows),
                 stacks=True) if rows else None


def sheets(design: Design) -> Aside | None:
    """The pieces of sheet goods, piece by piece: nobody has nested them."""
    rows = tuple(AsideRow(f"{piece.ref} {piece.name}".strip(), (
        piece.stock, Given("length", piece.length_mm, "mm", "spec"), Given("width", piece.width_mm, "mm", "spec"),
        _count(piece.ref, piece.quantity))) for piece in sheet_pieces(design))
    columns = (AsideColumn("Sheet", text=True), AsideColumn("Length"), AsideColumn("Width"), AsideColumn("Pieces"))
    return Aside("Pieces of sheet", "Piece", columns, rows,
                 ("Lay them out on the sheet yourself, with the grain where it matters.",)) if rows else None


def _count(ref: str, count: int) -> Given:
    return Given(ref, float(count), "", "spec")
