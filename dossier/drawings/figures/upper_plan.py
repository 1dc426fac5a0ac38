"""The upper end of a telescope as the sky sees it: opening or tube, poles on their circle, vanes, diagonal, focuser.

Angles are counted clockwise from the focuser, which is up where the telescope lies and to the left where it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.drawings import arrangement_parts as ga
from dossier.drawings.arrangement import Arrangement
from dossier.drawings.dimension import CLEAR
from dossier.drawings.figures.upper_section import Turned
from dossier.drawings.lettering import ASCENT, CAPITALS, box_of_text
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    PHANTOM,
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
    Wash,
    Words,
)


@dataclass(frozen=True, slots=True)
class Face:
    """From the plane across the axis to the drawing: ``focuser_up`` or to the left, about the axis as origin."""

    scale: float
    focuser_up: bool

    def way(self, angle_deg: float) -> Point:
        """Where an angle points, as a unit vector of the drawing."""
        turned = math.radians(angle_deg)
        towards, beside = math.cos(turned), math.sin(turned)
        return (beside, -towards) if self.focuser_up else (-towards, -beside)

    def at(self, towards: float, beside: float) -> Point:
        """A point so far towards the focuser and so far to the side that 90° points to."""
        x, y = (beside, -towards) if self.focuser_up else (-towards, -beside)
        return (x * self.scale, y * self.scale)

    def out(self, angle_deg: float, radius: float) -> Point:
        """A point at an angle and a radius."""
        x, y = self.way(angle_deg)
        return (x * radius * self.scale, y * radius * self.scale)


def plan(a: Arrangement, poles: Turned, vanes: Turned, thickness: float | None, face: Face,
         medium: Medium) -> tuple[Group, ...]:
    """Everything known of the upper end, from the sky."""
    made = (Group(tuple(_rings(a, face)), {"part": "rings"}, "Front"),
            Group(tuple(_poles(a, poles, face, medium)), {"part": "poles"}, "Poles"),
            Group(tuple(_vanes(a, vanes, thickness, face, medium)), {"part": "spider"}, "Spider"),
            Group(tuple(_diagonal(a, face)), {"part": "diagonal"}, "Diagonal and hub"),
            Group(tuple(_focuser(a, face)), {"part": "focuser"}, "Focuser"),
            Group(tuple(_axes(a, face, medium)), {"part": "axes"}, ""))
    return tuple(group for group in made if group.members)


def outer_radius(a: Arrangement) -> float:
    """Radius of the outermost circle that is drawn."""
    radii = [a.front_opening / 2] if a.front_opening else []
    if a.frame:
        tube = a.frame.kind == "tube"
        radii.append(a.frame.outer_diameter / 2 if tube else a.frame.upper_radius + a.frame.outer_diameter / 2)
    return max(radii, default=a.mounting_radius)


def _rings(a: Arrangement, face: Face) -> Iterator[Shape]:
    widths: dict[str, float] = {}
    if a.frame and a.frame.kind == "tube":
        widths |= {"tube-outside": a.frame.outer_diameter, "tube-inside": a.frame.inner_diameter or 0.0}
    if a.front_opening and a.front_opening not in widths.values():
        widths["front-opening"] = a.front_opening
    for name, width in widths.items():
        if width:
            yield Circle((0.0, 0.0), width / 2 * face.scale, Pen(OUTLINE), data={"part": name})


def _poles(a: Arrangement, poles: Turned, face: Face, medium: Medium) -> Iterator[Shape]:
    if not a.frame or a.frame.kind == "tube":
        return
    yield Circle((0.0, 0.0), a.frame.upper_radius * face.scale, Pen(CENTRE), data={"part": "pole-circle"})
    pen = Pen(OUTLINE if poles.said else PHANTOM)
    half = a.frame.outer_diameter / 2
    for angle in poles.angles_deg:
        yield Circle(face.out(angle, a.frame.upper_radius), half * face.scale, pen,
                     data={"part": "pole" if a.frame.kind == "poles" else "node", "angle": f"{angle:g}"})
        beyond = half + 0.5 * medium.lettering / face.scale
        yield Polyline((face.out(angle, a.frame.upper_radius - beyond), face.out(angle, a.frame.upper_radius + beyond)),
                       Pen(CENTRE), data={"part": "pole-axis"})


def _vanes(a: Arrangement, vanes: Turned, thickness: float | None, face: Face, medium: Medium) -> Iterator[Shape]:
    """Each vane by its thickness; as one wide line where that is thinner than the line itself, or not said."""
    reach = ga.inside_radius(a)
    half = (thickness or 0.0) / 2
    thick = half * 2 * face.scale > 2 * medium.wide
    pen = Pen(OUTLINE if vanes.said else PHANTOM)
    for angle in vanes.angles_deg:
        way, hub = (math.cos(math.radians(angle)), math.sin(math.radians(angle))), ga.vane_start(a, math.radians(angle))
        start = (hub * way[0], hub * way[1])
        end = (reach * way[0], reach * way[1])
        data = {"part": "vane", "angle": f"{angle:g}"}
        if not thick:
            yield Polyline((face.at(*start), face.at(*end)), pen, data=data)
            continue
        x, y = -way[1] * half, way[0] * half
        edges = tuple((face.at(start[0] + turn * x, start[1] + turn * y), face.at(end[0] + turn * x, end[1] + turn * y))
                      for turn in (1, -1))
        yield Segments(edges, pen, data)


def _diagonal(a: Arrangement, face: Face) -> Iterator[Shape]:
    """Holder and diagonal, and before them the hub, on the axis; seen along it an ellipse of 1 : √2 at 45° is a circle.
    """
    centre, holder = face.at(-a.offset, 0.0), a.holder_diameter
    if holder:
        yield Circle(centre, holder / 2 * face.scale, Pen(OUTLINE), data={"part": "holder"})
    covered = holder is not None and holder >= a.minor_axis
    if holder != a.minor_axis:
        yield Circle(centre, a.minor_axis / 2 * face.scale, Pen(HIDDEN if covered else OUTLINE),
                     data={"part": "diagonal-edge"})
    if a.hub_diameter:
        yield Circle((0.0, 0.0), a.hub_diameter / 2 * face.scale, Pen(OUTLINE), Wash("ground"), data={"part": "hub"})


def _focuser(a: Arrangement, face: Face) -> Iterator[Shape]:
    """Outside its mounting face: the body as a neighbouring part, the drawtube to its shoulder, the focal plane."""
    if not a.bore:
        return
    body, bore, racked_in = a.bore * ga.BODY_WIDTH / 2, a.bore / 2, a.mounting_radius + a.focuser_height
    yield Polyline((face.at(a.mounting_radius, -body), face.at(a.mounting_radius, body)), Pen(OUTLINE),
                   data={"part": "face"})
    for side in (-1, 1):
        yield Polyline((face.at(a.mounting_radius, side * body), face.at(racked_in, side * body),
                        face.at(racked_in, side * bore)), Pen(PHANTOM), data={"part": "focuser-body"})
        yield Polyline((face.at(racked_in, side * bore), face.at(a.intercept, side * bore),
                        face.at(a.intercept, side * bore * ga.EYEPIECE_WIDTH)), Pen(OUTLINE), data={"part": "drawtube"})
    half = (a.judged_field or a.aperture / 10) / 2
    yield Polyline((face.at(a.intercept, -half), face.at(a.intercept, half)), Pen(OUTLINE, "accent"),
                   data={"part": "focal-plane-line"})


def _axes(a: Arrangement, face: Face, medium: Medium) -> Iterator[Shape]:
    beyond, radius = 0.8 * medium.lettering / face.scale, outer_radius(a)
    top = max(a.intercept, radius) + beyond
    yield Polyline((face.at(-radius - beyond, 0.0), face.at(top, 0.0)), Pen(CENTRE), data={"part": "axis"})
    yield Polyline((face.at(0.0, -radius - beyond), face.at(0.0, radius + beyond)), Pen(CENTRE), data={"part": "axis"})


def angle_labels(a: Arrangement, rows: dict[float, str], face: Face, medium: Medium) -> tuple[Text, ...]:
    """The angle of each direction in which poles or vanes stand, beyond the outermost circle; where two have no room
    beside one another the first alone."""
    size = medium.lettering
    radius = outer_radius(a) * face.scale + (0.5 + CLEAR) * size
    labels: list[Text] = []
    taken: list[Box] = []
    for angle, key in sorted(rows.items()):
        label = beside(face.way(angle), radius, (Words(f"{angle:.4g}°", key=key),), size)
        box = box_of_text(label, size)
        if not any(box.meets(other) for other in taken):
            labels.append(label)
            taken.append(box.grown(CLEAR / 2 * size))
    return tuple(labels)


def beside(way: Point, length: float, runs: tuple[Words, ...], size: float) -> Text:
    """Lettering beyond a point in a direction, so that it does not reach back over it."""
    x, y = way[0] * length, way[1] * length
    anchor: Anchor = "middle" if abs(way[0]) < 0.3 else "end" if way[0] < 0 else "start"
    level = CAPITALS / 2 if abs(way[1]) <= 0.3 else ASCENT if way[1] > 0 else 0.0
    return Text((x, y + level * size), runs, anchor)
