"""First-order optics at its edges: a diagonal that lights nothing, a drawtube at its end, which way a sign goes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.calc.mechanics import frame_lengths
from dossier.calc.optics import diagonal, eyepieces, first_order, sphere


def test_small_diagonal_lights_no_part_of_the_field_fully() -> None:
    assert diagonal.full_field_in_fold_mm(150, 1198.8, 200, 20, 0.5) == 0
    assert diagonal.full_field_classical_mm(20, 1200, 200, 150) == 0


def test_least_diagonal_lights_the_middle_alone() -> None:
    """With its own best offset the smallest diagonal that catches the axial cone lights a field of no width."""
    least = diagonal.least_minor_axis_mm(150, 1198.8, 200)
    offset = diagonal.full_offset_mm(150, 1198.8, 200, least)
    assert offset == pytest.approx(diagonal.cone_cut_offset_mm(150, 1198.8, 200), rel=1e-9)
    assert diagonal.full_field_in_fold_mm(150, 1198.8, 200, least, offset) == pytest.approx(0, abs=1e-9)


def test_offset_that_does_not_exist_is_an_error() -> None:
    """A diagonal so near a fast mirror's rim that no symmetrical field is to be had."""
    with pytest.raises(ValueError, match="no offset makes the field"):
        diagonal.full_offset_mm(300, 300, 200, 150)


@given(st.floats(80, 400), st.floats(4, 10), st.floats(0.1, 0.4), st.floats(0.12, 0.3))
def test_no_other_offset_lights_a_wider_field(aperture: float, ratio: float, reach: float, share: float) -> None:
    rim_to_focus, minor_axis = aperture * ratio, aperture * share
    intercept = reach * rim_to_focus * 0.5
    best = diagonal.full_offset_mm(aperture, rim_to_focus, intercept, minor_axis)
    lit = diagonal.full_field_in_fold_mm(aperture, rim_to_focus, intercept, minor_axis, best)
    for other in (best - 0.5, best + 0.5, 0.0):
        assert diagonal.full_field_in_fold_mm(aperture, rim_to_focus, intercept, minor_axis, other) <= lit + 1e-9


def test_larger_of_diagonal_and_holder_stands_in_the_light() -> None:
    assert first_order.obstruction_diameter_mm(35, 38) == 38
    assert first_order.obstruction_diameter_mm(35, 30) == 35


def test_paraboloid_differs_from_itself_by_nothing() -> None:
    assert sphere.sag_difference_nm(150, 1200, -1) == 0
    assert math.copysign(1, sphere.longitudinal_aberration_third_order_mm(150, 1200, -2)) == 1


def test_focus_inside_and_outside_the_shoulder() -> None:
    """Drawn out 12 mm for the shoulder, a stop 3 mm inside it: 15 mm. A deeper stop and ten millimetres: too far."""
    stands = eyepieces.focus_position_mm(12, 3, 0)
    assert stands == 15
    assert eyepieces.spare_in_mm(stands) == 15
    assert eyepieces.spare_out_mm(30, stands) == 15
    farther = eyepieces.focus_position_mm(12, 12, 10)
    assert eyepieces.least_spare_mm(eyepieces.spare_in_mm(farther), eyepieces.spare_out_mm(30, farther)) == -4


def test_diagonal_stands_below_the_focuser() -> None:
    station = frame_lengths.focuser_station_mm(1200, 180)
    assert station == 1020
    assert frame_lengths.diagonal_station_mm(station, 0.9) == pytest.approx(1019.1)
    assert frame_lengths.front_beyond_focuser_mm(1150, station) == 130


def test_pole_without_reach_is_as_long_as_the_frame_is_high() -> None:
    assert frame_lengths.pole_length_mm(60, 960, 0) == 900
    assert frame_lengths.upper_fixing_mm(60, 900) == 960
    assert frame_lengths.sawn_length_mm(570, 22) == 526
    assert frame_lengths.sawn_length_mm(570, -30) == 630
