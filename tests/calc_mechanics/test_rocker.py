"""Rocker, feet and tracking: values computed independently, balances of forces, and the sky by differences."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.mechanics.rocker import (
    azimuth_friction_n_m,
    bearing_friction_n_m,
    centre_stands_out_mm,
    counterweight_kg,
    feet_reach_mm,
    hand_push_n,
    hold_share,
    holds_above_deg,
    imbalance_n_m,
    lowering_push_n,
    raising_push_n,
    tipping_margin_mm,
    tipping_push_n,
)
from dossier.calc.mechanics.tracking import (
    altitude_deg,
    exposure_over_the_sky,
    field_rotation_arcsec_per_s,
    rotation_exposure_s,
)
from dossier.working import NoAnswer

G = 9.80665


def test_friction_against_imbalance() -> None:
    """16 kg on a radius of 120 mm, µ 0.12, pads at ±35°; 25 mm out of balance."""
    friction = bearing_friction_n_m(0.12, 16, 120, 35)
    assert friction == pytest.approx(2.758, abs=5e-4)
    level = imbalance_n_m(16, 25, 0, 0)
    assert level == pytest.approx(3.923, abs=5e-4)
    assert holds_above_deg(friction, level) == pytest.approx(45.3, abs=0.05)
    assert imbalance_n_m(16, 25, 0, holds_above_deg(friction, level)) == pytest.approx(friction)


def test_pads_balance_the_weight() -> None:
    """Two pads at ±35° that press along the radius: their upright parts carry the weight, friction acts on both."""
    weight, steep = 16 * G, math.cos(math.radians(35))
    press = weight / (2 * steep)
    assert bearing_friction_n_m(0.12, 16, 120, 35) == pytest.approx(2 * press * 0.12 * 0.120)


@pytest.mark.parametrize(("friction", "level", "holds"), [(2, 1, 0), (2, 0, 0), (1, -2, 60), (1, 2, 60)])
def test_where_friction_holds(friction: float, level: float, holds: float) -> None:
    assert holds_above_deg(friction, level) == pytest.approx(holds)


def test_levers_by_hand() -> None:
    assert counterweight_kg(10, 20, 400) == 0.5
    assert hand_push_n(3, 600) == pytest.approx(5)
    assert azimuth_friction_n_m(0.1, 20, 200) == pytest.approx(0.1 * 20 * G * 0.2)
    assert imbalance_n_m(10, 0, 30, 90) == pytest.approx(10 * G * 0.03)
    assert tipping_push_n(20, 120, 1000) == pytest.approx(20 * G * 0.12)


@pytest.mark.parametrize(("arm", "below", "altitude"), [(25, 0, 40), (0, 30, 70), (-12, -45, 20), (8, 60, 90)])
def test_imbalance_is_the_work_of_a_small_turn(arm: float, below: float, altitude: float) -> None:
    """Height of the centre of mass over the pivot a thousandth of a degree lower and higher: its gain is the work."""
    def height(degrees: float) -> float:
        return (arm * math.sin(math.radians(degrees)) - below * math.cos(math.radians(degrees))) / 1000

    step = 1e-3
    work = 14 * G * (height(altitude + step) - height(altitude - step)) / math.radians(2 * step)
    assert imbalance_n_m(14, arm, below, altitude) == pytest.approx(work, rel=1e-6, abs=1e-9)


def test_pushes_both_ways() -> None:
    """Heavy in front by 2 N m, held by 3 N m: at 0.5 m it takes 10 N to raise and 2 N to lower."""
    assert raising_push_n(3, 2, 500) == pytest.approx(10)
    assert lowering_push_n(3, 2, 500) == pytest.approx(2)
    assert lowering_push_n(1, 2, 500) < 0


def test_what_has_no_lever_has_no_answer() -> None:
    for asked in (lambda: counterweight_kg(10, 20, 0), lambda: hand_push_n(1, 0), lambda: tipping_push_n(10, 100, 0),
                  lambda: hold_share(1, 0)):
        with pytest.raises(NoAnswer):
            asked()


@pytest.mark.parametrize("feet", [3, 4, 6])
def test_reach_of_the_feet(feet: int) -> None:
    """The least distance from the middle to a side of the polygon, by walking along it."""
    corner = 250 * np.exp(2j * np.pi * np.arange(feet) / feet)
    share = np.linspace(0, 1, 1001)[:, None]
    sides = corner * (1 - share) + np.roll(corner, 1) * share
    assert feet_reach_mm(250, feet) == pytest.approx(float(np.abs(sides).min()), rel=1e-6)


def test_centre_of_mass_over_every_altitude() -> None:
    """A tube whose centre of mass stands 40 mm along and 30 mm below its pivot, which is 20 mm off the axis."""
    turned = np.radians(np.linspace(0, 360, 3601))
    out = 20 + 40 * np.cos(turned) + 30 * np.sin(turned)
    worst = 12 * float(np.abs(out).max()) / (12 + 8)
    found = centre_stands_out_mm(12, 8, 40, 30, 20)
    assert found == pytest.approx(worst, rel=1e-6)
    assert tipping_margin_mm(100, found) == pytest.approx(100 - worst, rel=1e-6)


def test_field_rotation_on_the_meridian() -> None:
    """Latitude 50°, declination 20°: 19.336″/s."""
    assert field_rotation_arcsec_per_s(50, 20, 0) == pytest.approx(19.336, abs=5e-4)


@pytest.mark.parametrize(("latitude", "declination", "hour_angle"),
                         [(50, 20, 0), (50, 70, 100), (-33, -60, -40), (10, 40, 75)])
def test_field_rotation_by_differences(latitude: float, declination: float, hour_angle: float) -> None:
    """Parallactic angle tan q = sin H ÷ (tan φ cos δ − sin δ cos H) a second later and a second earlier."""
    def parallactic(seconds: float) -> float:
        h = math.radians(hour_angle + 15.04106718 * seconds / 3600)
        d, p = math.radians(declination), math.radians(latitude)
        return math.atan2(math.sin(h), math.tan(p) * math.cos(d) - math.sin(d) * math.cos(h))

    rate = math.degrees(parallactic(1) - parallactic(-1)) / 2 * 3600
    assert field_rotation_arcsec_per_s(latitude, declination, hour_angle) == pytest.approx(rate, rel=1e-6)


def test_zenith_has_no_rate() -> None:
    with pytest.raises(ValueError, match="zenith"):
        field_rotation_arcsec_per_s(50, 50, 0)
    with pytest.raises(ValueError, match="not a number"):
        field_rotation_arcsec_per_s(50, math.nan, 0)


def test_exposure() -> None:
    """By hand: 19.336″/s of turning moves a star 0.5° out by 0.1687″ a second."""
    assert rotation_exposure_s(2, 19.336, 0.5) == pytest.approx(2 / (1800 * 19.336 * math.pi / 648000))
    sky = exposure_over_the_sky(50, 2, 0.5, (30.0, 60.0), (0.0, 90.0, 180.0))
    assert sky[0][1] == math.inf
    assert sky[0][0] == pytest.approx(sky[0][2])
    assert sky[0][0] > sky[1][0]
    south = rotation_exposure_s(2, field_rotation_arcsec_per_s(50, 20, 0), 0.5)
    assert exposure_over_the_sky(50, 2, 0.5, (altitude_deg(50, 20, 0),), (180.0,))[0][0] == pytest.approx(south)
