"""S. Timoshenko, D. H. Young and W. Weaver, *Vibration Problems in Engineering*, 4th edition, chapter 5.

The first wave number of a bare cantilever is 1.875; with a heavy mass at its end, 33/140 of its own mass moves with
it. Known: recalled.
"""

import math

import pytest

from dossier.calc.mechanics.vibration import tube_frequency_hz

MODULUS_GPA, SECOND_MOMENT_MM4, MASS_KG, LENGTH_MM = 70.0, 5000.0, 0.4, 1000.0


@pytest.mark.proves("tube_frequency_hz", source="timoshenko-vibration-1974", known="recalled")
def test_bare_cantilever() -> None:
    frequency = tube_frequency_hz(MODULUS_GPA, SECOND_MOMENT_MM4, MASS_KG, LENGTH_MM, 0.0)
    stiffness = 1e9 * MODULUS_GPA * SECOND_MOMENT_MM4 / 1000 / LENGTH_MM**3
    wave = math.sqrt(2 * math.pi * frequency / math.sqrt(stiffness / MASS_KG))
    assert round(wave, 3) == 1.875


@pytest.mark.proves("tube_frequency_hz", source="timoshenko-vibration-1974", known="recalled")
@pytest.mark.parametrize(("upper_kg", "agreement"), [(0.4, 2e-3), (4.0, 2e-5)])
def test_mass_at_the_end(upper_kg: float, agreement: float) -> None:
    """The source's approximation, which turns exact as the mass grows."""
    frequency = tube_frequency_hz(MODULUS_GPA, SECOND_MOMENT_MM4, MASS_KG, LENGTH_MM, upper_kg)
    spring = 3 * 1e9 * MODULUS_GPA * SECOND_MOMENT_MM4 / 1000 / LENGTH_MM**3
    approximate = math.sqrt(spring / (upper_kg + 33 / 140 * MASS_KG)) / (2 * math.pi)
    assert frequency == pytest.approx(approximate, rel=agreement)
