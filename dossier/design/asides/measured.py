"""Measured against planned, as tables: the values, the results they move, and the sheet to write them on."""

from __future__ import annotations

from collections.abc import Callable

from dossier.design import measured
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.spec.defaults import slug
from dossier.working import Result


def values(design: Design) -> Aside | None:
    """What was measured, beside what the plan says."""
    rows = tuple(AsideRow(named(design, each.key), (each.planned, each.found)) for each in measured.found(design))
    columns = AsideColumn("Planned"), AsideColumn("Found")
    return Aside("Planned and found", "Measured", columns, rows, stacks=True) if rows else None


def results(design: Design) -> Aside | None:
    """The results that are not the plan's. Those that lists hold are left to the pages."""
    pairs = [each for each in measured.moved(design) if _single(each.planned) and _single(each.now)]
    rows = tuple(AsideRow(_title(design, each.now or each.planned), (each.planned, each.now)) for each in pairs)
    return Aside("What follows from it", "Result", (AsideColumn("Planned"), AsideColumn("This build")), rows,
                 works=(), differing=True, stacks=True) if rows else None


def _sheet(title: str, sections: tuple[str, ...]) -> Callable[[Design], Aside | None]:
    """What to measure of these sections of the spec, with room to write."""

    def made(design: Design) -> Aside | None:
        masses = sections == _PARTS
        rows = tuple(AsideRow(named(design, given.key).removesuffix(": mass" if masses else ""),
                              (measured.in_grams(given), ""))
                     for given in measured.worth_measuring(design) if given.key.startswith(sections))
        return Aside(title, "Mass of one" if masses else "Measure", _TO_FILL_IN, rows) if rows else None

    return made


_PARTS = ("parts[",)
_TO_FILL_IN = (AsideColumn("Planned"), AsideColumn("Found", text=True, write=True))
# The sheet to fill in at the bench, a table for each thing that is taken in hand.
SHEETS = tuple(_sheet(title, sections) for title, sections in (
    ("Mirror", ("primary.",)), ("Diagonal and spider", ("diagonal.", "spider.")), ("Focuser", ("focuser.",)),
    ("Frame and front", ("frame.", "front.")), ("Cell and mount", ("cell.", "mount.")),
    ("Eyepieces", ("eyepieces[",)), ("Parts, on the scales", _PARTS)))


def named(design: Design, key: str) -> str:
    """A key of the spec as a builder calls it: ``P1 Primary mirror: mass``."""
    owner, _, what = key.rpartition(".")
    if owner == "bench" and what.endswith("]"):
        row, _, place = what.rstrip("]").partition("[")
        return f"Bench, zone {int(place) + 1}: {'radius' if row == 'zones' else 'reading'}"
    section, _, place = owner.partition("[")
    said = what.replace("_", " ").replace("rms", "RMS")
    if not place:
        name = f"{owner.replace('.', ' ').replace('_', ' ')}: {said}" if owner else said
        return f"{name[:1].upper()}{name[1:]}"
    listed = getattr(design.build, section)[int(place.rstrip("]"))]
    return f"{listed.ref} {listed.name}: {said}" if section == "parts" else f"{listed.name}: {said}"


def _single(result: Result | None) -> bool:
    return result is None or not isinstance(result.value, tuple)


def _title(design: Design, result: Result | None) -> str:
    """A result's title; of an eyepiece's, with its name, since every one has the same."""
    if result is None:
        return ""
    own = next((piece.name for piece in design.build.eyepieces
                if result.id.startswith(f"eyepiece.{slug(piece.name)}.")), "")
    return f"{result.title}, {own}" if own and own not in result.title else result.title
