"""What tests read back of a drawing's lines: how straight strokes lie to boxes and to each other, where a circle is."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

Point = tuple[float, float]
Box = tuple[float, float, float, float]


def round_of(circle: ET.Element) -> tuple[float, float, float]:
    """Centre and radius of a circle of an SVG."""
    x, y, radius = (float(circle.attrib[name]) for name in ("cx", "cy", "r"))
    return x, y, radius


def enters(box: Box, start: Point, end: Point) -> bool:
    """Whether a stroke enters a box, given by its left, top, right and bottom: clipped to its four sides, something of
    it is left."""
    (x0, y0), (x1, y1) = start, end
    left, top, right, bottom = box
    # Most are far away: the suite asks this millions of times.
    if (x0 < left and x1 < left) or (x0 > right and x1 > right) or (y0 < top and y1 < top) or (
            y0 > bottom and y1 > bottom):
        return False
    first, last = 0.0, 1.0
    for low, high, begin, step in ((left, right, x0, x1 - x0), (top, bottom, y0, y1 - y0)):
        if step == 0:
            if not low < begin < high:
                return False
            continue
        one, other = sorted(((low - begin) / step, (high - begin) / step))
        first, last = max(first, one), min(last, other)
    return first < last


def cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two strokes, each given by its ends, cross away from them."""
    (a, b), (c, d) = one, other
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]) or (
            max(a[1], b[1]) < min(c[1], d[1])) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    along, beside = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = along[0] * beside[1] - along[1] * beside[0]
    if abs(turn) < 1e-9:
        return False
    share = ((c[0] - a[0]) * beside[1] - (c[1] - a[1]) * beside[0]) / turn
    there = ((c[0] - a[0]) * along[1] - (c[1] - a[1]) * along[0]) / turn
    point = (a[0] + share * along[0], a[1] + share * along[1])
    return 0 < share < 1 and 0 < there < 1 and min(math.dist(point, end) for end in (a, b, c, d)) > 0.02
