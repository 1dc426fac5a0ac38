"""The test bench: simulated Ronchi bands and knife-edge shadows, and the surface that readings tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, round_ticks
from dossier.charts.framing import chart, height_of
from dossier.charts.panels import Panel, Row, Sheet, rendered
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design import pictures
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import length_unit, plain_length
from dossier.drawings.palette import Palette
from dossier.drawings.scene import HIDDEN, OUTLINE, Pen, Words
from dossier.notation import show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

_SCREEN_GAMMA = 1 / 2.2
# A conic so near the sphere's that its bands are nearly straight.
_SLIGHT = 0.4
# Curves nearer to one another than this share of the plot's height are under one name.
_ALIKE = 0.02


def ronchi(design: Design, palette: Palette, form: Form) -> Rendered:
    """Bands of a grating at three positions: this mirror beside another figure."""
    made = pictures.bench_pictures(design)
    own, other = _named(made)
    lines = f"{made.lines_per_mm:g}"
    alt = (f"Simulation: Ronchi bands of a grating with {lines} lines per millimetre, lit through its own lines, "
           f"{_positions(design, made.ronchi)}: this mirror, {own}, beside {other} of the same size. "
           + _bands(made))
    caption = (f"What the Ronchi test shows with {lines} lines per millimetre, at stated places from the centre of "
               "curvature. Compare the bend of the bands, not their number: that changes with every turn of the "
               "screw. Rays only; real bands have softer edges.")
    return _rendered(design, made.ronchi, Sheet("ronchi", "The Ronchi test", caption, alt), form, palette,
                     _figure(made.other.conic))


def knife_edge(design: Design, palette: Palette, form: Form) -> Rendered:
    """Shadows of a knife at the readings for middle, half the area and rim: this mirror beside another figure."""
    made = pictures.bench_pictures(design)
    own, other = _named(made)
    alt = (f"Simulation: shadows of a knife that cuts in from the left, source and knife moving together, "
           f"{_positions(design, made.knife)}: this mirror, {own}, beside {other} of the same size. A zone whose "
           "reading the knife stands at is evenly grey.")
    caption = (f"What the knife edge shows where the middle of {_mirror(made.read.conic)}, its zone of half the "
               "area and its rim turn grey. A sphere turns grey all at once, at its centre of curvature.")
    return _rendered(design, made.knife, Sheet("knife-edge", "The knife-edge test", caption, alt), form, palette,
                     _figure(made.other.conic))


def profile(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Height of the glass above the best paraboloid, as read zone by zone and as the conic that fits has it."""
    made = pictures.bench_profile_of(design)
    if made is None:
        return None
    results, readers = design.results, design.build.readers
    medium, width = MEDIA[form]
    factor, unit = length_unit(readers)
    low = float(min(made.surface_nm.min(), made.conic_nm.min()))
    high = float(max(made.surface_nm.max(), made.conic_nm.max()))
    spare = 0.15 * (high - low) or 1.0
    half = made.aperture_mm / 2
    x = Axis(0.0, half, round_ticks(0.0, half, 6 if form == "wide" else 4, factor),
             f"distance from the mirror’s middle, {unit}")
    y = Axis(low - spare, high + spare, round_ticks(low - spare, high + spare, 5), "surface above the paraboloid, nm")
    plot = Plot(medium, width, height_of(form, 0.42), x, y)
    if made.shadow_mm:
        plot.shade("shadow", 0.0, made.shadow_mm, "diagonal")
    conic = show_result(results["bench.conic"], readers).plain
    alike = float(abs(made.surface_nm - made.conic_nm).max()) < _ALIKE * (high - low)
    plot.curve(Curve("conic", made.radius_mm, made.conic_nm, Pen(HIDDEN), "" if alike else f"conic {conic}"))
    plot.curve(Curve("measured", made.radius_mm, made.surface_nm, Pen(OUTLINE),
                     f"as read, and conic {conic}" if alike else "as read"))
    levels = _at(made.radius_mm, made.surface_nm, made.zones_mm)
    for number, (zone, level) in enumerate(zip(made.zones_mm, levels, strict=True), start=1):
        plot.mark(f"zone-{number}", zone, level, Words(str(number)), on="measured")
    span, rms, left = (show_result(results[f"bench.{name}"], readers).plain
                       for name in ("profile_pv", "profile_rms", "surface_rms"))
    heights = "; ".join(f"zone {number} at {plain_length(zone, readers)}: {show(level, 'nm').plain}"
                        for number, (zone, level) in enumerate(zip(made.zones_mm, levels, strict=True), start=1))
    quarter = show(pictures.light_of(design).wavelength_nm / 8, "nm").plain
    alt = (f"Surface of the tested mirror from its middle to its rim, as height above the paraboloid that fits it "
           f"best. {heights}. The wavefront it makes has {span} from peak to valley and {rms} RMS; the conic {conic} "
           f"that fits the readings leaves {left} RMS of surface unexplained.")
    caption = ("The glass as the knife found it; what stands high is glass too much. The broken line is the conic that "
               f"fits best. {quarter} between highest and lowest make a quarter of a wave, because light meets every "
               "hill twice. Inside the first zone and outside the last the line is only carried on.")
    return chart(plot, "bench-profile", "The surface as the bench found it", caption, alt, form, palette)


def _at(places: pictures.Floats, values: pictures.Floats, wanted: tuple[float, ...]) -> list[float]:
    return [float(values[int(abs(places - place).argmin())]) for place in wanted]


def _rendered(design: Design, row: pictures.BenchRow, sheet: Sheet, form: Form, palette: Palette,
              other_name: str) -> Rendered:
    places = [_place(design, at) for at in row.positions_mm]
    panels = [[Panel(f"{row.test}-{kind}-{index}", picture**_SCREEN_GAMMA, (place,))
               for kind, picture in (("own", own), ("other", other))]
              for index, (place, own, other) in enumerate(zip(places, row.own, row.other, strict=True))]
    if form == "wide":
        views = [Panel(panel.name, panel.brightness, (place, name)) for place, pair in zip(places, panels, strict=True)
                 for panel, name in zip(pair, ("this mirror", other_name), strict=True)]
        return rendered(sheet, [Row("", tuple(views))], form, palette, len(views))
    rows = [Row(place, tuple(Panel(panel.name, panel.brightness, (name,))
                             for panel, name in zip(pair, ("this mirror", other_name), strict=True)))
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
    """What this mirror and the other are: of a tested mirror, what was found and what was planned."""
    own, other = _figure(made.light.mirror.conic), _figure(made.other.conic)
    return (f"{own} as found", f"{other} as planned") if made.planned else (own, other)


def _bands(made: pictures.BenchPictures) -> str:
    conic = made.light.mirror.conic
    if conic == 0:
        return "Straight bands are a sphere’s."
    return f"A sphere’s bands are straight; those of this mirror bend{' a little' if abs(conic) < _SLIGHT else ''}."


def _mirror(conic: float) -> str:
    return _figure(conic) if conic in (0.0, -1.0) else f"a mirror of {_figure(conic)}"


def _figure(conic: float) -> str:
    names = {0.0: "a sphere", -1.0: "a paraboloid"}
    return names.get(conic, f"conic {show(conic, '').plain}")
