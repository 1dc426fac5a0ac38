"""M. Hotka, mikehotka.com, worked example: 120 seconds across the field at declination +16°30′ is 0.481°."""

import pytest

from dossier.calc.optics.eyepieces import crossing_time_at_declination_s, true_field_by_drift_deg


@pytest.mark.proves("true_field_by_drift_deg", source="hotka-drift", known="read")
def test_true_field_by_drift() -> None:
    assert round(true_field_by_drift_deg(120, 16.5), 3) == 0.481


@pytest.mark.proves("crossing_time_at_declination_s", source="hotka-drift", known="read")
def test_the_same_read_backwards() -> None:
    """The field he finds takes the time he measured, within what its three figures leave open."""
    assert crossing_time_at_declination_s(0.481, 16.5) == pytest.approx(120, abs=120 * 0.0005 / 0.481)
