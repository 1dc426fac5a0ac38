"""Screws in tapped holes: strip areas computed independently, and forces by hand."""

import math

import numpy as np
import pytest

from dossier.calc.mechanics.threads import (
    engagement_ratio,
    half_strip_torque_n_m,
    hole_strip_area_mm2,
    insert_area_mm2,
    needed_engagement_mm,
    nominal_strip_area_mm2,
    nut_area_mm2,
    strength_share,
    strip_force_n,
    thread_limits,
    thread_stress_mpa,
    tightening_torque_n_m,
)


@pytest.mark.parametrize(("diameter", "least", "nominal"), [(3, 5.544, 8.247), (4, 7.766, 10.996), (5, 9.995, 13.744)])
def test_strip_area_of_a_millimetre(diameter: float, least: float, nominal: float) -> None:
    """6g in 6H at its least, and 0.875 πd."""
    limits = thread_limits(diameter)
    area = hole_strip_area_mm2(limits.screw_major, limits.hole_pitch, limits.pitch, 1)
    assert area == pytest.approx(least, rel=1e-4)
    assert nominal_strip_area_mm2(diameter, 1) == pytest.approx(nominal, rel=1e-4)


def test_forces_by_hand() -> None:
    assert strip_force_n(20, 50) == 1000
    assert thread_stress_mpa(40, 80) == 0.5
    assert needed_engagement_mm(2, 1000, 20, 50, 5) == pytest.approx(10)


@pytest.mark.parametrize("diameter", [7, 0, -3, math.nan, math.inf])
def test_threads_without_tolerances(diameter: float) -> None:
    with pytest.raises(ValueError, match=r"M\d|not a number"):
        thread_limits(diameter)


def test_torque_to_half_of_the_strip_force() -> None:
    assert half_strip_torque_n_m(0.2, 600, 4) == pytest.approx(tightening_torque_n_m(0.2, 300, 4))
    assert engagement_ratio(8, 4) == 2
    assert strength_share(3, 12) == 0.25


def test_area_under_a_nut_by_counting_squares() -> None:
    """A hexagon 7 mm across its flats about a hole of 4.5 mm."""
    grid = np.linspace(-5, 5, 2001)
    x, y = np.meshgrid(grid, grid)
    flats = [np.abs(x * math.cos(turn) + y * math.sin(turn)) <= 3.5 for turn in (0, math.pi / 3, 2 * math.pi / 3)]
    inside = np.logical_and.reduce(flats) & (np.hypot(x, y) > 2.25)
    assert nut_area_mm2(7, 4.5) == pytest.approx(float(inside.sum()) * 0.005**2, rel=3e-3)


def test_wall_of_an_insert() -> None:
    """Unrolled, the wall is a strip as long as the hole is round: 17.593 mm by 8 mm."""
    assert insert_area_mm2(5.6, 8) == pytest.approx(17.593 * 8, rel=1e-4)
