"""A template cut into sheets of paper that overlap: which part of it stands on which sheet.

Lengths in millimetres, y upwards in the template. Rows have letters from the top, columns numbers from the left.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from dossier.drawings.scene import Box, Point
from dossier.drawings.templates.labels import box_of_label
from dossier.drawings.templates.model import Disc, Item, Label, Outline, ellipse

OVERLAP = 10.0
# In how many steps to either side the joins are moved in search of a place between holes.
_TRIES = 12
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: its row and column from 0, its name, the window of the template on it (``top`` is the lowest y)."""

    row: int
    column: int
    window: Box

    @property
    def name(self) -> str:
        return name_of(self.row, self.column)


@dataclass(frozen=True, slots=True)
class Grid:
    """All sheets of a template, each with a window of this width and height; ``cuts`` is the weight of
    what the joins cut and had better left whole."""

    rows: int
    columns: int
    width: float
    height: float
    tiles: tuple[Tile, ...]
    cuts: int


def name_of(row: int, column: int) -> str:
    """``A1`` is the upper left sheet."""
    return f"{_LETTERS[row % 26] * (1 + row // 26)}{column + 1}"


def grid(box: Box, width: float, height: float, whole: Sequence[tuple[Box, int]] = ()) -> Grid:
    """The fewest windows of this size that cover a box, overlapping by ``OVERLAP``; the box as near to their middle as
    the joins can be while they cut the least of what is better left ``whole``, each with its weight."""
    columns, left, upright = _laid(box.left, box.right, width, [(it.left, it.right, weight) for it, weight in whole])
    rows, low, level = _laid(box.top, box.bottom, height, [(it.top, it.bottom, weight) for it, weight in whole])
    high = low + rows * height - (rows - 1) * OVERLAP
    tiles = []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (width - OVERLAP), high - row * (height - OVERLAP)
            tiles.append(Tile(row, column, Box(x, y - height, x + width, y)))
    return Grid(rows, columns, width, height, tuple(tiles), upright + level)


def _laid(first: float, last: float, room: float, whole: Sequence[tuple[float, float, int]]) -> tuple[int, float, int]:
    """How many windows in a row, where the first begins, and how much their joins cut of what is better left whole."""
    count = max(1, math.ceil((last - first - OVERLAP) / (room - OVERLAP) - 1e-9))
    spare = count * room - (count - 1) * OVERLAP - (last - first)

    def cut(start: float) -> int:
        joins = [start + number * (room - OVERLAP) + OVERLAP / 2 for number in range(1, count)]
        return sum(weight for join in joins for low, high, weight in whole
                   if low - OVERLAP / 2 < join < high + OVERLAP / 2)

    starts = [first - spare * (0.5 + side * step / (2 * _TRIES)) for step in range(_TRIES + 1) for side in (1, -1)]
    best = min(starts, key=cut)
    return count, best, cut(best)


def seen(items: Iterable[Item], window: Box, size: float) -> Iterator[Item]:
    """What of these items lies in a window. Circles and outlines that cross its edge become open lines; words that do
    not fit are moved inside on the sheet that their beginning lies on."""
    for item in items:
        if isinstance(item, Label):
            yield from _words(item, window, size)
        elif isinstance(item, Disc):
            (x, y), r = item.centre, item.radius
            if _holds(window, Box(x - r, y - r, x + r, y + r)):
                yield item
            elif window.meets(Box(x - r, y - r, x + r, y + r)):
                rim = ellipse(item.centre, r, r)
                yield from (Outline(item.layer, piece, False, item.name) for piece in pieces((*rim, rim[0]), window))
        else:
            yield from _line(item, window)


def _line(item: Outline, window: Box) -> Iterator[Outline]:
    if all(window.left <= x <= window.right and window.top <= y <= window.bottom for x, y in item.points):
        yield item
        return
    around = (*item.points, item.points[0]) if item.closed else item.points
    yield from (Outline(item.layer, piece, False, item.name) for piece in pieces(around, window))


def pieces(line: Sequence[Point], window: Box) -> Iterator[tuple[Point, ...]]:
    """The parts of a line inside a window."""
    run: list[Point] = []
    for start, end in pairwise(line):
        cut = _cut(start, end, window)
        if cut is None:
            if len(run) > 1:
                yield tuple(run)
            run = []
            continue
        if run and run[-1] != cut[0]:
            yield tuple(run)
            run = []
        run = [*run, cut[1]] if run else list(cut)
    if len(run) > 1:
        yield tuple(run)


def _cut(start: Point, end: Point, window: Box) -> tuple[Point, Point] | None:
    """The part of a straight line inside a window; its ends are the very points given where these lie inside."""
    first, last = 0.0, 1.0
    for here, step, low, high in ((start[0], end[0] - start[0], window.left, window.right),
                                  (start[1], end[1] - start[1], window.top, window.bottom)):
        if step == 0:
            if not low <= here <= high:
                return None
            continue
        near, far = sorted(((low - here) / step, (high - here) / step))
        first, last = max(first, near), min(last, far)
    if first >= last:
        return None

    def at(share: float) -> Point:
        return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))

    return (start if first == 0.0 else at(first), end if last == 1.0 else at(last))


def _words(label: Label, window: Box, size: float) -> Iterator[Label]:
    box, (x, y) = box_of_label(label, size), label.at
    if _holds(window, box):
        yield label
    elif window.left <= x < window.right - OVERLAP and window.top + OVERLAP < y <= window.bottom:
        across = max(0.0, window.left - box.left) - max(0.0, box.right - window.right)
        up = max(0.0, window.top - box.top) - max(0.0, box.bottom - window.bottom)
        yield Label((x + across, y + up), label.runs, label.anchor, label.turned, label.layer)


def _holds(window: Box, box: Box) -> bool:
    return (window.left <= box.left and box.right <= window.right
            and window.top <= box.top and box.bottom <= window.bottom)
