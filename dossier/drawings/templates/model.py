"""What a template is made of: circles, outlines and lettering at full size, each on the layer of what is done with it.

Lengths in millimetres, x to the right and y upwards, as a cutter has them. Nothing here knows SVG, PDF or DXF.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias

from dossier.drawings.scene import Anchor, Box, Point, Words

if TYPE_CHECKING:
    from dossier.design.model import Design

Layer = Literal["cut", "mark", "engrave", "text", "check"]
LAYERS: tuple[Layer, ...] = ("cut", "mark", "engrave", "text", "check")
MEANING = {
    "cut": "cut or drill", "mark": "mark with a scriber or a punch", "engrave": "engrave, score or draw",
    "text": "words", "check": "measuring bars, never cut",
}


@dataclass(frozen=True, slots=True)
class Disc:
    """A full circle. ``name`` says what it is, for tests and for those who open the file in another program."""

    layer: Layer
    centre: Point
    radius: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Outline:
    """Points joined by straight lines, closed or not; a curve has as many as keep it within a hundredth of a mm."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = True
    name: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """One line of lettering with its base line at ``at``; ``turned`` reads upwards."""

    at: Point
    runs: tuple[Words, ...]
    anchor: Anchor = "start"
    turned: bool = False
    layer: Layer = "text"

    @property
    def plain(self) -> str:
        return "".join(run.text for run in self.runs)


Item: TypeAlias = Disc | Outline | Label


@dataclass(frozen=True, slots=True)
class Served:
    """A part of the list that a template is for: its reference; what it is and of what; how many are needed."""

    ref: str
    words: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Template:
    """One thing to be cut, drilled or marked after. ``key`` is its file's name; ``use`` says in a sentence what it is
    for; ``notes`` say how; ``description`` holds its numbers for those who do not see it. ``parts`` are made after it
    or, where it is a ``tool`` itself, used with it."""

    key: str
    title: str
    use: str
    items: tuple[Item, ...]
    description: str
    notes: tuple[str, ...] = ()
    parts: tuple[Served, ...] = ()
    tool: bool = False

    @property
    def refs(self) -> str:
        """The references of its parts."""
        return ", ".join(part.ref for part in self.parts)

    @property
    def serves(self) -> str:
        """What it is for and how many are needed, in a sentence or two."""
        if self.tool:
            named = "; ".join(f"{part.ref}, {part.words}" for part in self.parts)
            return "A tool: make one." + (f" Used with {named}." if named else "")
        named = "; ".join(f"{part.ref}, {part.words}: {part.quantity} needed" for part in self.parts)
        return f"For {named}." if named else "Which part it is for is not said in the list of parts."


class Make(Protocol):
    """Draws the templates of one subject; none where the spec does not give the data."""

    def __call__(self, design: Design) -> Iterable[Template]: ...


def box_of_items(items: Iterable[Item]) -> Box:
    """The smallest box around circles and outlines, y upwards: ``top`` is the lowest y. ValueError where there is none.
    """
    corners: list[Point] = []
    for item in items:
        if isinstance(item, Disc):
            (x, y), r = item.centre, item.radius
            corners += [(x - r, y - r), (x + r, y + r)]
        elif isinstance(item, Outline):
            corners += item.points
    return Box(min(x for x, _ in corners), min(y for _, y in corners),
               max(x for x, _ in corners), max(y for _, y in corners))


def cross(centre: Point, reach: float, name: str = "", layer: Layer = "mark") -> tuple[Outline, Outline]:
    """Two short lines over a point."""
    x, y = centre
    return (Outline(layer, ((x - reach, y), (x + reach, y)), False, name),
            Outline(layer, ((x, y - reach), (x, y + reach)), False, name))


def around(angle_deg: float, radius: float) -> Point:
    """A point of a ring about the optical axis as seen from the sky: the focuser's side up, angles clockwise."""
    angle = math.radians(angle_deg)
    return (radius * math.sin(angle), radius * math.cos(angle))


def ellipse(centre: Point, half_x: float, half_y: float, tolerance: float = 0.005) -> tuple[Point, ...]:
    """An ellipse as a closed outline whose sides stray from it by no more than ``tolerance``."""
    count = 4 * math.ceil(math.pi / math.acos(1 - tolerance / max(half_x, half_y)) / 4)
    return tuple((centre[0] + half_x * math.cos(angle), centre[1] + half_y * math.sin(angle))
                 for angle in (2 * math.pi * step / count for step in range(count)))


def rounded_hull(points: Sequence[Point], margin: float) -> tuple[Point, ...]:
    """The outline that runs ``margin`` outside a convex polygon, given counter-clockwise, round at its corners."""
    outline: list[Point] = []
    count = len(points)
    for index, (x, y) in enumerate(points):
        (x0, y0), (x1, y1) = points[index - 1], points[(index + 1) % count]
        start = math.atan2(y - y0, x - x0) - math.pi / 2
        turn = (math.atan2(y1 - y, x1 - x) - math.pi / 2 - start) % (2 * math.pi)
        steps = max(1, math.ceil(turn / math.radians(4)))
        outline += [(x + margin * math.cos(angle), y + margin * math.sin(angle))
                    for angle in (start + turn * step / steps for step in range(steps + 1))]
    return tuple(outline)
