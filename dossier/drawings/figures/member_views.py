"""A round member from the side and from its end, as shapes about the middle of its lower end, or of its face."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from dossier.drawings.dimension import CLEAR
from dossier.drawings.figures.breaks import Broken, break_line
from dossier.drawings.figures.member_holes import Drilled
from dossier.drawings.figures.placing import oval
from dossier.drawings.lettering import ASCENT, CAPITALS, DESCENT, box_of_text
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    THIN,
    Anchor,
    Box,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Words,
)

_EDGE_ON = 0.05
# How far the axis goes on beyond the member, in type sizes.
AXIS_BEYOND = 0.8
_LEAST_RADIUS = 1.4
# In so many lines a label is tried beyond the edges.
_MOVED = 3


def side(outer: float, inner: float | None, drawn: Broken, holes: Sequence[Drilled], medium: Medium,
         scale: float) -> tuple[Shape, ...]:
    """The outline with its break, its axis, and each hole as it is seen from this side, sky to the right."""
    half = outer / 2 * scale
    shapes: list[Shape] = [Group((_outline(drawn, index, half),), _place(drawn, piece), "")
                           for index, piece in enumerate(drawn.pieces)]
    if drawn.gap:
        shapes += [break_line(drawn.at(edge), -half, half, medium) for edge in drawn.gap]
    beyond = AXIS_BEYOND * medium.lettering
    axis = ((-beyond, 0.0), (drawn.at(drawn.length) + beyond, 0.0))
    shapes.append(Polyline(axis, Pen(CENTRE), data={"part": "axis"}))
    shapes += [Group(tuple(_row(hole, outer, inner, drawn, medium, scale)),
                     {"part": "holes", "letter": hole.letter}, "") for hole in holes]
    return tuple(shapes)


def _place(drawn: Broken, piece: tuple[float, float]) -> dict[str, str]:
    """Tells where the lengths of a piece stand: ``origin`` is where the lower end were if it were drawn on to it."""
    return {"part": "member", "from": f"{piece[0]:.4f}", "to": f"{piece[1]:.4f}",
            "origin": f"{drawn.at(piece[1]) - piece[1] * drawn.scale:.4f}"}


def _outline(drawn: Broken, index: int, half: float) -> Polyline:
    start, end = (drawn.at(edge) for edge in drawn.pieces[index])
    if drawn.gap is None:
        return Polyline(((start, -half), (end, -half), (end, half), (start, half)), closed=True)
    if index:
        start = end - (drawn.pieces[1][1] - drawn.pieces[1][0]) * drawn.scale
        return Polyline(((start, -half), (end, -half), (end, half), (start, half)))
    return Polyline(((end, -half), (start, -half), (start, half), (end, half)))


def _row(hole: Drilled, outer: float, inner: float | None, drawn: Broken, medium: Medium,
         scale: float) -> Iterator[Shape]:
    x, radius = drawn.at(hole.at), outer / 2 * scale
    beyond = 0.5 * medium.lettering
    for angle in hole.walls_deg:
        facing, up = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        data = {"part": "hole", "angle": f"{angle:g}"}
        centre = (x, -radius * up)
        reach = (hole.diameter or 0.0) / 2 * scale
        if abs(facing) <= _EDGE_ON:
            yield Polyline(((x, centre[1] - beyond), (x, centre[1] + beyond)), Pen(CENTRE), data=data)
            if reach and inner:
                # Its width through the wall, which hides it.
                near = centre[1] * inner / outer
                yield Segments(tuple(((x + way * reach, near), (x + way * reach, centre[1])) for way in (-1, 1)),
                               Pen(HIDDEN), {"part": "hole-wall", "angle": f"{angle:g}"})
        elif reach:
            # An outline would fill one that is no wider than a few of its lines.
            line = HIDDEN if facing < 0 else OUTLINE if reach > 2 * medium.wide else THIN
            if abs(facing) > 1 - 1e-9:
                yield Circle(centre, reach, Pen(line), data=data)
            else:
                yield Polyline(oval(centre, reach, reach * abs(facing)), Pen(line), closed=True, data=data)
        else:
            yield Polyline(((x - beyond, centre[1]), (x + beyond, centre[1])), Pen(THIN), data=data)
    reach = radius + beyond
    yield Polyline(((x, -reach), (x, reach)), Pen(CENTRE), data={"part": "hole-station"})


def end(outer: float, inner: float | None, medium: Medium, scale: float) -> tuple[Shape, ...]:
    """The member's face seen from the sky, about its middle, with its two centre lines."""
    shapes: list[Shape] = [Circle((0.0, 0.0), outer / 2 * scale, data={"part": "outside"})]
    if inner:
        shapes.append(Circle((0.0, 0.0), inner / 2 * scale, data={"part": "inside"}))
    reach = outer / 2 * scale + 0.5 * medium.lettering
    shapes += [Polyline(((-reach, 0.0), (reach, 0.0)), Pen(CENTRE), data={"part": "axis"}),
               Polyline(((0.0, -reach), (0.0, reach)), Pen(CENTRE), data={"part": "axis"})]
    return (Group(tuple(shapes), {"part": "end-view"}, ""),)


def directions(outer: float, inner: float | None, holes: Sequence[Drilled], medium: Medium,
               scale: float) -> tuple[Shape, ...]:
    """A centre line through the wall in each direction in which there are holes, with its letters and its angle.

    Round a member smaller than its lettering there is no room for them; the notes say the same.
    """
    size, radius = medium.lettering, outer / 2 * scale
    if radius < _LEAST_RADIUS * size:
        return ()
    edges = [side * width / 2 * scale for width in (outer, inner or outer) for side in (-1, 1)]
    rows: dict[float, list[str]] = {}
    for hole in holes:
        for angle in hole.walls_deg:
            rows.setdefault(angle, []).append(hole.letter)
    shapes: list[Shape] = []
    labels: list[Text] = []
    for angle, names in sorted(rows.items()):
        way = direction(angle)
        inner, outside = radius - 0.6 * size, radius + 0.7 * size
        shapes.append(Polyline((_along(way, inner), _along(way, outside)), Pen(CENTRE),
                               data={"part": "direction", "angle": f"{angle:g}"}))
        words = f"{','.join(names)} {angle:.4g}°"
        label = _placed(way, outside + CLEAR * size, words, size, edges, [box_of_text(each, size) for each in labels])
        if label:
            labels.append(label)
    return (*shapes, *labels)


def _placed(way: Point, length: float, words: str, size: float, edges: Sequence[float],
            taken: Sequence[Box]) -> Text | None:
    """A label beyond a point in a direction; on the left, where the diameters' extension lines run out from the edges,
    moved clear of them all, up or down. None where others leave no room."""
    label = _beside(way, length, words, size)
    x, y = label.at
    last, turn = max(edges), -1 if way[1] < 0 else 1
    beyond = turn * (last + CLEAR * size) + (ASCENT if turn > 0 else -DESCENT) * size
    for level in (y, *(beyond + turn * line * (ASCENT + DESCENT) * size for line in range(_MOVED))):
        moved = replace(label, at=(x, level))
        box = box_of_text(moved, size)
        crossed = box.left < 0 and any(box.top < edge < box.bottom for edge in edges)
        if not crossed and not any(box.meets(other) for other in taken):
            return moved
    return None


def direction(angle_deg: float) -> Point:
    """Where an angle from the focuser's side, clockwise seen from the sky, points with the focuser to the left."""
    turned = math.radians(angle_deg)
    return (-math.cos(turned), -math.sin(turned))


def _along(way: Point, length: float) -> Point:
    return (way[0] * length, way[1] * length)


def _beside(way: Point, length: float, words: str, size: float) -> Text:
    """Lettering beyond a point in a direction, so that it does not reach back over it."""
    x, y = _along(way, length)
    anchor: Anchor = "middle" if abs(way[0]) < 0.3 else "end" if way[0] < 0 else "start"
    drop = CAPITALS / 2 + (CAPITALS / 2 if way[1] > 0.3 else 0.0 if way[1] > -0.3 else -(ASCENT - CAPITALS / 2))
    return Text((x, y + drop * size), (Words(words),), anchor)
