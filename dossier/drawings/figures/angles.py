"""Angles from the focuser's side, which is up, dimensioned on arcs outside of what they measure.

Only an angle that has room for its figure is dimensioned: not a small one, whose figure would stand on its own ends,
and not a wide one, whose arc would run round the view. Lists say them all.
"""

from __future__ import annotations

import math

from dossier.drawings.figures.placing import arc
from dossier.drawings.lettering import CAPITALS, width_of
from dossier.drawings.scene import THIN, Group, Medium, Pen, Point, Polyline, Text, Wash, Words

# From one arc to the next, and from the outline to the first, in type sizes.
_STEP, _FIRST = 1.9, 1.4
_WIDEST_DEG = 75.0
_PEN = Pen(THIN)


def nearest(first_deg: float, count: int) -> float:
    """The smallest angle of evenly spaced things that is not below zero."""
    angle = first_deg % (360 / count)
    return 0.0 if math.isclose(angle, 360 / count, abs_tol=1e-6) else round(angle, 6)


def arc_radius(outline: float, level: int, medium: Medium) -> float:
    """How far from the axis the arc of this level lies, outside an outline of this radius."""
    return outline + (_FIRST + _STEP * level) * medium.lettering


def fits(angle_deg: float, words: str, outline: float, medium: Medium) -> bool:
    """Whether the angle's figure has room on the first arc outside an outline of this radius."""
    if not 0 < angle_deg <= _WIDEST_DEG:
        return False
    length = arc_radius(outline, 0, medium) * math.radians(angle_deg)
    return length >= width_of(words, medium.lettering) + 2 * medium.arrow


def angle(name: str, angle_deg: float, words: Words, *, start: float, outline: float, level: int, clockwise: bool,
          medium: Medium) -> Group:
    """An angle about the origin from straight up, on the arc of its level; ``start`` is the radius of what is meant."""
    size, arrow, turn = medium.lettering, medium.arrow, 1 if clockwise else -1
    radius, upright = arc_radius(outline, level, medium), -math.pi / 2
    end = upright + turn * math.radians(angle_deg)
    heads = []
    for place, way in ((upright, turn), (end, -turn)):
        back = place + way * arrow / radius
        base = [_at(each, back) for each in (radius - arrow / 6, radius + arrow / 6)]
        heads.append(Polyline((_at(radius, place), *base), None, Wash("ink"), True, {"arrow": "tip"}))
    leg = Polyline((_at(max(outline + 0.3 * size, start), end), _at(radius + 0.4 * size, end)), _PEN,
                   data={"line": "extension"})
    x, y = _at(radius + 0.45 * size, (upright + end) / 2)
    # The further round the arc, the lower the figure may hang beside it.
    drop = CAPITALS * size * (1 - math.cos(math.radians(angle_deg / 2))) / 2
    figure = Text((x, y + drop), (words,), "start" if clockwise else "end")
    line = Polyline(arc((0.0, 0.0), radius, upright, end), _PEN, data={"line": "dimension"})
    return Group((line, leg, *heads, figure), {"dimension": name, "angle": f"{angle_deg:g}"})


def _at(radius: float, angle_rad: float) -> Point:
    return (radius * math.cos(angle_rad), radius * math.sin(angle_rad))
