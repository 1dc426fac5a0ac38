"""The views of a mirror cell: the plan from behind, the section below it, the levers by themselves.

In the plan the focuser's side is up, and angles run counter-clockwise, since they are counted clockwise from the sky.
First-angle projection: seen from above, the section stands below the plan, with the sky up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.dimension import Dimensions, Span, line_height
from dossier.drawings.figures import angles
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.measures import DIAMETER, RADIUS, Measures, phrase
from dossier.drawings.figures.placing import extent
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
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
    hatching,
)
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.pictures.cell_plan import CellPlan

_WIDE, _THIN, _AXIS = Pen(OUTLINE), Pen(THIN), Pen(CENTRE)
_CURVE_STEPS = 24


@dataclass(frozen=True, slots=True)
class CellViews:
    """Draws the views of one cell in one medium at one scale, each about an origin of its own."""

    plan_of: CellPlan
    measures: Measures
    medium: Medium
    scale: float

    @property
    def size(self) -> float:
        return self.medium.lettering

    @property
    def half(self) -> float:
        """The blank's radius on the drawing."""
        return self.plan_of.blank_mm / 2 * self.scale

    def polar(self, radius_mm: float, angle_deg: float) -> Point:
        """A point of the plan."""
        angle = math.radians(angle_deg)
        return (-radius_mm * self.scale * math.sin(angle), -radius_mm * self.scale * math.cos(angle))

    def of_lever(self, place: Point) -> Point:
        """A lever's place, whose own x runs towards the focuser's side, in the plan."""
        return (-place[1] * self.scale, -place[0] * self.scale)

    def radius(self, ring: int) -> Words:
        """The figure of a ring of supports."""
        return self.length(self.plan_of.supports[ring].radius_mm, result="cell.support_radii")

    def length(self, length_mm: float, *, result: str = "", key: str = "") -> Words:
        """A length worked out, with as many digits as results of lengths have."""
        shown = show(length_mm, "mm", result_id=result, readers=self.measures.design.build.readers)
        return Words(shown.number, result=result, key=key)

    # ---- plan

    def plan(self) -> tuple[Shape, ...]:
        """The cell from behind: blank, circles of centres, levers, supports, pushes and clips."""
        plan = self.plan_of
        reach = self.half + 1.0 * self.size
        arcs = self._angles()
        # Up past the outermost arc and its figure.
        top = -max(reach, angles.arc_radius(self.half, len(arcs) - 1, self.medium) + 1.2 * self.size if arcs else 0.0)
        cross = (Polyline(((-reach, 0.0), (reach, 0.0)), _AXIS, data={"part": "level"}),
                 Polyline(((0.0, top), (0.0, reach)), _AXIS, data={"part": "upright"}))
        shapes: list[Shape] = [Circle((0.0, 0.0), self.half, _WIDE, Wash("glass"), {"part": "blank"}), *cross]
        shapes += self._circles()
        for lever in plan.triangles:
            shapes.append(Polyline(tuple(map(self.of_lever, lever.carries)), _WIDE, closed=True,
                                   data={"part": "triangle"}))
        for lever in plan.bars:
            shapes.append(Polyline(tuple(map(self.of_lever, lever.carries)), _WIDE, data={"part": "bar"}))
        for lever in plan.triangles:
            shapes += signs.pivot(self.of_lever(lever.pivot), self.medium, {"part": "triangle-pivot"})
        for lever in plan.bars:
            shapes += self._bar_pivot(self.of_lever(lever.pivot))
        for ring, circlet in enumerate(plan.supports):
            for angle in circlet.angles_deg:
                shapes += signs.support(self.polar(circlet.radius_mm, angle), self.medium,
                                        {"part": "support", "ring": str(ring)})
        for name, placed, sign in (("push", plan.pushes, signs.push), ("clip", plan.clips, signs.clip)):
            for angle in placed.angles_deg if placed else ():
                shapes += sign(self.polar(placed.radius_mm if placed else 0.0, angle), self.medium, {"part": name})
        shapes += arcs
        for line, words in enumerate(("focuser’s side", "from behind")):
            base = top - 0.4 * self.size - line * 1.1 * line_height(self.medium)
            shapes.append(Text((0.0, base), (Words(words),), "middle"))
        if plan.thickness_mm is not None:
            shapes += self._cut(reach)
        return tuple(shapes)

    def _bar_pivot(self, at: Point) -> Sequence[Shape]:
        sign = signs.bar_pivot if self.plan_of.triangles else signs.pivot
        return sign(at, self.medium, {"part": "bar-pivot"})

    def _circles(self) -> Iterator[Shape]:
        """Circles of centres, each once."""
        known = [*self.plan_of.supports, *filter(None, (self.plan_of.pushes, self.plan_of.clips))]
        radii = {ring.radius_mm for ring in known if abs(ring.radius_mm - self.plan_of.blank_mm / 2) > 0.02}
        for radius in sorted(radii):
            yield Circle((0.0, 0.0), radius * self.scale, Pen(CENTRE, "ink", 0.7), data={"part": "circle-of-centres"})

    def _angles(self) -> tuple[Shape, ...]:
        """The smallest angle of each kind from the focuser's side, where it is not none."""
        plan = self.plan_of
        kinds = [(plan.clips, "cell.clips.turned"), (plan.pushes, "cell.push.turned"),
                 *((ring, "cell.points") for ring in plan.supports)]
        found: dict[float, tuple[Words, float]] = {}
        for circlet, key in kinds:
            if circlet:
                angle = angles.nearest(circlet.first_deg, circlet.count)
                words = self.measures.angle(angle, key)
                if angles.fits(angle, words.text, self.half, self.medium):
                    found.setdefault(angle, (words, circlet.radius_mm * self.scale))
        return tuple(angles.angle(words.key, angle, words, start=start, outline=self.half, level=level, clockwise=False,
                                  medium=self.medium)
                     for level, (angle, (words, start)) in enumerate(sorted(found.items())))

    def _cut(self, reach: float) -> Iterator[Shape]:
        """Where the section is cut and which way it is seen."""
        arrow, size = self.medium.arrow, self.size
        for side in (-1, 1):
            near, far = side * (reach + 0.3 * size), side * (reach + 1.3 * size)
            x = (near + far) / 2
            yield Polyline(((near, 0.0), (far, 0.0)), _WIDE, data={"part": "cutting-line"})
            yield Polyline(((x, 0.0), (x, 0.9 * size)), _THIN)
            tip = (x, 0.9 * size + arrow)
            yield Polyline((tip, (x - arrow / 6, tip[1] - arrow), (x + arrow / 6, tip[1] - arrow)), None, Wash("ink"),
                           True)
            yield Text((x, -0.4 * size), (Words("A"),), "middle")

    # ---- section

    def section(self) -> tuple[Shape, ...]:
        """The blank in section, its axis at x 0 and its vertex at y 0; what holds it turned into the right half."""
        plan = self.plan_of
        if plan.thickness_mm is None or plan.back_mm is None:
            return ()
        glass = self.glass(plan.back_mm)
        outline = glass[0].points if isinstance(glass[0], Polyline) else ()
        back, shoulder = self.level(plan.back_mm), self.level(plan.sagitta_mm)
        shapes: list[Shape] = [*glass]
        dimensions = Dimensions(self.medium, (box_of(outline),))
        below: list[Span] = []
        low = back
        for ring, circlet in enumerate(plan.supports):
            x = circlet.radius_mm * self.scale
            shapes += signs.touching((x, back), 1, self.medium, {"part": "support-section"})
            below.append(Span("cell.support_radii", 0.0, x, phrase(RADIUS, self.radius(ring)), low,
                              back + 0.6 * self.size))
        if plan.pushes:
            end = self._push(shapes, dimensions, back)
            words = self.measures.length(plan.pushes.radius_mm, "cell.push.radius")
            below.append(Span("cell.push.radius", 0.0, plan.pushes.radius_mm * self.scale, phrase(RADIUS, words), low,
                              end))
        blank = self.measures.length(plan.blank_mm, self.blank_key)
        dimensions.taken += self._sign_boxes(back)
        below.append(Span(self.blank_key, -self.half, self.half, phrase(DIAMETER, blank), back, back))
        dimensions.place("below", _once(below))
        if plan.clips:
            x = plan.clips.radius_mm * self.scale
            shapes += signs.touching((x, shoulder), -1, self.medium, {"part": "clip-section"})
            words = self.measures.length(plan.clips.radius_mm, "cell.clips.radius")
            dimensions.place("above", [Span("cell.clips.radius", 0.0, x, phrase(RADIUS, words), -shoulder,
                                            0.6 * self.size - shoulder)])
        dimensions.place("right", self._heights(back, shoulder))
        ends = ((0.0, shoulder - 0.8 * self.size), (0.0, back + 0.5 * self.size))
        shapes.append(Polyline(ends, _AXIS, data={"part": "axis"}))
        if plan.centroid_mm is not None:
            shapes += signs.balance((0.0, self.level(plan.centroid_mm)), self.medium, {"part": "centroid"})
        return (*shapes, *dimensions.shapes)

    def level(self, station_mm: float) -> float:
        """A station on the drawing of the section, whose vertex is at y 0."""
        return -station_mm * self.scale

    @property
    def blank_key(self) -> str:
        """The key that says how wide the glass is."""
        said = self.measures.design.build.primary.blank_diameter
        return "primary.aperture" if said is None else "primary.blank_diameter"

    def glass(self, back_mm: float) -> tuple[Shape, ...]:
        """The section: a flat back, and a curve over the clear aperture with a flat shoulder outside it."""
        plan, back = self.plan_of, self.level(back_mm)
        rim, depth = plan.aperture_mm / 2 * self.scale, self.level(plan.sagitta_mm)
        steps = [rim * (2 * step / _CURVE_STEPS - 1) for step in range(_CURVE_STEPS + 1)]
        # The parabola of the same depth: it leaves the conic by less than a line's width at any scale.
        curve = [(x, depth * (x / rim) ** 2) for x in steps]
        outline = ((-self.half, back), (-self.half, depth), *curve, (self.half, depth), (self.half, back))
        return (Polyline(outline, _WIDE, Wash("glass"), True, {"part": "glass"}),
                Segments(hatching(outline, 0.7 * self.size), Pen(THIN, "ink", 0.7)))

    def _push(self, shapes: list[Shape], dimensions: Dimensions, back: float) -> float:
        """The push with its spring; gives how low it reaches."""
        plan, size = self.plan_of, self.size
        if plan.pushes is None:
            return back
        x = plan.pushes.radius_mm * self.scale
        if plan.spring is None or not self.springs_drawn:
            end = back + 2.2 * size
            shapes.append(Polyline(((x, back + 0.3 * size), (x, end)), _AXIS, data={"part": "push-section"}))
            return end
        upper, lower = map(self.level, plan.spring)
        swing = self._swing()
        turns = 6
        inner = [(x + (swing if step % 2 else -swing), upper + (lower - upper) * (step + 0.5) / turns)
                 for step in range(turns)]
        shapes.append(Polyline(((x, upper), *inner, (x, lower)), _THIN, data={"part": "spring"}))
        for y in (upper, lower):
            shapes.append(Polyline(((x - swing, y), (x + swing, y)), _THIN, data={"part": "spring-end"}))
        end = lower + 0.7 * size
        shapes.append(Polyline(((x, back + 0.3 * size), (x, end)), _AXIS, data={"part": "push-section"}))
        dimensions.outlines = (*dimensions.outlines, Box(x - swing, upper, x + swing, lower))
        return end

    @property
    def springs_drawn(self) -> bool:
        """Whether the mounted spring is long enough on the drawing; one shorter than a letter is left to the list."""
        return (self._spring_length() or 0.0) * self.scale >= self.size

    def _swing(self) -> float:
        push = self.measures.design.build.cell.push if self.measures.design.build.cell else None
        said = push.spring.mean_diameter if push and push.spring else None
        return said / 2 * self.scale if said else 0.5 * self.size

    def _sign_boxes(self, back: float) -> Iterator[Box]:
        for circlet in self.plan_of.supports:
            x = circlet.radius_mm * self.scale
            yield Box(x - 0.28 * self.size, back, x + 0.28 * self.size, back + 0.6 * self.size)

    def _heights(self, back: float, shoulder: float) -> Iterator[Span]:
        plan, spring = self.plan_of, self._spring_length()
        if plan.thickness_mm is not None:
            words = self.measures.length(plan.thickness_mm, "primary.edge_thickness")
            yield Span("primary.edge_thickness", shoulder, back, (words,), self.half, self.half)
        if plan.spring and plan.pushes and spring is not None and self.springs_drawn:
            upper, lower = map(self.level, plan.spring)
            words = self.measures.length(spring, "cell.push.spring.compressed_to")
            foot = plan.pushes.radius_mm * self.scale + self._swing()
            yield Span("cell.push.spring.compressed_to", upper, lower, (words,), foot, foot)

    def _spring_length(self) -> float | None:
        cell = self.measures.design.build.cell
        return cell.push.spring.compressed_to if cell and cell.push and cell.push.spring else None

    # ---- levers

    def triangle(self) -> tuple[Shape, ...]:
        """One triangle by itself, its outer side up."""
        sizes = self.plan_of.sizes
        if sizes.side_mm is None or sizes.depth_mm is None or sizes.pivot_offset_mm is None:
            return ()
        half, depth, pivot = (mm * self.scale for mm in (sizes.side_mm / 2, sizes.depth_mm, sizes.pivot_offset_mm))
        corners = ((-half, 0.0), (half, 0.0), (0.0, depth))
        shapes: list[Shape] = [Polyline(corners, _WIDE, closed=True, data={"part": "triangle-alone"})]
        for corner in corners:
            shapes += signs.support(corner, self.medium)
        shapes += signs.pivot((0.0, pivot), self.medium, {"part": "triangle-pivot-alone"})
        dimensions = Dimensions(self.medium, (box_of(corners).grown(signs.DOT * self.size),))
        side, offset, high = (self.length(mm, key="cell.points")
                              for mm in (sizes.side_mm, sizes.pivot_offset_mm, sizes.depth_mm))
        dimensions.place("above", [Span("triangle-side", -half, half, (side,))])
        dimensions.place("left", [Span("triangle-pivot", 0.0, pivot, (offset,), half, 0.0)])
        dimensions.place("right", [Span("triangle-depth", 0.0, depth, (high,), half, 0.0)])
        return self._titled((*shapes, *dimensions.shapes), f"triangle, {len(self.plan_of.triangles)} needed")

    def bar(self) -> tuple[Shape, ...]:
        """One bar by itself."""
        sizes = self.plan_of.sizes
        if sizes.bar_mm is None:
            return ()
        half = sizes.bar_mm / 2 * self.scale
        shapes: list[Shape] = [Polyline(((-half, 0.0), (half, 0.0)), _WIDE, data={"part": "bar-alone"})]
        for end in (-half, half):
            sign = signs.pivot if self.plan_of.triangles else signs.support
            shapes += sign((end, 0.0), self.medium)
        shapes += self._bar_pivot((0.0, 0.0))
        dimensions = Dimensions(self.medium, (Box(-half, -0.3 * self.size, half, 0.3 * self.size),))
        words = self.length(sizes.bar_mm, key="cell.points")
        middle = self.length(sizes.bar_mm / 2, key="cell.points")
        dimensions.place("above", [Span("bar-half", -half, 0.0, (middle,)), Span("bar", -half, half, (words,))])
        return self._titled((*shapes, *dimensions.shapes), f"bar, {len(self.plan_of.bars)} needed")

    def _titled(self, shapes: Iterable[Shape], words: str) -> tuple[Shape, ...]:
        kept = tuple(shapes)
        box = extent(kept, self.medium)
        middle = (box.left + box.right) / 2
        title = Text((middle, box.top - 0.6 * self.size), (Words(words),), "middle")
        return (*kept, title)


def _once(spans: Iterable[Span]) -> list[Span]:
    """Spans that measure the same place are said once."""
    kept: list[Span] = []
    for span in spans:
        if not any(abs(span.end - other.end) < 1e-6 and abs(span.start - other.start) < 1e-6 for other in kept):
            kept.append(span)
    return kept


