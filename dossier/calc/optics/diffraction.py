"""Diffraction on the axis: the star image, the energy in it and the transfer of contrast, from the real wavefront.

Lengths in millimetres, wavelengths in nanometres. Radii in the image are in units of λF, frequencies in shares of the
cut-off 1/(λF). The pupil is the annulus between the shadow and the clear aperture; vanes are left to ``images``.
Everything here uses that the wavefront is one of revolution, and is worked by quadrature: no grid, no grey edges.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from dossier.calc.optics import pupil
from dossier.calc.optics.mirror import Floats, Mirror, above_zero
from dossier.calc.optics.wavefront import highest_strehl, waves
from dossier.working import formula

DARK_RING = 1.21967
_FREQUENCIES_AT_ONCE = 16


def bessel_j0(x: Floats) -> Floats:
    """The Bessel function of order 0 by its integral, the mean of cos(x cos θ) over a quarter turn.

    The midpoint rule with n nodes errs by J of order 4n, nothing once 4n is well beyond x: checked in the tests.
    """
    count = 8 + int(np.max(np.abs(x), initial=0) / 3)
    cosines = np.cos(np.pi / 2 * (np.arange(count) + 0.5) / count)
    total = np.zeros(np.shape(x))
    for cosine in cosines:
        total += np.cos(x * cosine)
    return np.asarray(total / count)


def phase_spread(mirror: Mirror, focus_mm: float, wavelength_nm: float) -> float:
    """Highest less lowest wavefront over the annulus at this focus, waves."""
    inner, outer = mirror.obstruction_diameter_mm**2 / 4, mirror.aperture_mm**2 / 4
    return float(np.ptp(waves(mirror, np.linspace(inner, outer, 65), focus_mm, wavelength_nm)))


def amplitude(mirror: Mirror, focus_mm: float, wavelength_nm: float, radii: Floats) -> NDArray[np.complex128]:
    """Amplitude at these radii (λF) in the plane at this focus, as a share of a perfect mirror's at its centre."""
    farthest = float(np.max(radii, initial=0))
    spread = phase_spread(mirror, focus_mm, wavelength_nm)
    r2, weight = pupil.rings(mirror, pupil.panels_for(spread + farthest / 4))
    phase = np.exp(2j * np.pi * waves(mirror, r2, focus_mm, wavelength_nm)) * weight
    zones = np.sqrt(r2) / (mirror.aperture_mm / 2)
    return np.asarray(bessel_j0(np.pi * np.multiply.outer(radii, zones)) @ phase)


def star_profile(mirror: Mirror, focus_mm: float, wavelength_nm: float, radii: Floats) -> Floats:
    """Intensity at these radii (λF), 1 at the centre of a perfect mirror with the same shadow."""
    return np.asarray(np.abs(amplitude(mirror, focus_mm, wavelength_nm, radii)) ** 2)


def encircled_energy(mirror: Mirror, focus_mm: float, wavelength_nm: float, radii: Floats) -> Floats:
    """Share of the light through the pupil that falls inside each of these ascending radii (λF).

    By Parseval the whole of it is the pupil's area; between radii the intensity is summed by Gauss quadrature.
    """
    starts = np.concatenate([[0.0], radii[:-1]])
    widths = radii - starts
    places, shares = pupil.panels(1 + int(np.max(widths) / 2))
    at = starts[:, None] + widths[:, None] * places
    intensity = star_profile(mirror, focus_mm, wavelength_nm, at.ravel()).reshape(at.shape)
    rings = widths * ((intensity * at) @ shares)
    area = math.pi / 4 * (1 - mirror.obstruction**2)
    return np.asarray(2 * math.pi * area * np.cumsum(rings))


def contrast(mirror: Mirror, focus_mm: float, wavelength_nm: float, shares: Floats) -> Floats:
    """MTF at these shares of the cut-off frequency: the transfer without its sign."""
    return np.abs(transfer(mirror, focus_mm, wavelength_nm, shares))


def transfer(mirror: Mirror, focus_mm: float, wavelength_nm: float, shares: Floats) -> Floats:
    """Optical transfer at these shares of the cut-off: the pupil's autocorrelation over two displaced annuli.

    Real, as the wavefront is one of revolution; below zero where light and dark change places.

    A quarter of the overlap is summed: over y between all heights at which its outline changes, and over x between the
    outlines of the two shadows and the rims. Nothing is sampled across an edge, so the sum is exact to many digits.
    """
    blocks = np.array_split(np.asarray(shares, dtype=float), 1 + np.size(shares) // _FREQUENCIES_AT_ONCE)
    return np.concatenate([_transfer(mirror, focus_mm, wavelength_nm, block) for block in blocks])


def _transfer(mirror: Mirror, focus_mm: float, wavelength_nm: float, half: Floats) -> Floats:
    spread = phase_spread(mirror, focus_mm, wavelength_nm)
    places, weights = pupil.panels(pupil.panels_for(spread))
    y, y_weight = _heights(half, mirror.obstruction, places, weights)
    x, x_weight = _strips(half[:, None, None], y, mirror.obstruction, places, weights)
    weight = x_weight * y_weight[..., None, None]
    if spread:  # a perfect wavefront turns nothing
        scale = (mirror.aperture_mm / 2) ** 2
        y2 = y[..., None, None] ** 2
        shift = half[:, None, None, None, None]
        ahead, behind = (scale * ((x + sign * shift) ** 2 + y2) for sign in (1, -1))
        rim = mirror.aperture_mm**2 / 4
        turned = (waves(mirror, np.minimum(ahead, rim), focus_mm, wavelength_nm)
                  - waves(mirror, np.minimum(behind, rim), focus_mm, wavelength_nm))
        weight = np.cos(2 * np.pi * turned) * weight
    quarter = np.sum(weight, axis=(1, 2, 3, 4))
    return np.asarray(4 * quarter / (math.pi * (1 - mirror.obstruction**2)))


def _heights(half: Floats, shadow: float, places: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Heights y, in units of the pupil's radius, and weights: shape (frequencies, pieces, nodes).

    The outline of the overlap changes where the rims meet, where the shadows meet, at the top of a shadow and where a
    shadow meets the other rim. Sines towards both ends of a piece take the square roots out of the outlines there.
    """
    top = np.sqrt(np.clip(1 - half**2, 0, None))
    shadows_meet = np.sqrt(np.clip(shadow**2 - half**2, 0, None))
    room = np.maximum(half, 1e-12)
    meets = [(1 - shadow**2 - 4 * half**2) / (4 * room), (4 * half**2 + shadow**2 - 1) / (4 * room)]
    other_rim = [np.where((width >= 0) & (width <= shadow), np.sqrt(np.clip(shadow**2 - width**2, 0, None)), 0)
                 for width in meets]
    ends = np.sort(np.minimum([0 * half, np.full_like(half, shadow), shadows_meet, *other_rim, top], top), axis=0).T
    width = np.diff(ends, axis=1)[..., None]
    y = ends[:, :-1, None] + width * (1 - np.cos(np.pi * places)) / 2
    return np.asarray(y), np.asarray(width * np.pi / 2 * np.sin(np.pi * places) * weights)


def _strips(half: Floats, y: Floats, shadow: float, places: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Places x > 0 of the overlap at each height, two strips of nodes, and weights: shape (…, 2, nodes).

    At a height the rims leave x up to T; the shadow displaced to +half takes out half ± its chord, the one displaced to
    −half takes what it reaches beyond the middle.
    """
    reach = np.maximum(np.sqrt(np.clip(1 - y**2, 0, None)) - half, 0)
    chord = np.sqrt(np.clip(shadow**2 - y**2, 0, None))
    starts = np.stack([np.zeros_like(reach), np.minimum(half + chord, reach)], axis=-1)
    ends = np.stack([np.clip(half - chord, 0, reach), reach], axis=-1)
    width = (ends - starts)[..., None]
    return np.asarray(starts[..., None] + width * places), np.asarray(width * weights)


@lru_cache(maxsize=128)
def _usual_contrasts(mirror: Mirror, wavelength_nm: float) -> tuple[float, float, float]:
    """MTF at a quarter, half and three quarters of the cut-off, at the focus of the highest Strehl ratio."""
    focus = highest_strehl(mirror, wavelength_nm).focus_mm
    low, middle, high = contrast(mirror, focus, wavelength_nm, np.array([0.25, 0.5, 0.75]))
    return float(low), float(middle), float(high)


_TRANSFER = ("MTF(s) = |∫ P(x + sD/2) P*(x − sD/2) dx| ÷ ∫ |P|² dx, P = exp(2πiW) on the annulus; s the share of the "
             "cut-off 1/(λF)")
_AUTOCORRELATION = "Autocorrelation of the pupil by Gauss quadrature over the exact overlap of the two annuli."
_PUPIL = "Real wavefront at the focus of the highest Strehl ratio; the diagonal's shadow counted, vanes left aside."


@formula(title="Contrast at a quarter of the cut-off", source="goodman-2005", where="6.3", equation=_TRANSFER,
         method=_AUTOCORRELATION, note=_PUPIL)
def mtf_25(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Diffraction MTF on the axis at 0.25 of the cut-off frequency."""
    above_zero(wavelength_nm=wavelength_nm)
    return _usual_contrasts(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm)[0]


@formula(title="Contrast at half of the cut-off", source="goodman-2005", where="6.3", equation=_TRANSFER,
         method=_AUTOCORRELATION, note=_PUPIL)
def mtf_50(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Diffraction MTF on the axis at 0.5 of the cut-off frequency."""
    above_zero(wavelength_nm=wavelength_nm)
    return _usual_contrasts(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm)[1]


@formula(title="Contrast at three quarters of the cut-off", source="goodman-2005", where="6.3", equation=_TRANSFER,
         method=_AUTOCORRELATION, note=_PUPIL)
def mtf_75(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Diffraction MTF on the axis at 0.75 of the cut-off frequency."""
    above_zero(wavelength_nm=wavelength_nm)
    return _usual_contrasts(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm)[2]


@lru_cache(maxsize=128)
def _airy_energy(mirror: Mirror, wavelength_nm: float) -> float:
    focus = highest_strehl(mirror, wavelength_nm).focus_mm
    return float(encircled_energy(mirror, focus, wavelength_nm, np.array([DARK_RING]))[-1])


@formula(title="Light inside the Airy disc", source="born-wolf-1999", where="8.5.2",
         equation="E = ∫ |∫ exp(2πiW) J₀(2πrq/(λf)) r dr|² q dq from 0 to 1.21967 λF ÷ the same to infinity",
         method="Gauss quadrature over pupil and image; the whole light from the pupil's area, by Parseval.",
         note=_PUPIL)
def airy_energy(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Share of the light through the pupil that falls inside the radius 1.21967 λF."""
    above_zero(wavelength_nm=wavelength_nm)
    return _airy_energy(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm)
