"""M. Born and E. Wolf, *Principles of Optics*, 7th edition, 8.5.2: the first dark ring at 0.610 λ/a."""

import pytest

from dossier.calc.optics.first_order import airy_diameter_um


@pytest.mark.proves("airy_diameter_um", source="born-wolf-1999", known="recalled")
def test_first_dark_ring() -> None:
    """Their 0.610 λ/a, a half the aperture, is a radius of 1.22 λF: a diameter of 2.44 at λ = F = 1."""
    assert airy_diameter_um(1, 1) == pytest.approx(4 * 0.610, abs=0.002)
