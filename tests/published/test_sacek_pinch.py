"""V. Sacek, *Notes on Amateur Telescope Optics*, section on Strehl: 1/√180 of a wave RMS, exponential form: 0.803."""

import math

import pytest

from dossier.calc.mechanics.pinch import pinch_strehl


@pytest.mark.proves("pinch_strehl", source="sacek-2006", known="worked")
def test_strehl_at_the_customary_limit() -> None:
    assert pinch_strehl(1 / math.sqrt(180)) == pytest.approx(0.803, abs=0.002)
