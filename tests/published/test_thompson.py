"""R. B. Thompson and B. F. Thompson, *Astronomy Hacks*, chapter 4: 1200 mm telescope, 25 mm eyepiece of 50°."""

import pytest

from dossier.calc.optics.eyepieces import magnification, true_field_from_apparent_deg


@pytest.mark.proves("magnification", "true_field_from_apparent_deg", source="thompson-2005", known="read")
def test_magnification_and_true_field() -> None:
    times = magnification(1200, 25)
    assert times == 48
    assert round(true_field_from_apparent_deg(50, times), 4) == 1.0417
