"""One vane of a spider: where it begins, and what is seen of it from the side of the telescope.

A vane stands radially about the optical axis, at an angle from the focuser's side. Where it runs straight away from the
eye its section is seen: a rod's circle, a strip's rectangle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.drawings.scene import PHANTOM, THIN, Circle, Medium, Pen, Polyline, Segments, Shape, View, Wash

_STEPS = 16


@dataclass(frozen=True, slots=True)
class Vane:
    """A vane in mm: its angle in radians, the station of its screws, where it begins and ends from the axis, its
    thickness across and its depth along the axis, None where nobody says; ``rod`` tells that it is round."""

    angle: float
    station: float
    start: float
    end: float
    thickness: float | None
    depth: float | None
    rod: bool


def start(radius: float, offset: float, angle: float) -> float:
    """How far from the axis a vane at this angle begins, on a circle that stands off the axis, away from the focuser.
    """
    across = offset * math.sin(angle)
    return math.sqrt(max(radius**2 - across**2, 0.0)) - offset * math.cos(angle)


def side(vane: Vane, view: View, medium: Medium, pen: Pen) -> Iterator[Shape]:
    """The vane from the side, as far as it is known; as one line where its depth along the axis is not said."""
    data = {"part": "vane", "angle": f"{math.degrees(vane.angle) % 360:g}"}
    if (vane.end - vane.start) * abs(math.cos(vane.angle)) * view.scale < medium.wide:
        yield from _end_on(vane, view, medium, pen, data)
        return
    low, high = sorted(radius * math.cos(vane.angle) for radius in (vane.start, vane.end))
    depth = vane.thickness if vane.rod else vane.depth
    # Narrower than two lines it is one (ISO 128-50 fills a section as thin as that).
    if not depth or depth * view.scale < 2 * medium.width(pen.line):
        yield Polyline(view.points([(vane.station, low), (vane.station, high)]), pen, data=data)
        return
    half = (vane.thickness or 0.0) / 2 * abs(math.sin(vane.angle))
    if vane.rod:
        half = 0.0
    corners = [(vane.station - depth / 2, low - half), (vane.station - depth / 2, high + half),
               (vane.station + depth / 2, high + half), (vane.station + depth / 2, low - half)]
    yield Polyline(view.points(corners), pen, closed=True, data=data)


def _end_on(vane: Vane, view: View, medium: Medium, pen: Pen, data: dict[str, str]) -> Iterator[Shape]:
    """Its section: a circle or a rectangle, filled where it is too thin for an outline. Where its depth is not said, a
    square in chain lines with two dots and a cross at its place."""
    (x, y), thick = view.at(vane.station, 0.0), vane.thickness or 0.0
    thin = thick * view.scale < 2 * medium.wide
    if vane.rod and thick:
        yield Circle((x, y), thick / 2 * view.scale, None if thin else pen, Wash("ink" if thin else "ground"), data)
        return
    depth = vane.depth or thick
    if thick and (vane.depth or not thin):
        corners = view.points([(vane.station + along * depth / 2, up * thick / 2)
                               for along, up in ((-1, 1), (1, 1), (1, -1), (-1, -1))])
        outline = Pen(PHANTOM) if not vane.depth else Pen(THIN) if thin else pen
        yield Polyline(corners, outline, Wash("ink") if thin else None, closed=True, data=data)
    if not vane.depth:
        reach = 0.3 * medium.lettering
        yield Segments((((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))), Pen(THIN),
                       {"part": "vane-mark", "angle": data["angle"]})
