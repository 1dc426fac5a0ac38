"""Where there is room for a label: what is drawn already, and whether a box or a line would touch it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeVar

from dossier.drawings.scene import Box, Point

Stroke = tuple[Point, Point]
T = TypeVar("T")


@dataclass(slots=True)
class Room:
    """Boxes and strokes that are taken, by the name of what they belong to, within a frame."""

    frame: Box
    boxes: dict[str, list[Box]] = field(default_factory=dict)
    strokes: dict[str, list[Stroke]] = field(default_factory=dict)
    curves: list[str] = field(default_factory=list)

    def add_curve(self, name: str, points: Sequence[Point]) -> None:
        """A curve: labels keep off it, leaders may cross it where they must."""
        self.curves.append(name)
        self.add_line(name, points)

    def add_line(self, name: str, points: Sequence[Point]) -> None:
        """A line that labels keep off."""
        self.strokes.setdefault(name, []).extend(pairwise(points))

    def add_box(self, name: str, box: Box) -> None:
        """A box that labels keep off."""
        self.boxes.setdefault(name, []).append(box)

    def holds(self, box: Box, but: Collection[str] = ()) -> bool:
        """Whether the box lies inside the frame and touches nothing, what belongs to ``but`` left aside."""
        inside = (self.frame.left <= box.left and box.right <= self.frame.right
                  and self.frame.top <= box.top and box.bottom <= self.frame.bottom)
        return (inside and not any(box.meets(other) for other in self._but(self.boxes, but))
                and not any(touches(box, *stroke) for stroke in self._but(self.strokes, but)))

    def passes(self, line: Stroke, but: Collection[str]) -> bool:
        """Whether a line crosses no other and no box, what belongs to ``but`` left aside."""
        return (not any(touches(box, *line) for box in self._but(self.boxes, but))
                and not any(cross(line, stroke) for stroke in self._but(self.strokes, but)))

    @staticmethod
    def _but(taken: Mapping[str, list[T]], names: Collection[str]) -> Iterator[T]:
        return (each for name, all_of_it in taken.items() if name not in names for each in all_of_it)


def touches(box: Box, start: Point, end: Point) -> bool:
    """Whether any of a straight line lies inside a box."""
    (x0, y0), (x1, y1) = start, end
    if (max(x0, x1) < box.left or min(x0, x1) > box.right or max(y0, y1) < box.top or min(y0, y1) > box.bottom):
        return False
    first, last = 0.0, 1.0
    for from_, step, low, high in ((x0, x1 - x0, box.left, box.right), (y0, y1 - y0, box.top, box.bottom)):
        if step == 0:
            if not low < from_ < high:
                return False
            continue
        one, other = sorted(((low - from_) / step, (high - from_) / step))
        first, last = max(first, one), min(last, other)
    return first < last


def cross(one: Stroke, other: Stroke) -> bool:
    """Whether two straight lines cross."""
    (a, b), (c, d) = one, other
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def spread(points: Sequence[Point], most: int) -> list[Point]:
    """At most so many of these points, evenly chosen, both ends among them."""
    if len(points) <= most:
        return list(points)
    return [points[round(index * (len(points) - 1) / (most - 1))] for index in range(most)]
