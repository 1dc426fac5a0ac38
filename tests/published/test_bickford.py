"""J. H. Bickford, *Introduction to the Design and Behavior of Bolted Joints*: strip areas after FED-STD-H28.

Engagement of one diameter, 6g in 6H, mm². Known: read. The table starts from limits rounded to 0.001 mm, the program
from exact basic diameters; that is worth up to 0.06 %.
"""

import pytest

from dossier.calc.mechanics.threads import hole_strip_area_mm2, screw_strip_area_mm2, thread_limits

TABLE = [(5, 35.366, 49.994), (6, 51.875, 73.145), (8, 97.290, 134.63)]


@pytest.mark.proves("screw_strip_area_mm2", source="bickford-2008", known="read")
@pytest.mark.parametrize(("diameter_mm", "screw_mm2", "nut_mm2"), TABLE)
def test_screw(diameter_mm: float, screw_mm2: float, nut_mm2: float) -> None:
    limits = thread_limits(diameter_mm)
    area = screw_strip_area_mm2(limits.hole_minor, limits.screw_pitch, limits.pitch, diameter_mm)
    assert area == pytest.approx(screw_mm2, rel=1e-3)
    assert area < nut_mm2


@pytest.mark.proves("hole_strip_area_mm2", source="bickford-2008", known="read")
@pytest.mark.parametrize(("diameter_mm", "screw_mm2", "nut_mm2"), TABLE)
def test_nut(diameter_mm: float, screw_mm2: float, nut_mm2: float) -> None:
    limits = thread_limits(diameter_mm)
    area = hole_strip_area_mm2(limits.screw_major, limits.hole_pitch, limits.pitch, diameter_mm)
    assert area == pytest.approx(nut_mm2, rel=1e-3)
    assert area > screw_mm2


def test_limits_of_m6() -> None:
    """ISO 965-2, M6: screw 6g 5.794 outside and 5.212 pitch at least, hole 6H 5.500 and 5.153 at most. Recalled."""
    limits = thread_limits(6)
    found = (limits.screw_major, limits.screw_pitch, limits.hole_pitch, limits.hole_minor)
    assert found == pytest.approx((5.794, 5.212, 5.500, 5.153), abs=6e-4)
