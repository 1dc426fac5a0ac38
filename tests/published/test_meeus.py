"""J. Meeus, *Astronomical Algorithms*, 2nd edition, chapter 55: semidiameters at unit distance, and what they give."""

import math

import pytest

from dossier.calc.optics.first_order import sun_image_mm, sunlight_concentration
from dossier.calc.optics.targets import disc_diameter_arcsec, planet_diameter_arcsec

AU_M = 149_597_870_700.0
# Semidiameters at 1 au: Jupiter's equator 98.44″, the Sun 959.63″. The Moon's radius is 0.272481 of the Earth's.
JUPITER_ARCSEC, SUN_ARCSEC, MOON_TO_EARTH, EARTH_RADIUS_M = 98.44, 959.63, 0.272481, 6_378_140.0


def across(semidiameter_arcsec: float) -> float:
    """Diameter in metres of a body whose semidiameter at 1 au is this."""
    return 2 * AU_M * math.sin(math.radians(semidiameter_arcsec / 3600))


@pytest.mark.proves("disc_diameter_arcsec", source="meeus-1998", known="worked")
def test_jupiter_near_opposition() -> None:
    assert round(disc_diameter_arcsec(across(JUPITER_ARCSEC), 4.2 * AU_M), 2) == 46.88


@pytest.mark.proves("disc_diameter_arcsec", source="meeus-1998", known="worked")
def test_moon_at_its_mean_distance() -> None:
    moon = disc_diameter_arcsec(2 * MOON_TO_EARTH * EARTH_RADIUS_M, 384_400_000)
    assert round(moon / 60, 3) == 31.085


@pytest.mark.proves("disc_diameter_arcsec", source="meeus-1998", known="worked")
def test_sun_at_one_au() -> None:
    assert round(disc_diameter_arcsec(across(SUN_ARCSEC), AU_M), 1) == 1919.3


@pytest.mark.proves("sun_image_mm", "sunlight_concentration", source="meeus-1998", known="worked")
def test_image_of_the_sun_and_how_it_burns() -> None:
    """Of 1919″: 11.16 mm at 1200 mm, and 321 times the sunlight for 200 mm (0.5 %); (107.5/F)² always."""
    image = sun_image_mm(1200)
    assert image == pytest.approx(11.16, rel=0.005)
    assert sunlight_concentration(200, image) == pytest.approx(321, rel=0.005)
    assert sunlight_concentration(200, image) == pytest.approx((107.5 / 6) ** 2, rel=0.005)


@pytest.mark.proves("planet_diameter_arcsec", source="meeus-1998", known="worked")
def test_jupiter_from_its_semidiameter() -> None:
    assert round(planet_diameter_arcsec(JUPITER_ARCSEC, 4.2), 2) == 46.88
