"""The map of how fast the field turns over the sky."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, Tick, listed_ticks
from dossier.charts.framing import chart, height_of
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design.pictures import mount
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette
from dossier.drawings.scene import HIDDEN, THIN, Pen, Polyline, Wash
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design

_WINDS = ("N", "E", "S", "W")
_NAMES = {"N": "north", "E": "east", "S": "south", "W": "west"}
_SHADE = 0.45
_HEIGHT: dict[Form, float] = {"wide": 0.44, "upright": 0.72}


def field_rotation(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Lines of equal rate over azimuth and altitude, each with the exposure that it allows; a deep tint is fast."""
    made = mount.field_rotation(design)
    if made is None:
        return None
    medium, width = MEDIA[form]
    first = made.first_azimuth_deg
    x = Axis(first, first + 360, _winds(first), "direction")
    y = Axis(0.0, 90.0, listed_ticks((0.0, 30.0, 60.0, 90.0), 0), "altitude, °")
    plot = Plot(medium, width, height_of(form, _HEIGHT[form]), x, y)
    # A phone has room for every other line.
    for contour in made.contours[::1 if form == "wide" else 2]:
        words = f"{contour.rate_arcsec_per_s:g}\u2033/s, {seconds(contour.exposure_s)}"
        for at, (azimuths, altitudes) in enumerate(contour.pieces):
            plot.curve(Curve(f"rate {contour.rate_arcsec_per_s:g}", azimuths, altitudes, Pen(THIN),
                             words if at == 0 else ""))
        _shade(plot, contour)
    plot.curve(Curve("equator", *made.equator, Pen(HIDDEN), "celestial equator" if form == "wide" else "equator"))
    return chart(plot, "field-rotation", "How fast the field turns", _caption(made, design), _alt(made), form, palette)


def _shade(plot: Plot, contour: mount.Contour) -> None:
    """What turns faster: beyond the line, towards zenith and meridian."""
    low, high = plot.x.low, plot.x.high
    points = (point for azimuths, altitudes in contour.pieces for point in zip(azimuths, altitudes, strict=True))
    edge = [plot.at(float(azimuth), float(altitude)) for azimuth, altitude in ((low, 0.0), *points, (high, 0.0))]
    corners = (plot.at(high, 90.0), plot.at(low, 90.0))
    plot.shapes.insert(0, Polyline((*edge, *corners), None, Wash("glass", _SHADE), closed=True,
                                   data={"faster": f"{contour.rate_arcsec_per_s:g}"}))


def _winds(first: float) -> tuple[Tick, ...]:
    return tuple((first + 90 * step, _WINDS[(int(first) // 90 + step) % 4]) for step in range(5))


def seconds(value: float) -> str:
    """An exposure to two figures, in minutes where it is long."""
    if value >= 600:
        return f"{float(f'{value / 60:.2g}'):.0f}\u202fmin"
    return f"{float(f'{value:.2g}'):g}\u202fs"


def _caption(made: mount.FieldRotation, design: Design) -> str:
    judged = show(design.results["field.judged"].number, "mm", readers=design.build.readers).plain
    return ("How fast a camera’s field turns about a guided star while the mount follows in altitude and azimuth: the "
            "deeper the tint, the faster. Beside each rate stands the longest exposure in which a star at the edge of "
            f"the judged field, {judged} wide, trails by no more than {made.blurred}. Due east and west the field "
            "hardly turns; near the zenith it turns without bound. The eye does not mind.")


def _alt(made: mount.FieldRotation) -> str:
    side = "S" if made.latitude_deg >= 0 else "N"
    azimuth = 180.0 if side == "S" else 0.0
    told = "; ".join(f"{show(made.rate_at(azimuth, altitude), 'arcsec_per_s').plain} at {altitude:.0f}°"
                     for altitude in (30.0, 60.0, 80.0))
    lines = ", ".join(f"{seconds(contour.exposure_s)} at {contour.rate_arcsec_per_s:g} arcsec/s"
                      for contour in made.contours)
    return (f"Rate of field rotation over the sky from latitude {show(made.latitude_deg, 'deg').plain}. Due "
            f"{_NAMES[side]}: {told}. Longest exposures for a trail of {show(made.blur_arcsec, 'arcsec').plain} at the "
            f"edge of the judged field: {lines}.")
