"""The paper of a sheet: its size, its frame, and what lies in the borders.

After ISO 5457:1999 (recalled): drawing space 180 mm × 277 mm on A4, a filing margin of 20 mm on the left and 10 mm on
the other sides; centring marks at the ends of the axes of the paper, from the border's outer edge to 5 mm inside of the
frame, 10 mm in all; a grid reference border 5 mm wide, in sections of 50 mm from the centring marks, at A4 on the top
and the right only, numbered from the left and lettered from the top without I and O; the size's designation in the
border at the lower right corner. Letter paper, which that standard does not know, has the same margins and says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from dossier.drawings.lettering import CAPITALS, boxes
from dossier.drawings.scene import (
    ON_PAPER,
    OUTLINE,
    THIN,
    Box,
    Group,
    LineType,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Words,
    box_of,
    leaves,
)

_EDITIONS = {"A4": "ISO 5457:1999", "Letter": "after ISO 5457:1999"}
# From the frame to what is written and drawn in the lower border.
_BELOW = 1.4
_SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
_FILING, _MARGIN, _GRID, _SECTION = 20.0, 10.0, 5.0, 50.0
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
# Frame and centring marks are 0.7 mm wide: 1.4 of a wide line.
FRAME_LINE = LineType("frame", wide=True, heavy=1.4)
# Centring marks reach so far into the drawing space, and keep so clear of what stands there.
_MARK, _CLEAR_OF_MARK = 5.0, 0.8
# Figures keep clear of the frame by so much.
CLEAR_OF_FRAME = 3.0
SIZE = ON_PAPER.lettering


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper upright, in mm from its upper left corner, y downwards."""

    name: str
    width: float
    height: float

    @property
    def whole(self) -> Box:
        return Box(0.0, 0.0, self.width, self.height)

    @property
    def space(self) -> Box:
        """The drawing space, inside the frame."""
        return Box(_FILING, _MARGIN, self.width - _MARGIN, self.height - _MARGIN)


def paper_of(name: str) -> Paper:
    """A4 or Letter. KeyError for any other."""
    return Paper(name, *_SIZES[name])


def border(paper: Paper, inches: bool, shapes: Iterable[Shape] = ()) -> tuple[Group, ...]:
    """Frame, centring marks, grid references, designation of the size, and the measure in the lower border that shows a
    print's true size. ``shapes`` are what else stands on the paper: centring marks end at the frame before it."""
    space = paper.space
    corners = ((space.left, space.top), (space.right, space.top), (space.right, space.bottom),
               (space.left, space.bottom))
    frame = Polyline(corners, Pen(FRAME_LINE), closed=True, data={"part": "frame"})
    parts = {"frame": (frame,), "centring": tuple(_centring(paper, list(_drawn(shapes)))), "grid": tuple(_grid(paper)),
             "measure": tuple(_measure(paper, inches)), "edition": (_edition(paper),),
             "size": (_designation(paper),)}
    return tuple(Group(shapes, {"border": name}) for name, shapes in parts.items())


def _centring(paper: Paper, there: Sequence[Box]) -> Iterator[Shape]:
    """Marks at the ends of both axes of the paper; the lowest ends at the frame, where the title block begins."""
    space, x, y = paper.space, paper.width / 2, paper.height / 2
    for outer, on_frame, inner in (
            ((x, space.top - _GRID), (x, space.top), (x, space.top + _MARK)),
            ((x, space.bottom + _GRID), (x, space.bottom), (x, space.bottom)),
            ((space.left - _GRID, y), (space.left, y), (space.left + _MARK, y)),
            ((space.right + _GRID, y), (space.right, y), (space.right - _MARK, y))):
        room = box_of((on_frame, inner)).grown(_CLEAR_OF_MARK)
        end = on_frame if any(room.meets(box) for box in there) else inner
        yield Polyline((outer, end), Pen(FRAME_LINE), data={"part": "centring-mark"})


def _drawn(shapes: Iterable[Shape]) -> Iterator[Box]:
    """The boxes of all lettering, circles and single strokes."""
    for shape in leaves(shapes):
        if isinstance(shape, Polyline):
            yield from (box_of(stroke).grown(ON_PAPER.narrow) for stroke in pairwise(
                (*shape.points, shape.points[0]) if shape.closed else shape.points))
        elif isinstance(shape, Segments):
            yield from (box_of(stroke).grown(ON_PAPER.narrow) for stroke in shape.lines)
        else:
            yield from boxes((shape,), ON_PAPER)


def _grid(paper: Paper) -> Iterator[Shape]:
    space = paper.space
    across, down = _ends(space.left, space.right, paper.width / 2), _ends(space.top, space.bottom, paper.height / 2)
    outer = ((space.left, space.top - _GRID), (space.right + _GRID, space.top - _GRID),
             (space.right + _GRID, space.bottom))
    lines: list[tuple[Point, Point]] = list(pairwise(outer))
    lines += [((space.left, space.top - _GRID), (space.left, space.top)),
              ((space.right, space.bottom), (space.right + _GRID, space.bottom))]
    # Where a centring mark stands it divides the sections by itself.
    lines += [((x, space.top - _GRID), (x, space.top)) for x in across[1:-1] if x != paper.width / 2]
    lines += [((space.right, y), (space.right + _GRID, y)) for y in down[1:-1] if y != paper.height / 2]
    yield Segments(tuple(lines), Pen(THIN), {"part": "grid"})
    base = CAPITALS * SIZE / 2
    for number, (left, right) in enumerate(pairwise(across), start=1):
        yield Text(((left + right) / 2, space.top - _GRID / 2 + base), (Words(str(number)),), "middle")
    for letter, (top, bottom) in zip(_LETTERS, pairwise(down), strict=False):
        yield Text((space.right + _GRID / 2, (top + bottom) / 2 + base), (Words(letter),), "middle")


def _ends(start: float, end: float, middle: float) -> list[float]:
    """Where the sections of a side begin and end: 50 mm each from the middle, what is left at the corners."""
    inner = [middle]
    while inner[0] - _SECTION > start:
        inner.insert(0, inner[0] - _SECTION)
    while inner[-1] + _SECTION < end:
        inner.append(inner[-1] + _SECTION)
    # A rest too short for its sign belongs to the section beside it.
    if inner[0] - start < _SECTION / 5:
        del inner[0]
    if end - inner[-1] < _SECTION / 5:
        del inner[-1]
    return [start, *inner, end]


def _measure(paper: Paper, inches: bool) -> Iterator[Shape]:
    """A rule of 100 mm or 4 in about the centring mark: measured on the print it says whether the scale was kept."""
    step, count, words = (25.4 / 4, 16, "4\u202fin in print") if inches else (10.0, 10, "100\u202fmm in print")
    middle, top, half = paper.width / 2, paper.space.bottom + _BELOW, count // 2
    ends = [middle + (index - half) * step for index in range(count + 1)]
    ticks = [((x, top), (x, top + (2.4 if index % (count // 4) == 0 or index == count else 1.4)))
             for index, x in enumerate(ends) if index != half]
    yield Segments((((ends[0], top), (ends[-1], top)), *ticks), Pen(THIN),
                   {"part": "measure", "length": f"{ends[-1] - ends[0]:.3f}"})
    yield Text((ends[-1] + 0.5 * SIZE, top + CAPITALS * SIZE), (Words(words),), role="faint")


def _edition(paper: Paper) -> Text:
    """After which edition of its standard the frame is drawn: others have other borders."""
    return Text((paper.space.left, paper.space.bottom + _BELOW + CAPITALS * SIZE), (Words(_EDITIONS[paper.name]),),
                role="faint")


def _designation(paper: Paper) -> Text:
    """The size of the paper, in the border at the lower right corner."""
    return Text((paper.space.right, paper.space.bottom + _BELOW + CAPITALS * SIZE), (Words(paper.name),), "end")


def rule(start: Point, end: Point, wide: bool = False) -> Polyline:
    """A line of a table."""
    return Polyline((start, end), Pen(OUTLINE if wide else THIN), data={"part": "rule"})
