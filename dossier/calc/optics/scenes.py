"""What the eyepiece shows: a scene blurred by this mirror and the air, and two stars side by side.

Angles on the sky in arcseconds, wavelengths in nanometres. Scenes are square arrays of brightness with a pixel of so
many arcseconds. Blurring is done in frequencies, where mirror and air each multiply: the mirror by its exact transfer
at the focus of the highest Strehl ratio, the air by that of long looks through Kolmogorov's turbulence.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from dossier.calc.optics.diffraction import star_profile, transfer
from dossier.calc.optics.mirror import Floats, Mirror, above_zero
from dossier.calc.optics.star_images import EYE
from dossier.calc.optics.wavefront import highest_strehl
from dossier.working import formula

ARCSEC = math.pi / 648000
# Width at half maximum of the long-look image, in units of λ over Fried's length.
_SEEING_WIDTH = 0.976
_CURVE_POINTS = 49


def seen(scene: Floats, pixel_arcsec: float, mirror: Mirror, seeing_arcsec: float) -> Floats:
    """The scene as this mirror shows it in white light under this seeing. Same shape; the light is kept.

    The scene is taken to stand in darkness: it is set in a field of twice its width before it is blurred.
    """
    above_zero(pixel_arcsec=pixel_arcsec)
    side = scene.shape[0]
    spectrum = np.fft.rfft2(scene, s=(2 * side, 2 * side))
    across, along = np.fft.rfftfreq(2 * side, pixel_arcsec), np.fft.fftfreq(2 * side, pixel_arcsec)
    passed = white_transfer(mirror, seeing_arcsec, np.hypot(across, along[:, None]))
    return np.asarray(np.fft.irfft2(spectrum * passed, s=(2 * side, 2 * side))[:side, :side])


def two_stars(mirror: Mirror, separation_arcsec: float, magnitude_difference_mag: float, seeing_arcsec: float,
              width_arcsec: float, pixels: int) -> Floats:
    """A double star in white light, the pair along the middle row, the brighter on the left. Peak about 1.

    The pixel must resolve the finest frequency that the mirror passes. ValueError where it does not.
    """
    pixel = width_arcsec / pixels
    finest = EYE[0][0] * 1e-6 / mirror.aperture_mm / ARCSEC
    if pixel > finest / 2:
        raise ValueError(f"pixels {pixels:g} are too few for {width_arcsec:g}″: "
                         f"at least {math.ceil(2 * width_arcsec / finest)} are needed")
    across, along = np.fft.rfftfreq(pixels, pixel), np.fft.fftfreq(pixels, pixel)[:, None]
    middle, half = width_arcsec / 2, separation_arcsec / 2
    fainter = 10 ** (-0.4 * magnitude_difference_mag)
    pair = (np.exp(-2j * np.pi * across * (middle - half)) + fainter * np.exp(-2j * np.pi * across * (middle + half)))
    spectrum = pair * np.exp(-2j * np.pi * along * middle)
    passed = white_transfer(mirror, seeing_arcsec, np.hypot(across, along))
    picture = np.asarray(np.fft.irfft2(spectrum * passed, s=(pixels, pixels)))
    return np.asarray(np.maximum(picture, 0) / picture.max())


def white_transfer(mirror: Mirror, seeing_arcsec: float, cycles_per_arcsec: Floats) -> Floats:
    """Transfer of mirror and air together in white light at these frequencies."""
    total = sum(weight for _, weight in EYE)
    parts = [weight / total * _mirror_transfer(mirror, wavelength, cycles_per_arcsec) for wavelength, weight in EYE]
    return np.asarray(np.sum(parts, axis=0)) * seeing_transfer(seeing_arcsec, cycles_per_arcsec)


def _mirror_transfer(mirror: Mirror, wavelength_nm: float, cycles_per_arcsec: Floats) -> Floats:
    shares, curve = _transfer_curve(mirror, wavelength_nm)
    cut_off = mirror.aperture_mm / (wavelength_nm * 1e-6) * ARCSEC
    return np.interp(cycles_per_arcsec.ravel() / cut_off, shares, curve, right=0.0).reshape(cycles_per_arcsec.shape)


@lru_cache(maxsize=64)
def _transfer_curve(mirror: Mirror, wavelength_nm: float) -> tuple[Floats, Floats]:
    shares = np.linspace(0, 1, _CURVE_POINTS)
    return shares, transfer(mirror, highest_strehl(mirror, wavelength_nm).focus_mm, wavelength_nm, shares)


def seeing_transfer(seeing_arcsec: float, cycles_per_arcsec: Floats) -> Floats:
    """Transfer of the air in long looks, for seeing told by its width at half maximum; 1 where that is zero.

    exp(−3.44 (λν/r₀)^(5/3)) with Fried's length r₀ = 0.976 λ/seeing: the wavelength drops out.
    """
    if not (math.isfinite(seeing_arcsec) and seeing_arcsec >= 0):
        raise ValueError(f"seeing_arcsec must be zero or more, not {seeing_arcsec:g}")
    return np.asarray(np.exp(-3.44 * (cycles_per_arcsec * seeing_arcsec / _SEEING_WIDTH) ** (5 / 3)))


def invented_planet(pixels: int, flattening: float = 0.06) -> Floats:
    """A striped planet that fills the middle eight tenths of a square: belts, an oval, a moon's shadow, a darker limb.

    Nobody's planet: its detail is made up, to judge what a telescope keeps of it.
    """
    x, y = np.meshgrid(*2 * [((np.arange(pixels) + 0.5) / pixels * 2 - 1) / 0.8])
    y = y / (1 - flattening)
    height = np.sqrt(np.clip(1 - x**2 - y**2, 0, 1))
    latitude = np.arcsin(np.clip(y, -1, 1))
    belts = sum(depth * np.exp(-((latitude - middle) / width) ** 2) for middle, width, depth in _BELTS)
    ripple = 0.06 * np.sin(14 * np.arctan2(x, height) + 9 * y) * np.exp(-(((latitude + 0.17) / 0.09) ** 2))
    oval = 0.30 * np.exp(-((x - 0.30) / 0.15) ** 2 - ((latitude - 0.36) / 0.075) ** 2)
    shadow = ((x + 0.42) ** 2 + (y + 0.05) ** 2 < 0.045**2) * 0.95
    face = (1 - belts - ripple - oval) * (1 - shadow) * (0.35 + 0.65 * height)
    return np.asarray(np.where(height > 0, np.clip(face, 0, 1), 0.0))


# Latitude, width and darkness of the invented planet's belts, radians and shares.
_BELTS = ((-0.17, 0.09, 0.40), (0.20, 0.11, 0.32), (-0.52, 0.05, 0.20), (0.58, 0.06, 0.18), (-1.05, 0.25, 0.22),
          (1.10, 0.25, 0.24), (0.02, 0.02, 0.12), (-0.80, 0.03, 0.10))


@formula(title="How dark it is between the two stars", source="rayleigh-1879",
         equation="1 − I_between/I_fainter along the line through two images |∫ exp(2πiW) J₀(2πrq/(λf)) r dr|², one "
                  "dimmed by the difference in magnitude; I_fainter its peak, I_between the least before it",
         method="Exact profiles at the focus of the highest Strehl ratio, at 601 places along the line.",
         note="In one colour and still air. Zero where two stars do not show. Two equal stars at Rayleigh's limit "
              "behind a clear aperture show 0.26.")
def double_star_dip(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    separation_arcsec: float, magnitude_difference_mag: float,
) -> float:
    """Depth of the dip between two stars, as a share of the fainter one's peak, 0…1."""
    above_zero(wavelength_nm=wavelength_nm, separation_arcsec=separation_arcsec)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    apart = separation_arcsec * ARCSEC * aperture_mm / (wavelength_nm * 1e-6)
    focus = highest_strehl(mirror, wavelength_nm).focus_mm
    # Symmetrical about the middle of the pair: each star's profile is the other's reversed.
    places = np.linspace(-0.5, 1.5, 601) * apart
    own = star_profile(mirror, focus, wavelength_nm, np.abs(places))
    fainter = 10 ** (-0.4 * magnitude_difference_mag) * own[::-1]
    line = own + fainter
    first, second = _peak_near(line, places, 0.0, apart), _peak_near(line, places, apart, apart)
    if first is None or second is None or fainter[second] < own[second]:
        return 0.0
    return float(1 - line[first : second + 1].min() / line[second])


def _peak_near(line: Floats, places: Floats, star: float, apart: float) -> int | None:
    """The highest local peak within a quarter of the separation of where a star stands."""
    peaks = np.flatnonzero((line[1:-1] > line[:-2]) & (line[1:-1] >= line[2:])) + 1
    peaks = peaks[np.abs(places[peaks] - star) < apart / 4]
    return int(peaks[np.argmax(line[peaks])]) if peaks.size else None
