"""F. P. Incropera and others, *Fundamentals of Heat and Mass Transfer*, 6th edition, chapter 5. Known: recalled.

Cooling of a borosilicate mirror by the lumped form; the junction of example 5.1; the first roots of table 5.1.
"""

import numpy as np
import pytest

from dossier.calc.thermal import biot_number, settling_time_lumped_min, slab, time_constant_min

DENSITY, HEAT = 2230, 830


@pytest.mark.proves("time_constant_min", source="incropera-2007", known="recalled")
def test_borosilicate_of_25_mm_cooling_at_both_faces() -> None:
    assert round(time_constant_min(DENSITY, HEAT, 25, 10, 10), 1) == 38.6


@pytest.mark.proves("biot_number", source="incropera-2007", known="recalled")
def test_thermocouple_junction() -> None:
    """Example 5.1: h 400 W/m²K, a third of the radius 0.353 mm, k 20 W/mK: Bi = 2.35e-3."""
    assert biot_number(400, 0.353 / 3, 20) == pytest.approx(2.35e-3, abs=0.005e-3)


@pytest.mark.proves("settling_time_lumped_min", source="incropera-2007", known="recalled")
def test_time_the_junction_takes() -> None:
    """Example 5.1: time constant 1 s, from 25 °C to within 1 K of gas at 200 °C in 5.2 s."""
    assert round(60 * settling_time_lumped_min(1 / 60, 25, 200, 1), 1) == 5.2


@pytest.mark.parametrize(("biot", "root", "middle"),
                         [(0.1, 0.3111, 1.0161), (1.0, 0.8603, 1.1191), (10.0, 1.4289, 1.2620)])
def test_first_root_of_a_plane_wall(biot: float, root: float, middle: float) -> None:
    """Table 5.1, ζ₁ and C₁ for half the thickness: both faces open, or half as thick and one closed."""
    thickness_mm, conductivity = 20.0, 1.0
    transfer = biot * conductivity / (thickness_mm / 2 / 1000)
    both = slab(thickness_mm, DENSITY, HEAT, conductivity, transfer, transfer)
    assert both.waves[0] / 2 == pytest.approx(root, abs=6e-5)
    assert both.at_depth[0][len(both.at_depth[0]) // 2] == pytest.approx(middle, abs=6e-5)
    half = slab(thickness_mm / 2, DENSITY, HEAT, conductivity, transfer, 0)
    assert half.waves[0] == pytest.approx(root, abs=6e-5)
    assert half.at_depth[0][-1] == pytest.approx(middle, abs=6e-5)
    assert np.all(np.diff(half.waves) > 0)
