"""What the judged field can see that is not the mirror: paths of stray light, followed outwards from the focal plane.

Lengths in millimetres; the tube's frame of ``fold``: z along the axis towards the sky, x towards the focuser. A line of
sight leaves a point of the judged field by the drawtube's inner end. Either it passes the diagonal and meets the far
side of the tube, or the diagonal turns it down the tube, where it may pass the primary's rim.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.illumination import outline_reach
from dossier.calc.optics.mirror import Floats, Mirror, above_zero
from dossier.working import NoAnswer, formula

_FIELD_POINTS, _SPOKES = 48, 720
_SIGHT = "Similar triangles along one line of sight; a builder can check it with a straight-edge."


@dataclass(frozen=True, slots=True)
class Opening:
    """The drawtube's inner end, the judged field behind it, and where the focuser stands. Diameters of field and bore.

    ``mounting_radius_mm`` is also how far the side opposite the focuser stands from the axis.
    """

    bore_mm: float
    drawtube_mm: float
    judged_field_mm: float
    mounting_radius_mm: float

    def __post_init__(self) -> None:
        above_zero(bore_mm=self.bore_mm, drawtube_mm=self.drawtube_mm, judged_field_mm=self.judged_field_mm,
                   mounting_radius_mm=self.mounting_radius_mm)


@dataclass(frozen=True, slots=True)
class Sight:
    """A worst line of sight: which way it goes, whether it is open, and its corners (x, z) in the plane of the fold.

    ``past`` is ``diagonal`` (the far side of the tube), ``front`` (out of the sky end) or ``rim`` (beside the primary).
    ``shut_by_mm`` is what closes it: the shield's half length, the bore to which the drawtube's end must be stopped
    down, the outer diameter of a dark ring about the primary.
    """

    past: Literal["diagonal", "front", "rim"]
    is_open: bool
    corners: tuple[tuple[float, float], ...]
    shut_by_mm: float


def sights(mirror: Mirror, diagonal: Diagonal, opening: Opening, front_station_mm: float, closed_tube: bool,
           ring_diameter_mm: float = 0.0) -> tuple[Sight, Sight, Sight]:
    """The three worst lines of sight. A tube that is closed shuts the first; a dark ring about the primary the third.

    ``ring_diameter_mm`` is what stands dark about the primary, zero for nothing.
    """
    station = diagonal.station_mm(mirror.focal_length_mm)
    geometry = (diagonal.intercept_mm, opening.mounting_radius_mm, opening.bore_mm, opening.drawtube_mm,
                opening.judged_field_mm)
    half_length = shield_half_length_mm(*geometry)
    front = front_station_mm - station
    field, far_side = opening.judged_field_mm / 2, -opening.mounting_radius_mm
    end = (diagonal.intercept_mm - opening.drawtube_mm, station + opening.bore_mm / 2)
    start = (diagonal.intercept_mm, station - field)
    across = Sight("diagonal", not closed_tube, (start, end, (far_side, station + half_length)), half_length)
    out = Sight("front", half_length > front, (start, end, _reaches(start, end, far_side, front_station_mm)),
                widest_dark_bore_mm(*geometry[:2], opening.drawtube_mm, opening.judged_field_mm, front))
    seen = seen_about_mirror(mirror, diagonal, opening)
    beside = Sight("rim", 2 * seen.radius_mm > max(mirror.aperture_mm, ring_diameter_mm), seen.corners,
                   2 * seen.radius_mm)
    return across, out, beside


def _reaches(start: tuple[float, float], end: tuple[float, float], far_side: float,
             front_station: float) -> tuple[float, float]:
    """Where a line of sight leaves by the sky end, or meets the far side if that comes first."""
    steep = (end[1] - start[1]) / (start[0] - end[0])
    at_front = start[0] - (front_station - start[1]) / steep
    return (at_front, front_station) if at_front > far_side else (far_side, start[1] + steep * (start[0] - far_side))


@dataclass(frozen=True, slots=True)
class Seen:
    """The largest circle about the axis, in the plane of the primary's rim, that the judged field sees; the line."""

    radius_mm: float
    corners: tuple[tuple[float, float], ...]


@lru_cache(maxsize=64)
def seen_about_mirror(mirror: Mirror, diagonal: Diagonal, opening: Opening) -> Seen:
    """By way of the diagonal, from every point of the edge of the judged field, through the drawtube's end.

    Both the drawtube's end and the diagonal's outline are convex seen from a point, so along each spoke of the rim's
    plane the nearer of the two ends the view. The corners of the line are drawn in the plane of the fold.
    """
    fall = mirror.sagitta_mm - mirror.focal_length_mm
    turned = 2 * np.pi * np.arange(_FIELD_POINTS)[:, None] / _FIELD_POINTS
    field = opening.judged_field_mm / 2
    x, y = field * np.cos(turned), field * np.sin(turned)
    spoke = 2 * np.pi * np.arange(_SPOKES) / _SPOKES
    cos, sin = np.cos(spoke), np.sin(spoke)
    by_diagonal = outline_reach(diagonal, x, y, -x, -y, np.full_like(x, fall), cos, sin)
    share = -opening.drawtube_mm / fall
    middle_x, middle_y = x * (1 - share), y * (1 - share)
    by_bore = _circle_reach(middle_x, middle_y, share * cos, share * sin, opening.bore_mm / 2)
    reach = np.minimum(by_diagonal, by_bore)
    at = np.unravel_index(int(np.argmax(reach)), reach.shape)
    in_fold = reach[:: _FIELD_POINTS // 2, :: _SPOKES // 2]
    point, way = np.unravel_index(int(np.argmax(in_fold)), in_fold.shape)
    corners = _folded(mirror, diagonal, field * (1 - 2 * int(point)), float(in_fold[point, way]) * (1 - 2 * int(way)))
    return Seen(float(reach[at]), corners)


def _circle_reach(x: Floats, y: Floats, step_x: Floats, step_y: Floats, radius: float) -> Floats:
    """Steps from (x, y) to a circle about the origin; 0 where that starts outside."""
    half = x * step_x + y * step_y
    square = step_x**2 + step_y**2
    under_root = half**2 - square * (x**2 + y**2 - radius**2)
    return np.asarray(np.maximum((-half + np.sqrt(np.maximum(under_root, 0))) / square, 0))


def _folded(mirror: Mirror, diagonal: Diagonal, field_x: float, seen_x: float) -> tuple[tuple[float, float], ...]:
    """The line in the plane of the fold from field height to diagonal to the plane of the primary's rim."""
    station = diagonal.station_mm(mirror.focal_length_mm)
    drop = mirror.focal_length_mm - mirror.sagitta_mm
    share = (diagonal.intercept_mm - field_x) / (drop + seen_x - field_x)
    turn_x = field_x + share * (seen_x - field_x)
    return ((diagonal.intercept_mm, station + field_x), (turn_x, station + turn_x), (seen_x, mirror.sagitta_mm))


@formula(title="Half length of the shield opposite the focuser", source="geometry",
         rule="(intercept_mm + mounting_radius_mm) * (bore_mm + judged_field_mm) / (2 * drawtube_mm)"
              " - judged_field_mm / 2",
         note="Each way along the tube from the focuser's axis, and each way across it: all that the judged field sees "
              "past the diagonal.", unproved=_SIGHT)
def shield_half_length_mm(
    intercept_mm: float, mounting_radius_mm: float, bore_mm: float, drawtube_mm: float, judged_field_mm: float,
) -> float:
    """How far a dark shield opposite the focuser must reach from the focuser's axis, mm."""
    spread = (bore_mm + judged_field_mm) / (2 * drawtube_mm)
    return (intercept_mm + mounting_radius_mm) * spread - judged_field_mm / 2


@formula(title="How far the shield must stand beyond the sky end", source="geometry",
         rule="max(0, shield_half_length_mm - front_beyond_focuser_mm)",
         note="Above zero, the edge of the field sees sky straight past the diagonal over the edge of the front.",
         unproved=_SIGHT)
def shield_beyond_front_mm(shield_half_length_mm: float, front_beyond_focuser_mm: float) -> float:
    """What is missing of the tube beyond the focuser for the field not to see over its edge, mm."""
    return float(np.maximum(0.0, shield_half_length_mm - front_beyond_focuser_mm))


@formula(title="Widest bore that keeps the sky end out of sight", source="geometry",
         rule="max(0, 2 * drawtube_mm * (front_beyond_focuser_mm + judged_field_mm / 2)"
              " / (intercept_mm + mounting_radius_mm) - judged_field_mm)",
         note="At the drawtube's inner end; the other way of closing the same path. Below the least bore for the "
              "judged field it would cost light, and the tube must be longer instead.", unproved=_SIGHT)
def widest_dark_bore_mm(
    intercept_mm: float, mounting_radius_mm: float, drawtube_mm: float, judged_field_mm: float,
    front_beyond_focuser_mm: float,
) -> float:
    """Clear diameter of the drawtube's end at which the field just no longer sees over the sky end's far edge, mm."""
    reach = 2 * drawtube_mm * (front_beyond_focuser_mm + judged_field_mm / 2) / (intercept_mm + mounting_radius_mm)
    return float(np.maximum(0.0, reach - judged_field_mm))


@formula(title="Dark ring about the primary", source="geometry",
         equation="largest |P| in the plane of the primary's rim on a line from a point Q of the judged field that "
                  "passes both the drawtube's end and the diagonal's face; the ring's diameter is 2|P|",
         method="Exact outlines of both, every direction from 48 points of the field's edge.",
         note="No larger than the aperture: nothing is seen beside the primary.", unproved=_SIGHT)
def mirror_ring_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, intercept_mm: float, minor_axis_mm: float,
    offset_mm: float, bore_mm: float, drawtube_mm: float, judged_field_mm: float,
) -> float:
    """Outer diameter in the plane of the primary's rim of all that the judged field sees by way of the diagonal, mm."""
    opening = Opening(bore_mm, drawtube_mm, judged_field_mm, mounting_radius_mm=intercept_mm)
    mirror, diagonal = Mirror(aperture_mm, focal_length_mm, conic), Diagonal(minor_axis_mm, intercept_mm, offset_mm)
    return 2 * seen_about_mirror(mirror, diagonal, opening).radius_mm


@formula(title="Upper edge of the least shroud", source="geometry",
         rule="focal_length_mm - rim_to_focus_mm * min(1, (frame_radius_mm + judged_field_mm / 2)"
              " / (mirror_ring_mm / 2 + judged_field_mm / 2))",
         note="A station. Above it no line of sight by way of the diagonal leaves an open frame of this radius. In the "
              "plane of the primary's rim: none leaves it above the mirror.", unproved=_SIGHT)
def shroud_top_mm(focal_length_mm: float, rim_to_focus_mm: float, frame_radius_mm: float, mirror_ring_mm: float,
                  judged_field_mm: float) -> float:
    """Station up to which a shroud must close an open frame of this radius, from the primary's rim on, mm."""
    half_field = judged_field_mm / 2
    share = np.minimum(1.0, (frame_radius_mm + half_field) / (mirror_ring_mm / 2 + half_field))
    return float(focal_length_mm - rim_to_focus_mm * share)


@formula(title="Least length of a shroud on the frame", source="geometry",
         rule="max(0, shroud_top_mm - lower_fixing_mm)",
         note="From the frame's lower fixing up. Between there and the mirror the telescope must be closed as well.",
         unproved="A difference of two stations.")
def shroud_length_mm(shroud_top_mm: float, lower_fixing_mm: float) -> float:
    """How much of an open frame a shroud must close, from its lower fixing upwards, mm."""
    return float(np.maximum(0.0, shroud_top_mm - lower_fixing_mm))


@formula(title="Optical axis to the inside of the tube", source="geometry", rule="inner_diameter_mm / 2",
         unproved="Half of the author's own length.")
def wall_radius_mm(inner_diameter_mm: float) -> float:
    """Radius of a tube's inside, mm."""
    return inner_diameter_mm / 2


@formula(title="Optical axis to a frame that narrows", source="geometry",
         rule="min(lower_radius_mm, upper_radius_mm)",
         note="The narrower end: a shroud worked out for it is long enough for the wider one.",
         unproved="The lesser of the author's own lengths.")
def narrower_radius_mm(lower_radius_mm: float, upper_radius_mm: float) -> float:
    """The lesser of a frame's radii at its two ends, mm."""
    return float(np.minimum(lower_radius_mm, upper_radius_mm))


@formula(title="Tight cloth half-way between two poles, from the axis", source="geometry",
         rule="frame_radius_mm * cos(pi / corner_count) + outer_diameter_mm / 2",
         note="Where cloth drawn tight round the poles, or round the upper nodes of a truss, comes nearest to the "
              "axis. Inside the beam it takes light.",
         unproved="Geometry of a regular polygon; a builder can check it with a straight-edge.")
def taut_radius_mm(frame_radius_mm: float, corner_count: float, outer_diameter_mm: float) -> float:
    """Least distance from the axis of cloth stretched round poles at this many corners of a circle, mm.

    NoAnswer for fewer than three, which have no inside.
    """
    if corner_count < 3:
        raise NoAnswer(f"cloth drawn tight round {corner_count:g} poles has no inside")
    return frame_radius_mm * math.cos(math.pi / corner_count) + outer_diameter_mm / 2


@formula(title="Station of the next ring of a baffled tube", source="geometry",
         rule="focal_length_mm - (frame_radius_mm + judged_field_mm / 2) * (focal_length_mm - ring_station_mm)"
              " / (ring_opening_mm / 2 + judged_field_mm / 2)",
         note="Where the line from the far edge of the field past the last ring's inner edge meets the wall: the last "
              "ring hides the wall down to here.", unproved=_SIGHT)
def next_ring_station_mm(focal_length_mm: float, frame_radius_mm: float, judged_field_mm: float, ring_station_mm: float,
                         ring_opening_mm: float) -> float:
    """Station down to which a ring inside the tube hides the wall from every point of the judged field, mm.

    ValueError where the ring stands at or beyond the focus.
    """
    if not ring_station_mm < focal_length_mm:
        raise ValueError(f"ring_station_mm {ring_station_mm:g} must be less than focal_length_mm {focal_length_mm:g}")
    half_field = judged_field_mm / 2
    steep = (frame_radius_mm + half_field) / (ring_opening_mm / 2 + half_field)
    return focal_length_mm - steep * (focal_length_mm - ring_station_mm)
