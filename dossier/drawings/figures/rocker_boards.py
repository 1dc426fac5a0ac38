"""The boards of a rocker, from the side, from the front and from above, about the altitude axis; y downwards.

The side is seen along the altitude axis, with the front board, which stands between the two sides, on the left. In the
view from the left the front board is seen whole.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figures.measures import Measures
from dossier.drawings.figures.placing import arc
from dossier.drawings.figures.rocker_side import Stand, feet_places, foot_sign
from dossier.drawings.lettering import boxes
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
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
    Wash,
)

if TYPE_CHECKING:
    from dossier.design.model import Design

_WIDE = Pen(OUTLINE)


@dataclass(frozen=True, slots=True)
class Boards:
    """What is known of a rocker's boards, in mm; heights are below the altitude axis.

    ``floor`` is the upper face of the rocker's floor, ``ground`` the ground. ``notch`` is the radius of a round notch,
    or the distance from the axis to the two straight sides of a square one. None for what is not said.
    """

    floor: float
    ground: float
    thickness: float | None
    width: float | None
    height: float | None
    between: float | None
    front: float | None
    notch: float | None
    square: bool
    pad_angle: float | None
    board_thickness: float | None
    board_half: float | None
    board_square: bool
    feet_height: float | None

    @property
    def top(self) -> float | None:
        """The upper edge of a side."""
        return None if self.height is None else self.floor - self.height


def boards_of(design: Design, stand: Stand) -> Boards | None:
    """The boards as far as they are said; None where neither rocker nor ground board is."""
    mount = design.build.mount
    if mount is None or stand.ground is None or mount.floor is None or (mount.rocker is None and mount.ground is None):
        return None
    rocker, ground, bearing = mount.rocker, mount.ground, mount.bearing
    across = (ground.diameter or ground.side) if ground else None
    square = bearing is not None and bearing.notch == "square"
    notch = None
    if bearing and bearing.radius and bearing.notch:
        notch = bearing.radius + (bearing.pad_thickness or 0.0)
    return Boards(
        floor=stand.ground - mount.floor, ground=stand.ground, thickness=rocker.thickness if rocker else None,
        width=rocker.width if rocker else None, height=rocker.height if rocker else None,
        between=rocker.between if rocker else None, front=rocker.front if rocker else None, notch=notch, square=square,
        pad_angle=stand.pad_angle, board_thickness=ground.thickness if ground else None,
        board_half=across / 2 if across else None,
        board_square=bool(ground and ground.diameter is None and ground.side is not None),
        feet_height=mount.feet_height)


def notched(boards: Boards) -> tuple[Point, ...]:
    """The upper edge of a side from left to right with its notch, in mm; straight where no notch is said or reached."""
    top, half = boards.top, (boards.width or 0.0) / 2
    if top is None:
        return ()
    ends = ((-half, top), (half, top))
    if boards.notch is None or boards.notch <= top:
        return ends
    if boards.square:
        angle = math.radians(boards.pad_angle or 45.0)
        reach = (boards.notch - top * math.cos(angle)) / math.sin(angle)
        return (ends[0], (-reach, top), (0.0, boards.notch / math.cos(angle)), (reach, top), ends[1])
    turn = math.asin(max(top, 0.0) / boards.notch)
    curve = tuple(reversed(arc((0.0, 0.0), boards.notch, turn, math.pi - turn)))
    walls = ((-boards.notch, top), *curve, (boards.notch, top)) if top < 0 else curve
    return (ends[0], *walls, ends[1])


def from_the_side(boards: Boards, scale: float) -> tuple[Group, ...]:
    """A side with its notch, floor, ground board, and the front behind the side."""
    made = (Group(tuple(_side(boards, scale)), {"part": "rocker"}, "Rocker"),
            Group(tuple(_below(boards, scale, (boards.width or 0.0) / 2, (boards.board_half or 0.0))),
                  {"part": "ground-board"}, "Rocker’s floor and ground board"))
    return tuple(group for group in made if group.members)


def _side(boards: Boards, scale: float) -> Iterator[Shape]:
    if boards.width is None or boards.height is None:
        return
    half = boards.width / 2
    corners = (*notched(boards), (half, boards.floor), (-half, boards.floor))
    yield Polyline(_drawn(corners, scale), _WIDE, None, True, {"part": "rocker-side"})
    if boards.front and boards.thickness:
        inner, high = -half + boards.thickness, boards.floor - boards.front
        yield Polyline(_drawn(((-half, high), (inner, high), (inner, boards.floor)), scale), Pen(HIDDEN),
                       data={"part": "rocker-front-hidden"})


def _below(boards: Boards, scale: float, half: float, board_half: float) -> Iterator[Shape]:
    """The rocker's floor and the ground board, edge on, each so far to either side."""
    if boards.thickness and half:
        yield _oblong(half, boards.floor, boards.floor + boards.thickness, scale, "rocker-floor")
    if boards.board_thickness and board_half and boards.feet_height is not None:
        low = boards.ground - boards.feet_height
        yield _oblong(board_half, low - boards.board_thickness, low, scale, "ground-board-edge")


def _oblong(half: float, top: float, bottom: float, scale: float, part: str) -> Polyline:
    corners = ((-half, top), (half, top), (half, bottom), (-half, bottom))
    return Polyline(_drawn(corners, scale), _WIDE, Wash("ground"), True, {"part": part})


def _drawn(points: tuple[Point, ...], scale: float) -> tuple[Point, ...]:
    return tuple((x * scale, y * scale) for x, y in points)


def from_the_front(boards: Boards, stand: Stand, measures: Measures, scale: float,
                   medium: Medium) -> tuple[tuple[Shape, ...], list[Span]]:
    """The rocker seen with its front board whole, dimensioned, and what found no room; nothing where widths or heights
    are not said."""
    top = boards.top
    if boards.between is None or boards.thickness is None or top is None:
        return (), []
    inner, outer = boards.between / 2, boards.between / 2 + boards.thickness
    shapes: list[Shape] = []
    if stand.tail_radius is not None and stand.tail is not None and stand.pivot is not None:
        edge, half = stand.pivot - stand.tail, stand.tail_radius
        shapes.append(Polyline(_drawn(((-half, top - 30.0), (-half, edge), (half, edge), (half, top - 30.0)), scale),
                               Pen(PHANTOM), data={"part": "box"}))
    for side in (-1, 1):
        corners = ((side * inner, top), (side * outer, top), (side * outer, boards.floor), (side * inner, boards.floor))
        shapes.append(Polyline(_drawn(corners, scale), _WIDE, Wash("ground"), True, {"part": "rocker-side-edge"}))
    if boards.front:
        shapes.append(Polyline(_drawn(((-inner, boards.floor - boards.front), (inner, boards.floor - boards.front),
                                       (inner, boards.floor), (-inner, boards.floor)), scale), _WIDE, Wash("ground"),
                               True, {"part": "rocker-front"}))
    shapes += _below(boards, scale, outer, boards.board_half or 0.0)
    shapes += _ground(boards, stand, scale, medium)
    axis = outer * scale + 0.8 * medium.lettering
    shapes.append(Polyline(((-axis, 0.0), (axis, 0.0)), Pen(CENTRE), data={"part": "pivot-level"}))
    shapes.append(Polyline(((0.0, min(0.0, (top - 30.0) * scale)), (0.0, boards.ground * scale)), Pen(CENTRE),
                           data={"part": "upright-axis"}))
    placed = Dimensions(medium, tuple(boxes(shapes, medium)))
    lost = placed.place("above", [
        Span("mount.rocker.between", -inner * scale, inner * scale,
             (measures.length(boards.between, "mount.rocker.between"),)),
        Span("mount.rocker.thickness", inner * scale, outer * scale,
             (measures.length(boards.thickness, "mount.rocker.thickness"),))])
    lost += placed.place("right", list(_heights(boards, measures, scale)))
    return (*shapes, *placed.shapes), lost


def _ground(boards: Boards, stand: Stand, scale: float, medium: Medium) -> Iterator[Shape]:
    """The ground line with the feet, as they stand in the view from above."""
    level, size = boards.ground * scale, medium.lettering
    feet = [place[1] for place in feet_places(stand)]
    wide = max([boards.board_half or 0.0, *map(abs, feet), (boards.between or 0.0) / 2]) * scale + 0.8 * size
    yield Polyline(((-wide, level), (wide, level)), _WIDE, data={"part": "ground-level"})
    strokes = [((x, level), (x - 0.6 * size, level + 0.6 * size))
               for x in (-wide + (step + 1) * 1.2 * size for step in range(int(2 * wide / (1.2 * size))))]
    yield Segments(tuple(strokes), Pen(THIN), {"part": "ground-hatching"})
    for y in sorted({round(place, 3) for place in feet}):
        yield foot_sign((y * scale, level), boards.feet_height, scale, medium, "foot-front")


def _heights(boards: Boards, measures: Measures, scale: float) -> Iterator[Span]:
    floor = boards.floor * scale

    def span(key: str, top: float, bottom: float, length_mm: float) -> Span:
        return Span(key, top, bottom, (measures.length(length_mm, key),))

    if boards.height:
        yield span("mount.rocker.height", floor - boards.height * scale, floor, boards.height)
    if boards.front:
        yield span("mount.rocker.front", floor - boards.front * scale, floor, boards.front)
    if boards.feet_height:
        ground = boards.ground * scale
        low = ground - boards.feet_height * scale
        yield span("mount.feet_height", low, ground, boards.feet_height)
        if boards.board_thickness:
            yield span("mount.ground.thickness", low - boards.board_thickness * scale, low, boards.board_thickness)


def from_above(boards: Boards, scale: float) -> tuple[Group, ...]:
    """Ground board, floor, sides and front from above."""
    made = (Group(tuple(_ground_from_above(boards, scale)), {"part": "ground-board"}, "Ground board"),
            Group(tuple(_rocker_from_above(boards, scale)), {"part": "rocker"}, "Rocker"))
    return tuple(group for group in made if group.members)


def _ground_from_above(boards: Boards, scale: float) -> Iterator[Shape]:
    half = (boards.board_half or 0.0) * scale
    if half and boards.board_square:
        yield Polyline(((-half, -half), (half, -half), (half, half), (-half, half)), _WIDE, None, True,
                       {"part": "ground-board-outline"})
    elif half:
        yield Circle((0.0, 0.0), half, _WIDE, data={"part": "ground-board-outline"})


def _rocker_from_above(boards: Boards, scale: float) -> Iterator[Shape]:
    if boards.width is None or boards.between is None or boards.thickness is None:
        return
    half, inner = boards.width / 2, boards.between / 2
    outer = inner + boards.thickness
    for side in (-1, 1):
        yield Polyline(_drawn(((-half, side * inner), (half, side * inner), (half, side * outer),
                               (-half, side * outer)), scale), _WIDE, Wash("ground"), True, {"part": "rocker-side-top"})
    if boards.front:
        yield Polyline(_drawn(((-half, -inner), (-half + boards.thickness, -inner), (-half + boards.thickness, inner),
                               (-half, inner)), scale), _WIDE, Wash("ground"), True, {"part": "rocker-front-top"})
    yield Polyline(_drawn(((half, -inner), (half, inner)), scale), _WIDE, data={"part": "rocker-floor-edge"})
