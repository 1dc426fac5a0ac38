"""The drawing of the primary by itself, with its indications after ISO 10110.

On paper the axis lies level and the sky is to the right, so that the face is the right surface; indications stand in a
table of surfaces as ISO 10110-10 has it. On a phone the face is up, and the indications stand in one list.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier.design.pictures.blank_plan import BlankPlan, blank_plan
from dossier.drawings.dimension import Dimensions, Side, Span, line_height
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.listing import broken
from dossier.drawings.figures.measures import DIAMETER, RADIUS, TIMES, Measures, Runs, phrase, plain
from dossier.drawings.figures.placing import extent
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.lettering import CAPITALS, DESCENT
from dossier.drawings.numerals import fixed
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
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
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design

_CURVE_STEPS = 32
# Columns of indications stand beside one another from this many type sizes on; else one list below the other.
_LEAST_TABLE = 36.0
_COATING = "(λ)"
_BETWEEN_COLUMNS, _BETWEEN_ROWS = 1.0, 0.25


@dataclass(frozen=True, slots=True)
class Column:
    """What is indicated of one surface, or of what lies between both."""

    head: str
    rows: tuple[Runs, ...]


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """The mirror's own drawing; None where its thickness is not said, for then there is no blank to draw."""
    plan = blank_plan(design)
    if plan.edge_mm is None or plan.centre_mm is None:
        return None
    measures = Measures(design)
    section, (inside, *near_edges) = _section(plan, measures, medium, scale)
    box = extent(section, medium)
    columns = tuple(column for column in _columns(plan, measures, lying=medium.unit == "px") if column.rows)
    breadth = max(width - medium.wide, box.right - box.left)
    left = (box.left + box.right - breadth) / 2
    table = tuple(_table(columns, (left, box.bottom + 1.6 * medium.lettering), breadth, medium))
    shapes = (Group(section, {"view": "section"}, "Primary mirror"), Group(table, {"view": "indications"}))
    balloons = tuple(Balloon(ref, inside, also=tuple(near_edges)) for ref in refs(design, "primary"))
    return Figure("mirror-blank", _description(plan, measures, columns), shapes,
                  extent(shapes, medium).grown(medium.wide / 2), balloons, tuple(_notes(plan, measures)))


def _section(plan: BlankPlan, measures: Measures, medium: Medium,
             scale: float) -> tuple[tuple[Shape, ...], tuple[Point, ...]]:
    """The glass in section about its vertex, and points of it: one far inside, four near its edges."""
    size, edge, centre = medium.lettering, plan.edge_mm or 0.0, plan.centre_mm or 0.0
    half, rim, face = plan.blank_mm / 2 * scale, plan.aperture_mm / 2 * scale, plan.sagitta_mm * scale
    back = face - edge * scale
    bevel = (plan.chamfer_mm or 0.0) * scale
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
    dimensions = Dimensions(medium, (box_of(outline),))
    blank_key = "primary.aperture" if measures.design.build.primary.blank_diameter is None else "primary.blank_diameter"
    blank, clear = measures.length(plan.blank_mm, blank_key), measures.length(plan.aperture_mm, "primary.aperture")
    thick, thin = measures.length(edge, "primary.edge_thickness"), measures.result("cell.centre_thickness")
    whole = Span(blank_key, -half, half, phrase(DIAMETER, blank), -back, -back)
    used = Span("clear-aperture", -rim, rim, phrase("⌀e\u202f", clear), face, face)
    at_edge = Span("primary.edge_thickness", back, face, (thick,), half, half)
    at_middle = Span("cell.centre_thickness", back, 0.0, (thin,), half, 0.0)
    if lying:
        at_edge, at_middle = (replace(span, start=-span.end, end=-span.start) for span in (at_edge, at_middle))
    sides: tuple[Side, Side, Side, Side] = ("below", "above", "right", "left") if lying else (
        "left", "right", "below", "above")
    for side, span in zip(sides, (whole, used, at_edge, at_middle), strict=True):
        dimensions.place(side, [span])
    inside = (((back - centre * scale / 2 + face) / 2, -0.6 * half),
              *((back + share * (face - back), way * 0.98 * half) for way in (-1, 1) for share in (0.1, 0.9)))
    return (*shapes, *dimensions.shapes), tuple(_placed(point, lying) for point in inside)


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


def _columns(plan: BlankPlan, measures: Measures, *, lying: bool) -> Iterator[Column]:
    radius = [*phrase(RADIUS, measures.result("optics.vertex_radius"))]
    if plan.radius_tolerance_mm is not None:
        radius += phrase(" ±\u202f", measures.length(plan.radius_tolerance_mm, "primary.focal_length_tolerance"))
    rows: list[Runs] = [(*radius, Words(" CC")), phrase("K\u202f", Words(_conic(plan.conic), key="primary.conic")),
                        phrase("⌀e\u202f", measures.length(plan.aperture_mm, "primary.aperture")),
                        phrase("depth at ⌀e ", measures.result("optics.sagitta"))]
    if plan.chamfer_mm is not None:
        rows.append(phrase("protective chamfer ", measures.length(plan.chamfer_mm, "primary.chamfer")))
    if plan.reflectivity is not None:
        rows.append(phrase(_COATING, " reflectivity ", Words(f"{plan.reflectivity:g}", key="primary.reflectivity")))
    rows += [_form(plan), phrase("4/\u202f–")]
    if plan.imperfections:
        said = re.sub(r"(?<=\d) *[x×] *(?=[\d.])", TIMES, plan.imperfections)
        rows.append(phrase("5/\u202f", Words(said, key="primary.imperfections")))
    yield Column("Lower surface, the back" if lying else "Left surface, the back", (phrase(RADIUS, "∞"),))
    yield Column("Material", (phrase(Words(plan.glass, key="primary.glass")),) if plan.glass else ())
    yield Column("Upper surface, the face" if lying else "Right surface, the face", tuple(rows))


def _conic(conic: float) -> str:
    return fixed(conic, 3).rstrip("0").rstrip(".") if conic else "0"


def _form(plan: BlankPlan) -> Runs:
    """The form tolerance: no sagitta error, since the radius stands by itself; irregularity as an RMS."""
    if plan.surface_rms_nm is None:
        return phrase("3/\u202f–")
    return phrase("3/\u202f–; RMSi <\u202f", Words(_allowed(plan.surface_rms_nm), result="figure.strehl"),
                  f"\u202fnm; λ\u202f=\u202f{plan.wavelength_nm:g}\u202fnm")


def _allowed(rms_nm: float) -> str:
    """Two figures, rounded down: a tolerance may not be rounded up."""
    if rms_nm <= 0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(rms_nm)) - 1)
    return f"{math.floor(rms_nm / step + 1e-9) * step:.{max(0, -round(math.log10(step)))}f}"


def _table(columns: Sequence[Column], at: Point, width: float, medium: Medium) -> Iterator[Shape]:
    """Columns beside one another under a rule; one list below the other where they have no room."""
    size = medium.lettering
    if width >= _LEAST_TABLE * size:
        gap = _BETWEEN_COLUMNS * size
        shares = {2: (0.36, 0.64), 3: (0.28, 0.30, 0.42)}[len(columns)]
        x = at[0]
        below = []
        for column, share in zip(columns, shares, strict=True):
            shapes, bottom = _column(column, (x, at[1]), share * width - gap, medium)
            yield from shapes
            below.append(bottom)
            x += share * width
        for y in (at[1], at[1] + _head(medium), max(below) + 0.3 * size):
            yield Polyline(((at[0], y), (at[0] + width, y)), Pen(THIN), data={"part": "rule"})
        return
    y = at[1]
    # The face first: on a narrow screen the flat back may wait.
    for column in reversed(columns):
        shapes, bottom = _column(column, (at[0], y), width, medium)
        yield from shapes
        for rule in (y, y + _head(medium)):
            yield Polyline(((at[0], rule), (at[0] + width, rule)), Pen(THIN), data={"part": "rule"})
        y = bottom + 0.7 * size


def _head(medium: Medium) -> float:
    return (CAPITALS + DESCENT + 0.75) * medium.lettering


def _column(column: Column, at: Point, width: float, medium: Medium) -> tuple[list[Shape], float]:
    """Head and rows from the upper left corner, and how low they reach."""
    size, line = medium.lettering, line_height(medium)
    base = at[1] + (CAPITALS + 0.45) * size
    shapes: list[Shape] = [Text((at[0], base), (Words(column.head),))]
    base = at[1] + _head(medium) + (CAPITALS + 0.45) * size
    for row in column.rows:
        coating = row[0].text == _COATING
        indent = 1.6 * size if coating else 0.0
        if coating:
            centre = (at[0] + 0.62 * size, base - CAPITALS * size / 2)
            shapes += [Circle(centre, 0.6 * size, Pen(THIN), data={"part": "coating"}),
                       Text((centre[0], base), (Words("λ"),), "middle")]
        for runs in broken(row[1:] if coating else row, width - indent, size):
            shapes.append(Text((at[0] + indent, base), runs))
            base += line
        base += _BETWEEN_ROWS * size
    return shapes, base - line - _BETWEEN_ROWS * size + DESCENT * size


def _notes(plan: BlankPlan, measures: Measures) -> Iterator[Runs]:
    yield phrase("Indications after ISO 10110; surface form after ISO 10110-5:2015, in nanometres of the surface over "
                 "⌀e, best sphere taken out. CC: concave. –: no tolerance is set.")
    if plan.surface_rms_nm is not None and plan.smooth_strehl is not None:
        yield phrase(f"RMSi keeps the Strehl ratio at {_ratio(plan.wanted_strehl)} or more: the curve alone leaves "
                     f"{_ratio(plan.smooth_strehl)}.")
    elif plan.wanted_strehl is not None:
        yield phrase(f"3/ is open: the curve alone leaves a Strehl ratio of {_ratio(plan.smooth_strehl)}, less than "
                     f"the {_ratio(plan.wanted_strehl)} that is wanted, and no polish makes up for it.")
    if plan.radii_in_focus_mm is not None:
        readers = measures.design.build.readers
        least, most = (show(each, "mm", readers=readers).number for each in plan.radii_in_focus_mm)
        yield phrase("With R from ", Words(least, result="focuser.spare_in"), " to ",
                     Words(most, result="focuser.spare_out"), " every eyepiece still finds its focus.")
    if plan.reflectivity is not None:
        yield phrase("(λ): coated; reflectivity as the plan counts it.")


def _ratio(value: float | None) -> str:
    return "" if value is None else fixed(value, 3)


def _description(plan: BlankPlan, measures: Measures, columns: Sequence[Column]) -> str:
    said = [f"Primary mirror in section, to scale, lengths in {measures.unit}: ⌀ "
            f"{measures.length(plan.blank_mm, 'primary.blank_diameter').text}, clear aperture ⌀ "
            f"{measures.length(plan.aperture_mm, 'primary.aperture').text}, edge "
            f"{measures.length(plan.edge_mm or 0.0, 'primary.edge_thickness').text} thick, middle "
            f"{measures.result('cell.centre_thickness').text} thick"]
    said += [f"{column.head}: {'; '.join(plain(row) for row in column.rows)}" for column in columns]
    return ". ".join(said).replace("\u202f", " ") + "."


SHEET = SheetKind(
    "mirror-blank", "Primary mirror", "Part drawing",
    "The primary by itself, in section: glass, curve and clear aperture, and how far its surface may differ from the "
    "plan’s, written as ISO 10110 has it.",
    make)

