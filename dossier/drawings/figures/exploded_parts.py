"""The parts of an exploded view, each drawn to scale where it belongs, telescope upright, sky up, focuser to the left.

Only what is known by its size is drawn; a clip, whose size nobody says, as a mark at its place.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_parts as ga
from dossier.drawings.arrangement import Arrangement, Ring
from dossier.drawings.figures.breaks import Broken, break_between, broken
from dossier.drawings.figures.upper_section import Turned, front_edge, turned
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    PHANTOM,
    THIN,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Shape,
    View,
    Wash,
)

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

# Of a frame too long for the sheet, the stretch shown, in apertures; and of each end, what has to be seen.
_SHOWN, _END = 1.0, 0.25


@dataclass(frozen=True, slots=True)
class Piece:
    """A part by itself: ``thing`` it is drawn as, its name, its shapes, and a point of it for leader and balloon.

    ``aside`` counts how many pieces stand between it and the axis, along the focuser's own axis.
    """

    thing: DrawnAs
    name: str
    shapes: tuple[Shape, ...]
    at: Point
    aside: int = 0


def rows(design: Design, a: Arrangement, scale: float, medium: Medium) -> tuple[tuple[Piece, ...], ...]:
    """What stands on the axis from the sky down, what stands beside it on the focuser's axis in the same row."""
    view = View(scale, upright=True)
    found = (_front(a, view, medium), _spider(design, a, view), (*_diagonal(a, view, medium), *_focuser(a, view)),
             _frame(design, a, view, medium), _clips(a, view, medium), _primary(a, view, medium),
             _springs(design, a, view, medium))
    return tuple(pieces for each in found if (pieces := tuple(each)))


def _front(a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    group = front_edge(a, view, medium)
    if group.members and a.front_station is not None and a.front_opening:
        yield Piece("front", "Front ring", (group,), view.at(a.front_station, -a.front_opening / 2))


def _spider(design: Design, a: Arrangement, view: View) -> Iterator[Piece]:
    said = design.build.spider
    if not a.vanes or said is None:
        return
    station, hub, reach = ga.vane_station(a), ga.hub_radius(a), ga.inside_radius(a)
    # Turned into the plane of the drawing, so that their length is seen.
    lines = tuple(Polyline(view.points([(station, side * hub), (station, side * reach)]), Pen(OUTLINE),
                           data={"part": "vane"}) for side in ((1, -1) if a.vanes > 1 else (-1,)))
    yield Piece("vane", f"{a.vanes} vane{'s' if a.vanes > 1 else ''}", (Group(lines, {"part": "spider"}, "Spider"),),
                view.at(station, -reach))


def _diagonal(a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    group = ga.diagonal(a, view, medium)
    face = tuple(shape for shape in group.members if not _is(shape, "holder"))
    yield Piece("diagonal", "Diagonal", (Group(face, {"part": "diagonal"}, "Diagonal"),),
                view.at(a.diagonal_station - a.minor_axis * 0.2, -a.offset - a.minor_axis * 0.2))
    if holder := tuple(shape for shape in group.members if _is(shape, "holder")):
        yield Piece("holder", "Holder", (Group(holder, {"part": "holder"}, "Holder"),),
                    view.at(ga.holder_end(a), -a.offset - (a.holder_diameter or 0.0) * 0.3))


def _is(shape: Shape, part: str) -> bool:
    return isinstance(shape, Polyline) and shape.data.get("part") == part


def _focuser(a: Arrangement, view: View) -> Iterator[Piece]:
    group = ga.focuser(a, view)
    if group.members and a.bore:
        edge = a.focuser_station - a.bore * ga.BODY_WIDTH / 2
        yield Piece("focuser", "Focuser", (group,), view.at(edge, a.mounting_radius + a.focuser_height * 0.3), 1)
    group = ga.eyepiece(a, view)
    if group.members and a.bore:
        edge = a.focuser_station - a.bore * ga.EYEPIECE_WIDTH / 2
        yield Piece("eyepiece", "Eyepiece", (group,), view.at(edge, a.intercept + a.bore * 0.6), 2)


def _clips(a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    if a.clips is None:
        return
    mark, places = 0.6 * medium.lettering / view.scale, _across(a.clips)
    shapes = []
    for place in places:
        face = ga.mirror_depth(a, min(abs(place), a.blank_diameter / 2))
        shapes.append(Polyline(view.points([(face, place), (face + mark, place)]), Pen(OUTLINE), data={"part": "clip"}))
    yield Piece("clip", f"{a.clips.count} clip{'s' if a.clips.count > 1 else ''}",
                (Group(tuple(shapes), {"part": "clips"}, "Clips"),), view.at(mark / 2, min(places)))


def _across(ring: Ring) -> list[float]:
    """Where the members of a ring stand across the axis, towards the focuser; those at one place once."""
    return sorted({round(ring.radius * math.cos(math.radians(ring.turned_deg + 360 * index / ring.count)), 6)
                   for index in range(ring.count)})


def _primary(a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    back = ga.mirror_back(a)
    middle = (back or 0.0) / 2
    yield Piece("primary", "Primary mirror", (ga.primary(a, view, medium),), view.at(middle, -a.blank_diameter * 0.35))


def _springs(design: Design, a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    """The springs as they are before they are mounted; on the mirror's back, or on a plate whose place is not known."""
    push = design.build.cell.push if design.build.cell else None
    spring = push.spring if push else None
    length = (spring.free_length or spring.compressed_to) if spring else None
    if a.pushes is None or not length:
        return
    top, wide = ga.mirror_back(a) or 0.0, 0.3 * medium.lettering / view.scale
    shapes = []
    for place in _across(a.pushes):
        turns = 6
        inner = [(top - length * (step + 0.5) / turns, place + (wide if step % 2 else -wide)) for step in range(turns)]
        shapes.append(Polyline(view.points([(top, place), *inner, (top - length, place)]), Pen(THIN),
                               data={"part": "spring"}))
        shapes.append(Polyline(view.points([(top + wide, place), (top - length - wide, place)]), Pen(CENTRE),
                               data={"part": "push"}))
    lowest = min(_across(a.pushes))
    yield Piece("spring", f"{a.pushes.count} spring{'s' if a.pushes.count > 1 else ''}",
                (Group(tuple(shapes), {"part": "springs"}, "Springs"),), view.at(top - length / 2, lowest - wide))


def _frame(design: Design, a: Arrangement, view: View, medium: Medium) -> Iterator[Piece]:
    """Tube, poles or truss from outside, its middle left out where it is long."""
    plan, frame = a.frame, design.build.frame
    if plan is None or frame is None:
        return
    length = plan.upper_station - plan.lower_station
    end = min(_END * a.aperture, length / 2)
    drawn = broken(length, view.scale, _SHOWN * a.aperture * view.scale, ((0.0, end), (length - end, length)), medium)
    if plan.kind == "tube":
        half = plan.outer_diameter / 2
        shapes = tuple(_bars((-half, half), (-half, half), drawn, Pen(OUTLINE), medium, view, plan.lower_station))
        name = "Tube"
    else:
        nodes = plan.count if plan.kind == "poles" else plan.count // 2
        poles = turned(nodes, frame.turned)
        pen = Pen(OUTLINE if poles.said else PHANTOM)
        shapes = tuple(shape for low, high in sorted(set(_axes(poles, plan.kind, plan.count, plan.lower_radius,
                                                               plan.upper_radius)))
                       for shape in _bars(_wide(low, plan.outer_diameter), _wide(high, plan.outer_diameter), drawn, pen,
                                          medium, view, plan.lower_station))
        name = f"{plan.count} poles" if plan.kind == "poles" else f"Truss of {plan.count} poles"
    group = Group(shapes, {"part": "frame", "length": f"{length:.3f}"}, name)
    yield Piece("frame", name, (group,), _right_edge(shapes))


def _right_edge(shapes: tuple[Shape, ...]) -> Point:
    """The middle of the right edge of the member farthest to the right, below the break."""
    members = [shape for shape in shapes if isinstance(shape, Polyline) and shape.data.get("part") == "member"]
    lowest = max(y for shape in members for _, y in shape.points)
    edges = [shape.points[:2] for shape in members if max(y for _, y in shape.points) > lowest - 1e-6]
    return max(((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in edges)


def _wide(middle: float, diameter: float) -> tuple[float, float]:
    return (middle - diameter / 2, middle + diameter / 2)


def _axes(poles: Turned, kind: str, count: int, lower: float, upper: float) -> Iterator[tuple[float, float]]:
    """Heights of each member's lower and upper end across the axis; those behind one another once."""
    for angle in poles.angles_deg:
        top = round(upper * math.cos(math.radians(angle)), 6)
        for shift in (0.0,) if kind == "poles" else (-360 / count, 360 / count):
            yield round(lower * math.cos(math.radians(angle + shift)), 6), top


def _bars(low: tuple[float, float], high: tuple[float, float], drawn: Broken, pen: Pen, medium: Medium, view: View,
          start: float) -> Iterator[Shape]:
    """A straight thing from its lower to its upper end, both given as edges across the axis, with its break."""
    def at(along: float, side: int) -> Point:
        share = along / drawn.length
        x, _ = view.at(0.0, low[side] + share * (high[side] - low[side]))
        return (x, -start * view.scale - drawn.at(along))

    for first, last in drawn.pieces:
        # The upper piece begins where the break line is, not where the lower one ends.
        corners = (at(first, 0), at(last, 0), at(last, 1), at(first, 1))
        if drawn.gap and first:
            base = corners[1][1] + (last - first) * drawn.scale
            corners = ((corners[0][0], base), corners[1], corners[2], (corners[3][0], base))
        elif drawn.gap:
            corners = (corners[1], corners[0], corners[3], corners[2])
        yield Polyline(corners, pen, Wash("ground"), closed=drawn.gap is None, data={"part": "member"})
        if drawn.gap:
            left, right = sorted((corners[0], corners[3]))
            yield break_between(left, right, medium)
