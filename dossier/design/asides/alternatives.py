"""The other choices for the parts as a table: what each costs more, and how many limits its build misses."""

from __future__ import annotations

from dossier.design.alternatives import Alternative, alternatives, misses_of
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design

_COLUMNS = (AsideColumn("Price difference, one kit"), AsideColumn("Limits missed", text=True))
_NOTES = (
    "Above zero the price difference is dearer; whole packs are counted, and what is at hand is bought when another "
    "is chosen. Limits missed: with the parts as chosen, and with the other. Each is worked out with nothing else "
    "changed. A limit that needs what the author has not changed with it, such as a wider pocket, is not seen.",
)


def choices(design: Design) -> Aside | None:
    """Every alternative of the parts list, without remarks on what each changes; None where there is none."""
    found = alternatives(design)
    if not found:
        return None
    return Aside("Other choices, one at a time", "For part: other choice", _COLUMNS,
                 tuple(_row(each, len(misses_of(design.results))) for each in found), _NOTES)


def _row(alternative: Alternative, missed: int) -> AsideRow:
    limits = "–" if alternative.unfit else f"{missed} → {len(alternative.misses)}"
    return AsideRow(f"{alternative.ref}: {alternative.name}", (alternative.price_difference, limits))
