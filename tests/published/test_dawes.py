"""W. R. Dawes, Memoirs of the Royal Astronomical Society 35, 137 (1867): 116″ divided by the millimetres."""

import pytest

from dossier.calc.optics.first_order import dawes_limit_arcsec


@pytest.mark.proves("dawes_limit_arcsec", source="dawes-1867", known="recalled")
def test_dawes_limit() -> None:
    assert round(dawes_limit_arcsec(200), 2) == 0.58


@pytest.mark.proves("dawes_limit_arcsec", source="dawes-1867", known="recalled")
def test_dawes_limit_in_his_own_inches() -> None:
    """His table gives 4.56″ for an aperture of one inch."""
    assert dawes_limit_arcsec(25.4) == pytest.approx(4.56, abs=0.01)
