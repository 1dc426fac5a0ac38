"""Craters, planets, powers and double stars, against numbers that others know and ways that others go."""

from __future__ import annotations

import math

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import Angle

from dossier import shelf
from dossier.calc.optics import powers, targets
from dossier.calc.optics.eyepieces import exit_pupil_mm
from dossier.calc.optics.pairs import double_star_dip_in_seeing
from dossier.calc.optics.scenes import double_star_dip

NM = 550.0


def test_an_arcsecond_on_the_moon() -> None:
    """1.86 km at the mean distance: recalled."""
    assert round(targets.least_crater_km(384_400, 1.0), 2) == 1.86
    assert targets.least_crater_km(384_400, 1.0) == pytest.approx(
        384_400 * math.tan(Angle(1 * units.arcsec).radian), rel=1e-7)


def test_a_planet_by_its_size_and_by_its_semidiameter() -> None:
    """Equatorial diameters of NASA's tables against the semidiameters of the shelf; within 0.5 %.

    Of Venus the clouds count, and of Uranus what was measured before a spacecraft went there: 1 %.
    """
    said = {planet.name.partition(",")[0]: planet for planet in shelf.targets().planets}
    for name, km in {"Mercury": 4879, "Venus": 12_104, "Mars": 6792, "Jupiter": 142_984, "Saturn": 120_536,
                     "Uranus": 51_118, "Neptune": 49_528}.items():
        across = targets.disc_diameter_arcsec(km * 1e3, 4.2 * 149_597_870_700)
        near = 0.01 if name in ("Venus", "Uranus") else 0.005
        assert targets.planet_diameter_arcsec(said[name].semidiameter_arcsec, 4.2) == pytest.approx(across, rel=near)


def test_jupiter_in_the_eyepiece() -> None:
    """46.88″ at 40 times is as wide as the Moon by eye, 31′: recalled as a rule of the trade."""
    assert targets.looks_arcmin(40, 46.88) == pytest.approx(31.1, rel=0.01)


def test_the_beam_at_the_ends_of_the_useful_powers() -> None:
    assert exit_pupil_mm(150, powers.highest_useful_power(150)) == 0.5
    assert exit_pupil_mm(150, powers.lowest_useful_power(150, 6.5)) == pytest.approx(6.5)
    assert powers.share_into_eye(6.5, 6.5) == powers.share_into_eye(3.0, 6.5) == 1
    assert powers.share_into_eye(9.0, 6.0) == pytest.approx(4 / 9)


def test_air_and_power_are_each_others_answer() -> None:
    power = powers.power_to_show(4.0, 2.0)
    assert power == 120
    assert powers.seeing_for_power_arcsec(4.0, power) == pytest.approx(2.0)


@pytest.mark.parametrize("mirror", [(150, 1200, 0, 31), (114, 900, 0, 25), (250, 1250, -1, 58), (150, 1200, -1, 0)])
@pytest.mark.parametrize("apart", [0.9, 1.4, 2.4, 4.7])
@pytest.mark.parametrize("difference", [0.0, 1.0, 2.2])
def test_without_seeing_it_is_still_air(mirror: tuple[float, ...], apart: float, difference: float) -> None:
    """The gap by frequencies against the gap by the profile of the star, which knows no frequencies."""
    still = double_star_dip(*mirror, NM, apart, difference)
    assert double_star_dip_in_seeing(*mirror, NM, apart, difference, 0.0) == pytest.approx(still, abs=1e-3)


@pytest.mark.parametrize(("apart", "difference", "seeing"), [(2.4, 0.1, 2.0), (2.9, 0.0, 2.0), (4.7, 1.2, 2.0),
                                                            (1.4, 0.0, 1.0), (1.8, 1.3, 1.0)])
def test_gap_in_seeing_by_a_picture(apart: float, difference: float, seeing: float) -> None:
    """Two stars through a clear circle and the air by a Fourier transform in two dimensions, closed form of the MTF."""
    pixels, pixel = 512, apart / 32
    across, along = np.fft.fftfreq(pixels, pixel), np.fft.fftfreq(pixels, pixel)[:, None]
    frequency = np.hypot(across, along)
    share = (frequency * 206264.806 * NM * 1e-6 / 150).clip(0, 1)
    mirror = 2 / np.pi * (np.arccos(share) - share * np.sqrt(1 - share**2))
    # Fried: exp(−3.44 (λν/r₀)^(5/3)), width at half maximum 0.976 λ/r₀.
    air = np.exp(-3.44 * (frequency * seeing / 0.976) ** (5 / 3))
    two = 1 + 10 ** (-0.4 * difference) * np.exp(-2j * np.pi * across * 32 * pixel)
    line = np.fft.ifft2(np.fft.ifftshift(np.fft.fftshift(two * mirror * air))).real[0]
    line = np.roll(line, 100)[60:180]
    top = next(at for at in range(40 + 24, 40 + 41) if line[at] >= line[at - 1] and line[at] >= line[at + 1])
    gap = 1 - line[40:top].min() / line[top]
    assert double_star_dip_in_seeing(150, 1200, -1, 0, NM, apart, difference, seeing) == pytest.approx(gap, abs=0.01)


def test_worse_air_closes_the_gap() -> None:
    gaps = [double_star_dip_in_seeing(150, 1200, 0, 31, NM, 2.4, 0.0, seeing) for seeing in (0, 0.5, 1, 1.5, 2, 2.5, 3)]
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[0] > 0.95
    assert gaps[-1] == 0


def test_far_apart_is_fully_dark() -> None:
    assert double_star_dip_in_seeing(150, 1200, 0, 31, NM, 34.5, 2.0, 2.0) == 1
    assert double_star_dip_in_seeing(150, 1200, 0, 31, NM, 20.0, 2.0, 2.0) > 0.98


@pytest.mark.parametrize("bad", [{"separation_arcsec": 0.0}, {"separation_arcsec": math.nan}, {"seeing_arcsec": -1.0},
                                 {"magnitude_difference_mag": math.inf}, {"wavelength_nm": -550.0}])
def test_what_makes_no_sense_is_named(bad: dict[str, float]) -> None:
    said = {"wavelength_nm": NM, "separation_arcsec": 2.0, "magnitude_difference_mag": 0.0, "seeing_arcsec": 1.0, **bad}
    with pytest.raises(ValueError, match=next(iter(bad))):
        double_star_dip_in_seeing(150, 1200, 0, 31, **said)
