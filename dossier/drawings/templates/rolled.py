"""A tube's surface rolled flat: angles become lengths of arc, and a round hole is no longer quite round.

x runs along the circumference of the outside and y along the tube, sky end up, as it is seen from outside. Angles are
counted clockwise as seen from the sky, so they grow to the left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from dossier.drawings.scene import Point
from dossier.drawings.templates.model import Disc, Item, Layer, Outline, cross

# A hole that strays from a circle by less than this is given as a circle, which a drill finds more easily.
_ROUND_WITHIN = 0.02
_STEPS = 180


@dataclass(frozen=True, slots=True)
class Place:
    """Something on the tube: its angle, its distance from the end in mm, its hole if its diameter is known, what it is.
    """

    angle_deg: float
    from_end: float
    diameter: float | None
    name: str


def circumference(outer_diameter: float) -> float:
    """Length of a wrap around the outside, mm."""
    return math.pi * outer_diameter


def seam_angle(angles_deg: Sequence[float]) -> float:
    """Where the wrap's ends meet: the middle of the widest gap between these angles, of gaps as wide the one nearest to
    the far side of the first angle. Degrees, within a turn above the first angle."""
    first = angles_deg[0]
    turns = sorted({round((angle - first) % 360, 6) for angle in angles_deg})
    gaps = [(after - before, (before + after) / 2) for before, after in pairwise((*turns, 360.0))]
    widest = max(width for width, _ in gaps)
    return first + min((middle for width, middle in gaps if width > widest - 1e-6),
                       key=lambda middle: abs(middle - 180))


def unrolled(angle_deg: float, seam_deg: float, outer_diameter: float) -> float:
    """How far to the right of angle 0 an angle lies on a wrap whose left edge is at the seam, mm."""
    turn = seam_deg - (seam_deg - angle_deg) % 360
    return -math.radians(turn) * outer_diameter / 2


def hole(centre: Point, diameter: float, outer_diameter: float, name: str, layer: Layer = "cut") -> Disc | Outline:
    """The edge of a round hole, drilled towards the axis, on the outside of a tube.

    A point of the hole's edge at a distance t across the tube lies R·asin(t/R) along the circumference. ValueError
    where the hole is as wide as the tube.
    """
    radius, reach = diameter / 2, outer_diameter / 2
    if not radius < reach:
        raise ValueError(f"a hole of {diameter:g} mm does not fit a tube of {outer_diameter:g} mm")
    if reach * math.asin(radius / reach) - radius < _ROUND_WITHIN:
        return Disc(layer, centre, radius, name)
    edge = (2 * math.pi * step / _STEPS for step in range(_STEPS))
    return Outline(layer, tuple((centre[0] + reach * math.asin(radius * math.cos(angle) / reach),
                                 centre[1] + radius * math.sin(angle)) for angle in edge), name=name)


def reach_of(place: Place) -> float:
    """How far the cross over a place reaches to each side."""
    return max(4.0, (place.diameter or 0.0) / 2 + 3.0)


def drilled(place: Place, centre: Point, outer_diameter: float) -> tuple[Item, ...]:
    """A place on the wrap: its hole where the spec gives one, and a cross that reaches a little beyond it."""
    marks = cross(centre, reach_of(place), f"{place.name} centre")
    return (hole(centre, place.diameter, outer_diameter, place.name), *marks) if place.diameter else marks
