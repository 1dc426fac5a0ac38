"""The optical layout: mirrors, focal plane and rays alone, and the fold once more at a larger scale.

Rays of the axis and of both edges of the judged field are drawn. Where the whole telescope is small the fold, in which
they part, can only be read from its detail.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_light as light
from dossier.drawings import arrangement_parts as ga
from dossier.drawings import optical_layout, scales
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.arrangement_marks import description, focal_plane, phrase
from dossier.drawings.dimension import Dimensions, Side, Span, line_height
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.measures import Runs, plain, sentence
from dossier.drawings.figures.placing import extent, moved, no_narrower
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.figures.whole import bar_below, side_view
from dossier.drawings.lettering import boxes
from dossier.drawings.scene import (
    CENTRE,
    THIN,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Shape,
    Text,
    View,
    Wash,
    Words,
)

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

_MARGIN, _GAP = 0.2, 0.7
# The detail's largest extent along the light's last way, on paper and on a phone, and how much larger it is at most.
_LONGEST = {"mm": 100.0, "px": 240.0}
_LARGER = 5.0


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """Side view and detail at this scale; every design has them."""
    known = optical_layout.bare(arrangement_from(design))
    view = View(scale, upright=medium.unit == "px")
    a, side, said = _side(known, view, medium)
    body = extent(side, medium)
    detail, detail_scale = _detail(a, view, medium, width)
    box = extent(detail, medium)
    title = body.bottom + _GAP * medium.lettering + line_height(medium)
    middle = (body.left + body.right) / 2
    down = title + 0.8 * medium.lettering - box.top
    across = middle - (box.left + box.right) / 2
    words = f"the fold, {scales.ratio(detail_scale)}" if medium.unit == "mm" else "the fold, larger"
    shapes: tuple[Shape, ...] = (
        Group(side, {"view": "side"}), Text((middle, title), (Words(words),), "middle"),
        Group(moved(detail, across, down),
              {"view": "fold", "scale": f"{detail_scale:.9g}", "axis": f"{across:.3f} {down:.3f}"}))
    if view.upright:
        shapes = (*shapes, *bar_below(a, scale, extent(shapes, medium), medium))
    whole = no_narrower(extent(shapes, medium).grown(_MARGIN * medium.lettering), medium)
    return Figure(SHEET.key, f"{description(a)} The fold is drawn once more, larger.", shapes, whole,
                  tuple(_balloons(design, a, view)), tuple(_notes(a, said)))


def _side(known: Arrangement, view: View, medium: Medium) -> tuple[Arrangement, tuple[Shape, ...], tuple[Runs, ...]]:
    """The side view, of the axis alone where rays of the field would run through its lettering."""
    drawn, said = side_view(known, view, rays=True)
    if optical_layout.runs_through_lettering(drawn, medium):
        known = optical_layout.of_the_axis(known)
        drawn, said = side_view(known, view, rays=True)
    return known, drawn, said


def _detail(a: Arrangement, view: View, medium: Medium, width: float) -> tuple[tuple[Shape, ...], float]:
    """Diagonal, focal plane and the light between, at the largest preferred scale that suits; on a phone at any."""
    reach = max(a.minor_axis, a.judged_field or 0.0)
    longest = a.intercept + a.minor_axis
    most = min(_LARGER * view.scale, _LONGEST[medium.unit] / longest, 0.5 * width / reach)
    scale = most
    if medium.unit == "mm":
        scale = next((each for each in scales.PREFERRED if each <= most * 1.000001), scales.PREFERRED[-1])
    near = replace(view, scale=scale)
    start, end = a.focuser_station - 0.9 * reach, a.focuser_station + 0.9 * reach
    x, y = near.at(a.focuser_station, 0.0)
    # About the fold, so that its dimensions are counted from there.
    drawn = moved((_light(a, near, start, end), ga.diagonal(a, near, medium), focal_plane(a, near),
                   _axes(a, near, start, end)), -x, -y)
    placed = Dimensions(medium, tuple(boxes(drawn, medium)))
    sides: tuple[Side, Side] = ("left", "above") if near.upright else ("above", "right")
    for side, spans in zip(sides, _spans(a, near, 0.9 * reach), strict=True):
        placed.place(side, spans)
    return (*drawn, *placed.shapes), scale


def _light(a: Arrangement, view: View, start: float, end: float) -> Group:
    """The light on its way back, from a little before the diagonal; what comes in is left out."""
    upper, upper_hit, focus, lower_hit, lower = light.beam(a, 0.0)
    corners = (_from(upper, upper_hit, start), upper_hit, focus, lower_hit, _from(lower, lower_hit, start))
    heights = [a.judged_field / 2, -a.judged_field / 2, 0.0] if a.judged_field else [0.0]
    rays = [light.ray(a, rim, height, end) for height in heights for rim in (1, -1)]
    return Group((Polyline(view.points(corners), None, Wash("accent", 0.13), closed=True, data={"part": "beam"}),
                  *(_drawn(each, view, start) for each in rays)), {"part": "light"})


def _from(rim: Point, hit: Point, station: float) -> Point:
    """Where the straight line from the rim to the diagonal passes a station."""
    share = (station - rim[0]) / (hit[0] - rim[0])
    return station, rim[1] + share * (hit[1] - rim[1])


def _drawn(each: light.Ray, view: View, start: float) -> Polyline:
    _, rim, hit, *last = each.points
    side = "upper" if each.rim > 0 else "lower"
    place = "axis" if not each.field_height else "outer" if each.field_height > 0 else "inner"
    return Polyline(view.points((_from(rim, hit, start), hit, *last)),
                    Pen(THIN, "accent", 0.55 if each.field_height else 1.0),
                    data={"ray": f"{place}-{side}", "caught": "yes" if each.caught else "no"})


def _axes(a: Arrangement, view: View, start: float, end: float) -> Group:
    optical = ((start, 0.0), (end, 0.0))
    fold = ((a.focuser_station, -0.75 * a.minor_axis), (a.focuser_station, a.intercept))
    return Group(tuple(Polyline(view.points(line), Pen(CENTRE), data={"part": name})
                       for line, name in ((optical, "optical-axis"), (fold, "folded-axis"))), {"part": "axes"})


def _spans(a: Arrangement, view: View, reach: float) -> tuple[list[Span], list[Span]]:
    """The judged field across the focal plane, and the way from the axis to that plane, about the fold.

    The numbers are the same whether the view lies or stands: only the sides differ.
    """
    half, depth = (a.judged_field or 0.0) / 2 * view.scale, a.intercept * view.scale
    field = [Span("field.judged", -half, half, phrase(a, "field ⌀\u202f", "field.judged"), depth, depth)] if (
        half and "field.judged" in a.figures) else []
    return field, [Span("optics.intercept", -depth, 0.0, phrase(a, "to focal plane ", "optics.intercept"), half,
                        reach * view.scale)]


def _notes(a: Arrangement, said: tuple[Runs, ...]) -> Iterator[Runs]:
    yield sentence("stations from the middle of the primary’s face, towards the sky")
    # The focuser's face is no matter of light, and the rays are told below.
    yield from (sentence(*runs, first=str.upper) for runs in said
                if not plain(runs).startswith("Rays ") and all(run.key != "focuser.mounting_radius" for run in runs))
    field = phrase(a, "rays of the axis and of the field ⌀\u202f", "field.judged") if a.judged_field else (
        Words("rays of the axis"),)
    yield sentence(*field, "; in the fold, light that comes in is left out")


def _balloons(design: Design, a: Arrangement, view: View) -> Iterator[Balloon]:
    back = ga.mirror_back(a)
    primary = ((ga.mirror_depth(a, a.aperture / 4) + (back or 0.0)) / 2, -a.aperture / 4)
    diagonal = (a.diagonal_station + (a.diagonal_thickness or 0.0) / 2, -a.offset)
    places: dict[DrawnAs, Point] = {"primary": primary, "diagonal": diagonal}
    for thing, place in places.items():
        yield from (Balloon(ref, view.at(*place)) for ref in refs(design, thing)[:1])


SHEET = SheetKind(
    key="optical-layout", title="Optical layout", document_type="Layout drawing",
    caption=optical_layout.caption(), make=make)
