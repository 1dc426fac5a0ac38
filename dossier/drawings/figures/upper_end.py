"""The upper end: what the light meets last, in section through the fold and from the sky.

On paper the telescope lies, sky to the right; on a phone it stands, sky up. In first-angle projection the view from the
sky stands to the left of the section, or below it; in third-angle projection to the right, or above.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_parts as ga
from dossier.drawings.arrangement import Arrangement, Frame, arrangement_from
from dossier.drawings.arrangement_marks import assumed
from dossier.drawings.dimension import GAP, Dimensions, Span, fits, roomiest
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.measures import DIAMETER, RADIUS, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.ordinates import Station, ordinates
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.figures.shown_parts import shown
from dossier.drawings.figures.spider_words import vanes_in_words
from dossier.drawings.figures.upper_plan import Face, angle_labels, plan
from dossier.drawings.figures.upper_section import Turned, axes_of_members, section, turned
from dossier.drawings.lettering import box_of_text, boxes
from dossier.drawings.projection import beside, projection_of
from dossier.drawings.scene import Box, Group, Medium, Point, Shape, Text, View, Words

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

NAME = "upper-end"
_BETWEEN, _MARGIN = 1.6, 0.2


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """Both views at this scale. None where neither the frame nor the front is placed."""
    a = arrangement_from(design)
    if a.frame is None and a.front_station is None:
        return None
    measures = Measures(design)
    lying = medium.unit == "mm"
    view, face = View(scale, upright=not lying), Face(scale, focuser_up=lying)
    poles, vanes = turnings(design, a)
    side, said = _section(design, a, poles, vanes, view, medium)
    front, more = _plan(design, a, poles, vanes, face, medium)
    shift = beside(extent(side, medium), extent(front, medium), "right" if lying else "above", projection_of(design),
                   _BETWEEN * medium.lettering)
    shapes = (*side, *moved(front, *shift))
    notes = tuple(_notes(design, a, measures, poles, vanes, (*said, *more)))
    box = extent(shapes, medium).grown(_MARGIN * medium.lettering)
    return Figure(NAME, _description(a, measures, notes), shapes, box, tuple(_balloons(design, a, view)), notes)


def turnings(design: Design, a: Arrangement) -> tuple[Turned, Turned]:
    """How poles, or the upper nodes of a truss, and vanes are turned."""
    frame, spider = design.build.frame, design.build.spider
    count = 0 if a.frame is None or a.frame.kind == "tube" else a.frame.count
    if a.frame and a.frame.kind == "truss":
        count //= 2
    return (turned(count, frame.turned if frame else None),
            turned(a.vanes, spider.turned if spider else None))


def _section(design: Design, a: Arrangement, poles: Turned, vanes: Turned, view: View,
             medium: Medium) -> tuple[tuple[Shape, ...], list[Span]]:
    drawn = section(a, poles, view, medium)
    outlines, body = tuple(boxes(drawn, medium)), extent(drawn, medium)
    measures = Measures(design)
    stations = _stations(design, a, measures, view, outlines, medium)
    level = (body.right if view.upright else body.bottom) + GAP * medium.lettering
    told = ordinates(stations, "right" if view.upright else "below", level, medium)
    # The front ring's edge ends as high as the focuser's face: the face's extension line starts at the focuser itself.
    edges = list(boxes([group for group in drawn if group.data.get("part") == "front"], medium))
    placed = Dimensions(medium, tuple(box for box in outlines if box not in edges), [*boxes(told, medium), *edges])
    heights = _heights(a, measures, view, medium)
    short = [span for span in heights if not fits(span, medium)]
    unplaced = short + placed.place("above" if view.upright else "right",
                                    [span for span in heights if span not in short])
    return (*drawn, *told, *placed.shapes), unplaced


def _stations(design: Design, a: Arrangement, measures: Measures, view: View, outlines: tuple[Box, ...],
              medium: Medium) -> list[Station]:
    """What stands where along the axis."""
    front = design.build.front
    spider = design.build.spider
    known: list[tuple[float, str, Words]] = [
        (a.focuser_station, "focuser ", measures.result("focuser.station"))]
    if a.offset:
        known.append((a.diagonal_station, "diagonal ", measures.result("diagonal.station")))
    if a.frame and a.frame.kind != "tube" and "frame.upper_fixing" in design.results:
        known.append((a.frame.upper_station, "upper fixing ", measures.result("frame.upper_fixing")))
    if spider and spider.station:
        what = "rod " if spider.vane_section == "rod" else "vanes "
        known.append((spider.station, what, measures.length(spider.station, "spider.station")))
    if front and front.station:
        known.append((front.station, "front ", measures.length(front.station, "front.station")))
    return [_station(place, words, number, view, outlines, medium) for place, words, number in known]


def _station(place: float, words: str, number: Words, view: View, outlines: tuple[Box, ...],
             medium: Medium) -> Station:
    along = view.at(place, 0.0)[1 if view.upright else 0]
    near = 0.2 * medium.lettering
    if view.upright:
        feet = [box.right for box in outlines if box.top - near <= along <= box.bottom + near]
    else:
        feet = [box.bottom for box in outlines if box.left - near <= along <= box.right + near]
    return Station(number.result or number.key, along, max(feet, default=0.0), phrase(words, number))


def _heights(a: Arrangement, measures: Measures, view: View, medium: Medium) -> list[Span]:
    """From the axis to the focuser's face and to the focal plane, each with its name as far as there is room."""
    across = 0 if view.upright else 1
    start = view.at(a.focuser_station, 0.0)[1 - across]
    reach = -start if view.upright else start
    known = (("focuser.mounting_radius", a.mounting_radius, "focuser face ", "face ",
              measures.length(a.mounting_radius, "focuser.mounting_radius")),
             ("optics.intercept", a.intercept, "focal plane ", "plane ", measures.result("optics.intercept")))
    spans = []
    for name, height, whole, short, figure in known:
        first, last = sorted((0.0, view.at(0.0, height)[across]))
        span = roomiest(medium, name, first, last, phrase(whole, figure), phrase(short, figure))
        spans.append(replace(span, start_foot=reach, end_foot=reach))
    return spans


def _plan(design: Design, a: Arrangement, poles: Turned, vanes: Turned, face: Face,
          medium: Medium) -> tuple[tuple[Shape, ...], list[Span]]:
    spider = design.build.spider
    measures = Measures(design)
    drawn = plan(a, poles, vanes, spider.vane_thickness if spider else None, face, medium)
    rows = {angle: "spider.turned" for angle in vanes.angles_deg if vanes.said}
    rows |= {angle: "frame.turned" for angle in poles.angles_deg if poles.said}
    spans = list(widths(a, measures, face))
    labels = angle_labels(a, {angle: key for angle, key in rows.items() if angle}, face, medium)
    labels = _clear_of(spans, labels, medium)
    placed = Dimensions(medium, tuple(boxes(drawn, medium)), list(boxes(labels, medium)))
    unplaced = placed.place("below", spans)
    return (*drawn, Group(labels, {"part": "angles"}), *placed.shapes), unplaced


def _clear_of(spans: list[Span], labels: tuple[Text, ...], medium: Medium) -> tuple[Text, ...]:
    """The labels through which no extension line runs down: evenly spaced angles are told by the first in the notes."""
    ends = [place for span in spans for place in (span.start, span.end)]
    boxed = [(label, box_of_text(label, medium.lettering)) for label in labels]
    return tuple(label for label, box in boxed
                 if box.bottom <= 0 or not any(box.left < place < box.right for place in ends))


def widths(a: Arrangement, measures: Measures, face: Face) -> Iterator[Span]:
    """Tube and opening, to be dimensioned on the view from the sky."""
    known: list[tuple[float, str]] = []
    if a.frame and a.frame.kind == "tube":
        known = [(a.frame.inner_diameter or 0.0, "frame.inner_diameter"),
                 (a.frame.outer_diameter, "frame.outer_diameter")]
    if a.front_opening and a.front_opening not in (width for width, _ in known):
        known.append((a.front_opening, "front.opening"))
    for width, key in known:
        if width:
            half = width / 2 * face.scale
            yield Span(key, -half, half, phrase(DIAMETER, measures.length(width, key)))


def _notes(design: Design, a: Arrangement, measures: Measures, poles: Turned, vanes: Turned,
           unplaced: tuple[Span, ...]) -> Iterator[Runs]:
    yield measures.dimensions_note()
    by_angles = any(each.said and each.angles_deg for each in (poles, vanes))
    yield sentence("Stations from the middle of the primary’s face" + (
        ", angles from the focuser, clockwise seen from the sky" if by_angles else ", towards the sky"))
    frame, spider = design.build.frame, design.build.spider
    if a.frame and a.frame.kind != "tube" and frame:
        radius_key = "frame.upper_circle_radius" if frame.upper_circle_radius else "frame.circle_radius"
        many = a.frame.count if a.frame.kind == "poles" else a.frame.count // 2
        what = "poles" if a.frame.kind == "poles" else "upper nodes, two members at each"
        yield sentence(Words(str(many), key="frame.count"), f" {what}, ⌀\u202f",
                       measures.length(a.frame.outer_diameter, "frame.outer_diameter"), " on ", RADIUS,
                       measures.length(a.frame.upper_radius, radius_key), *_first(poles, "frame.turned", measures))
    if spider and a.vanes:
        yield sentence(*vanes_in_words(spider, measures), *_first(vanes, "spider.turned", measures))
    offset = (("offset ", measures.result("diagonal.offset"), " towards the primary and away from the focuser")
              if a.offset else ("without offset",))
    yield sentence("Diagonal ", DIAMETER, measures.length(a.minor_axis, "diagonal.minor_axis"),
                   " seen along the axis, ", *offset)
    yield from turns_not_said(poles, vanes)
    if said := assumed(a):
        yield sentence(*said)
    for span in unplaced:
        yield sentence(_SPOKEN[span.name] + " ", *(run for run in span.runs if run.key or run.result))


def turns_not_said(poles: Turned, vanes: Turned) -> Iterator[Runs]:
    """A sentence for poles, and one for vanes, of which nobody says how they are turned."""
    for each, what in ((poles, "poles"), (vanes, "vanes")):
        if each.angles_deg and not each.said:
            yield sentence(f"How the {what} are turned is not said: chain outlines with two dots show them with the "
                           "focuser midway between two")


def _first(each: Turned, key: str, measures: Measures) -> Runs:
    """Where the first of evenly spaced members stands."""
    return phrase(", the first at ", measures.angle(each.angles_deg[0], key)) if each.said and each.angles_deg else ()


_SPOKEN = {"focuser.mounting_radius": "Axis to the focuser’s face", "optics.intercept": "Axis to the focal plane",
           "frame.inner_diameter": "Tube inside", "frame.outer_diameter": "Tube outside",
           "front.opening": "Front opening"}


def _description(a: Arrangement, measures: Measures, notes: tuple[Runs, ...]) -> str:
    said = ["Upper end in section through the fold, and from the sky."]
    said.append(f"Axis to the focuser’s face {measures.length(a.mounting_radius, 'focuser.mounting_radius').text}, to "
                f"the focal plane {measures.result('optics.intercept').text}.")
    said.append(f"Stations: focuser {measures.result('focuser.station').text}, diagonal "
                f"{measures.result('diagonal.station').text}"
                + (f", front {measures.length(a.front_station, 'front.station').text}" if a.front_station else "")
                + (f", upper fixing {measures.result('frame.upper_fixing').text}"
                   if "frame.upper_fixing" in measures.design.results else "") + ".")
    if a.front_opening:
        said.append(f"Front opening {measures.length(a.front_opening, 'front.opening').text}.")
    return " ".join([*said, *map(plain, notes)])


def _balloons(design: Design, a: Arrangement, view: View) -> Iterator[Balloon]:
    poles, vanes = turnings(design, a)
    places: dict[DrawnAs, Point] = {
        "diagonal": (a.diagonal_station, -a.offset), "holder": _on_holder(a),
        "focuser": (a.focuser_station, a.mounting_radius + a.focuser_height / 2)}
    if a.vanes and (place := _on_vane(a, vanes)):
        places["vane"] = place
    if a.vanes and a.hub_diameter:
        places["hub"] = (ga.vane_station(a), -0.7 * ga.hub_radius(a))
    if a.eyepiece and a.bore:
        places["eyepiece"] = (a.focuser_station, a.intercept + a.bore * ga.EYEPIECE_HEIGHT / 2)
    if a.front_station is not None and a.front_opening:
        places["front"] = (a.front_station, -a.front_opening / 2)
    if a.frame:
        low = a.frame.upper_station - 0.1 * a.aperture
        tube = a.frame.kind == "tube"
        places["frame"] = (low, -a.frame.outer_diameter / 2 if tube else _lowest_member(a.frame, poles, low))
    for thing, place in places.items():
        for part in shown(design, thing)[:1]:
            yield Balloon(part.ref, view.at(*place))


def _on_holder(a: Arrangement) -> Point:
    """A point within the holder; where its width is not said, on the stud that stands for it."""
    if a.holder_diameter:
        down = 0.3 * a.holder_diameter
        slope = ga.holder_tip(a) + a.holder_diameter / 2 - down
        return slope + 0.6 * (ga.holder_end(a) - slope), -a.offset - down
    return 0.5 * a.diagonal_station + 0.5 * ga.vane_station(a), -a.offset


def _on_vane(a: Arrangement, vanes: Turned) -> Point | None:
    """A point of the vane that reaches lowest in this view; where all run straight away from the eye, of one's section.
    None where no vane is behind the plane of the fold."""
    seen = [turn for angle in vanes.angles_deg if ga.behind(turn := math.radians(angle))]
    if not seen:
        return None
    turn = min(seen, key=math.cos)
    middle = (ga.inside_radius(a) + ga.vane_start(a, turn)) / 2 * math.cos(turn)
    return ga.vane_station(a), middle


def _lowest_member(frame: Frame, poles: Turned, station: float) -> float:
    """Height of the lowest member that is seen, at this station."""
    return min(low[1] + (high[1] - low[1]) * (station - low[0]) / (high[0] - low[0])
               for low, high, _ in axes_of_members(frame, poles))


SHEET = SheetKind(
    key=NAME, title="Upper end: ring, spider, diagonal and focuser", document_type="Assembly drawing",
    caption="Where everything of the upper end stands: along the axis by stations, round it by angles from the "
            "focuser.", make=make)
