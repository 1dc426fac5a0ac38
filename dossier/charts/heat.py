"""The mirror as it cools, with what its warmth blurs on a second scale."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, Tick, round_ticks
from dossier.charts.framing import chart, height_of
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design.pictures import Floats, heat, tens
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette
from dossier.drawings.scene import CENTRE, HIDDEN, OUTLINE, THIN, Pen, Words
from dossier.notation import duration, show

if TYPE_CHECKING:
    from dossier.design.model import Design

_PENS = {"planned": Pen(OUTLINE), "closed": Pen(HIDDEN), "fan": Pen(CENTRE)}
_LABELS = {"planned": "as planned", "closed": "back closed", "fan": "fan on the back"}
_KELVIN = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_BLUR_ARCSEC = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
_FLOOR_K = 0.1
_HEIGHT: dict[Form, float] = {"wide": 0.44, "upright": 0.6}


def cooling(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Difference from the air against time on a scale of equal factors, the half kelvin as a hatched side."""
    made = heat.cooling(design)
    if made is None:
        return None
    medium, width = MEDIA[form]
    floor, top, end = _FLOOR_K * made.within_k / 0.5, 1.15 * made.start_k, float(made.hours[-1])
    x = Axis(0.0, end, round_ticks(0, end, 8 if form == "wide" else 5), "hours outdoors")
    y = Axis(math.log10(floor), math.log10(top), _ticks(_KELVIN, _KELVIN, floor, made.start_k),
             "K above the air" if made.warmer else "K below the air")
    plot = Plot(medium, width, height_of(form, _HEIGHT[form]), x, y, _blur_axis(made, y) if made.warmer else None)
    plot.limit(math.log10(made.within_k), "above")
    plot.curve(_curve("lumped", made, made.lumped_k, floor, Pen(THIN), ""))
    for way in made.ways:
        reached = way.settles_h <= end
        plot.curve(_curve(way.key, made, way.left_k, floor, _PENS[way.key], "" if reached else _LABELS[way.key]))
        if reached:
            result = "thermal.settling_time" if way.key == "planned" else ""
            plot.mark(way.key, way.settles_h, math.log10(made.within_k), Words(f"{_LABELS[way.key]}, "),
                      Words(duration(60 * way.settles_h), result=result), on=way.key)
    return chart(plot, "cooling", "The mirror as it cools", _caption(made), _alt(made), form, palette)


def _ticks(values: tuple[float, ...], kelvin: tuple[float, ...], low: float, high: float) -> tuple[Tick, ...]:
    return tuple((math.log10(k), f"{value:g}") for value, k in zip(values, kelvin, strict=True)
                 if low * 0.999 <= k <= high * 1.001)


def _blur_axis(made: heat.CoolingCurves, y: Axis) -> Axis | None:
    kelvin = tuple(heat.kelvin_of(blur) for blur in _BLUR_ARCSEC)
    ticks = _ticks(_BLUR_ARCSEC, kelvin, 10**y.low, min(made.start_k, heat.SEEING_HOLDS_TO_K))
    return Axis(y.low, y.high, ticks, "blur, ″") if ticks else None


def _curve(name: str, made: heat.CoolingCurves, left: Floats, floor: float, pen: Pen, label: str) -> Curve:
    """As far down as the plot reaches."""
    shown = left >= floor
    return Curve(name, made.hours[shown], tens(left[shown]), pen, label)


def _caption(made: heat.CoolingCurves) -> str:
    blur = (" The scale on the right says what a mirror that much warmer than the air blurs by itself." if made.warmer
            else "")
    return ("How far the mirror is from the night air, hour by hour. Equal steps up the scale are equal factors, so "
            "that cooling is a straight line. Where a line leaves the hatched side, the mirror is within "
            f"{show(made.within_k, 'k').plain} of the air. Thin: the mirror taken as even throughout; the difference "
            f"is the time that heat needs to come out of the glass.{blur}")


def _alt(made: heat.CoolingCurves) -> str:
    told = "; ".join(f"{_LABELS[way.key]} after {duration(60 * way.settles_h)}" for way in made.ways)
    way = "warmer" if made.warmer else "colder"
    return (f"The mirror starts {show(made.start_k, 'k').plain} {way} than the air. It comes to within "
            f"{show(made.within_k, 'k').plain}: {told}. After one hour, as planned, "
            f"{show(made.left_after(1.0), 'k').plain} are left.")
