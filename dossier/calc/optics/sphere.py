"""How far a mirror of one conic stands from the paraboloid, to third order and, for its surface, exactly.

Lengths in millimetres unless the name says otherwise, wavelengths in micrometres. A focus is positive towards the sky
from the vertex. The exact wavefront needs rays; what stands here is the arithmetic that a maker can do by hand.
"""

from __future__ import annotations

import math

import numpy as np

from dossier.working import formula


@formula(title="This conic against the paraboloid, at the edge", source="schroeder-2000", where="ch. 5",
         rule="rim_radius_mm = aperture_mm / 2; vertex_radius_mm = 2 * focal_length_mm; "
              "root_mm = sqrt(vertex_radius_mm**2 - (1 + conic) * rim_radius_mm**2); "
              "1e6 * abs(1 + conic) * rim_radius_mm**4"
              " / (2 * vertex_radius_mm * (vertex_radius_mm + root_mm)**2)",
         note="Exact, both curves with the same vertex radius; written so that nearly equal numbers are never "
              "subtracted. The source's r⁴/8R³ is its first term for a sphere.")
def sag_difference_nm(aperture_mm: float, focal_length_mm: float, conic: float) -> float:
    """Depth between this conic and the paraboloid of the same vertex radius at the edge, without its sign, nm."""
    rim = aperture_mm / 2
    vertex_radius = 2 * focal_length_mm
    root = math.sqrt(vertex_radius**2 - (1 + conic) * rim**2)
    return 1e6 * abs(1 + conic) * rim**4 / (2 * vertex_radius * (vertex_radius + root) ** 2)


@formula(title="Least focal ratio of a sphere", source="texereau-1984", where="p. 19",
         rule="cbrt(1000 * aperture_mm / (512 * wavelength_um))",
         note="Where a sphere leaves a quarter wave from peak to valley at its best focus: third order, full pupil. "
              "In inches at 0.56 µm it is the handbook's ∛(88.6 D).")
def sphere_limit_focal_ratio(aperture_mm: float, wavelength_um: float) -> float:
    """Focal ratio above which a spherical mirror of this aperture keeps within a quarter wave."""
    return float(np.cbrt(1000 * aperture_mm / (512 * wavelength_um)))


@formula(title="Edge focus minus paraxial focus, third order", source="schroeder-2000", where="ch. 5",
         rule="-(1 + conic) * aperture_mm**2 / (32 * focal_length_mm)",
         note="A sphere's edge focuses nearer the mirror, so its sign is negative. The first term of the exact trace.")
def longitudinal_aberration_third_order_mm(aperture_mm: float, focal_length_mm: float, conic: float) -> float:
    """Longitudinal spherical aberration of the edge ray to third order, positive towards the sky, mm."""
    return -(1 + conic) * aperture_mm**2 / (32 * focal_length_mm)


@formula(title="Wavefront at best focus, third order", source="schroeder-2000", where="ch. 5",
         rule="1000 * abs(1 + conic) * aperture_mm / (2048 * focal_ratio**3 * wavelength_um)",
         note="Peak to valley over the full pupil, focused half-way between the paraxial and the edge focus.")
def wavefront_pv_third_order_wave(aperture_mm: float, focal_ratio: float, conic: float, wavelength_um: float) -> float:
    """Spherical aberration of a conic for a star at infinity, peak to valley at best focus, waves."""
    return 1000 * abs(1 + conic) * aperture_mm / (2048 * focal_ratio**3 * wavelength_um)
