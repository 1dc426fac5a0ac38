"""Pivot and balance: how the telescope stands, from the side with its tube upright, from the front and from above.

Upright is where a push at the focuser has its longest lever, and where the tail comes nearest to the floor.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from dossier.drawings import scales
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.callouts import Callout, callouts
from dossier.drawings.figures.cell_signs import balance
from dossier.drawings.figures.measures import DIAMETER, RADIUS, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import arc, extent, moved, no_narrower
from dossier.drawings.figures.rocker_boards import Boards, boards_of, from_the_front, from_the_side
from dossier.drawings.figures.rocker_boards import from_above as boards_from_above
from dossier.drawings.figures.rocker_detail import detail
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
from dossier.drawings.projection import Projection, beside, projection_of
from dossier.drawings.scene import THIN, Group, Medium, Pen, Point, Polyline, Shape, Text, Words

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

NAME = "pivot-and-balance"
_BETWEEN, _MARGIN = 1.6, 0.2
# A figure taller than so many type sizes, which are the room on a sheet, has its tube broken.
_TALLEST, _TALLEST_PHONE = 40.0, 54.5
# On a phone, how many times as large as the rest the bearing may be drawn.
_FACTORS = (4.0, 3.0, 2.5, 2.0, 1.5, 1.0)


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
        offset=(mount.offset or 0.0) if mount else 0.0, feet_height=mount.feet_height if mount else None)


def _tail(design: Design, measures: Measures) -> float | None:
    mount = design.build.mount
    return mount.tail if mount and mount.tail is not None else measures.number("frame.lower_end")


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """All views at this scale. None where neither pivot nor balance point is known."""
    stand = stand_of(design)
    if stand is None:
        return None
    drawn = _Drawn(design, stand, boards_of(design, stand), arrangement_from(design), Measures(design), medium, scale)
    shapes, levels, unplaced = _laid_out(drawn, width)
    notes = tuple(_notes(design, levels, drawn.measures, tuple(unplaced)))
    whole = no_narrower(extent(shapes, medium).grown(_MARGIN * medium.lettering), medium)
    return Figure(NAME, _description(design, stand, notes), shapes, whole, tuple(_balloons(drawn, levels)), notes)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What is drawn and how."""

    design: Design
    stand: Stand
    boards: Boards | None
    a: Arrangement
    measures: Measures
    medium: Medium
    scale: float


def _laid_out(drawn: _Drawn, width: float) -> tuple[tuple[Shape, ...], Levels, list[Span]]:
    """The view from the side with those from the front and from above where the projection has them; the bearing,
    larger, in the fourth corner. On a phone one below the other, without the front."""
    medium, stand = drawn.medium, drawn.stand
    lower, lost = _above(drawn)
    front, more = from_the_front(drawn.boards, stand, drawn.measures, drawn.scale, medium) if (
        drawn.boards and medium.unit == "mm") else ((), [])
    bare = has_pads(stand)
    levels = levels_of(stand, drawn.a, drawn.scale, medium)
    upper, unplaced = _side(drawn, levels, told=not bare)
    excess = _height((upper, lower), medium) - (_TALLEST if medium.unit == "mm" else _TALLEST_PHONE) * medium.lettering
    if excess > 0:
        levels = levels_of(stand, drawn.a, drawn.scale, medium, excess)
        upper, unplaced = _side(drawn, levels, told=not bare)
    projection = projection_of(drawn.design)
    corner: Literal["left", "right"] = "left" if front and lower and projection == "third" else "right"
    larger = _bearing(drawn, upper, lower, width, corner) if bare else ()
    if bare and not larger:
        upper, unplaced = _side(drawn, levels, told=True)
    shapes = _arranged(upper, front, lower, larger, medium, projection, corner)
    return shapes, levels, [*unplaced, *lost, *more]


def _height(rows: Iterable[tuple[Shape, ...]], medium: Medium) -> float:
    boxes_of = [extent(row, medium) for row in rows if row]
    return sum(box.bottom - box.top for box in boxes_of) + _BETWEEN * medium.lettering * (len(boxes_of) - 1)


def _arranged(upper: tuple[Shape, ...], front: tuple[Shape, ...], lower: tuple[Shape, ...], larger: tuple[Shape, ...],
              medium: Medium, projection: Projection, corner: Literal["left", "right"]) -> tuple[Shape, ...]:
    """The views in their places; the front, which is seen from the left, keeps the level of the side, the view from
    above its middle. The larger bearing stands ``corner`` of the view from above."""
    gap = _BETWEEN * medium.lettering
    shapes: tuple[Shape, ...] = (Group(upper, {"view": "side"}),)
    box = extent(upper, medium)
    if front:
        shift = beside(box, extent(front, medium), "left", projection, gap)
        shapes = (*shapes, Group(moved(front, *shift), {"view": "front"}))
    row = extent(shapes, medium)
    if lower:
        shift = beside(row, extent(lower, medium), "above", projection, gap)
        shapes = (*shapes, Group(moved(lower, *shift), {"view": "above"}))
    if not larger:
        return shapes
    own = extent(larger, medium)
    if medium.unit != "mm":
        below = extent(shapes, medium).bottom + gap
        return (*shapes, *moved(larger, -(own.left + own.right) / 2, below - own.top))
    if not lower:
        return (*shapes, *moved(larger, box.left - own.left, row.bottom + gap - own.top))
    plan = extent(lower, medium)
    across = plan.left - gap - own.right if corner == "left" else plan.right + gap - own.left
    return (*shapes, *moved(larger, across, beside(row, own, "above", projection, gap)[1]))


def _bearing(drawn: _Drawn, upper: tuple[Shape, ...], lower: tuple[Shape, ...], width: float,
             corner: Literal["left", "right"]) -> tuple[Shape, ...]:
    """The bearing at the largest scale that has room ``corner`` of the view from above, with its name; else nothing."""
    medium, size = drawn.medium, drawn.medium.lettering
    lying, radius = medium.unit == "mm", drawn.stand.bearing_radius or 0.0
    room, height = width, math.inf
    if lying:
        box = extent(upper, medium)
        own = extent(lower, medium) if lower else None
        if own:
            beyond = own.right - min(box.left, own.left) if corner == "right" else max(box.right, own.right) - own.left
            room = width - (max(beyond, 0.0) + _BETWEEN * size)
        height = max(_TALLEST * size - (box.bottom - box.top) - _BETWEEN * size, own.bottom - own.top if own else 0.0)
    for scale in scales.PREFERRED if lying else [factor * drawn.scale for factor in _FACTORS]:
        if scale < 0.99 * drawn.scale or 1.7 * radius * scale > room:
            continue
        shapes = detail(drawn.stand, drawn.boards, drawn.measures, scale, medium)
        box = extent(shapes, medium)
        if box.right - box.left <= room and box.bottom - box.top + 1.8 * size <= height:
            words = f"bearing ({scales.ratio(scale)})" if lying else "bearing, enlarged"
            title = Text(((box.left + box.right) / 2, box.top - 0.9 * size), (Words(words),), "middle")
            return title, Group(shapes, {"view": "bearing", "scale": f"{scale:.9g}"}, "Bearing and pads")
    return ()


def _side(drawn: _Drawn, levels: Levels, *, told: bool) -> tuple[tuple[Shape, ...], list[Span]]:
    """The telescope on its mount; ``told`` with the bearing's radius and pads, which a larger view has otherwise."""
    medium, measures, a = drawn.medium, drawn.measures, drawn.a
    boards = from_the_side(drawn.boards, drawn.scale) if drawn.boards else ()
    shapes: tuple[Shape, ...] = (*boards, *side(levels, a, medium), *(_pad_angle(levels, medium) if told else ()))
    if levels.stand.balance is not None:
        at = (0.0, levels.y(levels.stand.balance))
        shapes = (*shapes, Group(tuple(balance(at, medium, {"part": "balance-mark"})), {"part": "balance"},
                                 "Balance point"))
    body = extent(shapes, medium)
    words = [each for each in _told(levels, a, measures, medium) if told or not each.name.startswith("mount.bearing")]
    told_beside = callouts(words, "left", body.left - 0.6 * medium.lettering, medium)
    placed = Dimensions(medium, tuple(boxes(shapes, medium)), [])
    unplaced = placed.place("right", list(_heights(levels, a, measures, medium)))
    if drawn.boards and drawn.boards.width and not drawn.boards.board_half:
        half = drawn.boards.width / 2 * drawn.scale
        unplaced += placed.place("below", [Span("mount.rocker.width", -half, half, (
            measures.length(drawn.boards.width, "mount.rocker.width"),))])
    return (*shapes, *told_beside, *placed.shapes), unplaced


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


def _above(drawn: _Drawn) -> tuple[tuple[Shape, ...], list[Span]]:
    """The view from above, about the upright axis; nothing where no feet are known."""
    stand, scale, medium, measures = drawn.stand, drawn.scale, drawn.medium, drawn.measures
    if not feet_places(stand):
        return (), []
    boards = drawn.boards
    stands = from_above(stand, drawn.a, scale, medium, board=bool(boards and boards.board_half))
    shapes = (*(boards_from_above(boards, scale) if boards else ()), *stands)
    placed = Dimensions(medium, tuple(boxes(shapes, medium)), [])
    across = list(feet_spans(stand, measures, scale))
    if boards and boards.board_half:
        key = f"mount.ground.{'side' if boards.board_square else 'diameter'}"
        wide = measures.length(2 * boards.board_half, key)
        across.append(Span(key, -boards.board_half * scale, boards.board_half * scale,
                           (wide,) if boards.board_square else phrase(DIAMETER, wide)))
    unplaced = placed.place("below", across)
    if boards and boards.width and boards.board_half:
        half = boards.width / 2 * scale
        unplaced += placed.place("above", [Span("mount.rocker.width", -half, half, (
            measures.length(boards.width, "mount.rocker.width"),))])
    if stand.offset:
        unplaced += placed.place("right", [Span("mount.offset", -stand.offset * scale, 0.0,
                                                (measures.length(stand.offset, "mount.offset"),))])
    return (*shapes, *placed.shapes), unplaced


_KINDS = {"rocker": "Rocker", "altaz": "Altazimuth mount", "equatorial": "Equatorial mount", "": "Telescope"}
_SPOKEN = {"mount.pivot": "Pivot’s station", "mount.pivot_height": "Pivot above the ground",
           "mount.push_height": "Focuser above the ground, tube upright", "mount.floor": "Floor above the ground",
           "mount.swing_clearance": "Tail clears the floor by", "mount.feet_radius": "Feet from the upright axis",
           "mount.feet_reach": "Reach of the feet", "mount.offset": "Tube’s axis from the upright axis",
           "balance.station": "Balance point’s station", "mount.feet_height": "Feet high",
           "mount.ground.thickness": "Ground board thick", "mount.ground.diameter": "Ground board across",
           "mount.ground.side": "Ground board across", "mount.rocker.thickness": "Rocker’s boards thick",
           "mount.rocker.width": "Rocker’s sides wide", "mount.rocker.height": "Rocker’s sides high",
           "mount.rocker.between": "Between the rocker’s sides", "mount.rocker.front": "Rocker’s front high",
           "mount.bearing.pad_length": "Pads long", "mount.bearing.pad_thickness": "Pads thick"}


def _notes(design: Design, levels: Levels, measures: Measures, unplaced: tuple[Span, ...]) -> Iterator[Runs]:
    stand = levels.stand
    yield measures.dimensions_note()
    yield sentence("Stations from the middle of the primary’s face, towards the sky")
    if levels.drawn.gap:
        yield sentence("Drawn broken above the pivot; heights and stations are true")
    if unplaced:
        # Dimensions that have no room.
        told = [phrase(f"; {_SPOKEN[span.name][0].lower()}{_SPOKEN[span.name][1:]} ", *span.runs)
                for span in sorted(unplaced, key=lambda each: each.name)]
        first, *others = (run for runs in told for run in runs)
        yield sentence(first.text.removeprefix("; "), *others)
    if stand.stands_out is not None:
        yield sentence("The centre of mass stays within ", RADIUS, measures.result("mount.centre_stands_out"),
                       " of the upright axis")
    if (clear := measures.number("mount.swing_clearance")) is not None and clear <= 0:
        yield sentence("The tail strikes the floor: clearance ", measures.result("mount.swing_clearance"))
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
    found: object = design.build
    for key in name.split("."):
        found = getattr(found, key, None)
    return found if isinstance(found, float) else None


def _balloons(drawn: _Drawn, levels: Levels) -> Iterator[Balloon]:
    stand, scale, a, boards = levels.stand, levels.scale, drawn.a, drawn.boards
    places: dict[DrawnAs, Point] = {"primary": (a.blank_diameter / 4 * scale, levels.y(-5.0))}
    if stand.bearing_radius:
        turn = math.radians(20)
        radius = stand.bearing_radius * scale
        places["bearing"] = (radius * math.cos(turn), -radius * math.sin(turn))
    if a.frame:
        places["frame"] = (envelope_radius(a) * scale, levels.y(a.focuser_station - 0.3 * a.aperture))
    if boards and boards.width and boards.height:
        places["rocker"] = (boards.width / 2 * scale, (boards.floor - 0.35 * boards.height) * scale)
    if stand.ground is not None and feet_places(stand):
        high = boards.feet_height * scale if boards and boards.feet_height else 0.4 * drawn.medium.lettering
        places["foot"] = (max(place[0] for place in feet_places(stand)) * scale, stand.ground * scale - 0.7 * high)
    for thing, place in places.items():
        for part in shown(drawn.design, thing)[:1]:
            yield Balloon(part.ref, place)


SHEET = SheetKind(
    key=NAME, title="Pivot, balance and feet", document_type="Assembly drawing",
    caption="Where it turns, where it balances and where it stands: upright, as it is easiest to tip.", make=make)
