"""A plot as a drawing: axes where the data are, curves, limits with their hatched side, labels beside what they name.

It is drawn with the drawings' own kernel, not by a plotting library: one palette, one lettering whose width is known
so that labels can be kept clear, the gauge's hatching, and no import that costs as much as the packet's engine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dossier.charts.axes import Axis
from dossier.charts.labels import Label, Labels, on_ground
from dossier.design.pictures import Floats
from dossier.drawings.dimension import line_height
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.room import Room, spread
from dossier.drawings.scene import (
    OUTLINE,
    THIN,
    Box,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
    hatching,
)

_AXIS = Pen(THIN)
# In type sizes: a tick, from tick to figure, the hatched strip, the spacing of its lines, half a mark.
TICK, GAP, STRIP, HATCH, MARK = 0.35, 0.3, 0.8, 0.45, 0.22
# Labels look for room among so many pieces of each curve.
_PIECES = 40


@dataclass(frozen=True, slots=True)
class Curve:
    """A line of the plot: its name in the SVG, its points in the data's units, its pen, its label."""

    name: str
    x: Floats
    y: Floats
    pen: Pen
    label: str = ""


class Plot:
    """A plot being drawn. ``width`` is of the whole, ``height`` of the field between the axes. In a plot of
    ``contours`` labels stand on a piece of ground each, to be read over hatching, and those without room are left out:
    lines of equal value look alike, so that a key could not tell them apart."""

    def __init__(self, medium: Medium, width: float, height: float, x: Axis, y: Axis,
                 right: Axis | None = None) -> None:
        self.medium, self.x, self.y, self.right = medium, x, y, right
        size = medium.lettering
        beside = (TICK + GAP) * size
        left = max(width_of(text, size) for _, text in y.ticks) + beside
        last = max((width_of(text, size) for _, text in (*x.ticks[-1:], *x.second[-1:])), default=0.0) / 2
        ending = max(width_of(text, size) for _, text in right.ticks) + beside if right else last
        top = line_height(medium) + 0.2 * size
        self.field = Box(left, top, width - ending - 0.1 * size, top + height)
        self.room = Room(self.field.grown(0.0))
        self.labels = Labels(self.room, medium)
        self.shapes: list[Shape] = [*self._axes(width)]
        self.contours = False

    def at(self, x: float, y: float) -> Point:
        """Where a point of the data stands in the drawing."""
        return (self.field.left + self.x.share(x) * (self.field.right - self.field.left),
                self.field.bottom - self.y.share(y) * (self.field.bottom - self.field.top))

    def curve(self, curve: Curve) -> None:
        """Draw a curve; its label is placed when the plot is finished."""
        points = [self.at(float(x), float(y)) for x, y in zip(curve.x, curve.y, strict=True)]
        self.shapes.append(Polyline(tuple(points), curve.pen, data={"curve": curve.name}))
        coarse = spread(points, _PIECES)
        self.room.add_curve(curve.name, coarse)
        if curve.label:
            self.labels.wait(Label((Words(curve.label),), (curve.name,), tuple(coarse[1:-1])))

    def mark(self, name: str, x: float, y: float, *runs: Words, on: str, down: bool = False) -> None:
        """A point of the curve ``on`` with its label; ``down`` draws the line to the horizontal axis as well."""
        point, reach = self.at(x, y), MARK * self.medium.lettering
        if down:
            foot = (point[0], self.field.bottom)
            self.shapes.append(Polyline((foot, (point[0], point[1] + reach)), _AXIS, data={"down": name}))
            self.room.add_line(name, [foot, point])
        self.shapes.append(Circle(point, reach, Pen(THIN), Wash("ground"), {"mark": name}))
        self.room.add_box(name, Box(*point, *point).grown(reach))
        if runs:
            self.labels.wait(Label(runs, (name, on), (point,), near=reach), first=True)

    def upright(self, name: str, x: float, label: str = "") -> None:
        """A thin line the whole height of the plot, where something stands along the horizontal axis."""
        place = self.at(x, self.y.low)[0]
        ends = ((place, self.field.bottom), (place, self.field.top))
        self.shapes.append(Polyline(ends, Pen(THIN, "faint"), data={"upright": name}))
        self.room.add_curve(f"upright {name}", ends)
        if label:
            self.labels.wait(Label((Words(label),), (f"upright {name}",), tuple(_between(*ends, 12))), first=True)

    def limit(self, level: float, forbidden: Literal["above", "below"], *runs: Words) -> None:
        """A limit across the plot, its forbidden side hatched as in the limit gauge."""
        left, y = self.at(self.x.low, level)
        right, way = self.field.right, -1 if forbidden == "above" else 1
        far = y + way * STRIP * self.medium.lettering
        corners = ((left, y), (right, y), (right, far), (left, far))
        lines = hatching(corners, HATCH * self.medium.lettering)
        self.shapes += [Segments(lines, Pen(THIN), {"forbidden": forbidden}),
                        Polyline(corners[:2], Pen(OUTLINE), data={"limit": forbidden})]
        strip = Box(left, min(y, far), right, max(y, far))
        self.room.add_box("limit", strip)
        self.room.add_line("limit", list(corners[:2]))
        if runs:
            level_of_text = far if forbidden == "below" else y
            points = tuple(_between((left, level_of_text), (right, level_of_text), 24)) + tuple(
                _between((left, min(y, far)), (right, min(y, far)), 24))
            self.labels.wait(Label(runs, ("limit",), points, leader=False))

    def shade(self, name: str, x_from: float, x_to: float, words: str = "") -> None:
        """A stretch of the horizontal axis that does not count, hatched lightly over the whole height."""
        (left, _), (right, _) = self.at(x_from, self.y.low), self.at(x_to, self.y.low)
        corners = ((left, self.field.top), (right, self.field.top), (right, self.field.bottom),
                   (left, self.field.bottom))
        self.shapes.insert(0, Polyline(corners, None, Wash("glass", 0.6), closed=True, data={"shade": name}))
        if words:
            middle, size = (left + right) / 2, self.medium.lettering
            levels = _between((middle, self.field.top + size), (middle, self.field.bottom - size), 24)
            self.labels.wait(Label((Words(words),), (name,), tuple(levels)), first=True)

    def finished(self) -> tuple[tuple[Shape, ...], Box]:
        """Everything drawn, its labels placed, and the box that holds it. Labels without room stand in a key below."""
        labels, left_over = self.labels.placed()
        told = on_ground(labels, self.medium) if self.contours else labels
        members: list[Shape] = [*self.shapes, Group(tuple(told), {"part": "labels"})]
        extent = around((self.field, *boxes(members, self.medium)))
        if left_over and not self.contours:
            members.append(self._key(left_over, extent))
        extent = around((extent, *boxes(members, self.medium)))
        return tuple(members), extent

    def _axes(self, width: float) -> list[Shape]:
        size, field = self.medium.lettering, self.field
        tick, foot = TICK * size, field.bottom + (TICK + GAP + CAPITALS) * size
        lines = [((field.left, field.top), (field.left, field.bottom)),
                 ((field.left, field.bottom), (field.right, field.bottom))]
        texts = [Text((0.0, CAPITALS * size), (Words(self.y.title),))]
        for value, text in self.x.ticks:
            x = self.at(value, self.y.low)[0]
            lines.append(((x, field.bottom), (x, field.bottom + tick)))
            texts.append(Text((x, foot), (Words(text),), "middle"))
        row = line_height(self.medium)
        for value, text in self.x.second:
            texts.append(Text((self.at(value, self.y.low)[0], foot + row), (Words(text),), "middle"))
        row *= 3 if self.x.second else 2
        texts.append(Text((field.right, foot + row - line_height(self.medium)), (Words(self.x.title),), "end"))
        for value, text in self.y.ticks:
            y = self.at(self.x.low, value)[1]
            lines.append(((field.left - tick, y), (field.left, y)))
            texts.append(Text((field.left - tick - GAP * size, y + CAPITALS * size / 2), (Words(text),), "end"))
        if self.right:
            lines.append(((field.right, field.top), (field.right, field.bottom)))
            texts.append(Text((width, CAPITALS * size), (Words(self.right.title),), "end"))
            for value, text in self.right.ticks:
                y = field.bottom - self.right.share(value) * (field.bottom - field.top)
                lines.append(((field.right, y), (field.right + tick, y)))
                texts.append(Text((width, y + CAPITALS * size / 2), (Words(text),), "end"))
        return [Segments(tuple(lines), _AXIS, {"part": "axes"}), Group(tuple(texts), {"part": "figures"})]

    def _key(self, left_over: Sequence[Label], extent: Box) -> Group:
        """Samples of the lines that could not be labelled, with their words."""
        size, members = self.medium.lettering, list[Shape]()
        for row, label in enumerate(left_over):
            y = extent.bottom + (row + 1) * line_height(self.medium)
            sample = next((shape.pen for shape in self.shapes if isinstance(shape, Polyline)
                           and shape.data.get("curve") == label.of[0]), None)
            if sample:
                level = y - CAPITALS * size / 2
                members.append(Polyline(((0.0, level), (2.4 * size, level)), sample))
            members.append(Text((3.0 * size if sample else 0.0, y), label.runs))
        return Group(tuple(members), {"part": "key"})


def _between(start: Point, end: Point, count: int) -> list[Point]:
    """Points on a straight line, both ends left out."""
    return [(start[0] + (end[0] - start[0]) * step / count, start[1] + (end[1] - start[1]) * step / count)
            for step in range(1, count)]
