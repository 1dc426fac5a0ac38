"""The shapes of a figure as balloons see them: strokes by their kind, closed outlines, blocks of lettering."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from dossier.drawings.lettering import boxes
from dossier.drawings.room import Stroke
from dossier.drawings.scene import (
    OUTLINE,
    PHANTOM,
    Box,
    Circle,
    Group,
    Medium,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    around,
    box_of,
)

_SIDES = 48
# Groups whose data has one of these are lists or tables.
_BLOCKS = ("table", "list")


@dataclass(frozen=True)
class Closed:
    """A closed outline by its corners, the first of them not repeated."""

    corners: tuple[Point, ...]

    @cached_property
    def box(self) -> Box:
        """The box about it."""
        return box_of(self.corners)

    @cached_property
    def area(self) -> float:
        """The surface inside."""
        return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in self.sides)) / 2

    @cached_property
    def sides(self) -> tuple[Stroke, ...]:
        """Its strokes all round."""
        return tuple(pairwise((*self.corners, self.corners[0])))

    def holds(self, point: Point) -> bool:
        """Whether a point lies inside."""
        x, y = point
        box = self.box
        if not (box.left < x < box.right and box.top < y < box.bottom):
            return False
        inside = False
        for (x0, y0), (x1, y1) in self.sides:
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
                inside = not inside
        return inside

    def near_rim(self, inset: float, count: int) -> Iterator[Point]:
        """Points inside, so far from the outline, evenly spread along it."""
        lengths = [math.dist(*side) for side in self.sides]
        whole = sum(lengths)
        wanted = [(number + 0.5) / count * whole for number in range(count)]
        gone = 0.0
        for ((x0, y0), (x1, y1)), length in zip(self.sides, lengths, strict=True):
            while wanted and wanted[0] <= gone + length:
                share = (wanted.pop(0) - gone) / length
                x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
                across = ((y0 - y1) / length * inset, (x1 - x0) / length * inset)
                yield from (point for point in ((x + across[0], y + across[1]), (x - across[0], y - across[1]))
                            if self.holds(point))
            gone += length


@dataclass(frozen=True)
class Line:
    """A line by its strokes, one after the other, and the name of the part that it draws, if any."""

    strokes: tuple[Stroke, ...]
    part: str = ""

    @cached_property
    def box(self) -> Box:
        """The box about it."""
        return box_of(end for stroke in self.strokes for end in stroke)

    def near(self, point: Point, within: float) -> bool:
        """Whether it may be as near as that to a point, by its box."""
        (x, y), box = point, self.box
        return (box.left - within <= x <= box.right + within
                and box.top - within <= y <= box.bottom + within)

    def distance(self, point: Point, within: float) -> float:
        """How far a point is from it; without end where it is farther than ``within``."""
        x, y = point
        left, right, top, bottom = x - within, x + within, y - within, y + within
        return min((distance(point, ((x0, y0), (x1, y1))) for (x0, y0), (x1, y1) in self.strokes
                    if not ((x0 < left and x1 < left) or (x0 > right and x1 > right)
                            or (y0 < top and y1 < top) or (y0 > bottom and y1 > bottom))), default=math.inf)

    def nearest(self, point: Point) -> Point:
        """Its point that is nearest."""
        return min((foot(point, stroke) for stroke in self.strokes), key=lambda each: math.dist(point, each))

    def along(self, count: int) -> Iterator[Point]:
        """So many of its points, evenly spread."""
        lengths = [math.dist(*stroke) for stroke in self.strokes]
        wanted = [(number + 0.5) / count * sum(lengths) for number in range(count)]
        gone = 0.0
        for ((x0, y0), (x1, y1)), length in zip(self.strokes, lengths, strict=True):
            while wanted and length and wanted[0] <= gone + length:
                share = (wanted.pop(0) - gone) / length
                yield x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            gone += length


def foot(point: Point, stroke: Stroke) -> Point:
    """The point of a straight stroke that is nearest to a point."""
    (x0, y0), (x1, y1) = stroke
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    share = 0.0 if square == 0 else max(0.0, min(1.0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / square))
    return x0 + share * dx, y0 + share * dy


def distance(point: Point, stroke: Stroke) -> float:
    """How far a point is from a straight stroke."""
    return math.dist(point, foot(point, stroke))


def leaves_of(shapes: Iterable[Shape], kind: str = "") -> Iterator[tuple[Polyline | Circle | Segments | Text, str]]:
    """Every shape that is no group, with the kind of line that its groups make it, empty where they say none."""
    for shape in shapes:
        if isinstance(shape, Group):
            inner = "extension" if "extension" in shape.data else "dimension" if (
                "dimension" in shape.data or "dimension-line" in shape.data) else kind
            yield from leaves_of(shape.members, inner)
        else:
            yield shape, kind


def kind_of(shape: Polyline | Circle | Segments, kind: str) -> str:
    """What the strokes of a shape are: as its groups or it says, else ``outline`` or ``thin`` by its pen."""
    own = shape.data.get("line", "")
    if own in ("dimension", "extension", "leader", "outline"):
        return own
    if kind:
        return kind
    # A sign is filled and has no pen; a part of unknown size is drawn by a chain line with two dots.
    return "outline" if shape.pen is None or shape.pen.line.wide or shape.pen.line in (OUTLINE, PHANTOM) else "thin"


def closed_of(shape: Polyline | Circle | Segments) -> Closed | None:
    """The outline that a closed line or a circle draws; None of any other."""
    if shape.pen is None:
        return None
    if isinstance(shape, Circle):
        return Closed(tuple(_rim(shape)[:-1]))
    return Closed(shape.points) if isinstance(shape, Polyline) and shape.closed and len(shape.points) > 2 else None


def strokes_of(shape: Polyline | Circle | Segments) -> Iterator[Stroke]:
    """The strokes of what is drawn with a pen, and of filled signs such as arrowheads; tints are no obstacle."""
    if isinstance(shape, Segments):
        yield from shape.lines
    elif isinstance(shape, Circle):
        if shape.pen or (shape.wash and shape.wash.opacity == 1):
            yield from pairwise(_rim(shape))
    elif shape.pen or (shape.wash and shape.wash.role == "ink" and shape.wash.opacity == 1):
        points: tuple[Point, ...] = (*shape.points, shape.points[0]) if shape.closed else shape.points
        yield from pairwise(points)


def text_blocks(shapes: Iterable[Shape], medium: Medium) -> Iterator[Box]:
    """The box of every list and table."""
    for shape in shapes:
        if isinstance(shape, Group):
            if any(name in shape.data for name in _BLOCKS) and shape.members:
                yield around(boxes(shape.members, medium))
            else:
                yield from text_blocks(shape.members, medium)


def _rim(circle: Circle) -> list[Point]:
    (x, y), r = circle.centre, circle.radius
    return [(x + r * math.cos(turn * math.tau / _SIDES), y + r * math.sin(turn * math.tau / _SIDES))
            for turn in range(_SIDES + 1)]
