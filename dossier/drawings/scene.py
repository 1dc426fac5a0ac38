"""What a drawing is made of: lines, lettering and groups, as plain data.

Coordinates are in the units of the drawing's medium (millimetres on paper, pixels on a phone), x to the right and y
downwards. A ``View`` takes a point of the telescope, in millimetres, to the drawing. Everything is made of straight
lines, circles and text, so that the same scene can be written as SVG or as DXF.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from dossier.drawings.palette import Role

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class LineType:
    """A line after ISO 128-2: wide or narrow, its dashes and gaps in multiples of the line's width.

    ``heavy`` is how many times as wide as that it is, for the frame of a sheet.
    """

    name: str
    wide: bool = False
    pattern: tuple[float, ...] = ()
    heavy: float = 1.0


OUTLINE = LineType("outline", wide=True)
THIN = LineType("thin")
HIDDEN = LineType("hidden", pattern=(12, 3))
CENTRE = LineType("centre", pattern=(24, 3, 1.5, 3))
PHANTOM = LineType("phantom", pattern=(24, 3, 1.5, 3, 1.5, 3))


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn: its type, the role that colours it, its opacity from 0 to 1."""

    line: LineType = OUTLINE
    role: Role = "ink"
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Wash:
    """How a surface is filled."""

    role: Role
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Polyline:
    """Points joined by straight lines."""

    points: tuple[Point, ...]
    pen: Pen | None = Pen()
    wash: Wash | None = None
    closed: bool = False
    data: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    pen: Pen | None = Pen()
    wash: Wash | None = None
    data: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Segments:
    """Many separate straight lines drawn alike, such as hatching."""

    lines: tuple[tuple[Point, Point], ...]
    pen: Pen = Pen(THIN)
    data: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Words:
    """A run of lettering. ``result`` names the result that it prints, ``key`` the key of the spec, if either."""

    text: str
    result: str = ""
    key: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering with its base line at ``at``; ``turned`` reads upwards, from the right of the sheet.

    ``size`` is how many times as large as the medium's lettering it is.
    """

    at: Point
    runs: tuple[Words, ...]
    anchor: Anchor = "start"
    turned: bool = False
    role: Role = "ink"
    size: float = 1.0

    @property
    def plain(self) -> str:
        return "".join([run.text for run in self.runs])


@dataclass(frozen=True, slots=True)
class Group:
    """Things that belong together. ``data`` becomes ``data-…`` attributes, ``title`` what a pointer is told."""

    members: tuple[Shape, ...]
    data: Mapping[str, str] = field(default_factory=dict)
    title: str = ""


Shape: TypeAlias = Polyline | Circle | Segments | Text | Group


@dataclass(frozen=True, slots=True)
class Medium:
    """What a drawing is drawn on: its unit, line widths and lettering, all in that unit.

    ``lettering`` is the type size. The typeface's capitals and figures are 0.66 of it high, and that height is what
    ISO 3098 calls the nominal size. Arrowheads are three times as long as they are wide.
    """

    unit: Literal["mm", "px"]
    wide: float
    narrow: float
    lettering: float
    arrow: float

    def width(self, line: LineType) -> float:
        """The width of a line of this type."""
        return (self.wide if line.wide else self.narrow) * line.heavy


ON_PAPER = Medium(unit="mm", wide=0.5, narrow=0.25, lettering=3.8, arrow=2.5)
ON_PHONE = Medium(unit="px", wide=1.5, narrow=0.75, lettering=12.5, arrow=8)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of the drawing, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Box:
        """The same box with a margin on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: Box) -> bool:
        """Whether the two share any area."""
        return (self.left < other.right and other.left < self.right
                and self.top < other.bottom and other.top < self.bottom)


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds them all. ValueError where there is none."""
    known = list(boxes)
    return Box(min([b.left for b in known]), min([b.top for b in known]),
               max([b.right for b in known]), max([b.bottom for b in known]))


def box_of(points: Iterable[Point]) -> Box:
    """The smallest box that holds these points. ValueError where there is none."""
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


@dataclass(frozen=True, slots=True)
class View:
    """From the telescope to the drawing: ``scale`` units of the medium for a millimetre of the telescope.

    A point of the telescope is (station, height): along the axis from the primary's vertex, and across it towards the
    focuser. The vertex is the drawing's origin. The sky is to the right and the focuser up; ``upright`` turns the
    whole a quarter to the left, so that the sky is up and the focuser to the left.
    """

    scale: float
    upright: bool = False

    def at(self, station: float, height: float) -> Point:
        """Where a point of the telescope stands in the drawing."""
        if self.upright:
            return (-height * self.scale, -station * self.scale)
        return (station * self.scale, -height * self.scale)

    def points(self, places: Iterable[Point]) -> tuple[Point, ...]:
        """``at`` for many points."""
        return tuple(self.at(station, height) for station, height in places)


@dataclass(frozen=True, slots=True)
class Scene:
    """A whole drawing: what it shows, on what, within which box; ``name`` is unique on a page."""

    name: str
    title: str
    description: str
    medium: Medium
    box: Box
    members: tuple[Shape, ...]
    data: Mapping[str, str] = field(default_factory=dict)


def leaves(shapes: Iterable[Shape]) -> Iterator[Polyline | Circle | Segments | Text]:
    """Every shape that is not a group, in drawing order."""
    found: list[Polyline | Circle | Segments | Text] = []
    _gather(shapes, found)
    return iter(found)


def _gather(shapes: Iterable[Shape], found: list[Polyline | Circle | Segments | Text]) -> None:
    """Into one list: handed up from group to group, each shape would cost a step for every group that it is in."""
    for shape in shapes:
        if isinstance(shape, Group):
            _gather(shape.members, found)
        else:
            found.append(shape)


def hatching(outline: Sequence[Point], spacing: float) -> tuple[tuple[Point, Point], ...]:
    """Lines at 45°, rising to the right and ``spacing`` apart, cut to a closed outline."""
    root = math.sqrt(2)
    across = [(x + y) / root for x, y in outline]
    first, last = math.ceil(min(across) / spacing), math.floor(max(across) / spacing)
    lines = []
    for number in range(first, last + 1):
        level = number * spacing
        cuts = sorted(_cuts(outline, across, level), key=lambda point: point[0])
        lines += [(a, b) for a, b in zip(cuts[::2], cuts[1::2], strict=False) if math.dist(a, b) > spacing / 8]
    return tuple(lines)


def _cuts(outline: Sequence[Point], across: Sequence[float], level: float) -> Iterator[Point]:
    for index, (here, there) in enumerate(zip(across, (*across[1:], across[0]), strict=True)):
        if (here < level) != (there < level):
            (x0, y0), (x1, y1) = outline[index], outline[(index + 1) % len(outline)]
            share = (level - here) / (there - here)
            yield (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
