"""The parts of a general arrangement, in section through the plane of the fold.

What lies in that plane is drawn wide; what lies behind it, narrow. What is known for its place but not for its size
(a focuser's body, an eyepiece, the box and ring that hold the ends of poles) has a chain outline with two dots, as
ISO 128 draws neighbouring parts. Angles about the axis are counted from the focuser's side. Where the spec does not say
how poles and vanes are turned, the focuser stands midway between two of them.

Vanes stand radially about the axis, and so does the hub: only the diagonal, its holder and the hole for the holder in
the hub are set off by the offset. What is assumed of holder and vanes has such a chain outline too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dossier.drawings import arrangement_vanes as vanes_of
from dossier.drawings.arrangement import Arrangement, Frame, Ring
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
    Segments,
    Shape,
    View,
    Wash,
    hatching,
)

_CUT, _BEYOND, _NEIGHBOUR = Pen(OUTLINE), Pen(THIN), Pen(PHANTOM)
_PROFILE_STEPS = 32
# Widths of a neighbouring part in bores, where the spec gives only the bore.
BODY_WIDTH, EYEPIECE_WIDTH, EYEPIECE_HEIGHT = 1.7, 1.25, 1.3


def parts(a: Arrangement, view: View, medium: Medium) -> tuple[Group, ...]:
    """Every part that the arrangement knows, from back to front."""
    made = (frame(a, view, medium), primary(a, view, medium), cell(a, view, medium), front(a, view, medium),
            spider(a, view, medium), diagonal(a, view, medium), focuser(a, view), eyepiece(a, view))
    return tuple(group for group in made if group.members or group.data['part'] == 'frame')


def azimuths(count: int, first_deg: float | None = None) -> tuple[float, ...]:
    """Angles of evenly spaced members from the focuser's side, radians; None has the focuser midway between two."""
    first = math.pi / count if first_deg is None else math.radians(first_deg)
    return tuple(first + index * 2 * math.pi / count for index in range(count))


def behind(angle: float) -> bool:
    """Whether something at this angle lies in the plane of the fold or behind it, and so stays when cut."""
    return math.sin(angle) >= -1e-9


def mostly_behind(upper: float, lower: float) -> bool:
    """Whether a member between two nodes at these angles lies more behind the plane of the fold than before it. Where
    that plane is one of symmetry, the others stand exactly in front of these."""
    return math.sin(upper) + math.sin(lower) >= -1e-9


def _in_plane(angle: float) -> bool:
    return abs(math.sin(angle)) < 1e-9


def mirror_depth(a: Arrangement, height: float) -> float:
    """Station of the primary's face at this height.

    The parabola through vertex and edge; at no height does it leave the conic of the same depth by more than a few
    thousandths of a millimetre, which no drawing shows.
    """
    return a.sagitta * (2 * height / a.aperture) ** 2


def mirror_back(a: Arrangement) -> float | None:
    """Station of the primary's back, where its thickness is known."""
    return None if a.edge_thickness is None else mirror_depth(a, a.blank_diameter / 2) - a.edge_thickness


def top_height(a: Arrangement) -> float:
    """Height of what stands furthest from the axis: the eyepiece, or the focal plane where no eyepiece is drawn."""
    return a.intercept + (a.bore * EYEPIECE_HEIGHT if a.bore and a.eyepiece else 0.0)


def primary(a: Arrangement, view: View, medium: Medium) -> Group:
    """The primary in section: its curve, its glass, its clear face."""
    half = a.blank_diameter / 2
    curve = [(mirror_depth(a, y), y) for y in _spread(half)]
    back = mirror_back(a)
    members: list[Shape] = []
    if back is not None:
        outline = view.points([*curve, (back, half), (back, -half)])
        members.append(Polyline(outline, _CUT, Wash("glass"), closed=True, data={"part": "primary-glass"}))
        members.append(Segments(hatching(outline, medium.lettering * 0.7), Pen(THIN, "ink", 0.7)))
    face = [(mirror_depth(a, y), y) for y in _spread(a.aperture / 2)]
    members.append(Polyline(view.points(face), _CUT, data={"part": "primary-face"}))
    return Group(tuple(members), {"part": "primary"}, "Primary mirror")


def _spread(half: float) -> list[float]:
    return [-half + 2 * half * step / _PROFILE_STEPS for step in range(_PROFILE_STEPS + 1)]


def cell(a: Arrangement, view: View, medium: Medium) -> Group:
    """Where pushes bear on the mirror's back and clips on its front."""
    members: list[Shape] = []
    back, mark = mirror_back(a), medium.lettering / view.scale
    if a.pushes and back is not None:
        for height in _heights(a.pushes):
            length = a.spring_length or mark
            axis = ((back + 0.3 * mark, height), (back - length - 0.6 * mark, height))
            members.append(Polyline(view.points(axis), Pen(CENTRE), data={"part": "push"}))
            if a.spring_length:
                members.append(Polyline(view.points(_spring(back, a.spring_length, height, 0.3 * mark)), _BEYOND,
                                        data={"part": "spring"}))
    if a.clips:
        for height in _heights(a.clips):
            face = mirror_depth(a, height)
            members.append(Polyline(view.points([(face, height), (face + 0.6 * mark, height)]), _CUT,
                                    data={"part": "clip"}))
    return Group(tuple(members), {"part": "cell"}, "Mirror cell")


def _heights(ring: Ring) -> Iterator[float]:
    for index in range(ring.count):
        angle = math.radians(ring.turned_deg + 360 * index / ring.count)
        if behind(angle):
            yield ring.radius * math.cos(angle)


def _spring(back: float, length: float, height: float, swing: float) -> list[Point]:
    """The simplified picture of a helical spring (ISO 2162): a zigzag."""
    turns = 6
    inner = [(back - length * (step + 0.5) / turns, height + (swing if step % 2 else -swing)) for step in range(turns)]
    return [(back, height), *inner, (back - length, height)]


def diagonal(a: Arrangement, view: View, medium: Medium) -> Group:
    """The diagonal in section at 45° with its offset, and its holder behind it."""
    half, middle, height = a.minor_axis / 2, a.diagonal_station, -a.offset
    inner, outer = (middle - half, height - half), (middle + half, height + half)
    members: list[Shape] = []
    depth = _glass_depth(a)
    if a.holder_diameter:
        end, radius = holder_end(a), a.holder_diameter / 2
        corners = [(holder_tip(a), height - radius), (middle + depth + radius, height + radius),
                   (end, height + radius), (end, height - radius)]
        members.append(Polyline(view.points(corners), _BEYOND if a.holder_length else _NEIGHBOUR, closed=True,
                                data={"part": "holder"}))
    if depth:
        # Sliced at 45° from a rod: its edge runs along the axis.
        corners = [inner, outer, (outer[0] + depth, outer[1]), (inner[0] + depth, inner[1])]
        outline = view.points(corners)
        members.append(Polyline(outline, _BEYOND, Wash("glass"), closed=True, data={"part": "diagonal-glass"}))
        if depth * view.scale > medium.lettering:
            members.append(Segments(across_the_face(outline, medium.lettering * 0.7), Pen(THIN, "ink", 0.7),
                                    {"part": "diagonal-hatching"}))
    members.append(Polyline(view.points([inner, outer]), _CUT, data={"part": "diagonal-face"}))
    return Group(tuple(members), {"part": "diagonal"}, "Diagonal mirror")


def across_the_face(outline: Sequence[Point], spacing: float) -> tuple[tuple[Point, Point], ...]:
    """Hatching of a diagonal square to its own face, the first side of ``outline``: never parallel to it."""
    (x0, y0), (x1, y1) = outline[:2]
    if (x1 - x0) * (y1 - y0) > 0:
        return hatching(outline, spacing)
    flipped = hatching([(-x, y) for x, y in outline], spacing)
    return tuple(((-left, y), (-right, z)) for (left, y), (right, z) in flipped)


def _glass_depth(a: Arrangement) -> float:
    """The diagonal's thickness along the axis."""
    return (a.diagonal_thickness or 0.0) * math.sqrt(2)


def holder_tip(a: Arrangement) -> float:
    """Station of the tip of the holder's sloping face, on the side away from the focuser."""
    return a.diagonal_station + _glass_depth(a) - (a.holder_diameter or a.minor_axis) / 2


def holder_end(a: Arrangement) -> float:
    """Station of the holder's sky end: where its length has it; else that of the shortest that backs the whole diagonal
    and, where no hub is said, reaches the vanes, which then hold it themselves."""
    if a.holder_length:
        return holder_tip(a) + a.holder_length
    reach = max(a.minor_axis, a.holder_diameter or 0.0) / 2
    shortest = a.diagonal_station + _glass_depth(a) + reach
    if a.vane_station is None or a.hub_diameter or not a.vanes:
        return shortest
    return max(shortest, a.vane_station + (vane_reach(a) or (a.vane_thickness or 0.0) / 2))


def vane_reach(a: Arrangement) -> float:
    """How far vanes reach from their station along the axis, as far as that is known."""
    depth = a.vane_thickness if a.vane_section == "rod" else a.vane_depth or 0.0
    return (depth or 0.0) / 2


def spider(a: Arrangement, view: View, medium: Medium) -> Group:
    """The vanes, at their screws or else the holder's sky end, out to the tube's inside or the front opening; the hub
    that they meet, and the stud on which the holder hangs where it ends before them."""
    reach, station = inside_radius(a), vane_station(a)
    members: list[Shape] = []
    if a.vanes and reach:
        placed = a.vane_station is not None
        said = placed and a.vanes_turned_deg is not None
        for angle in azimuths(a.vanes, a.vanes_turned_deg):
            if behind(angle):
                vane = vanes_of.Vane(angle, station, vane_start(a, angle), reach, a.vane_thickness, a.vane_depth,
                                     a.vane_section == "rod")
                pen = _NEIGHBOUR if not said else _CUT if _in_plane(angle) else _BEYOND
                members += vanes_of.side(vane, view, medium, pen)
        members += _hub(a, view, placed)
        if holder_end(a) < station - 1e-9 or not a.holder_diameter:
            start = holder_end(a) if a.holder_diameter else a.diagonal_station + _glass_depth(a)
            members.append(Polyline(view.points([(start, -a.offset), (station, -a.offset)]), _NEIGHBOUR,
                                    data={"part": "stud"}))
    return Group(tuple(members), {"part": "spider"}, "Spider")


def _hub(a: Arrangement, view: View, placed: bool) -> Iterator[Shape]:
    """The hub, about the axis: as deep as the vanes, as far as that is known."""
    if not a.hub_diameter:
        return
    half, station, depth = a.hub_diameter / 2, vane_station(a), vane_reach(a)
    if depth:
        corners = [(station - depth, half), (station + depth, half), (station + depth, -half), (station - depth, -half)]
        yield Polyline(view.points(corners), _NEIGHBOUR, closed=True, data={"part": "hub"})
    else:
        yield Polyline(view.points([(station, half), (station, -half)]), _CUT if placed else _NEIGHBOUR,
                       data={"part": "hub"})


def vane_station(a: Arrangement) -> float:
    """Station of the vanes: that of their screws, else the sky end of the holder."""
    return holder_end(a) if a.vane_station is None else a.vane_station


def hub_radius(a: Arrangement) -> float:
    """Radius of what the vanes meet in the middle: the hub, else the holder or the diagonal seen along the axis."""
    return (a.hub_diameter or max(a.minor_axis, a.holder_diameter or 0.0)) / 2


def vane_start(a: Arrangement, angle: float) -> float:
    """How far from the axis the vane at this angle begins: at the hub, which stands on the axis, else where it meets
    the holder's or the diagonal's outline, which stands off it."""
    return vanes_of.start(hub_radius(a), 0.0 if a.hub_diameter else a.offset, angle)


def inside_radius(a: Arrangement) -> float:
    """Radius at which the vanes end."""
    if a.frame and a.frame.kind == "tube" and a.frame.inner_diameter:
        return a.frame.inner_diameter / 2
    return a.front_opening / 2 if a.front_opening else a.mounting_radius


def frame(a: Arrangement, view: View, medium: Medium) -> Group:
    """Tube walls, or poles and truss members as they are seen from the side, with their end planes."""
    plan = a.frame
    if plan is None:
        return Group((), {"part": "frame"})
    if plan.kind == "tube":
        return Group(tuple(_tube_walls(a, plan, view, medium)), {"part": "frame"}, "Tube")
    members: list[Shape] = [*_neighbours(a, plan, view)]
    for low, high, in_plane in member_axes(plan, a.members_turned_deg):
        members.append(Polyline(view.points(_bar(low, high, plan.outer_diameter)), _CUT if in_plane else _BEYOND,
                                closed=True, data={"part": "member"}))
        members.append(Polyline(view.points([low, high]), Pen(CENTRE, "ink", 0.7), data={"part": "member-axis"}))
    return Group(tuple(members), {"part": "frame"}, "Poles" if plan.kind == "poles" else "Truss")


def _tube_walls(a: Arrangement, plan: Frame, view: View, medium: Medium) -> Iterator[Shape]:
    outer, inner = plan.outer_diameter / 2, (plan.inner_diameter or plan.outer_diameter) / 2
    low, high = plan.lower_station, plan.upper_station
    hole = (a.focuser_hole or a.bore or 0.0) / 2
    spans = [(1, low, a.focuser_station - hole), (1, a.focuser_station + hole, high), (-1, low, high)]
    thin = (outer - inner) * view.scale < 2 * medium.wide
    for side, start, end in spans:
        if end <= start:
            continue
        corners = view.points([(start, side * inner), (end, side * inner), (end, side * outer), (start, side * outer)])
        # A section too thin for hatching is filled (ISO 128-50).
        yield Polyline(corners, _BEYOND if thin else _CUT, Wash("ink") if thin else None, closed=True,
                       data={"part": "wall"})
        if not thin:
            yield Segments(hatching(corners, medium.lettering * 0.5), Pen(THIN, "ink", 0.7))


def member_axes(plan: Frame, turned_deg: float | None) -> Iterator[tuple[Point, Point, bool]]:
    """Each member's axis from lower to upper end, and whether it lies in the plane of the fold."""
    if plan.kind == "poles":
        for angle in azimuths(plan.count, turned_deg):
            if behind(angle):
                height = plan.lower_radius * math.cos(angle)
                yield (plan.lower_station, height), (plan.upper_station, height), _in_plane(angle)
        return
    nodes = plan.count // 2
    for upper in azimuths(nodes, turned_deg):
        for lower in (upper - math.pi / nodes, upper + math.pi / nodes):
            if mostly_behind(upper, lower):
                yield ((plan.lower_station, plan.lower_radius * math.cos(lower)),
                       (plan.upper_station, plan.upper_radius * math.cos(upper)), False)


def _bar(low: Point, high: Point, diameter: float) -> list[Point]:
    """The outline of a round bar seen from the side."""
    length = math.dist(low, high)
    across = (-(high[1] - low[1]) / length * diameter / 2, (high[0] - low[0]) / length * diameter / 2)
    return [(low[0] + across[0], low[1] + across[1]), (high[0] + across[0], high[1] + across[1]),
            (high[0] - across[0], high[1] - across[1]), (low[0] - across[0], low[1] - across[1])]


def _neighbours(a: Arrangement, plan: Frame, view: View) -> Iterator[Shape]:
    """What holds the members' ends: a box or ring below, an upper end that carries the focuser."""
    lower = plan.lower_radius + plan.outer_diameter / 2
    back = mirror_back(a)
    if back is not None and plan.lower_station > back:
        corners = [(back, lower), (plan.lower_station, lower), (plan.lower_station, -lower), (back, -lower)]
        yield Polyline(view.points(corners), _NEIGHBOUR, data={"part": "lower-end"})
    if a.front_station is not None and a.front_station > plan.upper_station:
        for side in (a.mounting_radius, -a.mounting_radius):
            yield Polyline(view.points([(plan.upper_station, side), (a.front_station, side)]), _NEIGHBOUR,
                           data={"part": "upper-end"})


def front(a: Arrangement, view: View, medium: Medium) -> Group:
    """The sky end: its opening, from the clear diameter out to the tube's outside or to the focuser's face."""
    members: list[Shape] = []
    if a.front_opening and a.front_station is not None:
        inside = a.front_opening / 2
        tube = a.frame.outer_diameter / 2 if a.frame and a.frame.kind == "tube" else 0.0
        outside = tube if tube > inside else max(a.mounting_radius, inside + medium.lettering / view.scale)
        for side in (1, -1):
            ends = [(a.front_station, side * inside), (a.front_station, side * outside)]
            members.append(Polyline(view.points(ends), _CUT, data={"part": "front-edge"}))
    return Group(tuple(members), {"part": "front"}, "Front ring")


def focuser(a: Arrangement, view: View) -> Group:
    """Mounting face, drawtube from the shoulder to its inner end, and the body between as a neighbouring part."""
    if not a.bore:
        return Group((), {"part": "focuser"})
    x, bore, body = a.focuser_station, a.bore / 2, a.bore * BODY_WIDTH / 2
    face, shoulder = a.mounting_radius, a.intercept
    inner = shoulder - a.drawtube if a.drawtube else face
    racked_in = face + a.focuser_height
    members: list[Shape] = []
    for side in (-1, 1):
        members += [
            Polyline(view.points([(x + side * body, face), (x + side * bore, face)]), _CUT, data={"part": "face"}),
            Polyline(view.points([(x + side * bore, inner), (x + side * bore, shoulder)]), _CUT,
                     data={"part": "drawtube"}),
            Polyline(view.points([(x + side * bore, shoulder), (x + side * bore * EYEPIECE_WIDTH, shoulder)]), _CUT,
                     data={"part": "shoulder"}),
            Polyline(view.points([(x + side * body, face), (x + side * body, racked_in), (x + side * bore, racked_in)]),
                     _NEIGHBOUR, data={"part": "focuser-body"}),
        ]
    return Group(tuple(members), {"part": "focuser"}, "Focuser")


def eyepiece(a: Arrangement, view: View) -> Group:
    """The eyepiece on the shoulder, as a neighbouring part, and its field stop."""
    if not a.eyepiece or not a.bore:
        return Group((), {"part": "eyepiece"})
    x, half = a.focuser_station, a.bore * EYEPIECE_WIDTH / 2
    top = a.intercept + a.bore * EYEPIECE_HEIGHT
    corners = [(x - half, a.intercept), (x - half, top), (x + half, top), (x + half, a.intercept)]
    members: list[Shape] = [Polyline(view.points(corners), _NEIGHBOUR, data={"part": "eyepiece-body"})]
    if a.eyepiece.field_stop:
        level, stop = a.intercept - a.eyepiece.stop_shift, a.eyepiece.field_stop / 2
        for side in (-1, 1):
            ends = [(x + side * stop, level), (x + side * a.bore / 2, level)]
            members.append(Polyline(view.points(ends), _BEYOND, data={"part": "field-stop"}))
    return Group(tuple(members), {"part": "eyepiece"}, f"Eyepiece, {a.eyepiece.name}")
