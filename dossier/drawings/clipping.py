"""What of one outline is seen through another."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from dossier.drawings.scene import Point


def clipped(outline: Sequence[Point], window: Sequence[Point]) -> tuple[Point, ...]:
    """The part of a convex outline inside a convex window, by cutting it at each of the window's sides in turn.

    Empty where nothing of it is.
    """
    if _well_inside(outline, window):
        return tuple(outline)
    turn = 1.0 if _area(window) > 0 else -1.0
    left = list(outline)
    for start, end in zip(window, (*window[1:], window[0]), strict=True):
        along = (end[0] - start[0], end[1] - start[1])
        sides = [turn * (along[0] * (y - start[1]) - along[1] * (x - start[0])) for x, y in left]
        kept: list[Point] = []
        for index, here in enumerate(sides):
            there, point, next_point = sides[index - 1], left[index], left[index - 1]
            if (here >= 0) != (there >= 0):
                share = here / (here - there)
                kept.append((point[0] + share * (next_point[0] - point[0]),
                             point[1] + share * (next_point[1] - point[1])))
            if here >= 0:
                kept.append(point)
        left = kept
    return tuple(left)


def _well_inside(outline: Sequence[Point], window: Sequence[Point]) -> bool:
    """Whether the outline lies within a circle that the window holds, about the middle of its corners."""
    middle = (sum(x for x, _ in window) / len(window), sum(y for _, y in window) / len(window))
    corners = (*window, window[0])
    held = min(math.dist(middle, ((x0 + x1) / 2, (y0 + y1) / 2)) for (x0, y0), (x1, y1) in pairwise(corners))
    longest = max(math.dist(one, other) for one, other in pairwise(corners))
    # The nearest point of a side lies no farther from its middle than half its length.
    return max(math.dist(middle, point) for point in outline) < held - longest / 2


def _area(outline: Sequence[Point]) -> float:
    """Twice the area, below zero where the outline turns the other way."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True))
