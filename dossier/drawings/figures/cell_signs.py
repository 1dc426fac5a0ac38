"""The signs of a mirror cell, the same in plan, in section and in the list that explains them.

What is known of a support, an adjuster or a clip is where it touches, not what it looks like: so it has a sign.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from dossier.drawings.scene import THIN, Circle, Medium, Pen, Point, Polyline, Segments, Shape, Wash

_PEN = Pen(THIN)
# Half the width of each sign, in type sizes.
DOT, RING, PUSH, CLIP, BALANCE = 0.24, 0.24, 0.42, 0.4, 0.42


def support(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A dot."""
    return (Circle(at, DOT * medium.lettering, None, Wash("ink"), data or {}),)


def push(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A circle with a cross."""
    (x, y), radius = at, PUSH * medium.lettering
    return (Circle(at, radius, _PEN, Wash("ground"), data or {}),
            Segments((((x - radius, y), (x + radius, y)), ((x, y - radius), (x, y + radius))), _PEN))


def clip(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A square on its corner."""
    (x, y), half = at, CLIP * medium.lettering
    return (Polyline(((x, y - half), (x + half, y), (x, y + half), (x - half, y)), _PEN, None, True, data or {}),)


def pivot(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A ring."""
    return (Circle(at, RING * medium.lettering, _PEN, Wash("ground"), data or {}),)


def bar_pivot(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """Two rings, one within the other."""
    return (Circle(at, 1.5 * RING * medium.lettering, _PEN, Wash("ground"), data or {}),
            Circle(at, 0.75 * RING * medium.lettering, _PEN))


def mark(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A ring about a small dot."""
    return (*pivot(at, medium, data), Circle(at, 0.07 * medium.lettering, None, Wash("ink")))


def balance(at: Point, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """The centre of mass: a circle with two opposite quarters filled."""
    radius = BALANCE * medium.lettering
    quarters = [Polyline((at, *(_on(at, radius, start + step * math.pi / 16) for step in range(9))), None, Wash("ink"),
                         closed=True) for start in (0.0, math.pi)]
    return (Circle(at, radius, _PEN, Wash("ground"), data or {}), *quarters)


def touching(at: Point, down: float, medium: Medium, data: Mapping[str, str] | None = None) -> Sequence[Shape]:
    """A filled wedge whose tip touches from below (``down`` 1) or from above (−1)."""
    (x, y), size = at, medium.lettering
    corners = (at, (x + 0.28 * size, y + down * 0.6 * size), (x - 0.28 * size, y + down * 0.6 * size))
    return (Polyline(corners, None, Wash("ink"), True, data or {}),)


def _on(centre: Point, radius: float, angle: float) -> Point:
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


