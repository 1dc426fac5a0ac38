"""Pivot and balance: how the telescope stands, from the side with its tube upright and, below, from above.

Upright is where a push at the focuser has its longest lever, and where the tail comes nearest to the floor.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.callouts import Callout, callouts
from dossier.drawings.figures.cell_signs import balance
from dossier.drawings.figures.measures import RADIUS, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import arc, extent, moved, no_narrower
from dossier.drawings.figures.rocker_plan import feet_spans, from_above
from dossier.drawings.figures.rocker_side import (
    Levels,
    Stand,
    envelope_radius,
    feet_places,
    has_pads,
    levels_of,
    side,
)
from dossier.drawings.figures.shown_parts import shown
from dossier.drawings.lettering import boxes
from dossier.drawings.scene import THIN, Group, Medium, Pen, Point, Polyline, Shape, Words
from dossier.notation.digits import MINUS

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

NAME = "pivot-and-balance"
_BETWEEN, _MARGIN = 1.6, 0.2
# A figure taller than so many type sizes, which are the room on a sheet, has its tube broken.
_TALLEST = 54.5


def stand_of(design: Design) -> Stand | None:
    """What is known of how the telescope stands. None where neither pivot nor balance point is known."""
    mount, measures = design.build.mount, Measures(design)
    kind = (mount.kind if mount else None) or ""
    pivot = mount.pivot if mount and kind != "equatorial" else None
    centre = measures.number("balance.station")
    if pivot is None and centre is None:
        return None
    bearing = mount.bearing if mount and pivot is not None else None
    tail_radius = measures.number("mount.tail_radius")
    return Stand(
        kind=kind, origin=pivot if pivot is not None else centre or 0.0, pivot=pivot, balance=centre,
        pivot_height=mount.pivot_height if mount else None, floor=mount.floor if mount else None,
        tail=_tail(design, measures), tail_radius=tail_radius, swing_radius=measures.number("mount.swing_radius"),
        bearing_radius=bearing.radius if bearing else None, pad_angle=bearing.pad_angle if bearing else None,
        feet=mount.feet if mount else None, feet_radius=mount.feet_radius if mount else None,
        feet_reach=measures.number("mount.feet_reach"), stands_out=measures.number("mount.centre_stands_out"),
        offset=(mount.offset or 0.0) if mount else 0.0)


def _tail(design: Design, measures: Measures) -> float | None:
    mount = design.build.mount
    return mount.tail if mount and mount.tail is not None else measures.number("frame.lower_end")


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """Both views at this scale. None where neither pivot nor balance point is known."""
    stand = stand_of(design)
    if stand is None:
        return None
    a, measures = arrangement_from(design), Measures(design)
    lower, more = _above(design, stand, scale, medium)
    levels = levels_of(stand, a, scale, medium)
    upper, unplaced = _side(levels, a, measures, medium)
    shapes = _stacked(upper, lower, medium)
    box = extent(shapes, medium)
    excess = box.bottom - box.top - _TALLEST * medium.lettering
    if excess > 0:
        levels = levels_of(stand, a, scale, medium, excess)
        upper, unplaced = _side(levels, a, measures, medium)
        shapes = _stacked(upper, lower, medium)
    notes = tuple(_notes(design, levels, measures, (*unplaced, *more)))
    whole = no_narrower(extent(shapes, medium).grown(_MARGIN * medium.lettering), medium)
    return Figure(NAME, _description(design, stand, notes), shapes, whole, tuple(_balloons(design, levels, a)),
                  notes)


def _stacked(upper: tuple[Shape, ...], lower: tuple[Shape, ...], medium: Medium) -> tuple[Shape, ...]:
    """The view from above below the other, where there is one."""
    if not lower:
        return upper
    drop = extent(upper, medium).bottom + _BETWEEN * medium.lettering - extent(lower, medium).top
    return (*upper, *moved(lower, 0.0, drop))


def _side(levels: Levels, a: Arrangement, measures: Measures,
          medium: Medium) -> tuple[tuple[Shape, ...], list[Span]]:
    stand = levels.stand
    drawn: tuple[Shape, ...] = (*side(levels, a, medium), *_pad_angle(levels, medium))
    if stand.balance is not None:
        at = (0.0, levels.y(stand.balance))
        drawn = (*drawn, Group(tuple(balance(at, medium, {"part": "balance-mark"})), {"part": "balance"},
                               "Balance point"))
    body = extent(drawn, medium)
    told = callouts(list(_told(levels, a, measures, medium)), "left", body.left - 0.6 * medium.lettering, medium)
    placed = Dimensions(medium, tuple(boxes(drawn, medium)), [])
    unplaced = placed.place("right", list(_heights(levels, a, measures, medium)))
    return (*drawn, *told, *placed.shapes), unplaced


def _pad_angle(levels: Levels, medium: Medium) -> tuple[Shape, ...]:
    """The angle of the left pad from straight below, as an arc; its leader says how much it is."""
    stand = levels.stand
    if not has_pads(stand):
        return ()
    radius = (stand.bearing_radius or 0.0) * levels.scale + 1.2 * medium.lettering
    first, last = math.pi / 2, math.pi / 2 + math.radians(stand.pad_angle or 0.0)
    line = Polyline(arc((0.0, 0.0), radius, first, last), Pen(THIN), data={"part": "pad-angle"})
    return (Group((line,), {"part": "angle"}, ""),)


def _told(levels: Levels, a: Arrangement, measures: Measures, medium: Medium) -> Iterator[Callout]:
    """What the leaders on the left say."""
    stand, scale = levels.stand, levels.scale
    if stand.bearing_radius and stand.pivot is not None:
        radius, turn = stand.bearing_radius * scale, math.radians(40)
        yield Callout("mount.bearing.radius", (-radius * math.cos(turn), -radius * math.sin(turn)),
                      phrase("bearing ", RADIUS, measures.length(stand.bearing_radius, "mount.bearing.radius")))
    if has_pads(stand) and stand.pad_angle is not None:
        turn = math.radians(stand.pad_angle * 0.6)
        reach = (stand.bearing_radius or 0.0) * scale + 1.2 * medium.lettering
        at = (-math.sin(turn) * reach, math.cos(turn) * reach)
        yield Callout("mount.bearing.pad_angle", at,
                      phrase("pads ", measures.angle(stand.pad_angle, "mount.bearing.pad_angle")),
                      level=at[1] + medium.lettering)
    if stand.balance is not None:
        yield Callout("balance.station", (0.0, levels.y(stand.balance)),
                      phrase("balance ", measures.result("balance.station")), on_edge=False,
                      level=levels.y(stand.balance) + 1.8 * medium.lettering)
    yield Callout("focuser.station", (-envelope_radius(a) * scale, levels.y(a.focuser_station)),
                  phrase("focuser ", measures.result("focuser.station")))
    if stand.swing_radius is not None and stand.tail_radius is not None and stand.tail is not None:
        yield Callout("mount.swing_radius", (-stand.tail_radius * scale, levels.y(stand.tail)),
                      phrase("swing ", RADIUS, measures.result("mount.swing_radius")))


def _heights(levels: Levels, a: Arrangement, measures: Measures, medium: Medium) -> Iterator[Span]:
    """Heights above the ground and stations from the mirror's face, none of which cross."""
    stand, scale = levels.stand, levels.scale
    face = levels.y(0.0)

    def span(name: str, one: float, other: float, words: Words) -> Span:
        return Span(name, min(one, other), max(one, other), (words,))

    if stand.pivot is not None and abs(stand.pivot) * scale > medium.arrow:
        yield span("mount.pivot", face, 0.0, measures.length(stand.pivot, "mount.pivot"))
    elif stand.pivot is None and stand.balance is not None:
        yield span("balance.station", face, 0.0, measures.result("balance.station"))
    if stand.ground is None:
        return
    ground = stand.ground * scale
    yield span("mount.pivot_height", 0.0, ground, measures.length(stand.ground, "mount.pivot_height"))
    if "mount.push_height" in measures.design.results:
        yield span("mount.push_height", levels.y(a.focuser_station), ground,
                   measures.result("mount.push_height"))
    if stand.floor:
        floor = ground - stand.floor * scale
        yield span("mount.floor", floor, ground, measures.length(stand.floor, "mount.floor"))
        if stand.swing_radius and "mount.swing_clearance" in measures.design.results:
            lowest = stand.swing_radius * scale
            clear = span("mount.swing_clearance", lowest, floor, measures.result("mount.swing_clearance"))
            if lowest < floor:
                yield clear


def _above(design: Design, stand: Stand, scale: float,
           medium: Medium) -> tuple[tuple[Shape, ...], list[Span]]:
    """The view from above, about the upright axis; nothing where no feet are known."""
    if not feet_places(stand):
        return (), []
    measures = Measures(design)
    drawn = from_above(stand, arrangement_from(design), scale, medium)
    body = extent(drawn, medium)
    told: list[Callout] = []
    if stand.stands_out is not None:
        turn = math.radians(150)
        out = stand.stands_out * scale
        told.append(Callout("mount.centre_stands_out", (out * math.cos(turn), -out * math.sin(turn)),
                            phrase("centre of mass within ", RADIUS, measures.result("mount.centre_stands_out")),
                            level=-0.8 * (stand.feet_radius or 0.0) * scale))
    words = callouts(told, "left", body.left - 0.6 * medium.lettering, medium)
    placed = Dimensions(medium, tuple(boxes(drawn, medium)), [])
    unplaced = placed.place("below", list(feet_spans(stand, measures, scale)))
    if stand.offset:
        unplaced += placed.place("right", [Span("mount.offset", -stand.offset * scale, 0.0,
                                                (measures.length(stand.offset, "mount.offset"),))])
    return (*drawn, *words, *placed.shapes), unplaced


_KINDS = {"rocker": "Rocker", "altaz": "Altazimuth mount", "equatorial": "Equatorial mount", "": "Telescope"}
_SPOKEN = {"mount.pivot": "Pivot’s station", "mount.pivot_height": "Pivot above the ground",
           "mount.push_height": "Focuser above the ground, tube upright", "mount.floor": "Floor above the ground",
           "mount.swing_clearance": "Tail clears the floor by", "mount.feet_radius": "Feet from the upright axis",
           "mount.feet_reach": "Reach of the feet", "mount.offset": "Tube’s axis from the upright axis",
           "balance.station": "Balance point’s station"}


def _notes(design: Design, levels: Levels, measures: Measures, unplaced: tuple[Span, ...]) -> Iterator[Runs]:
    results, stand = design.results, levels.stand
    yield measures.dimensions_note()
    yield sentence("Stations from the middle of the primary’s face, towards the sky")
    if levels.drawn.gap:
        yield sentence("Drawn broken above the pivot; heights and stations are true")
    for span in unplaced:
        yield sentence(f"{_SPOKEN[span.name]} ", *span.runs)
    if "balance.pivot_arm" in results and stand.pivot is not None:
        arm = measures.result("balance.pivot_arm")
        way = "mirror" if arm.text.startswith(MINUS) else "sky"
        yield sentence("The balance point lies ", Words(arm.text.lstrip(MINUS), result=arm.result),
                       f" from the pivot, towards the {way}")
    if "mount.load" in results:
        yield sentence("The mount carries ", measures.result("mount.load", unit=True))
    if "mount.tail_radius" in results and stand.tail is not None and stand.swing_radius is not None:
        yield sentence("Hindmost edge off the axis ", measures.result("mount.tail_radius"))
    if (clear := measures.number("mount.swing_clearance")) is not None and clear <= 0:
        yield sentence("The tail strikes the floor: clearance ", measures.result("mount.swing_clearance"))
    if stand.feet:
        yield sentence(Words(str(stand.feet), key="mount.feet"), " feet")
    if "mount.tipping_push" in results:
        yield sentence("A level push of ", measures.result("mount.tipping_push", unit=True),
                       " at the focuser tips it, tube upright")
    if "rocker.push" in results:
        yield sentence(measures.result("rocker.push", unit=True), " at the focuser moves it in altitude")
    if stand.kind == "equatorial":
        yield sentence("An equatorial mount turns about its own axes; the telescope is clamped at its balance point")


def _description(design: Design, stand: Stand, notes: tuple[Runs, ...]) -> str:
    measures = Measures(design)
    said = [f"{_KINDS[stand.kind]} from the side, tube upright"
            + (", and from above." if feet_places(stand) else ".")]
    for name, words in _SPOKEN.items():
        if name in design.results:
            said.append(f"{words} {measures.result(name).text}.")
        elif name == "mount.pivot" and stand.pivot is not None:
            said.append(f"{words} {measures.length(stand.pivot, name).text}.")
        elif (value := _said(design, name)) is not None and stand.kind != "equatorial":
            said.append(f"{words} {measures.length(value, name).text}.")
    if stand.bearing_radius:
        said.append(f"Bearing radius {measures.length(stand.bearing_radius, 'mount.bearing.radius').text}.")
    if stand.pad_angle is not None:
        said.append(f"Pads {measures.angle(stand.pad_angle, 'mount.bearing.pad_angle').text} from straight below.")
    for name, words in (("focuser.station", "Focuser’s station"),
                        ("mount.swing_radius", "Swing of the tail, radius"),
                        ("mount.centre_stands_out", "Centre of mass stays within a radius of")):
        if name in design.results:
            said.append(f"{words} {measures.result(name).text}.")
    return " ".join([*said, *map(plain, notes)])


def _said(design: Design, name: str) -> float | None:
    section, _, key = name.partition(".")
    value = getattr(design.build.mount, key, None) if section == "mount" and design.build.mount else None
    return value if isinstance(value, float) else None


def _balloons(design: Design, levels: Levels, a: Arrangement) -> Iterator[Balloon]:
    stand, scale = levels.stand, levels.scale
    places: dict[DrawnAs, Point] = {"primary": (a.blank_diameter / 4 * scale, levels.y(-5.0))}
    if stand.bearing_radius:
        turn = math.radians(20)
        radius = stand.bearing_radius * scale
        places["bearing"] = (radius * math.cos(turn), -radius * math.sin(turn))
    if a.frame:
        places["frame"] = (envelope_radius(a) * scale, levels.y(a.focuser_station - 0.3 * a.aperture))
    if stand.ground is not None and feet_places(stand):
        places["foot"] = (max(place[0] for place in feet_places(stand)) * scale, stand.ground * scale)
    for thing, place in places.items():
        for part in shown(design, thing)[:1]:
            yield Balloon(part.ref, place)


SHEET = SheetKind(
    key=NAME, title="Pivot, balance and feet", document_type="Assembly drawing",
    caption="Where it turns, where it balances and where it stands: upright, as it is easiest to tip.", make=make)
