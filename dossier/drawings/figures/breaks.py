"""Long things drawn short: a stretch in which nothing lies is left out between two break lines (ISO 128-34)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dossier.drawings.scene import THIN, Medium, Pen, Point, Polyline

# Between the two break lines, and how far they go beyond the outline, in type sizes.
_APART, _BEYOND = 0.8, 0.6


@dataclass(frozen=True, slots=True)
class Broken:
    """Where lengths stand in the drawing: ``gap`` is the stretch left out, in mm; None where the whole is drawn.

    ``apart`` is the distance between the break lines, in the medium's unit.
    """

    length: float
    scale: float
    gap: tuple[float, float] | None
    apart: float

    def at(self, length: float) -> float:
        """Where a point so far from the beginning stands, in the medium's unit."""
        if self.gap is None or length <= self.gap[0]:
            return length * self.scale
        return self.at(self.gap[0]) + self.apart + (max(length, self.gap[1]) - self.gap[1]) * self.scale

    @property
    def pieces(self) -> tuple[tuple[float, float], ...]:
        """The stretches that are drawn."""
        if self.gap is None:
            return ((0.0, self.length),)
        return ((0.0, self.gap[0]), (self.gap[1], self.length))


def broken(length: float, scale: float, room: float, kept: Sequence[tuple[float, float]], medium: Medium) -> Broken:
    """A length drawn in ``room``, whole where it fits; else without the middle of its longest stretch outside ``kept``.

    What has to be kept is kept, also where the room is too small for it.
    """
    apart = _APART * medium.lettering
    if length * scale <= room:
        return Broken(length, scale, None, 0.0)
    start, end = max(_free(length, kept), key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    surplus = length - (room - apart) / scale
    left_out = min(surplus, end - start)
    if left_out * scale <= apart:
        return Broken(length, scale, None, 0.0)
    middle = (start + end) / 2
    return Broken(length, scale, (middle - left_out / 2, middle + left_out / 2), apart)


def _free(length: float, kept: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    free, reached = [], 0.0
    for start, end in sorted(kept):
        if start > reached:
            free.append((reached, start))
        reached = max(reached, end)
    return [(start, end) for start, end in free if end <= length]


def break_line(x: float, top: float, bottom: float, medium: Medium) -> Polyline:
    """A narrow line with zigzags across a level thing."""
    return break_between((x, top), (x, bottom), medium)


def break_between(start: Point, end: Point, medium: Medium) -> Polyline:
    """A narrow line with zigzags from one edge of a thing to the other, and a little beyond both."""
    length, size = math.dist(start, end), medium.lettering
    way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    swing, reach = 0.35 * size, min(0.5 * size, length / 4)

    def at(along: float, across: float = 0.0) -> Point:
        return (start[0] + way[0] * along - way[1] * across, start[1] + way[1] * along + way[0] * across)

    middle = length / 2
    points = (at(-_BEYOND * size), at(middle - reach), at(middle - reach / 3, swing), at(middle + reach / 3, -swing),
              at(middle + reach), at(length + _BEYOND * size))
    return Polyline(points, Pen(THIN), data={"part": "break"})
