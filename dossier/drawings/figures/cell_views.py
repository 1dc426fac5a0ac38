"""The plan of a mirror cell from behind, and its levers by themselves.

In the plan the focuser's side is up, and angles run counter-clockwise, since they are counted clockwise from the sky.
The section is seen from above, with the sky up. What the plate hides has dashed outlines; the glass is washed all the
same, so that it is found.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figures import angles
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.cell_section import CellSection
from dossier.drawings.figures.measures import Measures
from dossier.drawings.figures.placing import extent
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    THIN,
    Box,
    Circle,
    Medium,
    Pen,
    Point,
    Polyline,
    Shape,
    Text,
    Wash,
    Words,
    box_of,
)
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.pictures.cell_plan import CellPlan

_WIDE, _THIN, _AXIS = Pen(OUTLINE), Pen(THIN), Pen(CENTRE)


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

    @property
    def rim(self) -> float:
        """How far the plan reaches from the axis on the drawing."""
        return self.plan_of.reach_mm * self.scale

    def section(self, scale: float | None = None, left_mm: float | None = None) -> CellSection:
        """The section, at this scale or its own."""
        return CellSection(self.plan_of, self.measures, self.medium, scale or self.scale, left_mm)

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
        reach = self.rim + 1.0 * self.size
        arcs = self._angles()
        # Up past the outermost arc and its figure.
        top = -max(reach, angles.arc_radius(self.rim, len(arcs) - 1, self.medium) + 1.2 * self.size if arcs else 0.0)
        cross = (Polyline(((-reach, 0.0), (reach, 0.0)), _AXIS, data={"part": "level"}),
                 Polyline(((0.0, top), (0.0, reach)), _AXIS, data={"part": "upright"}))
        hidden = plan.plate is not None and (plan.plate.half_mm or 0.0) > plan.blank_mm / 2
        blank = Circle((0.0, 0.0), self.half, Pen(HIDDEN) if hidden else _WIDE, Wash("glass"), {"part": "blank"})
        shapes: list[Shape] = [*self._plate(), *self._blocks(), blank, *self._hole(), *cross,
                               *self._circles()]
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
        shapes.append(Text((0.0, top - 0.4 * self.size), (Words("from behind, focuser’s side up"),), "middle"))
        if plan.thickness_mm is not None:
            shapes += self._cut(reach)
        return tuple(shapes)

    def _plate(self) -> Iterator[Shape]:
        """The plate's outline and the hole in its middle."""
        plate = self.plan_of.plate
        if plate is None or plate.half_mm is None:
            return
        half = plate.half_mm * self.scale
        if plate.square:
            yield Polyline(((-half, -half), (half, -half), (half, half), (-half, half)), _WIDE, Wash("ground"), True,
                           {"part": "plate"})
        else:
            yield Circle((0.0, 0.0), half, _WIDE, Wash("ground"), {"part": "plate"})

    def _blocks(self) -> Iterator[Shape]:
        """Posts and clips, which stand on the far side of the plate."""
        for block, part in ((self.plan_of.post, "post"), (self.plan_of.clip, "clip-outline")):
            if block and block.width_mm:
                for angle in block.places.angles_deg:
                    yield Polyline(self._oblong(block.inner_mm, block.outer_mm, block.width_mm, angle), Pen(HIDDEN),
                                   Wash("ground"), True, {"part": part})

    def _oblong(self, inner_mm: float, outer_mm: float, width_mm: float, angle_deg: float) -> tuple[Point, ...]:
        angle, half = math.radians(angle_deg), width_mm / 2
        corners = ((inner_mm, -half), (outer_mm, -half), (outer_mm, half), (inner_mm, half))
        return tuple((-self.scale * (out * math.sin(angle) + aside * math.cos(angle)),
                      -self.scale * (out * math.cos(angle) - aside * math.sin(angle))) for out, aside in corners)

    def _hole(self) -> Iterator[Shape]:
        plate = self.plan_of.plate
        if plate and plate.half_mm and plate.hole_mm:
            yield Circle((0.0, 0.0), plate.hole_mm * self.scale, _WIDE, data={"part": "plate-hole"})

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
                if angles.fits(angle, words.text, self.rim, self.medium):
                    found.setdefault(angle, (words, circlet.radius_mm * self.scale))
        return tuple(angles.angle(words.key, angle, words, start=start, outline=self.rim, level=level, clockwise=False,
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
