"""From knife-edge readings to the surface itself, zone by zone, without supposing that it is a conic.

Lengths in millimetres, heights of the surface in nanometres, wavefronts in waves. Readings as in ``bench_tests``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dossier.calc.optics import pupil
from dossier.calc.optics.bench_tests import Lengths, best_conic, knife_readings_mm, model_for
from dossier.calc.optics.mirror import Floats, above_zero
from dossier.working import formula

_SAMPLES = 801
_METHOD = "Trapezoids between 801 radii; piston and focus by least squares over the area of the full mirror."
_SURFACE = ("normal of the zone r meets the axis at N(r), straight in r² between the zones; surface error h(r) = "
            "∫ (r/(N − r²/2R) − r/R) dr, less piston and focus")


@dataclass(frozen=True, slots=True)
class Profile:
    """Height of the surface above the paraboloid that fits best, nm, at each radius, mm; its span and RMS over area."""

    radius_mm: Floats
    surface_nm: Floats
    rms_nm: float

    @property
    def span_nm(self) -> float:
        return float(np.ptp(self.surface_nm))


@lru_cache(maxsize=32)
def profile(aperture_mm: float, focal_length_mm: float, zones_mm: tuple[float, ...], readings_mm: tuple[float, ...],
            source_moves: float) -> Profile:
    """Integrate the slopes that the readings tell into a surface. ValueError as in ``bench_tests.check_zones``.

    Between zones, and on to the middle and the rim, readings run straight in r², as any conic's do. The zero of the
    scale is that of the conic that fits best.
    """
    fit = best_conic(model_for(source_moves), aperture_mm, focal_length_mm, zones_mm, readings_mm)
    radius, zones = 2 * focal_length_mm, np.asarray(zones_mm, dtype=float)
    crossing = radius + np.asarray(readings_mm) - fit.zero_mm
    if not source_moves:
        crossing = _normals(radius, zones, crossing)
    r = np.linspace(0, aperture_mm / 2, _SAMPLES)
    slope_error = r / (_straight(r**2, zones**2, crossing) - r**2 / (2 * radius)) - r / radius
    steps = np.diff(r) * (slope_error[1:] + slope_error[:-1]) / 2
    return _less_piston_and_focus(r, 1e6 * np.concatenate([[0.0], np.cumsum(steps)]))


def _normals(radius: float, zones: Floats, knife: Floats) -> Floats:
    """Where each zone's normal meets the axis: it halves the angle between the fixed source and the knife."""
    height = zones**2 / (2 * radius)
    angle = (np.arctan(zones / (radius - height)) + np.arctan(zones / (knife - height))) / 2
    return np.asarray(height + zones / np.tan(angle))


def _straight(x: Floats, known_x: Floats, known_y: Floats) -> Floats:
    """Straight lines through the known points, carried on beyond the first and the last."""
    piece = np.clip(np.searchsorted(known_x, x) - 1, 0, known_x.size - 2)
    steep = np.diff(known_y) / np.diff(known_x)
    return np.asarray(known_y[piece] + steep[piece] * (x - known_x[piece]))


def _less_piston_and_focus(r: Floats, surface: Floats) -> Profile:
    places, weight = pupil.panels(4)
    area = r[-1] ** 2 * places
    heights = np.interp(np.sqrt(area), r, surface)
    bowl = area - float(weight @ area)
    mean, steep = float(weight @ heights), float(weight @ (bowl * heights)) / float(weight @ bowl**2)
    left = heights - mean - steep * bowl
    return Profile(r, surface - mean - steep * (r**2 - float(weight @ area)), math.sqrt(float(weight @ left**2)))


def _profile(aperture_mm: float, focal_length_mm: float, zones_mm: Lengths, readings_mm: Lengths,
             source_moves: float) -> Profile:
    return profile(aperture_mm, focal_length_mm, tuple(zones_mm), tuple(readings_mm), source_moves)


@formula(title="Wavefront from the measured profile, peak to valley", source="sky-telescope-1992", where="p. 574",
         equation=_SURFACE + "; 2 (highest h − lowest h)/λ", method=_METHOD,
         note="Zone by zone, no conic supposed. The reflection doubles the surface's error.",
         unproved="Published reductions print other mirrors' tables; it is proved by readings made from known mirrors.")
def profile_pv_wave(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Lengths, readings_mm: Lengths, source_moves: float,
    wavelength_nm: float,
) -> float:
    """Peak-to-valley wavefront of the measured surface over the full pupil at best focus, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    found = _profile(aperture_mm, focal_length_mm, zone_radii_mm, readings_mm, source_moves)
    return 2 * found.span_nm / wavelength_nm


@formula(title="Wavefront from the measured profile, RMS", source="sky-telescope-1992", where="p. 574",
         equation=_SURFACE + "; 2 √(mean h²)/λ over the area", method=_METHOD,
         note="Zone by zone, no conic supposed. The reflection doubles the surface's error.",
         unproved="Published reductions print other mirrors' tables; it is proved by readings made from known mirrors.")
def profile_rms_wave(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Lengths, readings_mm: Lengths, source_moves: float,
    wavelength_nm: float,
) -> float:
    """RMS wavefront of the measured surface over the full pupil at best focus, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    found = _profile(aperture_mm, focal_length_mm, zone_radii_mm, readings_mm, source_moves)
    return 2 * found.rms_nm / wavelength_nm


@formula(title="Strehl ratio from the measured profile", source="born-wolf-1999", where="9.1.3",
         equation=_SURFACE + "; |mean exp(4πi h/λ)|² over the area", method=_METHOD,
         note="Zone by zone, no conic supposed, at the focus of least RMS wavefront.",
         unproved="Published reductions print other mirrors' tables; it is proved by readings made from known mirrors.")
def profile_strehl(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Lengths, readings_mm: Lengths, source_moves: float,
    wavelength_nm: float,
) -> float:
    """Strehl ratio of the measured surface over the full pupil."""
    above_zero(wavelength_nm=wavelength_nm)
    found = _profile(aperture_mm, focal_length_mm, zone_radii_mm, readings_mm, source_moves)
    places, weight = pupil.panels(4)
    heights = np.interp(found.radius_mm[-1] * np.sqrt(places), found.radius_mm, found.surface_nm)
    return float(np.abs(weight @ np.exp(4j * np.pi * heights / wavelength_nm)) ** 2)


@formula(title="Surface error that the conic does not tell, RMS", source="sky-telescope-1992", where="p. 574",
         equation=_SURFACE + "; √(mean (h − h_K)²), h_K the same from the readings of the conic K that fits best",
         method=_METHOD, note="What a report would call the residual: it may stand for surface_rms.",
         unproved="Published reductions print other mirrors' tables; it is proved by readings made from known mirrors.")
def left_surface_rms_nm(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Lengths, readings_mm: Lengths, source_moves: float,
) -> float:
    """RMS difference of the measured surface from the conic that fits its readings best, nm."""
    fit = best_conic(model_for(source_moves), aperture_mm, focal_length_mm, zone_radii_mm, readings_mm)
    smooth = knife_readings_mm(aperture_mm, focal_length_mm, fit.conic, zone_radii_mm, source_moves)
    measured = _profile(aperture_mm, focal_length_mm, zone_radii_mm, readings_mm, source_moves)
    ideal = _profile(aperture_mm, focal_length_mm, zone_radii_mm, smooth, source_moves)
    return _less_piston_and_focus(measured.radius_mm, measured.surface_nm - ideal.surface_nm).rms_nm
