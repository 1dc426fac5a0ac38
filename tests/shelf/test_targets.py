"""What there is to see stands on the shelf with sources, in order, and agrees with what others reckon."""

from __future__ import annotations

import math
from itertools import pairwise

import erfa
import numpy as np
import pytest
from astropy import constants

from dossier import shelf

AU_KM = 149_597_870.7
TARGETS = shelf.targets()
PLANETS = {planet.name: planet for planet in TARGETS.planets}
# Mercury is the first of the IAU's planets and the Earth with its Moon the third, as the ephemeris counts them.
NUMBERS = {"Mercury": 1, "Venus": 2, "Mars": 4, "Jupiter": 5, "Saturn": 6, "Uranus": 7, "Neptune": 8}


def test_everything_has_a_source_and_says_how_it_is_known() -> None:
    everything = [TARGETS.moon, *TARGETS.craters, *TARGETS.planets, *TARGETS.pairs,
                  *(detail for planet in TARGETS.planets for detail in planet.details)]
    for entry in everything:
        assert entry.source in shelf.sources(), entry.name
        assert entry.known in ("read", "worked", "recalled"), entry.name


def test_lists_run_from_large_to_small() -> None:
    for sizes in ([crater.size_km for crater in TARGETS.craters], [pair.separation_arcsec for pair in TARGETS.pairs],
                  *([detail.size_km for detail in planet.details] for planet in TARGETS.planets)):
        assert all(first >= second for first, second in pairwise(sizes))


def test_the_brighter_star_is_the_brighter() -> None:
    assert all(pair.brighter_mag <= pair.fainter_mag for pair in TARGETS.pairs)
    assert len({pair.name for pair in TARGETS.pairs}) == len(TARGETS.pairs)


@pytest.mark.parametrize("name", NUMBERS)
def test_distances_happen(name: str) -> None:
    """Within what the ephemeris of Simon et al. (1994), as ERFA has it, gives over two centuries, day by day."""
    away = _distances_au(name)
    ours = [planet.distance_au for title, planet in PLANETS.items() if title.startswith(f"{name},")]
    assert ours
    assert all(away.min() - 0.002 <= distance <= away.max() for distance in ours)


@pytest.mark.parametrize("name", ["Jupiter", "Saturn", "Uranus", "Neptune"])
def test_mean_oppositions(name: str) -> None:
    """The mean of each year's or so least distance, by the same ephemeris, within 2 %."""
    away = _distances_au(name)
    least = away[1:-1][(away[1:-1] < away[:-2]) & (away[1:-1] <= away[2:])]
    assert PLANETS[f"{name}, mean opposition"].distance_au == pytest.approx(least.mean(), rel=0.02)


def test_oppositions_of_mars_at_their_extremes() -> None:
    away = _distances_au("Mars")
    least = away[1:-1][(away[1:-1] < away[:-2]) & (away[1:-1] <= away[2:])]
    assert PLANETS["Mars, nearest opposition"].distance_au == pytest.approx(least.min(), rel=0.005)
    assert PLANETS["Mars, farthest opposition"].distance_au == pytest.approx(least.max(), rel=0.005)


def test_mercury_and_venus_half_lit() -> None:
    """At greatest elongation the corner at the planet is a right one: a² + Δ² = 1; a from the period, by Kepler."""
    for name, days in (("Mercury", 87.969), ("Venus", 224.701)):
        axis = (days / 365.256) ** (2 / 3)
        assert math.hypot(axis, PLANETS[f"{name}, half lit"].distance_au) == pytest.approx(1, abs=0.001)


def test_venus_at_its_brightest() -> None:
    """The lit face, disc × lit share, is greatest there: searched for over all distances; and the crescent's width."""
    axis = (224.701 / 365.256) ** (2 / 3)
    away = np.linspace(1 - axis + 1e-3, 1 + axis - 1e-3, 20001)
    lit = (1 + (axis**2 + away**2 - 1) / (2 * axis * away)) / 2
    best = int(np.argmax(lit / away**2))
    venus = PLANETS["Venus, at its brightest"]
    assert venus.distance_au == pytest.approx(away[best], abs=0.001)
    assert venus.details[0].size_km == pytest.approx(lit[best] * 2 * 6051.8, rel=0.02)


def test_jupiter_is_as_large_as_the_iau_says() -> None:
    """Nominal equatorial radius of the IAU (2015), as astropy has it: Meeus's semidiameter is 0.1 % less."""
    radius_km = PLANETS["Jupiter, mean opposition"].semidiameter_arcsec / 206264.806 * AU_KM
    assert radius_km == pytest.approx(constants.R_jup.to_value("km"), rel=0.002)


def test_ring_of_saturn() -> None:
    """Outer edge 136 775 km from the middle, gap and division in proportion. Cuzzi et al.'s edges, recalled."""
    ring = PLANETS["Saturn’s ring, mean opposition"]
    globe = PLANETS["Saturn, mean opposition"]
    assert ring.semidiameter_arcsec / 206264.806 * AU_KM == pytest.approx(136_775, rel=0.006)
    gap, division = ring.details
    assert gap.size_km == pytest.approx(91_975 - globe.semidiameter_arcsec / 206264.806 * AU_KM, rel=0.02)
    assert division.is_line
    assert division.size_km == pytest.approx(122_170 - 117_580, rel=0.01)


def _distances_au(name: str) -> np.ndarray:
    days = np.arange(0.0, 73_000.0, 1.0 if name in ("Mercury", "Venus", "Mars") else 2.0)
    here, there = (erfa.plan94(2_415_020.5, days, number)["p"] for number in (3, NUMBERS[name]))
    return np.sqrt(((here - there) ** 2).sum(axis=-1))
