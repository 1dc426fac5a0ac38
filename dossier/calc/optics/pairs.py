"""Double stars through a mirror and the air: how dark it is between the two in a long look.

Angles on the sky in arcseconds, lengths in millimetres, wavelengths in nanometres, magnitudes by eye. ``scenes`` holds
the same for still air, and the pictures.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from dossier.calc.optics.diffraction import transfer
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, finite
from dossier.calc.optics.scenes import ARCSEC, seeing_transfer
from dossier.calc.optics.wavefront import highest_strehl
from dossier.working import formula

_PLACES, _CURVE_POINTS = 601, 81
_PANEL_NODES, _FEWEST_PANELS = 6, 8
# Where mirror and air together pass less than this, nothing is added by going on.
_PASSED = 1e-6
# Beyond so many widths of its image a star's light no longer fills the gap to the other.
_APART = 12.0


@formula(title="Difference in brightness", source="definition", rule="fainter_mag - brighter_mag",
         unproved="It is one catalogued number less another.")
def magnitude_difference_mag(fainter_mag: float, brighter_mag: float) -> float:
    """How much fainter the second star of a pair is, mag."""
    return fainter_mag - brighter_mag


@formula(title="How dark it is between the two stars, in this seeing", source="fried-1966",
         equation="1 − I_between/I_fainter along the line through two images ∫ T(ν) exp(−3.44 (λν/r₀)^(5/3)) J₀(2πνx) "
                  "ν dν, one dimmed by the difference in magnitude; r₀ = 0.976 λ/seeing",
         method="T the exact transfer of the mirror at the focus of the highest Strehl ratio; Gauss quadrature over "
                "the frequencies across and along the line, at 601 places. Stars more than twelve widths of their "
                "image apart are taken as fully dark between.",
         note="In one colour and long looks. With no seeing it is still air, which moments of calm come near. Zero "
              "where two stars do not show. Two equal stars at Rayleigh's limit behind a clear aperture, in still air, "
              "show 0.26.")
def double_star_dip_in_seeing(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    separation_arcsec: float, magnitude_difference_mag: float, seeing_arcsec: float,
) -> float:
    """Depth of the dip between two stars in long looks through moving air, as a share of the fainter's peak, 0…1."""
    above_zero(wavelength_nm=wavelength_nm, separation_arcsec=separation_arcsec)
    finite(magnitude_difference_mag=magnitude_difference_mag)
    return _gap(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm, separation_arcsec,
                magnitude_difference_mag, seeing_arcsec)


@lru_cache(maxsize=512)
def _gap(mirror: Mirror, wavelength_nm: float, separation_arcsec: float, difference_mag: float,
         seeing_arcsec: float) -> float:
    cut_off = mirror.aperture_mm / (wavelength_nm * 1e-6) * ARCSEC
    if separation_arcsec > _APART * math.hypot(seeing_arcsec, 1 / cut_off):
        return 1.0
    places = np.linspace(-0.5, 1.5, _PLACES) * separation_arcsec
    own = _star(mirror, wavelength_nm, seeing_arcsec, np.abs(places))
    # Symmetrical about the middle of the pair: each star's profile is the other's reversed.
    fainter = 10 ** (-0.4 * difference_mag) * own[::-1]
    return _dip(own, fainter, places, separation_arcsec)


def _dip(brighter: Floats, fainter: Floats, places: Floats, apart: float) -> float:
    line = brighter + fainter
    peaks = np.flatnonzero((line[1:-1] > line[:-2]) & (line[1:-1] >= line[2:])) + 1
    found = [peaks[np.abs(places[peaks] - star) < apart / 4] for star in (0.0, apart)]
    if not all(near.size for near in found):
        return 0.0
    first, second = (int(near[np.argmax(line[near])]) for near in found)
    if fainter[second] < brighter[second]:
        return 0.0
    return float(1 - line[first:second + 1].min() / line[second])


def _star(mirror: Mirror, wavelength_nm: float, seeing_arcsec: float, radii_arcsec: Floats) -> Floats:
    """Brightness of one star at these distances from its middle, on a scale of its own."""
    # Rounded up, so that pairs nearly alike share their frequencies.
    reach = 2.0 ** (math.ceil(2 * math.log2(float(radii_arcsec.max()))) / 2)
    frequencies, lent = _lent(mirror, wavelength_nm, seeing_arcsec, reach)
    return np.asarray(np.cos(2 * np.pi * np.outer(radii_arcsec, frequencies)) @ lent)


@lru_cache(maxsize=256)
def _lent(mirror: Mirror, wavelength_nm: float, seeing_arcsec: float, reach_arcsec: float) -> tuple[Floats, Floats]:
    """Frequencies along the line in cycles per arcsecond, close enough for images of this reach, and what each lends.

    Along a line through its middle the image is the cosine transform of the transfer summed across the line.
    """
    cut_off = mirror.aperture_mm / (wavelength_nm * 1e-6) * ARCSEC
    shares, curve = _curve(mirror, wavelength_nm)
    passed = curve * seeing_transfer(seeing_arcsec, shares * cut_off)
    last = cut_off * shares[min(int(np.flatnonzero(passed > _PASSED)[-1]) + 1, len(shares) - 1)]
    nodes, weights = _panels(max(_FEWEST_PANELS, math.ceil(last * reach_arcsec)))
    along, (steps, across_weights) = last * nodes, _panels(_FEWEST_PANELS)
    half = np.sqrt(last**2 - along**2)
    met = np.hypot(along[:, None], half[:, None] * steps)
    through = np.interp(met / cut_off, shares, curve) * seeing_transfer(seeing_arcsec, met)
    return along, weights * half * (through @ across_weights)


def _panels(count: int) -> tuple[Floats, Floats]:
    """Gauss's nodes and weights on 0…1, in so many equal panels."""
    nodes, weights = np.polynomial.legendre.leggauss(_PANEL_NODES)
    places = (((nodes + 1) / 2 + np.arange(count)[:, None]) / count).ravel()
    return places, np.tile(weights / (2 * count), count)


@lru_cache(maxsize=16)
def _curve(mirror: Mirror, wavelength_nm: float) -> tuple[Floats, Floats]:
    shares = np.linspace(0, 1, _CURVE_POINTS)
    return shares, transfer(mirror, highest_strehl(mirror, wavelength_nm).focus_mm, wavelength_nm, shares)
