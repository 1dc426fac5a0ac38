"""Pictures of one star: in focus and out, on the axis and off it, in one colour and as the eye sees white light.

Lengths in millimetres, places in the image in micrometres, wavelengths in nanometres, defocus in waves peak to valley
over the full pupil. Pictures are square arrays; the sky end of the tube lies to the right. Brightness is relative to
the middle of a perfect mirror's image with the same shadow, at focus.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from dossier.calc.optics import offaxis, pupil
from dossier.calc.optics.diffraction import star_profile
from dossier.calc.optics.mirror import Floats, Mirror, above_zero
from dossier.calc.optics.wavefront import highest_strehl
from dossier.working import formula

# Luminous efficiency of the eye by day, CIE 1924, at wavelengths 40 nm apart (recalled): what each lends to white.
EYE = ((450.0, 0.038), (490.0, 0.20802), (530.0, 0.862), (570.0, 0.952), (610.0, 0.503), (650.0, 0.107))
_EDGE_SAMPLES = 4
_DEFOCUS = "W(r) the exact path to the point on the axis 8 n λF² from the focus of the highest Strehl ratio"


def places_um(half_width_um: float, pixels: int) -> Floats:
    """Middles of the pixels along one side of a picture, µm from its middle."""
    return np.asarray(((np.arange(pixels) + 0.5) / pixels * 2 - 1) * half_width_um)


def image(mirror: Mirror, angle_deg: float, focus_mm: float, wavelength_nm: float, half_width_um: float, pixels: int,
          vanes: int = 0, vane_thickness_mm: float = 0.0, samples: int = 128) -> Floats:
    """The star at an angle off the axis, with the spider's spikes, about where its chief ray lands.

    Fraunhofer integral over a grid of ``samples``² points of the pupil, its edges grey, by two matrix products.
    ValueError where the picture is so wide that the grid would repeat it.
    """
    open_share, path = _pupil(mirror, angle_deg, focus_mm, vanes, vane_thickness_mm, samples)
    return _picture(mirror.focal_ratio, open_share, path, wavelength_nm, half_width_um, pixels)


def white_image(mirror: Mirror, angle_deg: float, focus_mm: float, half_width_um: float, pixels: int, vanes: int = 0,
                vane_thickness_mm: float = 0.0, samples: int = 128, surface_mm: Floats | None = None) -> Floats:
    """The same in white light, summed over the colours of ``EYE``.

    Each colour brings the same light through the pupil, so that its peak falls as 1/λ²: its image is that much wider.
    ``surface_mm`` is how far the mirror's face is raised towards the sky over the cells of ``pupil_grid``, as in a
    mirror that is pinched: the path of light that meets it almost squarely is twice that much shorter.
    """
    open_share, path = _pupil(mirror, angle_deg, focus_mm, vanes, vane_thickness_mm, samples)
    if surface_mm is not None:
        path = path - 2 * surface_mm
    total = sum(weight for _, weight in EYE)
    mean = sum(weight / wavelength**2 for wavelength, weight in EYE) / total
    parts = [weight / (total * mean * wavelength**2)
             * _picture(mirror.focal_ratio, open_share, path, wavelength, half_width_um, pixels)
             for wavelength, weight in EYE]
    return np.asarray(np.sum(parts, axis=0))


def _pupil(mirror: Mirror, angle_deg: float, focus_mm: float, vanes: int, vane_thickness_mm: float,
           samples: int) -> tuple[Floats, Floats]:
    """How open each cell of the grid is, 0…1, and the path to the chief ray's point by way of its middle, mm."""
    places, open_share = pupil_grid(mirror, vanes, vane_thickness_mm, samples)
    x, y = (grid.ravel() for grid in np.meshgrid(places, places))
    path = offaxis.path_mm(mirror, pupil.Points(x, y, np.ones_like(x)), angle_deg, focus_mm)
    return open_share, path.reshape(open_share.shape)


def _picture(focal_ratio: float, open_share: Floats, path: Floats, wavelength_nm: float, half_width_um: float,
             pixels: int) -> Floats:
    samples = len(path)
    in_units = places_um(half_width_um, pixels) / (wavelength_nm * 1e-3 * focal_ratio)
    if half_width_um > samples / 2 * wavelength_nm * 1e-3 * focal_ratio:
        raise ValueError(f"half_width_um {half_width_um:g} needs more than {samples} samples across the pupil")
    across = (np.arange(samples) + 0.5) / samples - 0.5
    field = open_share.astype(np.float32) * _phasors(path * (1e6 / wavelength_nm))
    turn = _phasors(-np.multiply.outer(in_units, across))
    # Rows of a picture run down from the top, heights upwards.
    amplitude = turn[::-1] @ field @ turn.T
    return np.asarray(np.abs(amplitude) ** 2 / np.float32(open_share.sum() ** 2), dtype=np.float64)


def _phasors(turns: Floats) -> NDArray[np.complex64]:
    """exp(2πi turns). Whole turns are taken off in full; then single precision is plenty for a picture, and faster."""
    angle = (2 * np.pi * (turns - np.rint(turns))).astype(np.float32)
    made = np.empty(angle.shape, dtype=np.complex64)
    made.real, made.imag = np.cos(angle), np.sin(angle)
    return made


@lru_cache(maxsize=8)
def pupil_grid(mirror: Mirror, vanes: int, vane_thickness_mm: float, samples: int) -> tuple[Floats, Floats]:
    """Middles of the grid's cells along one side, mm, and the share of each cell that light passes: 0…1."""
    side = mirror.aperture_mm
    places = ((np.arange(samples) + 0.5) / samples - 0.5) * side
    fine = ((np.arange(samples * _EDGE_SAMPLES) + 0.5) / (samples * _EDGE_SAMPLES) - 0.5) * side
    x, y = fine, fine[:, None]
    r2 = x**2 + y**2
    passes = (r2 <= side**2 / 4) & (r2 >= mirror.obstruction_diameter_mm**2 / 4)
    share: NDArray[np.float64] = _cells(passes, samples)
    for turned in 2 * np.pi * np.arange(vanes) / max(vanes, 1):
        share = share * (1 - _vane(places, turned, vane_thickness_mm, side / samples))
    return places, share


def _cells(fine: NDArray[np.bool_], samples: int) -> Floats:
    blocks = fine.reshape(samples, _EDGE_SAMPLES, samples, _EDGE_SAMPLES)
    return np.asarray(blocks.mean(axis=(1, 3)))


def _vane(places: Floats, turned: float, thickness: float, cell: float) -> Floats:
    """Share of each cell that a vane hides: one thinner than a cell greys the cells that its line touches."""
    x, y = places, places[:, None]
    beside = np.abs(y * math.cos(turned) - x * math.sin(turned))
    along = x * math.cos(turned) + y * math.sin(turned)
    spread = max(cell, thickness)
    edge = (spread + cell) / 2
    hidden = thickness / spread * np.clip((edge - beside) / cell, 0, 1)
    return np.asarray(np.where(along > 0, hidden, 0.0))


def defocused(mirror: Mirror, wavelength_nm: float, defocus_wave: float) -> float:
    """Focus, mm from the paraxial one, this many waves outside (positive) or inside the best focus."""
    best = highest_strehl(mirror, wavelength_nm).focus_mm
    return best + star_test_shift_mm(defocus_wave, wavelength_nm, mirror.focal_ratio)


@formula(title="Shift of focus for the star test", source="welford-1986", where="ch. 7",
         rule="8 * defocus_wave * 1e-6 * wavelength_nm * focal_ratio**2",
         note="A wave of defocus is counted between middle and edge of the full pupil; positive is outside focus, away "
              "from the mirror.", unproved="Texts print the rule; no worked number of theirs has been read.")
def star_test_shift_mm(defocus_wave: float, wavelength_nm: float, focal_ratio: float) -> float:
    """How far the eyepiece is moved from best focus for so many waves of defocus, mm."""
    return 8 * defocus_wave * 1e-6 * wavelength_nm * focal_ratio**2


@formula(title="Middle of the star test's disc, outside focus", source="born-wolf-1999", where="8.8",
         equation="|mean exp(2πiW)|² there ÷ the same at the best focus; " + _DEFOCUS,
         method="Gauss quadrature in r² over the annulus.", note="Vanes left aside.",
         unproved="Published star tests are pictures; it is proved against the closed form of a perfect mirror.")
def star_test_outside(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    defocus_wave: float,
) -> float:
    """Brightness in the middle, this many waves outside focus, as a share of the in-focus peak."""
    above_zero(wavelength_nm=wavelength_nm, defocus_wave=defocus_wave)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return _middle_over_peak(mirror, wavelength_nm, defocus_wave)


@formula(title="Middle of the star test's disc, inside focus", source="born-wolf-1999", where="8.8",
         equation="|mean exp(2πiW)|² there ÷ the same at the best focus; " + _DEFOCUS,
         method="Gauss quadrature in r² over the annulus.", note="Vanes left aside.",
         unproved="Published star tests are pictures; it is proved against the closed form of a perfect mirror.")
def star_test_inside(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    defocus_wave: float,
) -> float:
    """Brightness in the middle, this many waves inside focus, as a share of the in-focus peak."""
    above_zero(wavelength_nm=wavelength_nm, defocus_wave=defocus_wave)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return _middle_over_peak(mirror, wavelength_nm, -defocus_wave)


def _middle_over_peak(mirror: Mirror, wavelength_nm: float, defocus_wave: float) -> float:
    focus = defocused(mirror, wavelength_nm, defocus_wave)
    middle = star_profile(mirror, focus, wavelength_nm, np.zeros(1))[0]
    return float(middle) / highest_strehl(mirror, wavelength_nm).value
