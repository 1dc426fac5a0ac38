"""J. Texereau, *How to Make a Telescope*, 2nd edition, page 19, as quoted: f³ = 88.6 D⁴ in inches (after Couder).

The handbook's wavelength is 0.56 µm.
"""

import pytest

from dossier.calc.optics.sphere import sphere_limit_focal_ratio

INCH = 25.4


@pytest.mark.proves("sphere_limit_focal_ratio", source="texereau-1984", known="worked")
@pytest.mark.parametrize(("aperture_in", "focal_ratio"), [(6, 8.10), (8, 8.92)])
def test_least_focal_ratio_of_a_sphere(aperture_in: float, focal_ratio: float) -> None:
    assert round(sphere_limit_focal_ratio(aperture_in * INCH, 0.56), 2) == focal_ratio


@pytest.mark.proves("sphere_limit_focal_ratio", source="texereau-1984", known="recalled")
@pytest.mark.parametrize(("wavelength_um", "coefficient"), [(0.56, 88.6), (0.55, 90.2)])
def test_coefficient_belongs_to_its_wavelength(wavelength_um: float, coefficient: float) -> None:
    one_inch = sphere_limit_focal_ratio(INCH, wavelength_um)
    assert round(one_inch**3, 1) == coefficient
