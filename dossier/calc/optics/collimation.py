"""How well the mirrors must be set: tilts that cost Strehl ratio, and how far a screw is turned.

Lengths in millimetres, tilts in arcminutes, wavelengths in nanometres. Turning the primary by α about its vertex while
the telescope is pointed so that the star stays in the middle of the field sets the star α from the mirror's own axis:
it is the coma of the field angle α, though the star itself turns by 2α.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from dossier.calc.optics import offaxis, pupil
from dossier.calc.optics.mirror import Mirror, above_zero
from dossier.calc.optics.pupil import Points
from dossier.calc.optics.wavefront import highest_strehl, peak_to_valley_mm, surface_loss
from dossier.working import NoAnswer, formula

STREHL_LOST = 0.05
_MOST_TILT_ARCMIN = 600.0


def strehl_when_tilted(mirror: Mirror, wavelength_nm: float, tilt_arcmin: float) -> float:
    """Strehl ratio of a star kept in the middle of the field of a primary tilted about its vertex.

    What the tilt adds to the path has piston, tilt and focus removed by least squares, and stands on top of the path on
    the axis at the focus of the highest Strehl ratio, so that no tilt at all leaves that very ratio.
    """
    best = highest_strehl(mirror, wavelength_nm)
    angle = tilt_arcmin / 60
    points = _fine_enough(mirror, wavelength_nm, math.radians(angle))
    axis = offaxis.path_mm(mirror, points, 0.0, best.focus_mm)
    added = offaxis.refitted(mirror, points, offaxis.path_mm(mirror, points, angle, best.focus_mm) - axis)
    amplitude = points.weight @ np.exp(2j * np.pi * 1e6 / wavelength_nm * (axis + added))
    return float(abs(amplitude) ** 2)


def _fine_enough(mirror: Mirror, wavelength_nm: float, angle_rad: float) -> Points:
    """Rings and spokes that follow the waves on the axis, fourfold where defocused, and the coma of this angle."""
    coma = angle_rad * mirror.aperture_mm / (32 * mirror.focal_ratio**2) * 1e6 / wavelength_nm
    axis = 4 * peak_to_valley_mm(mirror) * 1e6 / wavelength_nm
    return pupil.annulus(mirror, pupil.panels_for(axis + 2 * coma), 32 * pupil.panels_for(2 * coma))


@lru_cache(maxsize=128)
def tilt_that_costs(mirror: Mirror, wavelength_nm: float, lost: float) -> float:
    """Tilt, arcmin, at which the Strehl ratio has fallen by ``lost``. NoAnswer where it cannot fall so far."""
    least = highest_strehl(mirror, wavelength_nm).value - lost
    if not least > 0:
        raise NoAnswer(f"the Strehl ratio of this mirror is {least + lost:.3f}: it cannot lose {lost:g} to a tilt, "
                         "and no collimation will help it")
    low, high = 0.0, _third_order_tilt(mirror, wavelength_nm, lost)
    while strehl_when_tilted(mirror, wavelength_nm, high) > least:
        low, high = high, 1.5 * high
        if high > _MOST_TILT_ARCMIN:
            raise NoAnswer(f"a tilt of {_MOST_TILT_ARCMIN / 60:g}° does not cost {lost:g} of Strehl ratio here")
    return _bisected(mirror, wavelength_nm, least, low, high)


def _third_order_tilt(mirror: Mirror, wavelength_nm: float, lost: float) -> float:
    """A first guess, arcmin: third-order coma of RMS √(loss)/2π, a tenth short of it."""
    rms_mm = math.sqrt(lost) / (2 * math.pi) * wavelength_nm * 1e-6
    angle = rms_mm * 32 * math.sqrt(72) * mirror.focal_ratio**2 / mirror.aperture_mm
    return 0.9 * math.degrees(angle) * 60


def _bisected(mirror: Mirror, wavelength_nm: float, least: float, low: float, high: float) -> float:
    """False position on the square of the tilt, in which the loss is nearly straight, kept between its brackets."""
    def short(square: float) -> float:
        return strehl_when_tilted(mirror, wavelength_nm, math.sqrt(square)) - least

    left, right = low**2, high**2
    above, below = short(left), short(right)
    for _ in range(60):
        # Two equal ends, both within rounding of the wanted loss, say nothing of where between them it lies.
        share = above / (above - below) if above != below else 0.5
        middle = left + (right - left) * min(0.98, max(0.02, share))
        found = short(middle)
        if found > 0:
            left, above = middle, found
        else:
            right, below = middle, found
        if right - left < 1e-9 * right or abs(found) < 1e-10:
            break
    return math.sqrt(middle)


@formula(title="Tilt of the primary that costs 0.05 of Strehl ratio", source="schroeder-2000", where="ch. 6",
         equation=offaxis.WAVEFRONT + "; the tilt α at which max|mean exp(2πiW)|² has fallen by 0.05, the star at the "
                  "angle α from the mirror's own axis and kept in the middle of the field",
         method="Exact trace at each tilt, tilt and focus of the wavefront refitted; the tilt by false position.",
         note="Of the mirror about its vertex. Errors of the surface are left aside: they would only widen it.",
         unproved="Published tolerances are to third order or rules of thumb; proved against an independent tracer.")
def tilt_tolerance_arcmin(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
) -> float:
    """Tilt of the primary that lowers the Strehl ratio on the axis by 0.05, arcmin."""
    above_zero(wavelength_nm=wavelength_nm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return tilt_that_costs(mirror, wavelength_nm, STREHL_LOST)


@formula(title="Strehl ratio as collimated", source="schroeder-2000", where="ch. 6", holds={"surface_rms_nm": (0, 40)},
         equation=offaxis.WAVEFRONT + "; S = |mean exp(2πiW)|² × exp(−(4πs/λ)²), the star at the angle α from the "
                  "mirror's own axis and kept in the middle of the field, s the RMS error of the surface",
         method="Exact trace at this tilt on top of the path on the axis at its best focus; tilt and focus of what the "
                "tilt adds are refitted.",
         note="Of the mirror about its vertex, to whichever side.",
         unproved="Published tolerances are to third order or rules of thumb; proved against an independent tracer.")
def strehl_as_collimated(
    aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float, wavelength_nm: float,
    surface_rms_nm: float, tilt_arcmin: float,
) -> float:
    """Strehl ratio in the middle of the field of a primary that is tilted by this much about its vertex."""
    above_zero(wavelength_nm=wavelength_nm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    return strehl_when_tilted(mirror, wavelength_nm, abs(tilt_arcmin)) * surface_loss(surface_rms_nm, wavelength_nm)


@formula(title="How far the mirror's axis leaves the middle of the field", source="geometry",
         rule="focal_length_mm * tan(pi / 180 / 60 * tilt_arcmin)",
         note="Where coma is least. A star, or a laser's return, moves by twice as much.",
         unproved="Geometry of one triangle; checked against traced rays.")
def axis_shift_mm(focal_length_mm: float, tilt_arcmin: float) -> float:
    """Shift in the focal plane of the point free of coma when the primary tilts, mm."""
    return focal_length_mm * math.tan(math.pi / 180 / 60 * tilt_arcmin)


@formula(title="Shift of the primary that costs as much", source="geometry", rule="axis_shift_mm",
         note="Sideways, without a tilt: the mirror carries its axis with it, so that the middle of the field lies as "
              "far from the axis as it was moved.", unproved="Proved by the exact trace of a shifted mirror.")
def primary_shift_mm(axis_shift_mm: float) -> float:
    """Sideways shift of the primary that moves its axis this far from the middle of the field, mm."""
    return axis_shift_mm


@formula(title="How far a laser's return stands off", source="geometry",
         rule="focal_length_mm * tan(2 * pi / 180 / 60 * tilt_arcmin)",
         note="A tilted mirror turns the beam by twice the tilt. Seen through a cap with a hole, the hole's reflection "
              "stands as far off the mark on the primary.",
         unproved="Geometry of one triangle; checked against traced rays.")
def return_shift_mm(focal_length_mm: float, tilt_arcmin: float) -> float:
    """How far from itself a beam sent down the axis from the focal plane comes back to it, primary tilted, mm."""
    return focal_length_mm * math.tan(2 * math.pi / 180 / 60 * tilt_arcmin)


@formula(title="Turns of one adjusting screw", source="geometry",
         rule="1.5 * screw_circle_radius_mm * tan(pi / 180 / 60 * tilt_arcmin) / pitch_mm",
         note="Three screws, one turned: the mirror tips about the line through the other two, 1.5 radii away.",
         unproved="Geometry of one triangle; a builder can check it with a dial gauge.")
def screw_turns(screw_circle_radius_mm: float, pitch_mm: float, tilt_arcmin: float) -> float:
    """Turns of one of three screws on this circle that tilt the mirror by this much."""
    return 1.5 * screw_circle_radius_mm * math.tan(math.pi / 180 / 60 * tilt_arcmin) / pitch_mm


@formula(title="Tip of the diagonal that costs as much", source="geometry",
         rule="5400 / pi * atan(axis_shift_mm / intercept_mm)",
         note="Along the tube. The light turns by twice the tip, so that the star in the middle of the field stands as "
              "far from the mirror's axis as a tilted primary would have it.",
         unproved="Geometry of one triangle; checked against traced rays.")
def diagonal_tip_arcmin(axis_shift_mm: float, intercept_mm: float) -> float:
    """Tip of the diagonal along the tube that moves the field's middle this far from the mirror's axis, arcmin."""
    return 5400 / math.pi * math.atan(axis_shift_mm / intercept_mm)


@formula(title="Twist of the diagonal that costs as much", source="geometry",
         rule="10800 / pi * atan(axis_shift_mm / intercept_mm)",
         note="About the tube's axis, as a slack stalk allows. The light turns by the twist once.",
         unproved="Geometry of one triangle; checked against traced rays.")
def diagonal_twist_arcmin(axis_shift_mm: float, intercept_mm: float) -> float:
    """Twist of the diagonal about the tube's axis that moves the field's middle this far, arcmin."""
    return 10800 / math.pi * math.atan(axis_shift_mm / intercept_mm)
