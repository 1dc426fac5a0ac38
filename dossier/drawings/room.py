"""Where there is room for a label: what is drawn already, and whether a box or a line would touch it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain, pairwise

from dossier.drawings.scene import Box, Point

Stroke = tuple[Point, Point]
# Lines are looked up by the columns of the drawing that they pass through, so many to the frame's width.
_COLUMNS = 24


@dataclass(slots=True)
class Room:
    """Boxes and strokes that are taken, by the name of what they belong to, within a frame."""

    frame: Box
    boxes: list[tuple[str, Box]] = field(default_factory=list)
    strokes: list[tuple[str, Stroke]] = field(default_factory=list)
    curves: list[str] = field(default_factory=list)
    _columns: list[list[tuple[str, Stroke]]] = field(default_factory=lambda: [[] for _ in range(_COLUMNS)])

    def add_curve(self, name: str, points: Sequence[Point]) -> None:
        """A curve: labels keep off it, leaders may cross it where they must."""
        self.curves.append(name)
        self.add_line(name, points)

    def add_line(self, name: str, points: Sequence[Point]) -> None:
        """A line that labels keep off."""
        for stroke in pairwise(points):
            self._add((name, stroke))

    def add_box(self, name: str, box: Box) -> None:
        """A box that labels keep off."""
        self.boxes.append((name, box))

    def kept(self) -> tuple[list[tuple[str, Box]], list[tuple[str, Stroke]]]:
        """What is taken now."""
        return list(self.boxes), list(self.strokes)

    def back_to(self, kept: tuple[list[tuple[str, Box]], list[tuple[str, Stroke]]]) -> None:
        """Free again what was taken since."""
        self.boxes, self.strokes = list(kept[0]), []
        self._columns = [[] for _ in range(_COLUMNS)]
        for entry in kept[1]:
            self._add(entry)

    def holds(self, box: Box, but: Collection[str] = ()) -> bool:
        """Whether the box lies inside the frame and touches nothing, what belongs to ``but`` left aside."""
        inside = (self.frame.left <= box.left and box.right <= self.frame.right
                  and self.frame.top <= box.top and box.bottom <= self.frame.bottom)
        return (inside and not any(name not in but and box.meets(other) for name, other in self.boxes)
                and not any(name not in but and touches(box, *stroke)
                            for name, stroke in self._near(box.left, box.right)))

    def passes(self, line: Stroke, but: Collection[str]) -> bool:
        """Whether a line crosses no other and no box, what belongs to ``but`` left aside."""
        first, last = sorted((line[0][0], line[1][0]))
        return (not any(name not in but and touches(box, *line) for name, box in self.boxes)
                and not any(name not in but and cross(line, stroke) for name, stroke in self._near(first, last)))

    def _add(self, entry: tuple[str, Stroke]) -> None:
        self.strokes.append(entry)
        (x0, _), (x1, _) = entry[1]
        for column in self._between(min(x0, x1), max(x0, x1)):
            self._columns[column].append(entry)

    def _near(self, left: float, right: float) -> Iterator[tuple[str, Stroke]]:
        return chain.from_iterable(self._columns[column] for column in self._between(left, right))

    def _between(self, left: float, right: float) -> range:
        """The columns of a stretch; the outermost reach on without end."""
        width = (self.frame.right - self.frame.left) / _COLUMNS or 1.0
        first, last = (min(max(int((x - self.frame.left) // width), 0), _COLUMNS - 1) for x in (left, right))
        return range(first, last + 1)


def touches(box: Box, start: Point, end: Point) -> bool:
    """Whether any of a straight line lies inside a box."""
    (x0, y0), (x1, y1) = start, end
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    # Most lines are far off, and are told at once.
    if ((x0 < left and x1 < left) or (x0 > right and x1 > right) or (y0 < top and y1 < top)
            or (y0 > bottom and y1 > bottom)):
        return False
    first, last = 0.0, 1.0
    for from_, step, low, high in ((x0, x1 - x0, left, right), (y0, y1 - y0, top, bottom)):
        if step == 0:
            if not low < from_ < high:
                return False
            continue
        one, other = sorted(((low - from_) / step, (high - from_) / step))
        first, last = max(first, one), min(last, other)
    return first < last


def cross(one: Stroke, other: Stroke) -> bool:
    """Whether two straight lines cross."""
    ((ax, ay), (bx, by)), ((cx, cy), (dx, dy)) = one, other
    # The ends of each lie on both sides of the other.
    along, down = bx - ax, by - ay
    if not (along * (cy - ay) - down * (cx - ax)) * (along * (dy - ay) - down * (dx - ax)) < 0:
        return False
    along, down = dx - cx, dy - cy
    return (along * (ay - cy) - down * (ax - cx)) * (along * (by - cy) - down * (bx - cx)) < 0


def spread(points: Sequence[Point], most: int) -> list[Point]:
    """At most so many of these points, evenly chosen, both ends among them."""
    if len(points) <= most:
        return list(points)
    return [points[round(index * (len(points) - 1) / (most - 1))] for index in range(most)]
