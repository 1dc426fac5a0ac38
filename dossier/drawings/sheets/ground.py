"""What is drawn already, on a grid: where a balloon finds bare paper, and what a leader would cross on its way."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from dossier.drawings.lettering import box_of_text
from dossier.drawings.room import Stroke, cross, touches
from dossier.drawings.scene import Box, Circle, Group, Medium, Point, Polyline, Segments, Shape, Text, box_of

_BARE, _INSIDE, _DRAWN = 0, 1, 2
_SIDES = 24


@dataclass(frozen=True, slots=True)
class Marked:
    """A stroke with what it is: ``dimension``, ``extension``, ``leader`` or a line of the thing itself, ``line``."""

    kind: str
    stroke: Stroke


class Ground:
    """A part of a sheet in cells of ``cell`` units: bare, inside of something, or drawn on."""

    def __init__(self, frame: Box, shapes: Iterable[Shape], medium: Medium) -> None:
        self.frame, self.cell = frame, 0.45 * medium.lettering
        self.columns = int((frame.right - frame.left) / self.cell) + 1
        self.rows = [bytearray(self.columns) for _ in range(int((frame.bottom - frame.top) / self.cell) + 1)]
        self.texts: list[Box] = []
        self.barred: list[Stroke] = []
        self.extensions: list[Stroke] = []
        closed, strokes = [], []
        for shape, kind in _leaves(shapes, ""):
            if isinstance(shape, Text):
                self.texts.append(box_of_text(shape, medium.lettering))
                continue
            if _encloses(shape):
                closed.append(_outer(shape))
            strokes += [Marked(kind, stroke) for stroke in _strokes(shape)]
        for box in closed:
            self._fill(box, _INSIDE)
        for box in self.texts:
            self._fill(box.grown(0.15 * medium.lettering), _DRAWN)
        for marked in strokes:
            self.add(marked)

    def add(self, marked: Marked) -> None:
        """One more line that balloons keep off, and leaders too where it is no line of the thing itself."""
        (x0, y0), (x1, y1) = marked.stroke
        steps = max(1, math.ceil(math.dist((x0, y0), (x1, y1)) / self.cell))
        for step in range(steps + 1):
            self._set(x0 + (x1 - x0) * step / steps, y0 + (y1 - y0) * step / steps)
        if marked.kind in ("dimension", "leader"):
            self.barred.append(marked.stroke)
        elif marked.kind == "extension":
            self.extensions.append(marked.stroke)

    def take(self, box: Box) -> None:
        """Nothing else is to stand in this box or to run through it."""
        self._fill(box, _DRAWN)
        self.texts.append(box)

    def bare(self, box: Box) -> int | None:
        """None where something is drawn in the box or it leaves the frame; else 1 where it lies inside of something."""
        if (box.left < self.frame.left or box.right > self.frame.right or box.top < self.frame.top
                or box.bottom > self.frame.bottom):
            return None
        first, last = self._column(box.left), self._column(box.right) + 1
        inside = 0
        for row in self.rows[self._row(box.top):self._row(box.bottom) + 1]:
            stretch = row[first:last]
            if _DRAWN in stretch:
                return None
            inside |= _INSIDE in stretch
        return inside

    def bare_places(self, reach: float, step: float) -> Iterator[tuple[Point, int]]:
        """The middles of squares ``reach`` to each side that are bare, ``step`` apart, each with what ``bare`` says."""
        left, top = self.frame.left, self.frame.top
        across = [reach + step * number for number in range(int((self.frame.right - left - 2 * reach) / step) + 1)]
        stretches = [(x, int((x - reach) / self.cell), int((x + reach) / self.cell) + 1) for x in across]
        for number in range(int((self.frame.bottom - top - 2 * reach) / step) + 1):
            y = reach + step * number
            band = self.rows[int((y - reach) / self.cell):int((y + reach) / self.cell) + 1]
            worst = bytes(map(max, *band))
            for x, first, last in stretches:
                stretch = worst[first:last]
                if _DRAWN not in stretch:
                    yield (left + x, top + y), int(_INSIDE in stretch)

    def passes(self, leader: Stroke) -> bool:
        """Whether a leader meets no lettering, dimension line or other leader."""
        return not (any(touches(box, *leader) for box in self.texts)
                    or any(cross(leader, other) for other in self.barred))

    def extensions_crossed(self, leader: Stroke) -> int:
        """How many extension lines a leader crosses."""
        return sum(cross(leader, other) for other in self.extensions)

    def crossed(self, leader: Stroke) -> int:
        """How many lines a leader runs over, about."""
        (x0, y0), (x1, y1) = leader
        steps = max(1, math.ceil(math.dist((x0, y0), (x1, y1)) / self.cell))
        seen, count = False, 0
        for step in range(steps + 1):
            x, y = x0 + (x1 - x0) * step / steps, y0 + (y1 - y0) * step / steps
            row, column = self._row(y), self._column(x)
            drawn = (0 <= row < len(self.rows) and 0 <= column < self.columns
                     and self.rows[row][column] == _DRAWN)
            count += drawn and not seen
            seen = drawn
        return count

    def _column(self, x: float) -> int:
        return int((x - self.frame.left) / self.cell)

    def _row(self, y: float) -> int:
        return int((y - self.frame.top) / self.cell)

    def _set(self, x: float, y: float) -> None:
        row, column = self._row(y), self._column(x)
        if 0 <= row < len(self.rows) and 0 <= column < self.columns:
            self.rows[row][column] = _DRAWN

    def _fill(self, box: Box, value: int) -> None:
        first, last = max(0, self._column(box.left)), min(self.columns, self._column(box.right) + 1)
        if last > first:
            for row in self.rows[max(0, self._row(box.top)):max(0, self._row(box.bottom) + 1)]:
                row[first:last] = bytes([value]) * (last - first)


def _leaves(shapes: Iterable[Shape], kind: str) -> Iterator[tuple[Polyline | Circle | Segments | Text, str]]:
    """Every shape that is no group, with the kind of line it is."""
    for shape in shapes:
        if isinstance(shape, Group):
            inner = "extension" if "extension" in shape.data else "dimension" if (
                "dimension" in shape.data or "dimension-line" in shape.data) else kind
            yield from _leaves(shape.members, inner)
        elif isinstance(shape, Text):
            yield shape, kind
        else:
            own = shape.data.get("line", "")
            yield shape, own if own in ("dimension", "extension", "leader") else kind or "line"


def _encloses(shape: Polyline | Circle | Segments) -> bool:
    return shape.pen is not None and (isinstance(shape, Circle) or (isinstance(shape, Polyline) and shape.closed))


def _outer(shape: Polyline | Circle | Segments) -> Box:
    if isinstance(shape, Circle):
        return Box(*shape.centre, *shape.centre).grown(shape.radius)
    assert isinstance(shape, Polyline)
    return box_of(shape.points)


def _strokes(shape: Polyline | Circle | Segments) -> Iterator[Stroke]:
    """The strokes of what is drawn with a pen, and of filled signs such as arrowheads; tints are no obstacle."""
    if isinstance(shape, Segments):
        yield from shape.lines
    elif isinstance(shape, Circle):
        if shape.pen or (shape.wash and shape.wash.opacity == 1):
            (x, y), r = shape.centre, shape.radius
            rim = [(x + r * math.cos(turn * math.tau / _SIDES), y + r * math.sin(turn * math.tau / _SIDES))
                   for turn in range(_SIDES + 1)]
            yield from pairwise(rim)
    elif shape.pen or (shape.wash and shape.wash.role == "ink" and shape.wash.opacity == 1):
        points: tuple[Point, ...] = (*shape.points, shape.points[0]) if shape.closed else shape.points
        yield from pairwise(points)
