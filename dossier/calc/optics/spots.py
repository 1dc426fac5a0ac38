"""Spots: where the rays of one star land, without diffraction.

Lengths in millimetres, spot sizes in micrometres, angles in degrees. ``focus_mm`` is counted from the paraxial focus,
positive towards the sky. Averages are over the area of the annular pupil.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dossier.calc.optics import pupil, rays
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, slope
from dossier.calc.optics.wavefront import BestFocus, least_rms, zone_focus_mm
from dossier.working import formula

_TRACE = "Exact trace; Gauss quadrature in r² over the annulus, so that every part of it counts by its area."
_FIELD_EDGE = "A flat focal plane, at the focus that is best for a star on the axis by RMS wavefront."


@dataclass(frozen=True, slots=True)
class Spot:
    """RMS radius about the centroid and the centroid itself, µm and mm."""

    rms_radius_um: float
    centroid_x_mm: float
    centroid_y_mm: float


@lru_cache(maxsize=256)
def smallest_on_axis(mirror: Mirror) -> BestFocus:
    """The focus of the smallest RMS spot on the axis, and its radius in mm.

    A ray from height r at the depth z comes up at the angle whose tangent is m = 2p/(1 − p²), p the slope of the
    surface, and passes a plane at the distance (zone focus − focus) m from the axis: least squares give the plane.
    """
    r2, weight = pupil.rings(mirror, 2)
    rise = slope(mirror, r2)
    steepness = 2 * rise / (1 - rise**2)
    crossing = zone_focus_mm(mirror, r2)
    focus = float(weight @ (crossing * steepness**2)) / float(weight @ steepness**2)
    return BestFocus(focus, math.sqrt(float(weight @ ((crossing - focus) * steepness) ** 2)))


def spot(mirror: Mirror, angle_deg: float, focus_mm: float) -> Spot:
    """The spot of a star this far off the axis, in the plane at this focus."""
    points = pupil.annulus(mirror, 2)
    x, y = rays.at_plane(mirror, points.x, points.y, rays.star_direction(angle_deg), mirror.focal_length_mm + focus_mm)
    centre_x, centre_y = points.mean(x), points.mean(y)
    square = points.mean((x - centre_x) ** 2 + (y - centre_y) ** 2)
    return Spot(1000 * math.sqrt(square), centre_x, centre_y)


def spot_matrix(mirror: Mirror, angles_deg: Floats, focuses_mm: Floats, rings: int = 10) -> Floats:
    """Spot diagrams for every angle and focus: shape (angles, focuses, 2, rays), µm about each angle's chief ray.

    Rays are laid in rings of equal area, six more in each ring than in the last, for a picture that is evenly filled.
    """
    x, y = filled_rings(mirror, rings)
    matrix = np.empty((len(angles_deg), len(focuses_mm), 2, x.size))
    for row, angle in enumerate(angles_deg):
        points, onward = rays.reflected(mirror, x, y, rays.star_direction(float(angle)))
        for column, focus in enumerate(focuses_mm):
            plane = mirror.focal_length_mm + float(focus)
            landed = points + onward * ((plane - points[2]) / onward[2])
            matrix[row, column] = 1000 * (landed[:2] - [[plane * math.tan(math.radians(angle))], [0.0]])
    return matrix


def filled_rings(mirror: Mirror, rings: int) -> tuple[Floats, Floats]:
    """Points that fill the annulus evenly, mm: rings of equal width, each with points in step with its girth."""
    inner, outer = mirror.obstruction_diameter_mm / 2, mirror.aperture_mm / 2
    width = (outer - inner) / rings
    radii = inner + width * (np.arange(rings) + 0.5)
    counts = np.maximum(6, np.rint(2 * np.pi * radii / width)).astype(int)
    radius = np.repeat(radii, counts)
    angle = np.concatenate([2 * np.pi * np.arange(count) / count for count in counts])
    return radius * np.cos(angle), radius * np.sin(angle)


def field_angle_deg(field_diameter_mm: float, focal_length_mm: float) -> float:
    """Angle off the axis of the edge of a field of this diameter in the focal plane."""
    return math.degrees(math.atan(field_diameter_mm / 2 / focal_length_mm))


def tangential_coma_mm(mirror: Mirror, angle_deg: float) -> float:
    """Mean of the two rim rays in the plane of the field angle less the chief ray, in the paraxial focal plane, mm."""
    rim = mirror.aperture_mm / 2
    x, _ = rays.at_plane(mirror, np.array([rim, -rim, 0.0]), np.zeros(3), rays.star_direction(angle_deg),
                         mirror.focal_length_mm)
    return float((x[0] + x[1]) / 2 - x[2])


@formula(title="Edge focus minus paraxial focus", source="schroeder-2000", where="ch. 5",
         equation="z(r) + r (1 − p²)/(2p) − f at r = D/2, where the reflected ray crosses the axis; p the slope dz/dr",
         method="Exact, one ray, written so that nothing is lost by subtraction.",
         note="Positive towards the sky: a sphere's edge focuses nearer the mirror.")
def longitudinal_aberration_mm(aperture_mm: float, focal_length_mm: float, conic: float) -> float:
    """Focus of the edge ray less the paraxial focus, mm."""
    return float(zone_focus_mm(Mirror(aperture_mm, focal_length_mm, conic), aperture_mm**2 / 4))


@formula(title="Smallest spot on the axis", source="welford-1986", where="ch. 7",
         equation="√(mean ((c(r) − Q) m(r))²), least over Q; c the crossing of the ray from r, m its angle's tangent",
         method=_TRACE + " The plane Q by least squares.",
         note="RMS radius. The plane of the smallest spot is not that of the least wavefront error.")
def axis_rms_radius_um(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float,
) -> float:
    """Least RMS geometric radius of a star's image on the axis, over focus, µm."""
    return 1000 * smallest_on_axis(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)).value


@formula(title="Focus of the smallest spot", source="welford-1986", where="ch. 7",
         equation="Q = mean (c m²) ÷ mean m²; c the crossing of the ray from r, m the tangent of its angle",
         method=_TRACE, note="From the paraxial focus, positive towards the sky. For a full pupil, to third order, two "
                             "thirds of the longitudinal aberration.")
def smallest_spot_shift_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float,
) -> float:
    """From the paraxial focus to the plane of the smallest RMS spot on the axis, mm."""
    return smallest_on_axis(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)).focus_mm


@formula(title="Spot at the edge of the judged field", source="welford-1986", where="ch. 7",
         equation="√(mean |X − mean X|²), X where a ray of the star at tan θ = ρ/f meets the focal plane",
         method=_TRACE,
         note="RMS radius about the centroid. " + _FIELD_EDGE,
         unproved="Published spot sizes are to third order; the exact one is proved against an independent tracer.")
def edge_rms_radius_um(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, judged_field_mm: float,
) -> float:
    """RMS geometric radius of a star's image at the edge of the judged field, µm."""
    above_zero(judged_field_mm=judged_field_mm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return spot(mirror, field_angle_deg(judged_field_mm, focal_length_mm), least_rms(mirror).focus_mm).rms_radius_um


@formula(title="Tangential coma at the edge of the judged field, exact", source="schroeder-2000", where="ch. 5",
         equation="(X(+D/2) + X(−D/2))/2 − X(0), X where rays of the star at tan θ = ρ/f meet the paraxial focal plane",
         method="Exact trace of three rays.", note="The third order gives a little less.",
         unproved="Published values are to third order; the exact one is proved against an independent tracer.")
def edge_coma_um(aperture_mm: float, focal_length_mm: float, conic: float, judged_field_mm: float) -> float:
    """Length of the comatic patch at the edge of the judged field, µm."""
    above_zero(judged_field_mm=judged_field_mm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic)
    return 1000 * tangential_coma_mm(mirror, field_angle_deg(judged_field_mm, focal_length_mm))
