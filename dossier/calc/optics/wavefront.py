"""The wavefront on the axis: the exact path of every ray to a chosen focus, and what is made of it.

Lengths in millimetres, wavefronts in waves, wavelengths in nanometres. Three best foci are kept apart: the one of least
RMS wavefront and the one of highest Strehl ratio here, the one of the smallest spot in ``spots``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dossier.calc.optics import pupil
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, depth, root
from dossier.working import formula

PATH = ("W(r) = (|PQ| − z(r) − |OQ|)/λ, from a plane wave by way of the point P of the mirror, at the depth z(r), to "
        "the focus Q; O is the vertex, averages are over the area of the annulus")
_SMOOTH = "Exact path, Gauss quadrature in r² over the annulus between the shadow and the clear aperture."
# The step of the search for the highest Strehl ratio, in units of λF²: an eighth of a wave of defocus.
_SEARCH_STEP = 1.0
_SPREAD_SAMPLES = 33
_P_V_SAMPLES = 2001


@dataclass(frozen=True, slots=True)
class BestFocus:
    """A focus, mm from the paraxial one, positive towards the sky, and what is best there."""

    focus_mm: float
    value: float


def path_mm(mirror: Mirror, r2: Floats | float, focus_mm: Floats | float) -> Floats:
    """Path from a plane wave to the point on the axis, by the mirror at r2 (mm²), less that by the vertex, mm.

    |PQ| − z − q with q = f + focus. Written as (r² − 4qz)/(|PQ| + q + z), it loses no digits, and is exactly zero
    for a paraboloid at its focus.
    """
    height, reach = depth(mirror, r2), mirror.focal_length_mm + focus_mm
    fall = 1 - 4 * reach / (mirror.radius_mm * (1 + root(mirror, r2)))
    return np.asarray(r2 * fall / (np.sqrt(r2 + (reach - height) ** 2) + reach + height))


def waves(mirror: Mirror, r2: Floats, focus_mm: Floats | float, wavelength_nm: float) -> Floats:
    """The same path in waves."""
    return path_mm(mirror, r2, focus_mm) * (1e6 / wavelength_nm)


def zone_focus_mm(mirror: Mirror, r2: Floats | float) -> Floats:
    """Where a ray parallel to the axis, met at r2 (mm²), crosses the axis: mm from the paraxial focus, exact."""
    part = root(mirror, r2)
    below_one = -(1 + mirror.conic) * r2 / (mirror.radius_mm**2 * (1 + part))
    return np.asarray(below_one * (mirror.focal_length_mm + r2 / (2 * mirror.radius_mm * part * (1 + part))))


@lru_cache(maxsize=256)
def least_rms(mirror: Mirror) -> BestFocus:
    """The focus of least RMS path over the annulus, and that RMS in mm. It does not depend on the wavelength."""
    r2, weight = pupil.rings(mirror, 2)
    focus = float(np.mean(zone_focus_mm(mirror, np.array([r2[0], r2[-1]]))))
    for _ in range(8):
        path = _centred(path_mm(mirror, r2, focus), weight)
        step = _centred(_path_per_focus(mirror, r2, focus), weight)
        change = float(weight @ (path * step)) / float(weight @ step**2)
        focus -= change
        if abs(change) <= 1e-14 * mirror.focal_length_mm:
            break
    path = _centred(path_mm(mirror, r2, focus), weight)
    return BestFocus(focus, math.sqrt(float(weight @ path**2)))


@lru_cache(maxsize=256)
def peak_to_valley_mm(mirror: Mirror) -> float:
    """Highest minus lowest path over the annulus at the focus of least RMS, mm."""
    inner, outer = mirror.obstruction_diameter_mm**2 / 4, mirror.aperture_mm**2 / 4
    path = path_mm(mirror, np.linspace(inner, outer, _P_V_SAMPLES), least_rms(mirror).focus_mm)
    return float(np.ptp(path))


def strehl_at(mirror: Mirror, focus_mm: Floats, wavelength_nm: float) -> Floats:
    """|mean exp(2πiW)|² over the annulus at each of these foci."""
    extremes = np.array([[focus_mm.min()], [focus_mm.max()]])
    # Near best focus rim and middle agree while the zones between them do not, so the ends alone would say too little.
    inner, outer = _ends(mirror)
    spread = np.ptp(waves(mirror, np.linspace(inner, outer, _SPREAD_SAMPLES), extremes, wavelength_nm), axis=1)
    r2, weight = pupil.rings(mirror, pupil.panels_for(float(spread.max())))
    blocks = np.array_split(focus_mm, 1 + focus_mm.size * r2.size // 2**18)
    amplitudes = [np.exp(2j * np.pi * waves(mirror, r2, block[:, None], wavelength_nm)) @ weight for block in blocks]
    return np.asarray(np.abs(np.concatenate(amplitudes)) ** 2)


@lru_cache(maxsize=256)
def highest_strehl(mirror: Mirror, wavelength_nm: float) -> BestFocus:
    """The focus of the highest Strehl ratio, and that ratio, surface errors apart.

    The whole caustic is searched before any peak is climbed: a strongly aberrated mirror has several, and two may be
    nearly equal.
    """
    above_zero(wavelength_nm=wavelength_nm)
    step = _SEARCH_STEP * wavelength_nm * 1e-6 * mirror.focal_ratio**2 / (1 - mirror.obstruction**2)
    foci = zone_focus_mm(mirror, _ends(mirror))
    count = int(np.ceil(np.ptp(foci) / step)) + 9
    grid = np.asarray(foci.mean() + step * (np.arange(count) - (count - 1) / 2))
    found = strehl_at(mirror, grid, wavelength_nm)
    peaks = np.flatnonzero((found[1:-1] >= found[:-2]) & (found[1:-1] >= found[2:])) + 1
    peaks = peaks[found[peaks] >= 0.8 * found[peaks].max()]
    climbed = [_climb(mirror, float(grid[peak]), step, wavelength_nm) for peak in peaks]
    return max(climbed, key=lambda best: best.value)


def _climb(mirror: Mirror, focus: float, step: float, wavelength_nm: float) -> BestFocus:
    """The top of the peak within a step of this focus: a parabola through three points, thrice, ever closer."""
    for _ in range(4):
        low, middle, high = strehl_at(mirror, focus + step * np.array([-1.0, 0.0, 1.0]), wavelength_nm)
        bend = low - 2 * middle + high
        if bend < 0:
            focus += float(np.clip(step * (low - high) / (2 * bend), -step, step))
        step /= 5
    return BestFocus(focus, float(strehl_at(mirror, np.array([focus]), wavelength_nm)[0]))


def _ends(mirror: Mirror) -> Floats:
    return np.array([mirror.obstruction_diameter_mm**2 / 4, mirror.aperture_mm**2 / 4])


def _centred(values: Floats, weight: Floats) -> Floats:
    return np.asarray(values - weight @ values)


def _path_per_focus(mirror: Mirror, r2: Floats, focus_mm: float) -> Floats:
    """Change of path with focus: cos of the ray's angle to the axis, less 1."""
    above = mirror.focal_length_mm + focus_mm - depth(mirror, r2)
    return np.asarray(above / np.sqrt(r2 + above**2) - 1)


@formula(title="Shift of best focus", source="welford-1986", where="ch. 7",
         equation=PATH + "; best is the Q of least RMS W", method=_SMOOTH + " The focus by Gauss–Newton.",
         note="From the paraxial focus, positive towards the sky. Over the full pupil, to third order, it is half the "
              "longitudinal aberration; over an annulus (1 + o²)/2 of it. The smallest spot lies elsewhere.")
def best_focus_shift_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float,
) -> float:
    """From the paraxial focus to the focus of least RMS wavefront over the annulus, mm."""
    return least_rms(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)).focus_mm


@formula(title="Wavefront on the axis, peak to valley", source="schroeder-2000", where="ch. 5",
         equation=PATH + "; highest W minus lowest W at the focus of least RMS W", method=_SMOOTH)
def wavefront_pv_wave(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Peak-to-valley wavefront on the axis over the annulus, at the focus of least RMS wavefront, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return peak_to_valley_mm(mirror) * 1e6 / wavelength_nm


@formula(title="Wavefront on the axis, RMS", source="sacek-2006", where="after eq. 70",
         equation=PATH + "; √(mean W² − (mean W)²), least over Q", method=_SMOOTH)
def wavefront_rms_wave(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """RMS wavefront on the axis over the annulus, at the focus where it is least, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    return least_rms(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)).value * 1e6 / wavelength_nm


@formula(title="What rough or uneven polish leaves of the Strehl ratio", source="sacek-2006", where="after eq. 70",
         rule="exp(-(4 * pi * surface_rms_nm / wavelength_nm)**2)", holds={"surface_rms_nm": (0, 40)},
         note="A reflection doubles the surface's error. Errors of small scale, spread by chance over the mirror.")
def surface_loss(surface_rms_nm: float, wavelength_nm: float) -> float:
    """Factor on the Strehl ratio from errors of the surface that the conic does not tell."""
    return math.exp(-((4 * math.pi * surface_rms_nm / wavelength_nm) ** 2))


@formula(title="Strehl ratio", source="born-wolf-1999", where="9.1.3", holds={"surface_rms_nm": (0, 40)},
         equation=PATH + "; S = max over Q of |mean exp(2πiW)|² × exp(−(4πs/λ)²), s the RMS error of the surface",
         method=_SMOOTH + " The whole caustic is searched in steps of an eighth of a wave of defocus, then the highest "
                          "peaks are climbed.",
         note="1 is a perfect mirror with the same shadow: the shadow's own loss of contrast is counted elsewhere.")
def strehl(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    surface_rms_nm: float,
) -> float:
    """Strehl ratio on the axis over the annulus at the focus that makes it highest, times the surface's loss."""
    if not (math.isfinite(surface_rms_nm) and surface_rms_nm >= 0):
        raise ValueError(f"surface_rms_nm must be zero or more, not {surface_rms_nm:g}")
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return highest_strehl(mirror, wavelength_nm).value * surface_loss(surface_rms_nm, wavelength_nm)


@formula(title="Focus of the highest Strehl ratio", source="born-wolf-1999", where="9.1.3",
         equation=PATH + "; the Q at which |mean exp(2πiW)|² is highest", method=_SMOOTH,
         note="From the paraxial focus, positive towards the sky.",
         unproved="Tables give the ratio, not where it is reached; it is proved against another library's focus.")
def strehl_focus_shift_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """From the paraxial focus to the focus of highest Strehl ratio over the annulus, mm."""
    best = highest_strehl(Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm), wavelength_nm)
    # Climbing a peak ends within its rounding: a picometre of focus is none.
    return round(best.focus_mm, 9)
