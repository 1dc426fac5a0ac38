"""IERS Conventions (2010): the Earth turns by 7.2921150e-5 rad/s, which is 15.0411″/s."""

import math

import pytest

from dossier.calc.optics.eyepieces import crossing_time_s

EARTH_TURNS_RAD_PER_S = 7.2921150e-5


@pytest.mark.proves("crossing_time_s", source="iers-2010", known="worked")
def test_a_star_crosses_at_the_rate_the_earth_turns() -> None:
    crossing = crossing_time_s(math.degrees(EARTH_TURNS_RAD_PER_S))
    assert crossing == pytest.approx(1, abs=0.00005 / 15.0411)
