"""The shortest focal length at which a sphere will do, by the exact wavefront. The third order stands in ``sphere``.

Lengths in millimetres, wavelengths in nanometres. Both limits are reached from the third-order law, by which the
wavefront falls as the cube of the focal length.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from dossier.calc.optics.mirror import Mirror, above_zero
from dossier.calc.optics.wavefront import PATH, highest_strehl, peak_to_valley_mm
from dossier.working import formula

QUARTER_WAVE, MARECHAL = 0.25, 0.80
_ROUNDS = 40


def _scaled(aperture_mm: float, shadow_mm: float, excess: Callable[[Mirror], float]) -> float:
    """The focal length at which ``excess``, how many times too long the wavefront is, becomes 1."""
    focal_length = 8.0 * aperture_mm
    for _ in range(_ROUNDS):
        factor = excess(Mirror(aperture_mm, focal_length, 0.0, shadow_mm)) ** (1 / 3)
        focal_length *= min(2.0, max(0.5, factor))
        if abs(factor - 1) < 1e-12:
            break
    return focal_length


@lru_cache(maxsize=64)
def _quarter_wave(aperture_mm: float, shadow_mm: float, wavelength_nm: float) -> float:
    limit_mm = QUARTER_WAVE * wavelength_nm * 1e-6
    return _scaled(aperture_mm, shadow_mm, lambda sphere: peak_to_valley_mm(sphere) / limit_mm)


@lru_cache(maxsize=64)
def _marechal(aperture_mm: float, shadow_mm: float, wavelength_nm: float) -> float:
    def excess(sphere: Mirror) -> float:
        return math.sqrt(math.log(highest_strehl(sphere, wavelength_nm).value) / math.log(MARECHAL))

    return _scaled(aperture_mm, shadow_mm, excess)


@formula(title="Shortest focal length of a sphere, by a quarter wave", source="rayleigh-1879",
         equation=PATH + "; highest W minus lowest W at the focus of least RMS W is 1/4",
         method="Exact path; the focal length by repeated scaling with the cube root of what is too much.",
         note="Over the annulus. Beyond it a sphere keeps the quarter-wave limit.")
def sphere_focal_length_quarter_wave_mm(
    aperture_mm: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Focal length above which a sphere of this aperture keeps its wavefront within a quarter wave, mm."""
    above_zero(aperture_mm=aperture_mm, wavelength_nm=wavelength_nm)
    return _quarter_wave(aperture_mm, obstruction_diameter_mm, wavelength_nm)


@formula(title="Shortest focal length of a sphere, by the Strehl ratio", source="born-wolf-1999", where="9.3",
         equation=PATH + "; max over Q of |mean exp(2πiW)|² is 0.80",
         method="Exact path; the focal length by repeated scaling with the sixth root of the logarithm of the ratio.",
         note="Over the annulus. Beyond it a sphere keeps the limit that custom draws; rough polish comes on top.")
def sphere_focal_length_strehl_mm(aperture_mm: float, obstruction_diameter_mm: float, wavelength_nm: float) -> float:
    """Focal length above which a sphere of this aperture keeps a Strehl ratio of 0.80, mm."""
    above_zero(aperture_mm=aperture_mm, wavelength_nm=wavelength_nm)
    return _marechal(aperture_mm, obstruction_diameter_mm, wavelength_nm)
