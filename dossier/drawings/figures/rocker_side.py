"""A telescope on its mount from the side, tube upright, seen along the altitude axis, about the pivot as origin.

The telescope is a neighbouring part here: its envelope has a chain outline with two dots. How the focuser is turned
to the altitude axis is not said, so only its height is marked.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.drawings.arrangement import Arrangement
from dossier.drawings.arrangement_parts import mirror_back
from dossier.drawings.figures.breaks import Broken, break_between, broken
from dossier.drawings.figures.placing import arc
from dossier.drawings.scene import (
    CENTRE,
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


@dataclass(frozen=True, slots=True)
class Stand:
    """What is known of how a telescope stands, in mm and degrees; heights are above the ground.

    ``origin`` is the station that everything is drawn about: the pivot, or the balance point where there is no pivot.
    """

    kind: str
    origin: float
    pivot: float | None
    balance: float | None
    pivot_height: float | None
    floor: float | None
    tail: float | None
    tail_radius: float | None
    swing_radius: float | None
    bearing_radius: float | None
    pad_angle: float | None
    feet: int | None
    feet_radius: float | None
    feet_reach: float | None
    stands_out: float | None
    offset: float
    feet_height: float | None = None

    @property
    def ground(self) -> float | None:
        """How far below the origin the ground lies."""
        return self.pivot_height if self.pivot is not None else None


def side(levels: Levels, a: Arrangement, medium: Medium) -> tuple[Group, ...]:
    """Ground, mount and telescope, from back to front."""
    stand, scale = levels.stand, levels.scale
    made = (Group(tuple(_envelope(levels, a, medium)), {"part": "telescope"}, "Telescope"),
            Group(tuple(_mirror(levels, a)), {"part": "primary"}, "Primary mirror"),
            Group(tuple(_ground(stand, scale, medium)), {"part": "ground"}, "Ground and feet"),
            Group(tuple(_swing(stand, scale)), {"part": "swing"}, "Swing of the tail"),
            Group(tuple(_bearing(stand, scale, medium)), {"part": "bearing"}, "Altitude bearing"),
            Group(tuple(_axes(levels, a, medium)), {"part": "axes"}, ""))
    return tuple(group for group in made if group.members)


@dataclass(frozen=True, slots=True)
class Levels:
    """Where stations stand in the drawing, y downwards about the stand's origin; a long tube is broken above it."""

    stand: Stand
    low: float
    drawn: Broken

    @property
    def scale(self) -> float:
        return self.drawn.scale

    def y(self, station: float) -> float:
        """The y of a station."""
        return self.drawn.at(self.stand.origin - self.low) - self.drawn.at(station - self.low)

    def breaks(self) -> tuple[float, ...]:
        """The y of both break lines, the lower one first; none where the whole is drawn."""
        if self.drawn.gap is None:
            return ()
        lower = self.y(self.low + self.drawn.gap[0])
        return (lower, lower - self.drawn.apart)


def levels_of(stand: Stand, a: Arrangement, scale: float, medium: Medium, shorter: float = 0.0) -> Levels:
    """The whole telescope, or, to be so much ``shorter`` in the drawing, without a stretch above the pivot."""
    low, high = ends(stand, a)
    above = stand.origin + max(1.4 * (stand.bearing_radius or 0.0), 0.3 * a.aperture)
    upper = min(a.focuser_station - 0.4 * a.aperture, high)
    kept = ((0.0, above - low), (upper - low, high - low))
    return Levels(stand, low, broken(high - low, scale, (high - low) * scale - shorter, kept, medium))


def ends(stand: Stand, a: Arrangement) -> tuple[float, float]:
    """The lowest and the highest station of the telescope that is known."""
    back = mirror_back(a)
    low = [place for place in (stand.tail, back, a.frame.lower_station if a.frame else None, 0.0) if place is not None]
    high = [place for place in (a.front_station, a.frame.upper_station if a.frame else None, a.focuser_station)
            if place is not None]
    return min(low), max(high)


def envelope_radius(a: Arrangement) -> float:
    """Half the width of tube, poles or truss; of the glass where no frame is known."""
    if a.frame is None:
        return a.blank_diameter / 2
    if a.frame.kind == "tube":
        return a.frame.outer_diameter / 2
    return max(a.frame.lower_radius, a.frame.upper_radius) + a.frame.outer_diameter / 2


def _envelope(levels: Levels, a: Arrangement, medium: Medium) -> Iterator[Shape]:
    """The frame's outline to the sky end, and the hindmost edge with the walls that rise from it."""
    stand = levels.stand
    low, high = ends(stand, a)
    wide = envelope_radius(a) * levels.scale
    top, foot = levels.y(high), levels.y(a.frame.lower_station if a.frame else low)
    breaks = levels.breaks()
    if breaks:
        for edge, end in zip(breaks, (foot, top), strict=True):
            yield Polyline(((-wide, edge), (-wide, end), (wide, end), (wide, edge)), Pen(PHANTOM),
                           data={"part": "envelope"})
            yield break_between((-wide, edge), (wide, edge), medium)
    else:
        yield Polyline(((-wide, foot), (-wide, top), (wide, top), (wide, foot)), Pen(PHANTOM), closed=True,
                       data={"part": "envelope"})
    if stand.tail is not None and stand.tail_radius is not None:
        half, edge = stand.tail_radius * levels.scale, levels.y(stand.tail)
        yield Polyline(((-half, edge), (half, edge)), Pen(OUTLINE), data={"part": "tail"})
        if foot < edge:
            for x in (-half, half):
                yield Polyline(((x, edge), (x, foot)), Pen(PHANTOM), data={"part": "tail-wall"})


def _mirror(levels: Levels, a: Arrangement) -> Iterator[Shape]:
    back = mirror_back(a)
    half, face = a.blank_diameter / 2 * levels.scale, levels.y(0.0)
    if back is None:
        yield Polyline(((-half, face), (half, face)), Pen(OUTLINE), data={"part": "primary-face"})
        return
    base = levels.y(back)
    yield Polyline(((-half, face), (half, face), (half, base), (-half, base)), Pen(THIN), Wash("glass"), closed=True,
                   data={"part": "primary-glass"})


def _bearing(stand: Stand, scale: float, medium: Medium) -> Iterator[Shape]:
    """The bearing's disc, and where its pads touch it; a pad's size is not said, so only its place is drawn."""
    if stand.pivot is None or stand.bearing_radius is None:
        return
    radius = stand.bearing_radius * scale
    yield Circle((0.0, 0.0), radius, Pen(OUTLINE), data={"part": "bearing-disc"})
    if not has_pads(stand) or stand.pad_angle is None:
        return
    for turn in (-1, 1):
        angle = math.radians(stand.pad_angle) * turn
        way = (math.sin(angle), math.cos(angle))
        touch, half = (way[0] * radius, way[1] * radius), 0.6 * medium.lettering
        ends_of_pad = ((touch[0] - way[1] * half, touch[1] + way[0] * half),
                       (touch[0] + way[1] * half, touch[1] - way[0] * half))
        yield Polyline(ends_of_pad, Pen(OUTLINE, "accent"), data={"part": "pad"})
        yield Polyline(((0.0, 0.0), pad_end(stand, turn, scale, medium)), Pen(CENTRE), data={"part": "pad-axis"})


def has_pads(stand: Stand) -> bool:
    """Whether it lies on two pads whose places are known: only a rocker does."""
    return stand.kind in ("rocker", "") and None not in (stand.pivot, stand.bearing_radius, stand.pad_angle)


def pad_end(stand: Stand, turn: int, scale: float, medium: Medium) -> Point:
    """Where the centre line through a pad ends; ``turn`` is −1 for the left one, 1 for the right one."""
    reach = (stand.bearing_radius or 0.0) * scale + 1.8 * medium.lettering
    angle = math.radians(stand.pad_angle or 0.0) * turn
    return (math.sin(angle) * reach, math.cos(angle) * reach)


def _swing(stand: Stand, scale: float) -> Iterator[Shape]:
    """The way of the two corners from one side to the other, under the pivot."""
    if stand.swing_radius is None or stand.pivot is None or stand.tail_radius is None or stand.tail is None:
        return
    half = math.atan2(stand.tail_radius, stand.pivot - stand.tail)
    yield Polyline(arc((0.0, 0.0), stand.swing_radius * scale, math.pi / 2 - half, math.pi / 2 + half), Pen(THIN),
                   data={"part": "swing-arc"})


def feet_places(stand: Stand) -> tuple[Point, ...]:
    """The feet from above, x to the right and y downwards, turned so that they tip first to the right.

    How they are turned means nothing: the telescope turns above them.
    """
    if not stand.feet or stand.feet_radius is None:
        return ()
    return tuple((stand.feet_radius * math.cos(angle), -stand.feet_radius * math.sin(angle))
                 for angle in ((2 * index + 1) * math.pi / stand.feet for index in range(stand.feet)))


def _ground(stand: Stand, scale: float, medium: Medium) -> Iterator[Shape]:
    if stand.ground is None:
        return
    level, size = stand.ground * scale, medium.lettering
    wide = max(stand.feet_radius or 0.0, stand.tail_radius or 0.0) * scale + 1.5 * size
    yield Polyline(((-wide, level), (wide, level)), Pen(OUTLINE), data={"part": "ground-line"})
    strokes = [((x, level), (x - 0.6 * size, level + 0.6 * size))
               for x in (-wide + (step + 1) * 1.2 * size for step in range(int(2 * wide / (1.2 * size))))]
    yield Segments(tuple(strokes), Pen(THIN), {"part": "ground-hatching"})
    for x in sorted({round(place[0] * scale, 3) for place in feet_places(stand)}):
        yield foot_sign((x, level), stand.feet_height, scale, medium, "foot")
    if stand.floor:
        half = (stand.tail_radius or stand.feet_radius or 0.0) * scale
        yield Polyline(((-half, level - stand.floor * scale), (half, level - stand.floor * scale)), Pen(OUTLINE),
                       data={"part": "floor"})


def foot_sign(at: Point, height_mm: float | None, scale: float, medium: Medium, part: str) -> Polyline:
    """A foot, of which only the place and maybe the height is known: a wedge on its tip."""
    high = height_mm * scale if height_mm else 0.45 * medium.lettering
    half = min(0.25 * medium.lettering, high / 2)
    x, y = at
    return Polyline((at, (x - half, y - high), (x + half, y - high)), Pen(THIN), Wash("ink"), True, {"part": part})


def _axes(levels: Levels, a: Arrangement, medium: Medium) -> Iterator[Shape]:
    stand, scale = levels.stand, levels.scale
    low, high = ends(stand, a)
    size = medium.lettering
    bottom = levels.y(low) + size
    if stand.ground is not None:
        bottom = max(bottom, stand.ground * scale - 0.2 * size)
    yield Polyline(((0.0, levels.y(high) - size), (0.0, bottom)), Pen(CENTRE), data={"part": "optical-axis"})
    focuser, reach = levels.y(a.focuser_station), envelope_radius(a) * scale + 0.6 * size
    yield Polyline(((-reach, focuser), (reach, focuser)), Pen(CENTRE), data={"part": "focuser-height"})
    if stand.pivot is not None:
        arm = (stand.bearing_radius or 0.0) * scale + size
        yield Polyline(((-arm, 0.0), (arm, 0.0)), Pen(CENTRE), data={"part": "pivot-axis"})
        yield Circle((0.0, 0.0), 0.2 * size, Pen(OUTLINE), Wash("ground"), {"part": "pivot"})
