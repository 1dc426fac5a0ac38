"""H. D. Young and R. A. Freedman, *University Physics*, 14th edition."""

import math

import pytest

from dossier.calc.mechanics.balance import centre_of_mass_mm
from dossier.calc.optics.eyepieces import exit_pupil_mm
from dossier.calc.optics.first_order import rayleigh_limit_arcsec
from dossier.calc.optics.powers import power_to_show


@pytest.mark.proves("rayleigh_limit_arcsec", source="young-freedman-2016", known="read")
def test_aperture_that_resolves_an_arcminute() -> None:
    """Exercise 36.40, 550 nm: 2.3 mm."""
    resolved_by_a_millimetre = rayleigh_limit_arcsec(0.55, 1.0)
    assert round(resolved_by_a_millimetre / 60, 1) == 2.3


@pytest.mark.proves("power_to_show", source="young-freedman-2016", known="read")
def test_power_at_which_the_eye_sees_all_detail() -> None:
    """The same 2.3 mm, as a beam: an eye that tells 1′ apart wants the finest detail in a beam no wider."""
    for aperture_mm in (76, 150, 400):
        power = power_to_show(1.0, rayleigh_limit_arcsec(0.55, aperture_mm))
        assert round(exit_pupil_mm(aperture_mm, power), 1) == 2.3


@pytest.mark.proves("centre_of_mass_mm", source="young-freedman-2016", known="recalled")
def test_centre_of_mass_of_a_water_molecule() -> None:
    """Example 8.13: hydrogen atoms 95.7 pm from the oxygen atom, at 52.5° either side: 6.5 pm from it."""
    along = 95.7 * math.cos(math.radians(52.5))
    assert round(centre_of_mass_mm([2, 1], [1.0, 16.0], [along, 0.0]), 1) == 6.5
