"""A mirror cell cut through its axis: glass, plate, posts, clips, screws and springs, each as far as it is said.

The axis is at x 0, the mirror's vertex at y 0, the sky up. What stands on circles is turned into the right half.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.breaks import break_between
from dossier.drawings.figures.measures import DIAMETER, RADIUS, Measures, phrase
from dossier.drawings.lettering import boxes
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    PHANTOM,
    THIN,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Wash,
    Words,
    hatching,
)
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.pictures.cell_plan import Block, CellPlan

_WIDE, _THIN, _AXIS = Pen(OUTLINE), Pen(THIN), Pen(CENTRE)
_CURVE_STEPS, _TURNS = 24, (3, 6)


@dataclass(frozen=True, slots=True)
class CellSection:
    """The section in one medium at one scale; ``left_mm`` is where it begins right of the axis, None for the
    whole."""

    plan: CellPlan
    measures: Measures
    medium: Medium
    scale: float
    left_mm: float | None = None

    @property
    def size(self) -> float:
        return self.medium.lettering

    @property
    def half(self) -> float:
        """The blank's radius on the drawing."""
        return self.plan.blank_mm / 2 * self.scale

    @property
    def springs_drawn(self) -> bool:
        """Whether the mounted spring is long enough on the drawing; one shorter than a letter is left to the list."""
        return self.plan.spring is not None and (self.plan.spring[0] - self.plan.spring[1]) * self.scale >= self.size

    def level(self, station_mm: float) -> float:
        """A station on the drawing."""
        return -station_mm * self.scale

    # ---- what is cut

    def drawn(self) -> tuple[Shape, ...]:
        """Everything but dimensions; nothing where the glass's thickness is not said."""
        plan = self.plan
        if plan.back_mm is None:
            return ()
        shapes: list[Shape] = [*self._glass(plan.back_mm), *self._plate()]
        for block, part in ((plan.post, "post-section"), (plan.clip, "clip-body")):
            if block:
                shapes += self._block(block, part)
        shapes += self._pushes()
        shapes += self._touching(plan.back_mm)
        return (*shapes, *self._edge())

    def _glass(self, back_mm: float) -> tuple[Shape, ...]:
        """A flat back, and a curve over the clear aperture with a flat shoulder outside it."""
        plan, back = self.plan, self.level(back_mm)
        rim, depth = plan.aperture_mm / 2 * self.scale, self.level(plan.sagitta_mm)
        first = -rim if self.left_mm is None else min(self.left_mm * self.scale, rim)
        steps = [first + (rim - first) * step / _CURVE_STEPS for step in range(_CURVE_STEPS + 1)]
        # The parabola of the same depth: it leaves the conic by less than a line's width at any scale.
        curve = [(x, depth * (x / rim) ** 2) for x in steps]
        if self.left_mm is None:
            curve, left = [(-self.half, depth), *curve], -self.half
        else:
            left = first
        outline = ((left, back), *curve, (self.half, depth), (self.half, back))
        pen = _WIDE if self.left_mm is None else None
        cut = (Polyline(outline, pen, Wash("glass"), True, {"part": "glass"}),
               Segments(hatching(outline, 0.7 * self.size), Pen(THIN, "ink", 0.7)))
        return cut if pen else (*cut, Polyline((*curve, (self.half, depth), (self.half, back), (left, back)), _WIDE,
                                               data={"part": "glass-edge"}))

    def _plate(self) -> Iterator[Shape]:
        plate = self.plan.plate
        if plate is None or plate.half_mm is None:
            return
        top, bottom = self.level(plate.front_mm), self.level(plate.back_mm)
        hole, half = plate.hole_mm * self.scale, plate.half_mm * self.scale
        stretches = [(hole, half), (-half, -hole)] if hole else [(-half, half)]
        if self.left_mm is not None:
            stretches = [(max(hole, self.left_mm * self.scale), half)]
        for left, right in stretches:
            corners = ((left, top), (right, top), (right, bottom), (left, bottom))
            open_end = bool(self.left_mm) and left > hole
            yield Polyline(corners, None if open_end else _WIDE, Wash("ground"), True, {"part": "plate-section"})
            if open_end:
                yield Polyline(corners, _WIDE, data={"part": "plate-edge"})
            yield Segments(_falling(corners, 0.55 * self.size), Pen(THIN, "ink", 0.7))
        if hole and self.left_mm is None:
            for y in (top, bottom):
                yield Polyline(((-hole, y), (hole, y)), _WIDE, data={"part": "plate-hole"})

    def _block(self, block: Block, part: str) -> Iterator[Shape]:
        """A post or a clip; a clip whose distance from the glass is not said has a chain outline."""
        left, right = block.inner_mm * self.scale, block.outer_mm * self.scale
        top, bottom = self.level(block.high_mm), self.level(block.low_mm)
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        unsaid = part == "clip-body" and self.plan.clip_clear_mm is None
        yield Polyline(corners, Pen(PHANTOM) if unsaid else _WIDE, Wash("ground"), True, {"part": part})
        if not unsaid:
            yield Segments(hatching(corners, 0.45 * self.size), Pen(THIN, "ink", 0.7))
        if block.lining_mm:
            inner = (block.inner_mm - block.lining_mm) * self.scale
            high = self.level(min(block.high_mm, self.plan.sagitta_mm))
            yield Polyline(((inner, high), (left, high), (left, bottom), (inner, bottom)), _THIN, Wash("faint", 0.5),
                           True, {"part": "lining"})

    def _touching(self, back_mm: float) -> Iterator[Shape]:
        """Where the supports touch the back, and the clips the face where no more is known of them."""
        plan, back = self.plan, self.level(back_mm)
        plate = plan.plate if plan.plate and plan.plate.half_mm else None
        room = (self.level(plate.front_mm) - back) if plate else self.size
        for circlet in plan.supports:
            x = circlet.radius_mm * self.scale
            if self.left_mm is None or circlet.radius_mm > self.left_mm + 0.4 * self.size / self.scale:
                yield from signs.touching((x, back), min(1.0, room / (0.6 * self.size)), self.medium,
                                          {"part": "support-section"})
                if plate:
                    yield Polyline(((x, back), (x, self.level(plate.back_mm) + 0.3 * self.size)), _AXIS,
                                   data={"part": "support-axis"})
        if plan.clips and plan.clip is None:
            at = (plan.clips.radius_mm * self.scale, self.level(plan.sagitta_mm))
            yield from signs.touching(at, -1, self.medium, {"part": "clip-section"})

    def _pushes(self) -> Iterator[Shape]:
        """Screw and spring of one push, its axis, and the chain line of what the springs stand on."""
        plan = self.plan
        if plan.pushes is None or plan.back_mm is None:
            return
        x, back = plan.pushes.radius_mm * self.scale, self.level(plan.back_mm)
        end = back + 2.2 * self.size
        if plan.screw:
            diameter, high, low = plan.screw
            half, end = diameter / 2 * self.scale, self.level(low)
            top = self.level(high)
            yield Polyline(((x - half, top), (x + half, top), (x + half, end), (x - half, end)), _WIDE,
                           Wash("ground"), True, {"part": "screw"})
        if plan.spring and self.springs_drawn:
            upper, lower = map(self.level, plan.spring)
            swing = self.swing()
            if plan.on_plate:
                yield from self._stand(upper, lower)
            yield Polyline(self._coil(), _WIDE, data={"part": "spring"})
            for y in (upper, lower):
                yield Polyline(((x - swing, y), (x + swing, y)), _THIN, data={"part": "spring-end"})
            end = max(end if plan.screw else 0.0, lower)
        start = self.level(plan.plate.front_mm) if plan.screw and plan.plate else back + 0.3 * self.size
        yield Polyline(((x, start), (x, end + 0.7 * self.size)), _AXIS, data={"part": "push-section"})

    def _stand(self, upper: float, lower: float) -> Iterator[Shape]:
        """What the springs stand on, and of a plate that nobody sizes the face that they bear on: neighbours."""
        reach = max(self.plan.reach_mm, (self.plan.pushes.radius_mm if self.plan.pushes else 0.0)) * self.scale
        left = -reach if self.left_mm is None else self.left_mm * self.scale
        yield Polyline(((left, lower), (reach, lower)), Pen(PHANTOM), data={"part": "stand"})
        if self.plan.plate is None or self.plan.plate.half_mm is None:
            yield Polyline(((left, upper), (reach, upper)), Pen(PHANTOM), data={"part": "plate-face"})

    def _edge(self) -> Iterator[Shape]:
        """The break at the left of a detail."""
        if not self.left_mm or self.plan.back_mm is None:
            return
        x, low = self.left_mm * self.scale, self.plan.plate.back_mm if self.plan.plate else self.plan.back_mm
        high = self.level(self.plan.sagitta_mm * (self.left_mm / (self.plan.aperture_mm / 2)) ** 2)
        yield break_between((x, high), (x, self.level(low)), self.medium)

    def _coil(self) -> tuple[Point, ...]:
        """A spring as a zigzag from its upper to its lower end, of as many strokes as can be told apart."""
        assert self.plan.spring is not None
        assert self.plan.pushes is not None
        (upper, lower), swing = map(self.level, self.plan.spring), self.swing()
        x = self.plan.pushes.radius_mm * self.scale
        turns = max(_TURNS[0], min(_TURNS[1], int((lower - upper) / (2.4 * self.medium.wide))))
        inner = [(x + (swing if step % 2 else -swing), upper + (lower - upper) * (step + 0.5) / turns)
                 for step in range(turns)]
        return ((x, upper), *inner, (x, lower))

    def spring_tip(self) -> Point:
        """A point of the spring clear of its screw, on the right."""
        return self._coil()[2]

    def swing(self) -> float:
        """Half the width of a spring on the drawing."""
        push = self.measures.design.build.cell.push if self.measures.design.build.cell else None
        said = push.spring.mean_diameter if push and push.spring else None
        if said:
            return said / 2 * self.scale
        return 0.75 * self.plan.screw[0] * self.scale if self.plan.screw else 0.5 * self.size

    # ---- its dimensions

    def whole(self, *, heights: bool) -> tuple[Shape, ...]:
        """The whole section with its radii, and with its heights where no detail has them."""
        plan, size = self.plan, self.size
        if plan.back_mm is None:
            return ()
        shapes = list(self.drawn())
        back, shoulder = self.level(plan.back_mm), self.level(plan.sagitta_mm)
        lowest = plan.plate.back_mm if plan.plate and plan.plate.half_mm else plan.back_mm
        shapes.append(Polyline(((0.0, shoulder - 0.8 * size), (0.0, self.level(lowest) + 0.5 * size)), _AXIS,
                               data={"part": "axis"}))
        weighed = plan.moving_mm if plan.on_plate and plan.moving_mm is not None else plan.centroid_mm
        if weighed is not None:
            shapes += signs.balance((0.0, self.level(weighed)), self.medium, {"part": "centroid"})
        if plan.spring and plan.moving_mm is not None and plan.on_plate and plan.pushes and self.springs_drawn:
            middle = self.level(sum(plan.spring) / 2)
            far = plan.pushes.radius_mm * self.scale + self.swing() + 0.4 * size
            shapes.append(Polyline(((-self.half, middle), (far, middle)), _AXIS, data={"part": "spring-plane"}))
        dimensions = Dimensions(self.medium, tuple(boxes(shapes, self.medium)))
        above, below = [*self._clip_radius(shoulder)], [*self._radii(back)]
        blank, *plate = self.widths()
        if plate:
            above.append(blank)
            below += plate
        else:
            below.append(replace(blank, start_foot=back, end_foot=back))
        dimensions.place("below", _once(below))
        dimensions.place("above", above)
        barred = dimensions.place("right", self.heights()) if heights else []
        # What finds no room there either, the list says in any case.
        dimensions.place("left", [*self._overhang(), *(replace(span, start_foot=0.0, end_foot=0.0) for span in barred)])
        return (*shapes, *dimensions.shapes)

    def detail(self) -> tuple[Shape, ...]:
        """The right end with heights on both sides."""
        shapes = self.drawn()
        dimensions = Dimensions(self.medium, tuple(boxes(shapes, self.medium)))
        dimensions.place("right", self.heights())
        dimensions.place("left", [*self._screw_and_post()])
        dimensions.place("above", [*self._clip_length()])
        return (*shapes, *dimensions.shapes)

    @property
    def blank_key(self) -> str:
        """The key that says how wide the glass is."""
        said = self.measures.design.build.primary.blank_diameter
        return "primary.aperture" if said is None else "primary.blank_diameter"

    def _radii(self, back: float) -> Iterator[Span]:
        plan = self.plan
        for circlet in plan.supports:
            shown = show(circlet.radius_mm, "mm", result_id="cell.support_radii",
                         readers=self.measures.design.build.readers)
            words = Words(shown.number, result="cell.support_radii")
            yield Span("cell.support_radii", 0.0, circlet.radius_mm * self.scale, phrase(RADIUS, words), back, back)
        if plan.pushes:
            yield self._span("cell.push.radius", 0.0, plan.pushes.radius_mm * self.scale, plan.pushes.radius_mm, back,
                             RADIUS)

    def widths(self) -> list[Span]:
        """Across the glass and, where it is said, across the plate."""
        plan = self.plan
        spans = [self._span(self.blank_key, -self.half, self.half, plan.blank_mm, 0.0, DIAMETER)]
        if plan.plate and plan.plate.half_mm:
            half, square = plan.plate.half_mm * self.scale, plan.plate.square
            key = "cell.plate.side" if square else "cell.plate.diameter"
            spans.append(self._span(key, -half, half, 2 * plan.plate.half_mm, 0.0, "" if square else DIAMETER))
        return spans

    def _span(self, key: str, start: float, end: float, length_mm: float, foot: float = 0.0, sign: str = "") -> Span:
        words = self.measures.length(length_mm, key)
        return Span(key, start, end, phrase(sign, words) if sign else (words,), foot, foot)

    def _clip_radius(self, shoulder: float) -> Iterator[Span]:
        if self.plan.clips:
            x = self.plan.clips.radius_mm * self.scale
            yield self._span("cell.clips.radius", 0.0, x, self.plan.clips.radius_mm, 0.6 * self.size - shoulder, RADIUS)

    def _overhang(self) -> list[Span]:
        plan = self.plan
        push = self.measures.design.build.cell.push if self.measures.design.build.cell else None
        if plan.moving_mm is None or plan.spring is None or not plan.on_plate or push is None or not push.overhang:
            return []
        ends = sorted((self.level(plan.moving_mm), self.level(sum(plan.spring) / 2)))
        return [self._span("cell.push.overhang", ends[0], ends[1], abs(push.overhang))] if self.springs_drawn else []

    def heights(self) -> list[Span]:
        """Along the axis, one below the other: gap of the clips, glass, plate's distance, plate, spring."""
        plan, cell = self.plan, self.measures.design.build.cell
        if plan.back_mm is None or plan.thickness_mm is None or cell is None:
            return []
        shoulder, back = self.level(plan.sagitta_mm), self.level(plan.back_mm)
        spans = [self._span("primary.edge_thickness", shoulder, back, plan.thickness_mm, self.half)]
        if plan.clip and plan.clip_clear_mm:
            spans.append(self._span("cell.clips.clearance", self.level(plan.clip.low_mm), shoulder, plan.clip_clear_mm,
                                    self.half))
        plate, said = plan.plate, cell.plate
        if plate and said and plate.half_mm:
            front, rear, foot = self.level(plate.front_mm), self.level(plate.back_mm), plate.half_mm * self.scale
            if said.behind:
                spans.append(self._span("cell.plate.behind", back, front, said.behind, foot))
            if said.thickness:
                spans.append(self._span("cell.plate.thickness", front, rear, said.thickness, foot))
        spring = cell.push.spring if cell.push else None
        if plan.spring and plan.pushes and spring and spring.compressed_to is not None and self.springs_drawn:
            upper, lower = map(self.level, plan.spring)
            foot = plan.pushes.radius_mm * self.scale + self.swing()
            spans.append(self._span("cell.push.spring.compressed_to", upper, lower, spring.compressed_to, foot))
        return spans

    def _screw_and_post(self) -> Iterator[Span]:
        """Measured to the left of a detail, all of which lies right of the axis."""
        plan, cell, left = self.plan, self.measures.design.build.cell, -(self.left_mm or 0.0) * self.scale
        if plan.screw and cell and cell.push and cell.push.length:
            _, high, low = plan.screw
            yield self._span("cell.push.length", self.level(high), self.level(low), cell.push.length, left)
        if plan.post and cell and cell.posts and cell.posts.height:
            yield self._span("cell.posts.height", self.level(plan.post.high_mm), self.level(plan.post.low_mm),
                             cell.posts.height, left)

    def _clip_length(self) -> Iterator[Span]:
        clip = self.plan.clip
        if clip:
            yield self._span("cell.clips.length", clip.inner_mm * self.scale, clip.outer_mm * self.scale,
                             clip.outer_mm - clip.inner_mm)


def _falling(corners: Sequence[Point], spacing: float) -> tuple[tuple[Point, Point], ...]:
    """Hatching the other way, for a part beside another that is hatched."""
    mirrored = hatching([(-x, y) for x, y in corners], spacing)
    return tuple(((-a[0], a[1]), (-b[0], b[1])) for a, b in mirrored)


def _once(spans: Sequence[Span]) -> list[Span]:
    """Spans that measure the same place are said once."""
    kept: list[Span] = []
    for span in spans:
        if not any(abs(span.end - other.end) < 1e-6 and abs(span.start - other.start) < 1e-6 for other in kept):
            kept.append(span)
    return kept
