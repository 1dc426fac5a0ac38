"""Curves of the mirror on the axis: contrast, gathered light, wavefront, and what a shift of focus costs.

Lengths in millimetres unless a name says otherwise, wavefronts in waves. Each compares the design's mirror with two
perfect ones of its size: ``same_shadow`` with the same diagonal in front of it, ``clear`` with nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.optics import diffraction, first_order, spots, star_images, wavefront
from dossier.calc.optics.mirror import Floats
from dossier.design.pictures.light import Foci, Light, foci_of, light_of

if TYPE_CHECKING:
    from dossier.design.model import Design

_SHARES = 33
_FARTHEST_UNIT = 4.0


@dataclass(frozen=True, slots=True)
class ContrastCurves:
    """MTF against the share of the cut-off frequency, at the focus of the highest Strehl ratio.

    ``cut_off`` is in cycles per arcsecond on the sky.
    """

    light: Light
    focus_mm: float
    cut_off: float
    shares: Floats
    real: Floats
    same_shadow: Floats
    clear: Floats


@dataclass(frozen=True, slots=True)
class EnergyCurves:
    """Share of the light inside a radius of the star image, at the same focus. ``airy_um`` is among the radii."""

    light: Light
    focus_mm: float
    airy_um: float
    radii_um: Floats
    real: Floats
    same_shadow: Floats
    clear: Floats


@dataclass(frozen=True, slots=True)
class WavefrontProfile:
    """The wavefront across the whole mirror at the focus of its least RMS; zero midway between highest and lowest.

    Inside ``shadow_mm`` of the axis nothing of it is used.
    """

    light: Light
    focus_mm: float
    heights_mm: Floats
    waves: Floats
    shadow_mm: float


@dataclass(frozen=True, slots=True)
class StrehlCurve:
    """Strehl ratio, the surface's loss included, against focus; and its values at the three best foci.

    ``depth_mm`` is the shift of a quarter wave of defocus.
    """

    light: Light
    foci: Foci
    focuses_mm: Floats
    strehl: Floats
    at_foci: tuple[float, float, float]
    depth_mm: float


def contrast_curves(design: Design) -> ContrastCurves:
    """How much contrast is kept of detail of every size."""
    return _contrast(light_of(design))


@lru_cache(maxsize=8)
def _contrast(light: Light) -> ContrastCurves:
    mirror, shares = light.mirror, np.linspace(0, 1, _SHARES)
    focus = wavefront.highest_strehl(mirror, light.wavelength_nm).focus_mm
    rayleigh = first_order.rayleigh_limit_arcsec(light.wavelength_nm * 1e-3, mirror.aperture_mm)
    real, same_shadow, clear = (diffraction.contrast(each, at, light.wavelength_nm, shares) for each, at in (
        (mirror, focus), (mirror.perfect(), 0.0), (mirror.unobstructed().perfect(), 0.0)))
    return ContrastCurves(light, focus, diffraction.DARK_RING / rayleigh, shares, real, same_shadow, clear)


def encircled_energy(design: Design) -> EnergyCurves:
    """How much of a star's light is gathered how closely."""
    return _energy(light_of(design))


@lru_cache(maxsize=8)
def _energy(light: Light) -> EnergyCurves:
    mirror = light.mirror
    focus = wavefront.highest_strehl(mirror, light.wavelength_nm).focus_mm
    radii = np.union1d(np.linspace(0, _FARTHEST_UNIT, 65), [diffraction.DARK_RING])
    real, same_shadow, clear = (diffraction.encircled_energy(each, at, light.wavelength_nm, radii) for each, at in (
        (mirror, focus), (mirror.perfect(), 0.0), (mirror.unobstructed().perfect(), 0.0)))
    return EnergyCurves(light, focus, diffraction.DARK_RING * light.unit_um, radii * light.unit_um, real, same_shadow,
                        clear)


def wavefront_profile(design: Design) -> WavefrontProfile:
    """The wavefront from rim to rim."""
    return _profile(light_of(design))


@lru_cache(maxsize=8)
def _profile(light: Light) -> WavefrontProfile:
    mirror, shadow = light.mirror, light.mirror.obstruction_diameter_mm / 2
    focus = wavefront.least_rms(mirror).focus_mm
    half = np.union1d(np.linspace(0, mirror.aperture_mm / 2, 101), [shadow])
    heights = np.concatenate([-half[:0:-1], half])
    waves = wavefront.waves(mirror, heights**2, focus, light.wavelength_nm)
    used = waves[np.abs(heights) >= shadow]
    return WavefrontProfile(light, focus, heights, waves - (used.max() + used.min()) / 2, shadow)


def strehl_curve(design: Design) -> StrehlCurve:
    """What it costs to be out of focus, and where the best foci lie."""
    return _strehl(light_of(design), foci_of(design))


@lru_cache(maxsize=8)
def _strehl(light: Light, foci: Foci) -> StrehlCurve:
    mirror, wavelength = light.mirror, light.wavelength_nm
    named = (foci.least_wavefront_mm, foci.highest_strehl_mm, foci.smallest_spot_mm)
    wave = star_images.star_test_shift_mm(1.0, wavelength, mirror.focal_ratio)
    caustic = (0.0, spots.longitudinal_aberration_mm(mirror.aperture_mm, mirror.focal_length_mm, mirror.conic))
    grid = np.linspace(min(*named, *caustic) - 1.1 * wave, max(*named, *caustic) + 1.1 * wave, 161)
    focuses = np.union1d(grid, named)
    loss = wavefront.surface_loss(light.surface_rms_nm, wavelength)
    strehl = loss * wavefront.strehl_at(mirror, focuses, wavelength)
    best, narrow, small = (float(strehl[int(np.searchsorted(focuses, focus))]) for focus in named)
    return StrehlCurve(light, foci, focuses, strehl, (best, narrow, small), wave / 4)
