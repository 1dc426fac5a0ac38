"""The primary's glass in section, and its rim enlarged: what a millimetre of chamfer and the curve's depth look like.

Both are made level, the face to the right and the rim up, and turned for a phone so that the face is up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from dossier.design.pictures.blank_plan import BlankPlan
from dossier.drawings import scales
from dossier.drawings.dimension import CLEAR, LIFT, Dimensions, Side, Span
from dossier.drawings.figures.measures import DIAMETER, Measures, auxiliary, phrase
from dossier.drawings.figures.placing import extent
from dossier.drawings.lettering import CAPITALS, box_of_text
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    PHANTOM,
    THIN,
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
    box_of,
    hatching,
)

_CURVE_STEPS = 32
# Enlargements of the rim; how deep the curve, how wide the chamfer and how high the whole may be drawn, in type sizes.
_ENLARGED = (10.0, 5.0, 2.0)
_DEPTH, _BEVEL, _HIGH, _BODY = 4.2, 2.0, 5.0, 2.4
# A detail that is hardly larger than the section shows nothing more.
_LEAST_LARGER = 2.0
_LETTER = "A"


def section_of(plan: BlankPlan, measures: Measures, medium: Medium, scale: float,
               detailed: bool) -> tuple[tuple[Shape, ...], tuple[Point, ...]]:
    """The glass in section about its vertex, and points of it: one far inside, four near its edges. ``detailed`` marks
    the rim that a detail shows larger."""
    size, edge, centre = medium.lettering, plan.edge_mm or 0.0, plan.centre_mm or 0.0
    half, rim, face = plan.blank_mm / 2 * scale, plan.aperture_mm / 2 * scale, plan.sagitta_mm * scale
    back, bevel = face - edge * scale, (plan.chamfer_mm or 0.0) * scale
    heights = [rim * (2 * step / _CURVE_STEPS - 1) for step in range(_CURVE_STEPS + 1)]
    # The parabola of the same depth: it leaves the conic by less than a line's width at any scale.
    curve = [(face * (y / rim) ** 2, y) for y in heights]
    shoulder = max(half - bevel, rim)
    level = tuple(_kept(((back, -half), (face - bevel, -half), (face, -shoulder), *curve, (face, shoulder),
                         (face - bevel, half), (back, half))))
    lying = medium.unit == "px"
    outline = tuple(_placed(point, lying) for point in level)
    ends = tuple(_placed((x, 0.0), lying) for x in (back - 0.3 * size, face + 0.3 * size))
    shapes: list[Shape] = [
        Polyline(outline, Pen(OUTLINE), Wash("glass"), True, {"part": "glass"}),
        Segments(hatching(outline, 0.7 * size), Pen(THIN, "ink", 0.7)),
        Polyline(ends, Pen(CENTRE), data={"part": "axis"}),
    ]
    mark = _mark((face, -half), lying, medium) if detailed else ()
    dimensions = Dimensions(medium, (box_of(outline), *(extent((each,), medium) for each in mark)))
    blank_key = "primary.aperture" if measures.design.build.primary.blank_diameter is None else "primary.blank_diameter"
    blank, clear = measures.length(plan.blank_mm, blank_key), measures.length(plan.aperture_mm, "primary.aperture")
    thick, thin = measures.length(edge, "primary.edge_thickness"), measures.result("cell.centre_thickness")
    whole = Span(blank_key, -half, half, phrase(DIAMETER, blank), -back, -back)
    used = Span("clear-aperture", -rim, rim, phrase("⌀e\u202f", clear), face, face)
    at_edge = Span("primary.edge_thickness", back, face, (thick,), half, half)
    at_middle = Span("cell.centre_thickness", back, 0.0, auxiliary(thin), half, 0.0)
    if lying:
        at_edge, at_middle = (replace(span, start=-span.end, end=-span.start) for span in (at_edge, at_middle))
    sides: tuple[Side, Side, Side, Side] = ("below", "above", "right", "left") if lying else (
        "left", "right", "below", "above")
    for side, span in zip(sides, (whole, used, at_edge, at_middle), strict=True):
        dimensions.place(side, [span])
    inside = (((back - centre * scale / 2 + face) / 2, -0.6 * half),
              *((back + share * (face - back), way * 0.98 * half) for way in (-1, 1) for share in (0.1, 0.9)))
    return (*shapes, *mark, *dimensions.shapes), tuple(_placed(point, lying) for point in inside)


def edge_detail(plan: BlankPlan, measures: Measures, medium: Medium, scale: float) -> Group | None:
    """The rim enlarged about the edge of its blank, with the curve's depth, the chamfer and the ring beyond the clear
    aperture; None where it could not be drawn larger than the section."""
    size, bevel_mm = medium.lettering, plan.chamfer_mm or 0.0
    larger = _enlargement(plan, medium, scale)
    if larger is None:
        return None
    beyond_mm = (plan.blank_mm - plan.aperture_mm) / 2
    face, bevel, ring = (length * larger for length in (plan.sagitta_mm, bevel_mm, beyond_mm))
    high = max(_HIGH * size, 1.5 * max(ring, bevel))
    # From the rim inwards: chamfer, ring, curve.
    curve = [(face * (1 - step / 8 * (high - ring) / larger / (plan.aperture_mm / 2)) ** 2,
              ring + (high - ring) * step / 8) for step in range(9)]
    left = -_BODY * size
    solid = tuple(_kept(((left, 0.0), (face - bevel, 0.0), (face, bevel), *((x, y) for x, y in curve if y >= bevel))))
    lying = medium.unit == "px"
    torn = (*_torn(solid[-1], (left, high), size), *_torn((left, high), (left, 0.0), size))
    body = tuple(_placed(point, lying) for point in (*solid, *torn))
    shapes: list[Shape] = [
        Polyline(body, None, Wash("glass"), True, {"part": "rim-glass"}),
        Segments(hatching(body, 0.7 * size), Pen(THIN, "ink", 0.7)),
        Polyline(tuple(_placed(point, lying) for point in solid), Pen(OUTLINE), data={"part": "rim"}),
        Polyline(tuple(_placed(point, lying) for point in (solid[-1], *torn)), Pen(THIN), data={"part": "break"}),
        Polyline(tuple(_placed(point, lying) for point in ((0.0, 0.0), (0.0, high))), Pen(PHANTOM),
                 data={"part": "vertex-plane"}),
    ]
    dimensions = Dimensions(medium, (box_of(body),))
    depth = Span("optics.sagitta", 0.0, face, auxiliary(measures.result("optics.sagitta")))
    if lying:
        depth = replace(depth, start=-face, end=0.0)
    dimensions.place("left" if lying else "above", [depth])
    across = [Span("primary.chamfer", 0.0, bevel, (measures.length(bevel_mm, "primary.chamfer"),), face, face)]
    if ring > bevel + 0.05 * size:
        beyond = measures.length(beyond_mm, "primary.blank_diameter")
        across.append(Span("ring", 0.0, ring, auxiliary(beyond), face, face))
    dimensions.place("above" if lying else "right", [span for span in across if span.length > 0])
    shapes += dimensions.shapes
    box = extent(shapes, medium)
    said = f"{_LETTER} ({scales.ratio(larger)})" if medium.unit == "mm" else f"{_LETTER}, enlarged"
    title = Text(((box.left + box.right) / 2, box.top - LIFT * size), (Words(said),), "middle")
    return Group((*shapes, title), {"view": "rim", "scale": f"{larger:.9g}"}, "The rim, enlarged")


def _enlargement(plan: BlankPlan, medium: Medium, scale: float) -> float | None:
    """On paper a preferred scale, elsewhere whatever shows the depth well."""
    size = medium.lettering
    most = min(_DEPTH * size / plan.sagitta_mm, _BEVEL * size / plan.chamfer_mm if plan.chamfer_mm else math.inf)
    found = max((each for each in _ENLARGED if each <= most), default=None) if medium.unit == "mm" else most
    return found if found is not None and found >= _LEAST_LARGER * scale else None


def _mark(corner: Point, lying: bool, medium: Medium) -> tuple[Shape, ...]:
    """The circle about the part of the section that a detail shows, and its letter outside of the glass."""
    size = medium.lettering
    radius = 0.75 * size
    x, y = _placed(corner, lying)
    letter = Text((x + radius + CLEAR * size, y - 0.5 * size), (Words(_LETTER),))
    if lying:
        box = box_of_text(letter, size)
        letter = Text((x - radius - CLEAR * size - (box.right - box.left), y - 0.5 * size + CAPITALS * size / 2),
                      letter.runs)
    # Leaders keep off it as off an outline.
    return Circle((x, y), radius, Pen(THIN), data={"part": "detail-mark", "line": "outline"}), letter


def _torn(start: Point, end: Point, size: float) -> Iterator[Point]:
    """A line drawn as by hand, where the rest of the glass is left away; both ends are true."""
    (x0, y0), (x1, y1) = start, end
    length = math.dist(start, end)
    steps = max(6, round(length / (0.25 * size)))
    for step in range(1, steps + 1):
        share = step / steps
        aside = 0.12 * size * math.sin(share * math.tau * max(1, round(length / (2 * size))))
        yield x0 + share * (x1 - x0) - aside * (y1 - y0) / length, y0 + share * (y1 - y0) + aside * (x1 - x0) / length


def _placed(point: Point, lying: bool) -> Point:
    """On paper the axis lies level, as ISO 10110-1 has it; on a phone the face is up, so that the width is used."""
    return (point[1], -point[0]) if lying else point


def _kept(points: Sequence[Point]) -> Iterator[Point]:
    """Points without those that stand on the one before."""
    last: Point | None = None
    for point in points:
        if last is None or math.dist(last, point) > 1e-9:
            yield point
        last = point
