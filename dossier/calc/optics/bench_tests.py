"""The knife-edge test at the centre of curvature: what each zone should read, and what readings say of the mirror.

Lengths in millimetres. Readings are positions of the knife along the axis, positive away from the mirror; only their
differences count, so the zero of the scale is always found along with the rest. The source either moves with the knife
or stands still at the vertex's centre of curvature.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from dossier.calc.optics.mirror import LEAST_CONIC, MOST_CONIC, Floats, Mirror, above_zero, depth, finite
from dossier.calc.optics.wavefront import PATH, highest_strehl, least_rms, peak_to_valley_mm
from dossier.working import NoAnswer, formula

Reading = Callable[[Mirror, Floats], Floats]
Lengths = Sequence[float]
_LEAST_READINGS = 2
_STEP = 1e-3


def moving_source(mirror: Mirror, r2: Floats) -> Floats:
    """Knife less vertex's centre of curvature, source beside the knife: where the normal at r2 meets the axis, mm.

    That is −K z(r) for any conic, exactly.
    """
    return np.asarray(-mirror.conic * depth(mirror, r2))


def fixed_source(mirror: Mirror, r2: Floats) -> Floats:
    """Knife less vertex's centre of curvature, source standing there: where its ray from r2 comes back to the axis.

    The normal halves the angle between the ray that comes and the ray that goes.
    """
    radius, height = np.sqrt(r2), depth(mirror, r2)
    to_normal = radius / (mirror.radius_mm - (1 + mirror.conic) * height)
    to_source = radius / (mirror.radius_mm - height)
    turned = (to_normal - to_source) / (1 + to_normal * to_source)
    back = (to_normal + turned) / (1 - to_normal * turned)
    # The difference of r over each slope, written so that a sphere's is nothing at all and not a rounding.
    return np.asarray(radius * (to_source - back) / (back * to_source))


@dataclass(frozen=True, slots=True)
class Fit:
    """The conic that fits readings best, the zero of the scale, what is left of each reading, the conic's uncertainty.

    ``conic_uncertainty`` is one standard deviation from the scatter of the readings about the conic; NaN where two
    readings leave none.
    """

    conic: float
    zero_mm: float
    left_mm: tuple[float, ...]
    conic_uncertainty: float


def best_conic(model: Reading, aperture_mm: float, focal_length_mm: float, zones_mm: Lengths,
               readings_mm: Lengths) -> Fit:
    """The conic and zero of least squared misfit to the readings. ValueError where zones or readings are unusable."""
    check_zones(aperture_mm, zones_mm, readings_mm)
    r2, readings = np.square(zones_mm), np.asarray(readings_mm, dtype=float)
    conic = -1.0
    for _ in range(20):
        here, below, above = (model(Mirror(aperture_mm, focal_length_mm, conic + step), r2)
                              for step in (0, -_STEP, _STEP))
        change_per_conic = _centred(above - below) / (2 * _STEP)
        change = float(change_per_conic @ (readings - here)) / float(change_per_conic @ change_per_conic)
        conic += change
        if not LEAST_CONIC + _STEP < conic < MOST_CONIC - _STEP:
            raise ValueError(f"bench.readings fit a conic of about {conic:.3g}, which is no telescope mirror's: are "
                             "they positive away from the mirror, and is bench.source what it was?")
        if abs(change) < 1e-12:
            break
    left = readings - model(Mirror(aperture_mm, focal_length_mm, conic), r2)
    zero = float(left.mean())
    fit = Fit(conic, zero, tuple((left - zero).tolist()), _uncertainty(left - zero, change_per_conic))
    _refuse_noise(fit)
    return fit


def _refuse_noise(fit: Fit) -> None:
    """Readings that would fit any mirror tell nothing of this one."""
    spread = 0.0 if math.isnan(fit.conic_uncertainty) else fit.conic_uncertainty
    if not LEAST_CONIC <= fit.conic - spread <= fit.conic + spread <= MOST_CONIC:
        off = max(abs(left) for left in fit.left_mm)
        raise ValueError(f"bench.readings lie up to {off:.3g} mm off the conic that fits them best, {fit.conic:.3g} ± "
                         f"{spread:.3g}: they tell nothing of the mirror; were they taken zone by zone, in one unit?")


def _uncertainty(left: Floats, change_per_conic: Floats) -> float:
    spare = left.size - 2
    if spare < 1:
        return math.nan
    return math.sqrt(float(left @ left) / spare / float(change_per_conic @ change_per_conic))


def _centred(values: Floats) -> Floats:
    return np.asarray(values - values.mean())


def check_zones(aperture_mm: float, zones_mm: Lengths, readings_mm: Lengths) -> None:
    """ValueError naming the first zone or reading that is missing, out of order, off the mirror or not a number."""
    if len(zones_mm) != len(readings_mm):
        raise ValueError(f"bench.zones has {len(zones_mm)} radii and bench.readings {len(readings_mm)}: "
                         "each zone needs its reading")
    if len(zones_mm) < _LEAST_READINGS:
        raise ValueError(f"bench.zones has {len(zones_mm)} radii: the zero of the scale is free, so at least "
                         f"{_LEAST_READINGS} are needed")
    check_radii(aperture_mm, zones_mm)
    for index, reading in enumerate(readings_mm):
        finite(**{f"bench.readings[{index}]": reading})


def check_radii(aperture_mm: float, zones_mm: Lengths) -> None:
    """ValueError naming the first zone that is off the mirror, out of order or not a number."""
    for index, zone in enumerate(zones_mm):
        if not 0 < zone <= aperture_mm / 2:
            raise ValueError(f"bench.zones[{index}] {zone:g} mm is not on the mirror: its radius is "
                             f"{aperture_mm / 2:g} mm")
        if index and not zone > zones_mm[index - 1]:
            raise ValueError(f"bench.zones[{index}] {zone:g} mm must be larger than bench.zones[{index - 1}] "
                             f"{zones_mm[index - 1]:g} mm: zones run from the middle outwards")


def model_for(source_moves: float) -> Reading:
    """How the knife reads. ``source_moves`` is 1 where the source moves with the knife, 0 where it stands still."""
    if source_moves not in (0, 1):
        raise ValueError(f"source_moves must be 1 (with the knife) or 0 (standing still), not {source_moves:g}")
    return moving_source if source_moves else fixed_source


_READING = ("source moving with the knife: x(r) = −K z(r), where the normal meets the axis; source standing at the "
            "vertex's centre of curvature C: x(r) = z + r/tan(2α − β) − R, with tan α = r/(R − (1 + K)z) and "
            "tan β = r/(R − z)")


@formula(title="What the knife edge should read", source="sky-telescope-1992", where="p. 574", equation=_READING,
         method="Exact, one ray.",
         note="From the vertex's centre of curvature, positive away from the mirror. Only differences count.")
def knife_reading_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, zone_centre_mm: float, source_moves: float,
) -> float:
    """Knife position that this conic gives at this radius, mm. ValueError for a radius off the mirror."""
    return knife_readings_mm(aperture_mm, focal_length_mm, conic, (zone_centre_mm,), source_moves)[0]


def knife_readings_mm(
    aperture_mm: float, focal_length_mm: float, conic: float, zone_radii_mm: Lengths, source_moves: float,
) -> tuple[float, ...]:
    """Knife positions that this conic gives at these radii, mm."""
    model, radii = model_for(source_moves), tuple(zone_radii_mm)
    check_radii(aperture_mm, radii)
    return tuple(model(Mirror(aperture_mm, focal_length_mm, conic), np.square(radii)).tolist())


@formula(title="Conic that fits the knife-edge readings", source="sky-telescope-1992", where="p. 574",
         equation=_READING + "; Σ (reading − x(r) − c)² least over the conic K and the scale's zero c",
         method="Gauss–Newton from a paraboloid; each reading counts alike.",
         note="Readings positive away from the mirror.",
         unproved="Published reductions print no worked conic; it is proved by readings made from known mirrors.")
def bench_conic(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Sequence[float], readings_mm: Sequence[float],
    source_moves: float,
) -> float:
    """Conic of least squared misfit to the readings, the zero of their scale free."""
    return best_conic(model_for(source_moves), aperture_mm, focal_length_mm, zone_radii_mm, readings_mm).conic


@formula(title="Where the knife's scale has its zero", source="definition",
         equation=_READING + "; c = mean (reading − x(r)) with the conic that fits best",
         method="From the same least squares as the conic.",
         note="The vertex's centre of curvature on the scale of the readings.",
         unproved="Textbook least squares; proved by readings made with a known zero.")
def scale_zero_mm(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Sequence[float], readings_mm: Sequence[float],
    source_moves: float,
) -> float:
    """What the scale reads with the knife at the vertex's centre of curvature, mm."""
    return best_conic(model_for(source_moves), aperture_mm, focal_length_mm, zone_radii_mm, readings_mm).zero_mm


@formula(title="Left of the reading by the conic", source="definition",
         rule="reading_mm - scale_zero_mm - knife_reading_mm",
         note="What the conic that fits best does not explain: the zone's own fault, and the reading's.",
         unproved="It is a difference.")
def reading_left_mm(reading_mm: float, scale_zero_mm: float, knife_reading_mm: float) -> float:
    """A reading less what the conic that fits best would read there, mm."""
    return reading_mm - scale_zero_mm - knife_reading_mm


@formula(title="Uncertainty of the conic", source="definition",
         equation=_READING + "; σ_K² = Σ (reading − x − c)²/(n − 2) ÷ Σ (∂x/∂K − mean ∂x/∂K)²",
         method="From the scatter of the readings about the conic that fits best: one standard deviation.",
         unproved="Textbook least squares; proved by readings with known scatter.")
def bench_conic_uncertainty(
    aperture_mm: float, focal_length_mm: float, zone_radii_mm: Sequence[float], readings_mm: Sequence[float],
    source_moves: float,
) -> float:
    """One standard deviation of the conic. NoAnswer where two readings leave no scatter to judge by."""
    found = best_conic(model_for(source_moves), aperture_mm, focal_length_mm, zone_radii_mm, readings_mm)
    if math.isnan(found.conic_uncertainty):
        raise NoAnswer("bench.readings are two: they fit a conic exactly and leave no scatter to judge it by")
    return found.conic_uncertainty


@formula(title="Wavefront of the tested mirror, peak to valley", source="schroeder-2000", where="ch. 5",
         equation=PATH + "; highest W minus lowest W at the focus of least RMS W, over the full pupil",
         method="Exact path of the conic that fits the readings, Gauss quadrature in r².")
def full_pupil_wavefront_pv_wave(
    aperture_mm: float, focal_length_mm: float, conic: float, wavelength_nm: float,
) -> float:
    """Peak-to-valley wavefront on the axis over the unobstructed mirror, at best focus, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    return peak_to_valley_mm(Mirror(aperture_mm, focal_length_mm, conic)) * 1e6 / wavelength_nm


@formula(title="Wavefront of the tested mirror, RMS", source="sacek-2006", where="after eq. 70",
         equation=PATH + "; √(mean W² − (mean W)²) over the full pupil, least over Q",
         method="Exact path of the conic that fits the readings, Gauss quadrature in r².")
def full_pupil_wavefront_rms_wave(
    aperture_mm: float, focal_length_mm: float, conic: float, wavelength_nm: float,
) -> float:
    """RMS wavefront on the axis over the unobstructed mirror, at best focus, waves."""
    above_zero(wavelength_nm=wavelength_nm)
    return least_rms(Mirror(aperture_mm, focal_length_mm, conic)).value * 1e6 / wavelength_nm


_SPREAD = "A mirror so far from the paraboloid: the wavefront grows as the conic's distance from −1."


@formula(title="Uncertainty of the tested wavefront, peak to valley", source="schroeder-2000", where="ch. 5",
         equation=PATH + "; highest less lowest W over the full pupil of the conic −1 + u, u the conic's uncertainty",
         method="Exact path, Gauss quadrature in r².", note=_SPREAD,
         unproved="It is the tested wavefront's own formula, proved elsewhere, of a small departure.")
def bench_pv_uncertainty_wave(
    aperture_mm: float, focal_length_mm: float, conic_uncertainty: float, wavelength_nm: float,
) -> float:
    """What one standard deviation of the conic makes of the wavefront, peak to valley, waves."""
    return full_pupil_wavefront_pv_wave(aperture_mm, focal_length_mm, conic_uncertainty - 1, wavelength_nm)


@formula(title="Uncertainty of the tested wavefront, RMS", source="sacek-2006", where="after eq. 70",
         equation=PATH + "; RMS W over the full pupil of the conic −1 + u, u the conic's uncertainty",
         method="Exact path, Gauss quadrature in r².", note=_SPREAD,
         unproved="It is the tested wavefront's own formula, proved elsewhere, of a small departure.")
def bench_rms_uncertainty_wave(
    aperture_mm: float, focal_length_mm: float, conic_uncertainty: float, wavelength_nm: float,
) -> float:
    """What one standard deviation of the conic makes of the wavefront, RMS, waves."""
    return full_pupil_wavefront_rms_wave(aperture_mm, focal_length_mm, conic_uncertainty - 1, wavelength_nm)


@formula(title="Strehl ratio of the tested mirror", source="born-wolf-1999", where="9.1.3",
         equation=PATH + "; max over Q of |mean exp(2πiW)|² over the full pupil",
         method="Exact path of the conic that fits the readings; the whole caustic searched.")
def bench_strehl(aperture_mm: float, focal_length_mm: float, conic: float, wavelength_nm: float) -> float:
    """Strehl ratio on the axis over the unobstructed mirror, surface errors apart."""
    above_zero(wavelength_nm=wavelength_nm)
    return highest_strehl(Mirror(aperture_mm, focal_length_mm, conic), wavelength_nm).value


@formula(title="Uncertainty of the tested Strehl ratio", source="definition",
         equation="the larger of |S(K + u) − S(K)| and |S(K − u) − S(K)|, u the conic's uncertainty",
         method="Three Strehl ratios over the full pupil.",
         unproved="Textbook spread of one number into another; proved by readings with known scatter.")
def bench_strehl_uncertainty(
    aperture_mm: float, focal_length_mm: float, conic: float, conic_uncertainty: float, wavelength_nm: float,
) -> float:
    """What one standard deviation of the conic makes of the Strehl ratio."""
    here, above, below = (bench_strehl(aperture_mm, focal_length_mm, conic + step, wavelength_nm)
                          for step in (0.0, conic_uncertainty, -conic_uncertainty))
    return max(abs(above - here), abs(below - here))
