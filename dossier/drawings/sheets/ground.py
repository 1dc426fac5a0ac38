"""What is drawn already, on a grid: where a balloon finds bare paper, and what a leader would cross on its way."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import reduce
from operator import or_

from dossier.drawings.lettering import box_of_text
from dossier.drawings.room import Stroke, cross, touches
from dossier.drawings.scene import Box, Medium, Point, Shape, Text
from dossier.drawings.sheets.outlines import (
    Closed,
    Line,
    closed_of,
    distance,
    kind_of,
    leaves_of,
    strokes_of,
    text_blocks,
)

# Of several cells together, all their bits are set.
_INSIDE, _DRAWN = 1, 3
# What no leader crosses.
_BARRED = ("dimension", "leader")
# Two lines run along each other where they differ by less than this sine, nearer than so many type sizes.
_ALONG, _NEAR = 0.2, 0.35


# A stroke with what it is, ``dimension``, ``extension``, ``leader``, ``outline`` of a thing, or another line, ``thin``,
# and how long it is: a bare tuple, since a sheet has thousands of them.
_Marked = tuple[str, Stroke, float]


@dataclass(frozen=True, slots=True)
class Met:
    """What a leader runs over: outlines, extension lines, other thin lines; how many lines it runs along."""

    outlines: int = 0
    extensions: int = 0
    thin: int = 0
    along: int = 0


class Ground:
    """A part of a sheet in cells of ``cell`` units: bare, inside of something, or drawn on."""

    def __init__(self, frame: Box, shapes: Iterable[Shape], medium: Medium) -> None:
        self.frame, self.size, self.cell = frame, medium.lettering, 0.45 * medium.lettering
        self.columns = int((frame.right - frame.left) / self.cell) + 1
        self.rows = int((frame.bottom - frame.top) / self.cell) + 1
        self.cells = bytearray(self.columns * self.rows)
        self.texts: list[Box] = []
        self.barred: list[Stroke] = []
        self._outlines: list[Line] = []
        self.closed: list[Closed] = []
        self._strokes: list[_Marked] = []
        self._passing: defaultdict[int, list[int]] = defaultdict(list)
        shapes = list(shapes)
        marked: list[tuple[str, Stroke]] = []
        for shape, kind in leaves_of(shapes):
            if isinstance(shape, Text):
                self.texts.append(box_of_text(shape, medium.lettering))
                continue
            closed = closed_of(shape)
            if closed:
                self.closed.append(closed)
            what = kind_of(shape, kind)
            strokes = tuple(strokes_of(shape))
            marked += [(what, stroke) for stroke in strokes]
            if what == "outline" and strokes:
                self._outlines.append(Line(strokes, shape.data.get("part", "")))
        for outline in self.closed:
            self._fill(outline.box, _INSIDE)
        # Lists and tables are whole: nothing comes between their lines.
        self.texts += text_blocks(shapes, medium)
        for box in self.texts:
            self._fill(box.grown(0.15 * medium.lettering), _DRAWN)
        passing = self._passing
        for number, (what, stroke) in enumerate(marked):
            self._strokes.append((what, stroke, math.dist(*stroke)))
            for cell in self._cells(stroke):
                passing[cell].append(number)
            if what in _BARRED:
                self.barred.append(stroke)
        cells, count = self.cells, len(self.cells)
        for cell in self._passing:
            if cell < count:
                cells[cell] = _DRAWN

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
        for row in range(self._row(box.top), self._row(box.bottom) + 1):
            stretch = self.cells[row * self.columns + first:row * self.columns + last]
            if _DRAWN in stretch:
                return None
            inside |= _INSIDE in stretch
        return inside

    def bare_places(self, reach: float, step: float) -> Iterator[tuple[Point, int]]:
        """The middles of squares ``reach`` to each side that are bare, ``step`` apart, each with what ``bare`` says."""
        left, top = self.frame.left, self.frame.top
        across = [reach + step * number for number in range(int((self.frame.right - left - 2 * reach) / step) + 1)]
        stretches = [(x, int((x - reach) / self.cell), int((x + reach) / self.cell) + 1) for x in across]
        # A row of cells as one long number: all rows of a band are laid over one another in a few steps.
        rows = [int.from_bytes(self.cells[start:start + self.columns], "big")
                for start in range(0, len(self.cells), self.columns)]
        for number in range(int((self.frame.bottom - top - 2 * reach) / step) + 1):
            y = reach + step * number
            band = rows[int((y - reach) / self.cell):int((y + reach) / self.cell) + 1]
            worst = reduce(or_, band).to_bytes(self.columns, "big")
            for x, first, last in stretches:
                stretch = worst[first:last]
                if _DRAWN not in stretch:
                    yield (left + x, top + y), int(_INSIDE in stretch)

    def met(self, leader: Stroke) -> Met | None:
        """What a leader runs over and along on its way; None where it meets lettering, a dimension line or another
        leader. Lettering that it ends in is its own."""
        (x0, y0), (x1, y1) = leader
        left, right = (x0, x1) if x0 < x1 else (x1, x0)
        top, bottom = (y0, y1) if y0 < y1 else (y1, y0)
        end = Box(x1, y1, x1, y1).grown(1e-6)
        for box in self.texts:
            if (box.left <= right and left <= box.right and box.top <= bottom and top <= box.bottom
                    and touches(box, *leader) and not box.meets(end)):
                return None
        found = {"outline": 0, "extension": 0, "thin": 0}
        along, least = 0, self.size / 2
        dx, dy, passing = x1 - x0, y1 - y0, self._passing
        for number in {number for cell in self._cells(leader) if cell in passing for number in passing[cell]}:
            kind, stroke, length = self._strokes[number]
            (ax, ay), (bx, by) = stroke
            # Most lie on one side of it, which is told sooner than whether they cross.
            if (dx * (ay - y0) - dy * (ax - x0)) * (dx * (by - y0) - dy * (bx - x0)) < 0 and cross(leader, stroke):
                if kind in _BARRED:
                    return None
                found[kind] += 1
            if length >= least:
                along += self._runs_along(leader, stroke, length)
        return Met(found["outline"], found["extension"], found["thin"], along)

    def lettered(self, point: Point, reach: float) -> bool:
        """Whether lettering stands at a point or nearer than so much, or a dimension line or a leader runs there."""
        near = Box(*point, *point).grown(reach)
        return any(near.meets(box) for box in self.texts) or any(touches(near, *stroke) for stroke in self.barred)

    def outlined(self, point: Point) -> Closed | None:
        """The smallest closed outline that a point lies in."""
        return min((each for each in self.closed if each.holds(point)), key=lambda each: each.area, default=None)

    def nearest_outline(self, point: Point, within: float) -> Line | None:
        """The line of the nearest outline, if it is as near as that."""
        near = [(line.distance(point, within), number) for number, line in enumerate(self._outlines)
                if line.near(point, within)]
        away, number = min(near, default=(math.inf, 0))
        return self._outlines[number] if away < within else None

    def outlines_of_one(self, point: Point, within: float) -> list[Line]:
        """All outlines drawn for the part that has one as near to a point as that, the near ones first; none where
        those of several parts, or of one without a name, are there: which is meant could not be told."""
        near = [line for line in self._outlines if line.near(point, within) and line.distance(point, within) < within]
        parts = {line.part for line in near}
        if len(parts) != 1:
            return []
        part, = parts
        return near + [line for line in self._outlines if part and line.part == part and line not in near]

    def _runs_along(self, leader: Stroke, stroke: Stroke, other: float) -> bool:
        """Whether the two are nearly parallel and near each other for more than a short way; ``other`` is the stroke's
        length."""
        length = math.dist(*leader)
        if length < self.size / 2:
            return False
        along = ((leader[1][0] - leader[0][0]) / length, (leader[1][1] - leader[0][1]) / length)
        turned = along[0] * (stroke[1][1] - stroke[0][1]) - along[1] * (stroke[1][0] - stroke[0][0])
        if abs(turned) > _ALONG * other:
            return False
        ends = sorted(along[0] * (x - leader[0][0]) + along[1] * (y - leader[0][1]) for x, y in stroke)
        first, last = max(0.0, ends[0]), min(length, ends[1])
        middle = (first + last) / 2
        point = (leader[0][0] + along[0] * middle, leader[0][1] + along[1] * middle)
        return last - first > self.size / 2 and distance(point, stroke) < _NEAR * self.size

    def _cells(self, stroke: Stroke) -> list[int]:
        """Every cell that a stroke passes, by its number row for row; those beyond the frame's sides and top left out.
        """
        left, top, cell = self.frame.left, self.frame.top, self.cell
        (x0, y0), (x1, y1) = stroke
        x0, y0, x1, y1 = (x0 - left) / cell, (y0 - top) / cell, (x1 - left) / cell, (y1 - top) / cell
        if y1 < y0:
            x0, y0, x1, y1 = x1, y1, x0, y0
        if int(y0) == int(y1) and int(x0) == int(x1):
            # Most strokes of a curve are shorter than a cell.
            return [int(y0) * self.columns + int(x0)] if y0 >= 0 and 0 <= x0 < self.columns else []
        slope = (x1 - x0) / (y1 - y0) if y1 > y0 else 0.0
        found: list[int] = []
        columns, last_row, right = self.columns, int(y1), self.columns - 1
        # Where it enters and leaves each row, from the uppermost down.
        enters = x0
        for row in range(int(y0), last_row + 1):
            leaves = x1 if row == last_row else x0 + slope * (row + 1 - y0)
            first, last = (int(enters), int(leaves)) if enters < leaves else (int(leaves), int(enters))
            enters = leaves
            if row >= 0 and first <= right and last >= 0:
                start = row * columns
                found += range(start + (first if first > 0 else 0), start + (last if last < right else right) + 1)
        return found

    def _column(self, x: float) -> int:
        return int((x - self.frame.left) / self.cell)

    def _row(self, y: float) -> int:
        return int((y - self.frame.top) / self.cell)

    def _fill(self, box: Box, value: int) -> None:
        first, last = max(0, self._column(box.left)), min(self.columns, self._column(box.right) + 1)
        if last > first:
            filled = bytes([value]) * (last - first)
            for row in range(max(0, self._row(box.top)), min(self.rows, self._row(box.bottom) + 1)):
                self.cells[row * self.columns + first:row * self.columns + last] = filled
