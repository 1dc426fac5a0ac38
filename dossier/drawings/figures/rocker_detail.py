"""A rocker's bearing by itself, larger: where the disc touches its pads, their angle and size, and the notch."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dossier.drawings.figures.breaks import break_between
from dossier.drawings.figures.callouts import Callout, callouts
from dossier.drawings.figures.measures import RADIUS, TIMES, Measures, phrase
from dossier.drawings.figures.placing import arc, extent
from dossier.drawings.figures.rocker_boards import Boards, notched
from dossier.drawings.figures.rocker_side import Stand, has_pads
from dossier.drawings.scene import CENTRE, OUTLINE, THIN, Circle, Medium, Pen, Point, Polyline, Shape, Wash

# How far beyond the notch the board is shown, in radii of the bearing.
_BEYOND = 0.14


def detail(stand: Stand, boards: Boards | None, measures: Measures, scale: float,
           medium: Medium) -> tuple[Shape, ...]:
    """The lower half of the bearing about its axis; nothing where its pads are not known."""
    if not has_pads(stand) or stand.bearing_radius is None or stand.pad_angle is None:
        return ()
    shapes = (*_board(stand.bearing_radius, boards, scale, medium), *_disc(stand.bearing_radius, scale, medium),
              *_pads(stand, measures, scale, medium))
    box = extent(shapes, medium)
    left = callouts(list(_on_the_left(stand, measures, scale)), "left", box.left - 0.4 * medium.lettering, medium)
    right = callouts(list(_on_the_right(stand, boards, measures, scale)), "right", box.right + 0.4 * medium.lettering,
                     medium)
    return (*shapes, *left, *right)


def _disc(radius: float, scale: float, medium: Medium) -> Iterator[Shape]:
    turn = math.radians(12)
    yield Polyline(arc((0.0, 0.0), radius * scale, turn, math.pi - turn), Pen(OUTLINE), data={"part": "bearing-arc"})
    reach = 0.8 * medium.lettering
    yield Polyline(((0.0, -reach), (0.0, (1 + 0.5 * _BEYOND) * radius * scale)), Pen(CENTRE), data={"part": "below"})
    yield Polyline(((-reach, 0.0), (reach, 0.0)), Pen(CENTRE), data={"part": "across"})
    yield Circle((0.0, 0.0), 0.2 * medium.lettering, Pen(OUTLINE), Wash("ground"), {"part": "axis-mark"})


def _board(radius: float, boards: Boards | None, scale: float, medium: Medium) -> Iterator[Shape]:
    """The upper edge of a side with its notch, the rest of it broken off."""
    if boards is None or boards.top is None or boards.width is None or boards.notch is None or (
            boards.notch <= boards.top):
        return
    edge = notched(boards)
    low = max(y for _, y in edge) + _BEYOND * radius
    reach = max(abs(x) for x, _ in edge[1:-1]) + _BEYOND * radius
    ends = min(reach, boards.width / 2)
    points = ((-ends, boards.top), *edge[1:-1], (ends, boards.top))
    yield Polyline(tuple((x * scale, y * scale) for x, y in points), Pen(OUTLINE), data={"part": "notch"})
    for side in (-1, 1):
        upper, lower = (side * ends * scale, boards.top * scale), (side * ends * scale, low * scale)
        if ends < reach:
            yield Polyline((upper, lower), Pen(OUTLINE), data={"part": "board-edge"})
        else:
            yield break_between(upper, lower, medium)


def _pads(stand: Stand, measures: Measures, scale: float, medium: Medium) -> Iterator[Shape]:
    """Each pad between board and disc, and the point in its middle that the disc touches."""
    bearing = measures.design.build.mount.bearing if measures.design.build.mount else None
    radius, long = stand.bearing_radius or 0.0, bearing.pad_length if bearing else None
    thick = bearing.pad_thickness if bearing else None
    for turn in (-1, 1):
        angle = math.radians(stand.pad_angle or 0.0) * turn
        out, along = (math.sin(angle), math.cos(angle)), (math.cos(angle), -math.sin(angle))

        def at(away: float, aside: float, out: Point = out, along: Point = along) -> Point:
            return ((out[0] * away + along[0] * aside) * scale, (out[1] * away + along[1] * aside) * scale)

        if long and thick:
            corners = (at(radius, -long / 2), at(radius, long / 2), at(radius + thick, long / 2),
                       at(radius + thick, -long / 2))
            yield Polyline(corners, Pen(OUTLINE, "accent"), Wash("accent", 0.25), True, {"part": "pad-body"})
        yield Polyline(((0.0, 0.0), at(radius + 2 * (thick or 0.04 * radius), 0.0)), Pen(CENTRE),
                       data={"part": "pad-line"})
        yield Circle(at(radius, 0.0), 0.16 * medium.lettering, None, Wash("ink"), {"part": "contact"})
    sweep = arc((0.0, 0.0), 0.55 * radius * scale, math.pi / 2, math.pi / 2 + math.radians(stand.pad_angle or 0.0))
    yield Polyline(sweep, Pen(THIN), data={"part": "pad-angle-arc"})


def _on_the_left(stand: Stand, measures: Measures, scale: float) -> Iterator[Callout]:
    radius, angle = (stand.bearing_radius or 0.0) * scale, math.radians(stand.pad_angle or 0.0)
    turn = math.radians(25)
    yield Callout("mount.bearing.radius", (-radius * math.cos(turn), radius * math.sin(turn)),
                  phrase("bearing ", RADIUS, measures.length(stand.bearing_radius or 0.0, "mount.bearing.radius")))
    middle = angle / 2
    yield Callout("mount.bearing.pad_angle", (-0.55 * radius * math.sin(middle), 0.55 * radius * math.cos(middle)),
                  phrase("pads ", measures.angle(stand.pad_angle or 0.0, "mount.bearing.pad_angle")),
                  level=1.2 * radius)


def _on_the_right(stand: Stand, boards: Boards | None, measures: Measures, scale: float) -> Iterator[Callout]:
    bearing = measures.design.build.mount.bearing if measures.design.build.mount else None
    radius, angle = stand.bearing_radius or 0.0, math.radians(stand.pad_angle or 0.0)
    if bearing and bearing.pad_length and bearing.pad_thickness:
        away = (radius + bearing.pad_thickness / 2) * scale
        yield Callout("mount.bearing.pad_length", (away * math.sin(angle), away * math.cos(angle)),
                      phrase("pad ", measures.length(bearing.pad_length, "mount.bearing.pad_length"), TIMES,
                             measures.length(bearing.pad_thickness, "mount.bearing.pad_thickness")), on_edge=False,
                      level=1.2 * radius * scale)
    if boards and boards.top is not None and boards.notch and boards.notch > max(boards.top, 0.0):
        if boards.square:
            angle = math.radians(boards.pad_angle or 45.0)
            reach = (boards.notch - boards.top * math.cos(angle)) / math.sin(angle)
            at = (0.8 * reach * scale, (boards.top + 0.2 * (boards.notch / math.cos(angle) - boards.top)) * scale)
            words = phrase("notch ", measures.angle(180 - 2 * (boards.pad_angle or 45.0), "mount.bearing.pad_angle"))
        else:
            turn = max(math.asin(min(1.0, max(boards.top, 0.0) / boards.notch)) + 0.12, 0.12)
            at = (boards.notch * math.cos(turn) * scale, boards.notch * math.sin(turn) * scale)
            words = phrase("notch ", RADIUS, measures.length(boards.notch, "mount.bearing.notch"))
        yield Callout("mount.bearing.notch", at, words)
