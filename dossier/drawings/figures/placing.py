"""Views of one figure beside one another: shapes moved as they are, hatching that follows the medium."""

from __future__ import annotations

import math
from collections.abc import Iterable

from dossier.drawings.lettering import boxes
from dossier.drawings.scene import Box, Circle, Group, Medium, Point, Polyline, Segments, Shape, Text

STEPS = 96
# A phone shows a figure whole that is at most so much higher than wide.
_LEAST_WIDTH = 0.6


def moved(shapes: Iterable[Shape], across: float, down: float) -> tuple[Shape, ...]:
    """The same shapes, so far to the right and so far down."""
    return tuple(_moved(shape, across, down) for shape in shapes)


def _moved(shape: Shape, across: float, down: float) -> Shape:
    """Built anew field by field: there are thousands of them, and that is several times as fast as ``replace``."""
    if isinstance(shape, Group):
        return Group(moved(shape.members, across, down), shape.data, shape.title)
    if isinstance(shape, Polyline):
        return Polyline(tuple([(x + across, y + down) for x, y in shape.points]), shape.pen, shape.wash, shape.closed,
                        shape.data)
    if isinstance(shape, Text):
        x, y = shape.at
        return Text((x + across, y + down), shape.runs, shape.anchor, shape.turned, shape.role, shape.size)
    if isinstance(shape, Circle):
        x, y = shape.centre
        return Circle((x + across, y + down), shape.radius, shape.pen, shape.wash, shape.data)
    return Segments(tuple([((x0 + across, y0 + down), (x1 + across, y1 + down)) for (x0, y0), (x1, y1) in shape.lines]),
                    shape.pen, shape.data)


def extent(shapes: Iterable[Shape], medium: Medium) -> Box:
    """The box of all shapes, lettering too."""
    lefts, tops, rights, bottoms = zip(*[(box.left, box.top, box.right, box.bottom) for box in boxes(shapes, medium)],
                                       strict=True)
    return Box(min(lefts), min(tops), max(rights), max(bottoms))


def arc(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """An arc as a polyline, angles in radians from the right, turning downwards as y does."""
    steps = max(2, math.ceil(abs(end - start) / (2 * math.pi) * STEPS))
    return tuple((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
                 for angle in (start + (end - start) * step / steps for step in range(steps + 1)))


def ring_hatching(centre: Point, outer: float, inner: float, spacing: float) -> tuple[tuple[Point, Point], ...]:
    """Lines at 45° over the surface between two circles."""
    lines = []
    for number in range(math.ceil(-outer / spacing), math.floor(outer / spacing) + 1):
        level = number * spacing
        far = math.sqrt(max(outer**2 - level**2, 0.0))
        near = math.sqrt(max(inner**2 - level**2, 0.0))
        stretches = ((-far, -near), (near, far)) if near else ((-far, far),)
        lines += [(_tilted(centre, first, level), _tilted(centre, last, level)) for first, last in stretches
                  if last - first > spacing / 8]
    return tuple(lines)


def _tilted(centre: Point, along: float, across: float) -> Point:
    root = math.sqrt(0.5)
    return (centre[0] + root * (along + across), centre[1] + root * (across - along))


def oval(centre: Point, wide: float, high: float) -> tuple[Point, ...]:
    """An ellipse as a closed outline."""
    return tuple((centre[0] + wide * math.cos(angle), centre[1] + high * math.sin(angle))
                 for angle in (2 * math.pi * step / STEPS for step in range(STEPS)))


def no_narrower(box: Box, medium: Medium) -> Box:
    """A tall figure's box made wider on a phone, where it is drawn as large as its width allows: it would otherwise
    grow to several screens."""
    lacking = 0.0 if medium.unit == "mm" else _LEAST_WIDTH * (box.bottom - box.top) - (box.right - box.left)
    if lacking <= 0:
        return box
    return Box(box.left - lacking / 2, box.top, box.right + lacking / 2, box.bottom)
