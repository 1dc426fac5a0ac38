"""*University Physics, volume 3*, OpenStax, section 4.5: a 2.40 m mirror at 550 nm."""

import math

import pytest

from dossier.calc.optics.first_order import rayleigh_limit_arcsec


@pytest.mark.proves("rayleigh_limit_arcsec", source="openstax-2016", known="recalled")
def test_rayleigh_limit_of_a_large_mirror() -> None:
    radians = math.radians(rayleigh_limit_arcsec(0.55, 2400) / 3600)
    assert radians == pytest.approx(2.80e-7, abs=0.005e-7)
