"""The views of diagonal and spider: down the axis from the sky, the diagonal from the side, its face, the hub.

From the sky the focuser's side is up and angles run clockwise. From the side the sky is to the right and the focuser
up. The face is seen squarely, its end at the sky to the right. Hub and vanes stand about the optical axis; diagonal,
holder and the hole for it in the hub are set off by the offset.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_vanes
from dossier.drawings.arrangement_parts import across_the_face
from dossier.drawings.dimension import Dimensions, Span, crossing, line_height
from dossier.drawings.figures import angles
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.measures import DIAMETER, Measures, phrase
from dossier.drawings.figures.placing import oval
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    PHANTOM,
    THIN,
    Box,
    Circle,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    box_of,
)

if TYPE_CHECKING:
    from dossier.spec.model_optics import Diagonal, Spider

_WIDE, _THIN, _AXIS = Pen(OUTLINE), Pen(THIN), Pen(CENTRE)
_ROOT = math.sqrt(2)
# How much of the holder is drawn beyond the glass, in minor axes.
_HOLDER_LENGTH = 0.35


@dataclass(frozen=True, slots=True)
class Opening:
    """The round hole that the vanes span: its radius, and the key that says how wide it is."""

    radius_mm: float
    diameter_mm: float
    key: str


@dataclass(frozen=True, slots=True)
class DiagonalViews:
    """Draws the views in one medium: the one from the sky at ``scale``, those of the diagonal at ``detail``."""

    measures: Measures
    medium: Medium
    scale: float
    detail: float

    @property
    def size(self) -> float:
        return self.medium.lettering

    @property
    def said(self) -> Diagonal:
        return self.measures.design.build.diagonal

    @property
    def spider(self) -> Spider | None:
        return self.measures.design.build.spider

    @property
    def offset(self) -> float:
        """In each of the two directions, mm."""
        return self.measures.design.results["diagonal.offset"].number

    @property
    def opening(self) -> Opening | None:
        """The tube's inside, else the front opening; None where neither is said."""
        frame, front = self.measures.design.build.frame, self.measures.design.build.front
        if frame and frame.kind == "tube" and frame.inner_diameter:
            return Opening(frame.inner_diameter / 2, frame.inner_diameter, "frame.inner_diameter")
        if front and front.opening:
            return Opening(front.opening / 2, front.opening, "front.opening")
        return None

    @property
    def vane_angles(self) -> tuple[float, ...]:
        """Where the vanes stand, in degrees; the focuser midway between two of them where nobody says."""
        if self.spider is None or not self.spider.vanes:
            return ()
        step = 360 / self.spider.vanes
        first = step / 2 if self.spider.turned is None else self.spider.turned
        return tuple(first + step * index for index in range(self.spider.vanes))

    def polar(self, radius_mm: float, angle_deg: float) -> Point:
        """A point of the view from the sky, about the axis."""
        angle = math.radians(angle_deg)
        return (radius_mm * self.scale * math.sin(angle), -radius_mm * self.scale * math.cos(angle))

    # ---- from the sky

    def front(self) -> tuple[Shape, ...]:
        """Opening, vanes and hub about the axis, holder and diagonal off it."""
        opening, said, middle = self.opening, self.said, (0.0, self.offset * self.scale)
        radius = (opening.radius_mm if opening else self._inmost) * self.scale
        reach = radius + self.size
        shapes: list[Shape] = []
        arcs = tuple(self._angle(radius))
        top = -max(reach, angles.arc_radius(radius, 0, self.medium) + 1.2 * self.size if arcs else 0.0)
        if opening:
            shapes.append(Circle((0.0, 0.0), radius, Pen(PHANTOM), data={"part": "opening"}))
            shapes += [self._vane(angle, opening.radius_mm) for angle in self.vane_angles]
        shapes.append(Circle(middle, said.minor_axis / 2 * self.scale, *self._diagonal_look(), {"part": "diagonal"}))
        if said.holder_diameter:
            shapes.append(Circle(middle, said.holder_diameter / 2 * self.scale, _WIDE, None, {"part": "holder"}))
        if self.spider and self.spider.hub:
            shapes.append(Circle((0.0, 0.0), self.spider.hub / 2 * self.scale, _WIDE, Wash("ground"), {"part": "hub"}))
        shapes += [Polyline(((-reach, 0.0), (reach, 0.0)), _AXIS, data={"part": "level"}),
                   Polyline(((0.0, top), (0.0, reach)), _AXIS, data={"part": "upright"}), *arcs]
        for line, told in enumerate(("focuser’s side", "from the sky")):
            base = top - 0.4 * self.size - line * 1.1 * line_height(self.medium)
            shapes.append(Text((0.0, base), (Words(told),), "middle"))
        if opening is None:
            return tuple(shapes)
        dimensions = Dimensions(self.medium, (Box(-radius, -radius, radius, radius),))
        words = self.measures.length(opening.diameter_mm, opening.key)
        dimensions.taken.append(Box(0.0, radius, 0.0, reach))
        dimensions.place("below", [Span(opening.key, -radius, radius, phrase(DIAMETER, words), 0.0, 0.0)])
        return (*shapes, *dimensions.shapes)

    def _diagonal_look(self) -> tuple[Pen, Wash | None]:
        """Hidden behind the holder where that is as wide."""
        holder = self.said.holder_diameter
        return (Pen(HIDDEN), Wash("glass")) if holder and holder >= self.said.minor_axis else (_WIDE, Wash("glass"))

    @property
    def hub_radius(self) -> float:
        """Of what the vanes meet inside: the hub, else what is seen of holder and diagonal."""
        if self.spider and self.spider.hub:
            return self.spider.hub / 2
        return max(self.said.minor_axis, self.said.holder_diameter or 0.0) / 2

    @property
    def _inmost(self) -> float:
        """How far hub, holder and diagonal reach from the axis."""
        hub = (self.spider.hub if self.spider else None) or 0.0
        return max(self.offset + max(self.said.minor_axis, self.said.holder_diameter or 0.0) / 2, hub / 2)

    def vane_start(self, angle_deg: float) -> float:
        """How far from the axis the vane at this angle begins, mm."""
        hub = self.spider.hub if self.spider else None
        return arrangement_vanes.start(self.hub_radius, 0.0 if hub else self.offset, math.radians(angle_deg))

    def _vane(self, angle: float, outer_mm: float) -> Polyline:
        inner, outer = self.polar(self.vane_start(angle), angle), self.polar(outer_mm, angle)
        thick = self.spider.vane_thickness if self.spider else None
        data = {"part": "vane", "angle": f"{angle % 360:g}"}
        if thick is None:
            return Polyline((inner, outer), _THIN, data=data)
        # A section too thin for two lines is filled (ISO 128-50).
        half = max(thick * self.scale, self.medium.narrow) / 2
        along = math.dist(inner, outer)
        across = ((outer[1] - inner[1]) / along * half, (inner[0] - outer[0]) / along * half)
        corners = ((inner[0] + across[0], inner[1] + across[1]), (outer[0] + across[0], outer[1] + across[1]),
                   (outer[0] - across[0], outer[1] - across[1]), (inner[0] - across[0], inner[1] - across[1]))
        filled = thick * self.scale < 3 * self.medium.wide
        return Polyline(corners, None if filled else _WIDE, Wash("ink" if filled else "ground"), True, data)

    def _angle(self, radius: float) -> Iterator[Shape]:
        """The smallest angle of a vane, where the author says it and it is not none."""
        if self.spider is None or self.spider.turned is None or not self.vane_angles or self.opening is None:
            return
        smallest = angles.nearest(self.spider.turned, len(self.vane_angles))
        words = self.measures.angle(smallest, "spider.turned")
        if angles.fits(smallest, words.text, radius, self.medium):
            yield angles.angle("spider.turned", smallest, words, start=0.0, outline=radius, level=0, clockwise=True,
                               medium=self.medium)

    # ---- from the side, about the point where the axis is folded

    def at(self, along_mm: float, up_mm: float) -> Point:
        """A point of the side view, measured from where the axis is folded."""
        return (along_mm * self.detail, -up_mm * self.detail)

    def side(self) -> tuple[Shape, ...]:
        """The diagonal at 45° in section, its holder, and both its offsets from where the axis is folded."""
        said, offset, half = self.said, self.offset, self.said.minor_axis / 2
        depth = (said.thickness or 0.0) * _ROOT
        inner, outer = self.at(-offset - half, -offset - half), self.at(half - offset, half - offset)
        shapes: list[Shape] = []
        outlines: list[Box] = []
        if said.holder_diameter:
            holder = self._holder(said.holder_diameter / 2, depth, half)
            shapes += holder
            outlines.append(box_of(point for shape in holder if isinstance(shape, Polyline) for point in shape.points))
        if depth:
            # Sliced at 45° from a rod: its edge runs along the axis.
            by = depth * self.detail
            corners = (inner, outer, (outer[0] + by, outer[1]), (inner[0] + by, inner[1]))
            shapes += [Polyline(corners, _WIDE, Wash("glass"), True, {"part": "diagonal-glass"}),
                       Segments(across_the_face(corners, 0.7 * self.size), Pen(THIN, "ink", 0.7))]
            outlines.append(box_of(corners))
        shapes.append(Polyline((inner, outer), _WIDE, data={"part": "diagonal-face"}))
        outlines.append(box_of((inner, outer)))
        dimensions = Dimensions(self.medium, tuple(outlines))
        shapes += self._axes(outlines)
        minor = self.measures.length(said.minor_axis, "diagonal.minor_axis")
        left = [Span("diagonal.minor_axis", outer[1], inner[1], (minor,), -outer[0], -inner[0])]
        below: list[Span] = []
        if offset > 0:
            words, level = self.measures.result("diagonal.offset"), offset * self.detail
            left.append(Span("offset-across", 0.0, level, (words,), level, level))
            below.append(Span("offset-along", -level, 0.0, (words,), level, 0.0))
        below += self._holder_length(depth)
        if len(below) > 1 and crossing(*below):
            below.pop()
        dimensions.place("below", below)
        dimensions.place("left", left)
        if said.holder_diameter:
            radius, middle = said.holder_diameter / 2 * self.detail, offset * self.detail
            words = self.measures.length(said.holder_diameter, "diagonal.holder_diameter")
            foot = max(box.right for box in outlines)
            dimensions.place("right", [Span("diagonal.holder_diameter", middle - radius, middle + radius,
                                            phrase(DIAMETER, words), foot, foot)])
        return (*shapes, *dimensions.shapes)

    def _holder(self, radius: float, depth: float, half: float) -> Sequence[Shape]:
        """Its diameter and the slope behind the glass; where its length is not said its other end is broken off."""
        offset, length = self.offset, self.said.holder_length
        tip = depth - offset - radius
        end = tip + length if length else depth - offset + max(radius, half) + _HOLDER_LENGTH * self.said.minor_axis
        low = self.at(tip, -offset - radius)
        high = self.at(depth - offset + radius, radius - offset)
        far_low, far_high = self.at(end, -offset - radius), self.at(end, radius - offset)
        if length:
            return (Polyline((far_low, low, high, far_high), _WIDE, closed=True, data={"part": "holder-side"}),)
        break_ = 0.3 * self.size
        middle = (far_low[1] + far_high[1]) / 2
        zigzag = (far_low, (far_low[0], middle + break_), (far_low[0] + break_, middle + break_ / 3),
                  (far_low[0] - break_, middle - break_ / 3), (far_low[0], middle - break_), far_high)
        return (Polyline((far_low, low, high, far_high), Pen(PHANTOM), data={"part": "holder-side"}),
                Polyline(zigzag, _THIN, data={"part": "holder-break"}))

    def _holder_length(self, depth: float) -> Iterator[Span]:
        """From the tip of its slope to its end, where both are known."""
        said = self.said
        if said.holder_length and said.holder_diameter:
            tip, foot = depth - self.offset - said.holder_diameter / 2, self.offset + said.holder_diameter / 2
            yield Span("diagonal.holder_length", tip * self.detail, (tip + said.holder_length) * self.detail,
                       (self.measures.length(said.holder_length, "diagonal.holder_length"),), foot * self.detail,
                       foot * self.detail)

    def _axes(self, outlines: Sequence[Box]) -> Iterator[Shape]:
        """Both axes of the light, and the holder's own where it is another."""
        size = self.size
        left, right = min(box.left for box in outlines), max(box.right for box in outlines)
        top, bottom = min(box.top for box in outlines), max(box.bottom for box in outlines)
        yield Polyline(((left - 0.3 * size, 0.0), (right, 0.0)), _AXIS, data={"part": "optical-axis"})
        yield Polyline(((0.0, top - 0.9 * size), (0.0, bottom + 0.3 * size)), _AXIS, data={"part": "folded-axis"})
        if self.offset * self.detail > self.medium.wide:
            level = self.offset * self.detail
            short = 0.3 * size
            # The middle of the face: a cross of the narrow line.
            yield Segments((((-level - short, level), (-level + short, level)), ((-level, level - short),
                                                                                (-level, level + short))), _THIN,
                           {"part": "face-middle"})

    # ---- squarely on the face

    def face(self) -> tuple[Shape, ...]:
        """The ellipse with both its axes, and the mark where the optical axis meets it."""
        major = self.measures.design.results["diagonal.major_axis"].number * self.detail / 2
        minor, size = self.said.minor_axis / 2 * self.detail, self.size
        mark = self.measures.design.results["diagonal.face_offset"].number * self.detail
        shapes: list[Shape] = [
            Polyline(oval((0.0, 0.0), major, minor), _WIDE, Wash("glass"), True, {"part": "face"}),
            Polyline(((-major - 0.3 * size, 0.0), (major + 0.3 * size, 0.0)), _AXIS, data={"part": "major-axis"}),
            Polyline(((0.0, -minor - 0.3 * size), (0.0, minor + 0.3 * size)), _AXIS, data={"part": "minor-axis"})]
        dimensions = Dimensions(self.medium, (Box(-major, -minor, major, minor),))
        if mark > 0:
            shapes += signs.mark((mark, 0.0), self.medium, {"part": "axis-mark"})
            words = self.measures.result("diagonal.face_offset")
            dimensions.place("above", [Span("diagonal.face_offset", 0.0, mark, (words,), minor, signs.RING * size)])
        words = self.measures.result("diagonal.major_axis")
        dimensions.place("below", [Span("diagonal.major_axis", -major, major, (words,), 0.0, 0.0)])
        across = self.measures.length(self.said.minor_axis, "diagonal.minor_axis")
        dimensions.place("left", [Span("diagonal.minor_axis", -minor, minor, (across,), 0.0, 0.0)])
        return (*shapes, *dimensions.shapes)


    # ---- the hub, from the sky

    def hub(self) -> tuple[Shape, ...]:
        """The hub about the axis, in a circle that leaves the rest out, and in it where the holder's hole is."""
        assert self.spider is not None
        assert self.spider.hub is not None
        radius, size, level = self.spider.hub / 2 * self.detail, self.size, self.offset * self.detail
        edge = 1.3 * radius
        shapes: list[Shape] = [Circle((0.0, 0.0), edge, _THIN, data={"part": "detail-edge"})]
        shapes += [Segments(tuple(self._vane_edges(angle, radius, edge)), _WIDE, {"part": "vane"})
                   for angle in self.vane_angles]
        short = 0.5 * size
        shapes += [Circle((0.0, 0.0), radius, _WIDE, Wash("ground"), {"part": "hub"}),
                   Polyline(((-edge, 0.0), (edge, 0.0)), _AXIS, data={"part": "level"}),
                   Polyline(((0.0, -edge), (0.0, edge)), _AXIS, data={"part": "upright"}),
                   Polyline(((-short, level), (short, level)), _THIN, data={"part": "holder-hole"})]
        dimensions = Dimensions(self.medium, (Box(-edge, -edge, edge, edge),))
        words = self.measures.result("diagonal.offset")
        dimensions.place("right", [Span("hole-in-hub", 0.0, level, (words,), edge, short)])
        across = self.measures.length(self.spider.hub, "spider.hub")
        dimensions.place("below", [Span("spider.hub", -radius, radius, phrase(DIAMETER, across), 0.0, 0.0)])
        return (*shapes, *dimensions.shapes)

    def _vane_edges(self, angle_deg: float, start: float, end: float) -> Iterator[tuple[Point, Point]]:
        """Both edges of a vane between two circles about the axis; one line where it is too thin for two."""
        across, along = math.sin(math.radians(angle_deg)), -math.cos(math.radians(angle_deg))
        half = ((self.spider.vane_thickness if self.spider else None) or 0.0) / 2 * self.detail
        for side in (half, -half) if half > self.medium.wide else (0.0,):
            near, far = (math.sqrt(radius**2 - side**2) for radius in (start, end))
            yield ((across * near - along * side, along * near + across * side),
                   (across * far - along * side, along * far + across * side))


def side_length(diagonal: Diagonal) -> float:
    """How long the diagonal with its holder is along the axis, as it is drawn from the side, mm."""
    half, radius = diagonal.minor_axis / 2, (diagonal.holder_diameter or 0.0) / 2
    depth = (diagonal.thickness or 0.0) * _ROOT
    if radius and diagonal.holder_length:
        return max(half + depth + half, half + depth - radius + diagonal.holder_length)
    return half + depth + max(half, radius) + (_HOLDER_LENGTH * diagonal.minor_axis if radius else 0.0)
