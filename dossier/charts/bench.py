"""Simulated views on the test bench: Ronchi bands and knife-edge shadows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.panels import Panel, Row, Sheet, rendered
from dossier.charts.rendered import Rendered
from dossier.design import pictures
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import plain_length
from dossier.drawings.palette import Palette
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design

_SCREEN_GAMMA = 1 / 2.2


def ronchi(design: Design, palette: Palette, form: Form) -> Rendered:
    """Bands of a grating at three positions: this mirror beside another figure."""
    made = pictures.bench_pictures(design)
    own, other = _named(made)
    lines = f"{made.lines_per_mm:g}"
    alt = (f"Simulation: Ronchi bands of a grating with {lines} lines per millimetre, lit through its own lines, "
           f"{_positions(design, made.ronchi)}: this mirror, {own}, beside {other} of the same size. "
           + ("Straight bands are a sphere’s." if made.light.mirror.conic == 0 else
              "A sphere’s bands are straight; those of this mirror bend."))
    caption = (f"What the Ronchi test shows with {lines} lines per millimetre, at stated places from the centre of "
               "curvature. Compare the bend of the bands, not their number: that changes with every turn of the "
               "screw. Rays only; real bands have softer edges.")
    return _rendered(design, made.ronchi, Sheet("ronchi", "The Ronchi test", caption, alt), form, palette,
                     (own, other))


def knife_edge(design: Design, palette: Palette, form: Form) -> Rendered:
    """Shadows of a knife at the readings for middle, half the area and rim: this mirror beside another figure."""
    made = pictures.bench_pictures(design)
    own, other = _named(made)
    alt = (f"Simulation: shadows of a knife that cuts in from the left, source and knife moving together, "
           f"{_positions(design, made.knife)}: this mirror, {own}, beside {other} of the same size. A zone whose "
           "reading the knife stands at is evenly grey.")
    caption = ("What the knife edge shows at the places where a paraboloid’s middle, its zone of half the area and its "
               "rim turn grey. A sphere turns grey all at once, at its centre of curvature."
               if 0 in (made.light.mirror.conic, made.other.conic) else "What the knife edge shows.")
    return _rendered(design, made.knife, Sheet("knife-edge", "The knife-edge test", caption, alt), form, palette,
                     (own, other))


def _rendered(design: Design, row: pictures.BenchRow, sheet: Sheet, form: Form, palette: Palette,
              names: tuple[str, str]) -> Rendered:
    places = [_place(design, at) for at in row.positions_mm]
    panels = [[Panel(f"{row.test}-{kind}-{index}", picture**_SCREEN_GAMMA, (place,))
               for kind, picture in (("own", own), ("other", other))]
              for index, (place, own, other) in enumerate(zip(places, row.own, row.other, strict=True))]
    if form == "wide":
        views = [Panel(panel.name, panel.brightness, (place, name)) for place, pair in zip(places, panels, strict=True)
                 for panel, name in zip(pair, ("this mirror", names[1]), strict=True)]
        return rendered(sheet, [Row("", tuple(views))], form, palette, len(views))
    rows = [Row(place, tuple(Panel(panel.name, panel.brightness, (name,))
                             for panel, name in zip(pair, ("this mirror", names[1]), strict=True)))
            for place, pair in zip(places, panels, strict=True)]
    return rendered(sheet, rows, form, palette, 2)


def _place(design: Design, position: float) -> str:
    if abs(position) < 5e-4:
        return "at the centre"
    length = plain_length(float(f"{abs(position):.2g}"), design.build.readers)
    return f"{length} {'outside' if position > 0 else 'inside'}"


def _positions(design: Design, row: pictures.BenchRow) -> str:
    return ", ".join(_place(design, at) for at in row.positions_mm) + " (from the vertex’s centre of curvature)"


def _named(made: pictures.BenchPictures) -> tuple[str, str]:
    return _figure(made.light.mirror.conic), _figure(made.other.conic)


def _figure(conic: float) -> str:
    names = {0.0: "a sphere", -1.0: "a paraboloid"}
    return names.get(conic, f"conic {show(conic, '').plain}")
