"""How near the tail of a telescope comes to the floor: against its corner followed through all altitudes."""

from __future__ import annotations

import math

import pytest

from dossier.calc.mechanics.rocker import swing_clearance_mm, swing_radius_mm
from dossier.errors import Unusable


@pytest.mark.parametrize(("pivot", "tail", "radius"), [(325.0, -100.0, 131.0), (326.0, -60.0, 75.0),
                                                       (40.0, -30.0, 90.0)])
def test_the_corner_followed_from_horizon_to_zenith(pivot: float, tail: float, radius: float) -> None:
    height, floor = 503.0, 53.0
    lowest = math.inf
    for step in range(90001):
        altitude = math.radians(step / 1000)
        # Towards the tail along the tube, and across it to the side that is below when the tube is level.
        below = (pivot - tail) * math.sin(altitude) + radius * math.cos(altitude)
        lowest = min(lowest, height - below)
    assert swing_clearance_mm(height, floor, swing_radius_mm(pivot, tail, radius)) == pytest.approx(lowest - floor)


def test_a_triangle_of_whole_numbers() -> None:
    assert swing_radius_mm(300, -100, 300) == 500
    assert swing_clearance_mm(520, 15, 500) == 5


GIVEN = "mount: {{kind: rocker, pivot: 20 mm, pivot_height: 170 mm, floor: 15 mm{more}}}\n"


def test_a_tube_has_its_own_tail(design) -> None:
    frame = "frame: {kind: tube, outer_diameter: 180 mm, length: 900 mm, lower_fixing: -100 mm}\n"
    results = design(frame + GIVEN.format(more="")).results
    assert results["mount.swing_radius"].number == 150
    assert results["mount.swing_clearance"].number == 5
    longer = design(frame + GIVEN.format(more=", tail: -120 mm")).results
    assert longer["mount.swing_radius"].number == pytest.approx(math.hypot(140, 90))


def test_poles_have_none_unless_it_is_said(design) -> None:
    left_out = design(GIVEN.format(more="")).left_out
    assert {"mount.tail_radius", "mount.swing_radius", "mount.swing_clearance"} <= set(left_out)
    said = design(GIVEN.format(more=", tail: -100 mm, tail_radius: 90 mm")).results
    assert said["mount.swing_clearance"].number == 5


@pytest.mark.parametrize(("more", "key", "why"), [
    ("mount: {floor: 520 mm, pivot_height: 500 mm}", "mount.floor", "520 mm is not less than the height of the pivot"),
    ("frame: {kind: tube, length: 900 mm, holes: [{from_end: 900 mm, diameter: 5 mm}]}", "frame.holes[0].from_end",
     "900 mm is not less than the length"),
    ("frame: {kind: tube, outer_diameter: 180 mm, holes: [{from_end: 9 mm, diameter: 180 mm}]}",
     "frame.holes[0].diameter", "180 mm is not less than the outer diameter"),
])
def test_what_cannot_be_drilled_or_swung(design, more: str, key: str, why: str) -> None:
    with pytest.raises(Unusable) as found:
        design(more)
    assert any(problem.key == key and problem.message.startswith(why) for problem in found.value.problems)
