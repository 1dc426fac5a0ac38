"""Field rotation against astropy: hour angle and declination turned into the horizon's frame, the pole's direction."""

from __future__ import annotations

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, HADec, SkyCoord
from astropy.time import Time
from astropy.utils import iers

from dossier.calc.mechanics.tracking import altitude_deg, drift_arcsec_per_s, field_rotation_arcsec_per_s

STEP_S = 30.0


@pytest.fixture(autouse=True)
def _nothing_from_the_network() -> None:
    iers.conf.auto_download = False


def from_the_vertical(latitude: float, declination: float, hour_angles_deg: np.ndarray,
                      ) -> tuple[np.ndarray, np.ndarray]:
    """Altitude (deg) and direction of the pole from the vertical (deg) at these hour angles, as astropy sees it."""
    place = EarthLocation.from_geodetic(0 * u.deg, latitude * u.deg, 0 * u.m)
    when = Time("2020-03-01T00:00:00")
    sky, horizon = HADec(obstime=when, location=place), AltAz(obstime=when, location=place)
    star = SkyCoord(ha=hour_angles_deg * u.deg, dec=np.full_like(hour_angles_deg, declination) * u.deg, frame=sky)
    pole = SkyCoord(ha=0 * u.deg, dec=90 * u.deg, frame=sky)
    star, pole = star.transform_to(horizon), pole.transform_to(horizon)
    return star.alt.deg, star.position_angle(pole).wrap_at(180 * u.deg).deg


@pytest.mark.parametrize(("latitude", "declination", "hour_angle"), [
    (50, 20, 0), (50, 20, -50), (53, 60, 80), (-33, -50, 25), (20, -10, 40),
])
def test_field_rotation(latitude: float, declination: float, hour_angle: float) -> None:
    turned = drift_arcsec_per_s(0) * STEP_S / 3600
    altitude, direction = from_the_vertical(latitude, declination, hour_angle + np.array([-turned, 0, turned]))
    assert altitude_deg(latitude, declination, hour_angle) == pytest.approx(altitude[1], abs=1e-3)
    rate = (direction[2] - direction[0]) / (2 * STEP_S) * 3600
    found = field_rotation_arcsec_per_s(latitude, declination, hour_angle)
    assert found == pytest.approx(rate, rel=2e-3)
