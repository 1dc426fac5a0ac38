"""What the sky's turning does to a telescope that stands still, and to one that follows in altitude and azimuth.

Angles in degrees or seconds of arc, times in seconds. Hour angles and azimuths grow westward from the meridian and
eastward from north.
"""

from __future__ import annotations

import math

from dossier.calc.bounds import finite, positive
from dossier.working import NoAnswer, formula

SIDEREAL_ARCSEC_PER_S = 7.2921150e-5 * 648000 / math.pi
"""Rate of the Earth's rotation against the stars, from 7.2921150e-5 rad/s."""


@formula(title="Drift in the eyepiece", source="iers-2010",
         rule="sidereal_arcsec_per_s * cos(pi / 180 * declination_deg)", constants={"sidereal_arcsec_per_s": 15.0411})
def drift_arcsec_per_s(declination_deg: float) -> float:
    """How fast a star leaves a telescope that stands still, seconds of arc a second."""
    return 15.0411 * math.cos(math.pi / 180 * declination_deg)


@formula(title="Altitude of a star", source="meeus-1998", where="eq. 13.6",
         rule="sine_of_altitude = sin(pi / 180 * latitude_deg) * sin(pi / 180 * declination_deg)"
              " + cos(pi / 180 * latitude_deg) * cos(pi / 180 * declination_deg) * cos(pi / 180 * hour_angle_deg); "
              "180 / pi * asin(sine_of_altitude)")
def altitude_deg(latitude_deg: float, declination_deg: float, hour_angle_deg: float) -> float:
    """Altitude above the horizon, degrees."""
    d, p, h = (math.radians(angle) for angle in (declination_deg, latitude_deg, hour_angle_deg))
    return math.degrees(math.asin(max(-1.0, min(1.0, math.sin(p) * math.sin(d)
                                                + math.cos(p) * math.cos(d) * math.cos(h)))))


@formula(title="Field rotation", source="meeus-1998", where="eq. 14.1",
         equation="q̇ = ω cos φ cos A ÷ cos h, from tan q = sin H ÷ (tan φ cos δ − sin δ cos H)",
         method="Direction and altitude of the star from its hour angle and declination; the rate of the angle between "
                "the vertical and the star's own north.",
         note="Sign: positive where the field turns with growing parallactic angle. Without bound at the zenith.",
         unproved="The source gives the parallactic angle without its rate; tests check the rate against another "
                  "library.")
def field_rotation_arcsec_per_s(latitude_deg: float, declination_deg: float, hour_angle_deg: float) -> float:
    """How fast the field turns for a telescope that follows in altitude and azimuth, seconds of arc a second.

    Raises ValueError for a star at the zenith, where the rate has no bound, and for angles that are not numbers.
    """
    finite(latitude=latitude_deg, declination=declination_deg, hour_angle=hour_angle_deg)
    d, p, h = (math.radians(angle) for angle in (declination_deg, latitude_deg, hour_angle_deg))
    up = math.sin(p) * math.sin(d) + math.cos(p) * math.cos(d) * math.cos(h)
    north = math.cos(p) * math.sin(d) - math.sin(p) * math.cos(d) * math.cos(h)
    level = 1 - up**2
    if not level > 1e-12:
        raise ValueError("the star stands at the zenith, where the field turns at once")
    # cos A / cos h = north / cos²h. The field's north turns against the vertical as the parallactic angle grows.
    return -SIDEREAL_ARCSEC_PER_S * math.cos(p) * north / level


@formula(title="Edge of the judged field from its middle", source="geometry",
         rule="180 / pi * atan(judged_field_mm / (2 * focal_length_mm))", unproved="A right triangle.")
def field_radius_deg(judged_field_mm: float, focal_length_mm: float) -> float:
    """Angle on the sky from the middle of the judged field to its edge, degrees."""
    return 180 / math.pi * math.atan(judged_field_mm / (2 * focal_length_mm))


@formula(title="Longest exposure before the field's turning shows", source="geometry",
         rule="blur_arcsec / (abs(field_rotation_arcsec_per_s) * pi / 648000 * field_radius_deg * 3600)",
         note="A star at the field's edge moves on a circle around the guided one.",
         unproved="An arc is an angle times a radius.")
def rotation_exposure_s(blur_arcsec: float, field_rotation_arcsec_per_s: float, field_radius_deg: float) -> float:
    """Exposure, s, in which a star this far from the field's centre trails by ``blur_arcsec``.

    NoAnswer where the field does not turn.
    """
    if not field_rotation_arcsec_per_s:
        raise NoAnswer("a field that does not turn bears any exposure")
    turn = abs(field_rotation_arcsec_per_s) * math.pi / 648000
    return blur_arcsec / (turn * field_radius_deg * 3600)


def exposure_over_the_sky(latitude_deg: float, blur_arcsec: float, field_radius_deg: float,
                          altitudes_deg: tuple[float, ...], azimuths_deg: tuple[float, ...],
                          ) -> tuple[tuple[float, ...], ...]:
    """Longest exposure (s) for each altitude (rows) and azimuth from north through east; infinite due east and west."""
    positive(blur=blur_arcsec, field_radius=field_radius_deg)
    return tuple(tuple(_exposure(latitude_deg, altitude, azimuth, blur_arcsec, field_radius_deg)
                       for azimuth in azimuths_deg) for altitude in altitudes_deg)


def _exposure(latitude_deg: float, altitude: float, azimuth: float, blur_arcsec: float, radius_deg: float) -> float:
    level = math.cos(math.radians(altitude))
    rate = (SIDEREAL_ARCSEC_PER_S * math.cos(math.radians(latitude_deg)) * math.cos(math.radians(azimuth))
            / max(level, 1e-12))
    return rotation_exposure_s(blur_arcsec, rate, radius_deg) if abs(rate) > 1e-12 else math.inf
