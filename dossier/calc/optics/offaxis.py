"""The wavefront of a star off the axis, and what the trace says of coma, astigmatism and curvature of field.

Lengths in millimetres, wavefronts in waves, wavelengths in nanometres, angles in degrees. The path is measured against
a sphere about the point where the chief ray meets the focal plane; piston, tilt and focus are what least squares over
the annulus find in it of 1, x, y and r².
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from dossier.calc.optics import pupil, rays
from dossier.calc.optics.mirror import Floats, Mirror, above_zero
from dossier.calc.optics.pupil import Points
from dossier.calc.optics.spots import field_angle_deg
from dossier.calc.optics.wavefront import least_rms
from dossier.working import formula

WAVEFRONT = ("W = (d·P + |PQ|)/λ, from the plane wave of direction d by way of the mirror's point P to Q, where the "
             "chief ray meets the focal plane")
_NARROW = 1e-4


def path_mm(mirror: Mirror, points: Points, angle_deg: float, focus_mm: float) -> Floats:
    """Path of each ray of a star this far off the axis to the chief ray's point in the plane at this focus, mm."""
    plane = mirror.focal_length_mm + focus_mm
    focus = np.array([plane * math.tan(math.radians(angle_deg)), 0.0, plane])
    return rays.posed_path_mm(mirror, rays.Pose(), points.x, points.y, rays.star_direction(angle_deg), focus)


def refitted(mirror: Mirror, points: Points, path: Floats) -> Floats:
    """The path with piston, tilt and focus removed by weighted least squares."""
    basis, root_weight = _simple_shapes(mirror, points)
    found = (basis * root_weight) @ (path * root_weight)
    return np.asarray(path - found @ basis)


@lru_cache(maxsize=256)
def wavefront_rms_mm(mirror: Mirror, angle_deg: float) -> float:
    """RMS path off the axis over the annulus, at the focus best on the axis, piston, tilt and focus removed, mm."""
    points = pupil.annulus(mirror, 2)
    path = refitted(mirror, points, path_mm(mirror, points, angle_deg, least_rms(mirror).focus_mm))
    return math.sqrt(points.mean(path**2))


def pencil_focuses_mm(mirror: Mirror, angle_deg: float) -> tuple[float, float]:
    """Where a narrow pencil about the chief ray focuses in the plane of the field angle, and across it.

    Heights of the tangential and sagittal foci above the paraxial focal plane, mm.
    """
    direction = rays.star_direction(angle_deg)
    reach = _NARROW * mirror.focal_length_mm
    points, onward = rays.reflected(mirror, np.array([reach, -reach, 0.0]), np.array([0.0, 0.0, reach]), direction)
    steep_x, steep_y = onward[0] / onward[2], onward[1] / onward[2]
    at_vertex_x, at_vertex_y = points[0] - steep_x * points[2], points[1] - steep_y * points[2]
    tangential = -(at_vertex_x[0] - at_vertex_x[1]) / (steep_x[0] - steep_x[1])
    sagittal = -at_vertex_y[2] / steep_y[2]
    return float(tangential) - mirror.focal_length_mm, float(sagittal) - mirror.focal_length_mm


def _simple_shapes(mirror: Mirror, points: Points) -> tuple[Floats, Floats]:
    """1, x, y and r², made orthonormal over the pupil, and the root of the weights."""
    half, root_weight = mirror.aperture_mm / 2, np.sqrt(points.weight)
    tilt_x, tilt_y, focus = points.x / half, points.y / half, points.r2 / half**2
    shapes = np.stack([np.ones_like(focus), tilt_x, tilt_y, focus - points.mean(focus)])
    size = np.sqrt(np.sum(shapes**2 * points.weight, axis=1, keepdims=True))
    return shapes / size, root_weight


@formula(title="Wavefront at the edge of the judged field", source="born-wolf-1999", where="9.1",
         equation=WAVEFRONT + "; RMS of W − (c₀ + c₁x + c₂y + c₃r²), the c by least squares, at tan θ = ρ/f",
         method="Exact path, Gauss quadrature in r² and equal steps of angle over the annulus.",
         note="Focal plane at the best focus of the axis; piston, tilt and focus removed.",
         unproved="Published values are to third order; the exact one is proved against an independent tracer.")
def edge_wavefront_rms_wave(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, judged_field_mm: float,
    wavelength_nm: float,
) -> float:
    """RMS wavefront of a star at the edge of the judged field, piston, tilt and focus removed, waves."""
    above_zero(judged_field_mm=judged_field_mm, wavelength_nm=wavelength_nm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return wavefront_rms_mm(mirror, field_angle_deg(judged_field_mm, focal_length_mm)) * 1e6 / wavelength_nm


@formula(title="Astigmatism at the edge of the judged field", source="schroeder-2000", where="ch. 5",
         equation="z_T − z_S, the heights at which a narrow pencil about the chief ray focuses in and across the plane "
                  "of the field angle, tan θ = ρ/f",
         method="Exact trace of rays a ten-thousandth of the focal length off the chief ray.",
         note="Along the axis; negative where the focus in the plane of the field angle lies nearer the mirror.",
         unproved="Follows in one step from the foci of a narrow pencil, f cos θ and f/cos θ; proved against those.")
def edge_astigmatism_um(aperture_mm: float, focal_length_mm: float, conic: float, judged_field_mm: float) -> float:
    """Distance along the axis between the two foci of a narrow pencil at the edge of the judged field, µm."""
    above_zero(judged_field_mm=judged_field_mm)
    tangential, sagittal = _edge_focuses(aperture_mm, focal_length_mm, conic, judged_field_mm)
    return 1000 * (tangential - sagittal)


@formula(title="Curvature of field at the edge of the judged field", source="schroeder-2000", where="ch. 5",
         equation="(z_T + z_S)/2 − f, z_T and z_S as for astigmatism",
         method="Exact trace of rays a ten-thousandth of the focal length off the chief ray.",
         note="Negative where stars at the edge focus nearer the mirror than the star in the middle.",
         unproved="Follows in one step from the foci of a narrow pencil, f cos θ and f/cos θ; proved against those.")
def edge_curvature_um(aperture_mm: float, focal_length_mm: float, conic: float, judged_field_mm: float) -> float:
    """Mean focus at the edge of the judged field less that of the middle, along the axis, µm."""
    above_zero(judged_field_mm=judged_field_mm)
    tangential, sagittal = _edge_focuses(aperture_mm, focal_length_mm, conic, judged_field_mm)
    return 500 * (tangential + sagittal)


@formula(title="What the eye would have to refocus", source="born-wolf-1999", where="4.3",
         rule="edge_curvature_um / eyepiece_focal_length_mm ** 2",
         note="Between the middle and the edge, by Newton's form of the lens equation. Negative: with the middle set "
              "for a relaxed eye, light of the edge leaves the eyepiece converging, which no eye can focus.",
         unproved="The eyepiece is taken as a thin lens; proved against the lens equation.")
def refocus_dioptre(edge_curvature_um: float, eyepiece_focal_length_mm: float) -> float:
    """Change of focus that the eye sees through the eyepiece from middle to edge, dioptres (1/m)."""
    return edge_curvature_um / eyepiece_focal_length_mm**2


@formula(title="Spot as the eye sees it", source="geometry",
         rule="21.6 / pi * edge_rms_radius_um / eyepiece_focal_length_mm",
         note="The angle of twice its RMS radius, behind the eyepiece; 21.6/π turns µm/mm into arcminutes.",
         unproved="Geometry of one small triangle.")
def spot_seen_arcmin(edge_rms_radius_um: float, eyepiece_focal_length_mm: float) -> float:
    """Angle under which the eye sees twice the spot's RMS radius, arcmin."""
    return 21.6 / math.pi * edge_rms_radius_um / eyepiece_focal_length_mm


def _edge_focuses(aperture_mm: float, focal_length_mm: float, conic: float, field_mm: float) -> tuple[float, float]:
    return pencil_focuses_mm(Mirror(aperture_mm, focal_length_mm, conic), field_angle_deg(field_mm, focal_length_mm))
