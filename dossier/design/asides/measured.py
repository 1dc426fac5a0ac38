"""Measured against planned, as tables: the values, the results they move, and the sheet to write them on."""

from __future__ import annotations

from dossier.design import measured
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.working import Given, Result


def values(design: Design) -> Aside | None:
    """What was measured, beside what the plan says."""
    rows = tuple(AsideRow(named(design, each.key), (each.planned, each.found)) for each in measured.found(design))
    columns = AsideColumn("Planned"), AsideColumn("Found")
    return Aside("Planned and found", "Measured", columns, rows) if rows else None


def results(design: Design) -> Aside | None:
    """The results that are not the plan's. Those that lists hold are left to the pages."""
    pairs = [each for each in measured.moved(design) if _single(each.planned) and _single(each.now)]
    rows = tuple(AsideRow(_title(each.now or each.planned), (each.planned, each.now)) for each in pairs)
    return Aside("What follows from it", "Result", (AsideColumn("Planned"), AsideColumn("This build")), rows,
                 works=(), differing=True) if rows else None


def sheet(design: Design) -> Aside:
    """What to measure, with room to write."""
    rows = tuple(AsideRow(named(design, given.key), (given, "")) for given in measured.worth_measuring(design))
    return Aside("To be filled in at the bench", "Measure", (AsideColumn("Planned"), AsideColumn("Found", text=True)),
                 rows)


def named(design: Design, key: str) -> str:
    """A key of the spec as a builder calls it: ``P1 Primary mirror: mass``."""
    owner, _, what = key.rpartition(".")
    section, _, place = owner.partition("[")
    said = what.replace("_", " ")
    if not place:
        return f"{owner.replace('.', ' ').replace('_', ' ')}: {said}".capitalize() if owner else said.capitalize()
    listed = getattr(design.build, section)[int(place.rstrip("]"))]
    return f"{listed.ref} {listed.name}: {said}" if section == "parts" else f"{listed.name}: {said}"


def _single(result: Result | None) -> bool:
    return result is None or not isinstance(result.value, tuple)


def _title(result: Result | Given | None) -> str:
    return result.title if result is not None else ""
