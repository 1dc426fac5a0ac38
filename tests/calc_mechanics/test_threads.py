"""Screws in tapped holes: strip areas computed independently, and forces by hand."""

import math

import pytest

from dossier.calc.mechanics.threads import (
    hole_strip_area_mm2,
    needed_engagement_mm,
    nominal_strip_area_mm2,
    strip_force_n,
    thread_limits,
    thread_stress_mpa,
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
