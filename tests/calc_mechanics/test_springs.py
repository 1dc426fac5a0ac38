"""Springs under a mirror: worked by hand, and the seating force searched over every altitude and orientation."""

import math

import numpy as np
import pytest

from dossier.calc.mechanics.springs import (
    Coil,
    fit,
    floating_frequency_hz,
    floating_shift_mm,
    force_per_turn_n,
    mounted_length_mm,
    needed_compression_mm,
    seating_force_n,
    solid_length_mm,
    spring_margin,
    spring_preload_n,
    stress_share,
    travel_in_hand,
)
from dossier.working import NoAnswer


def test_compression_that_keeps_a_mirror_seated() -> None:
    """3 kg on three springs of 4 N/mm, overhang 15 mm, circle 80 mm, 1.5 in hand."""
    seating = seating_force_n(3, 3, 80, 15)
    compression = needed_compression_mm(1.5, seating, 4)
    assert compression == pytest.approx(3.928, abs=5e-4)
    assert spring_margin(spring_preload_n(4, 20, 20 - compression), seating) == pytest.approx(1.5)


@pytest.mark.parametrize("springs", [3, 4, 6])
def test_seating_force_is_the_worst_of_all_pointings(springs: int) -> None:
    """Pull of each spring at altitude h: m g (sin h /n + 2 e cos h cos(place − down) /(n R)), the greatest of all."""
    mass, radius, overhang, g = 2.0, 70.0, 20.0, 9.80665
    altitude = np.radians(np.linspace(0, 90, 1801))[:, None]
    down = np.radians(np.linspace(0, 360, 721))[None, :]
    pull = mass * g / springs * (np.sin(altitude) + 2 * overhang / radius * np.cos(altitude) * np.cos(down))
    assert seating_force_n(mass, springs, radius, overhang) == pytest.approx(float(pull.max()), rel=1e-5)


def test_floating() -> None:
    """10.07 Hz; and f = √(g/x)/2π from its shift x."""
    frequency = floating_frequency_hz(3, 4, 3)
    assert round(frequency, 2) == 10.07
    shift = floating_shift_mm(3, 3, 4)
    assert frequency == pytest.approx(math.sqrt(9806.65 / shift) / (2 * math.pi))


def test_solid_length() -> None:
    """12½ coils in all of 0.8 mm, two of them dead."""
    assert solid_length_mm(0.8, 10.5) == pytest.approx(10.0)


def test_spring_that_does() -> None:
    """Music wire of 1 mm on 9 mm, six coils: 81.7e3/(8 × 729 × 6) = 2.335 N/mm; 7 N shortens it by 3 mm."""
    chosen = fit(Coil(1, 9, 6, 20, 81.7), 7.005)
    assert chosen.rate_n_per_mm == pytest.approx(2.335, abs=5e-4)
    assert chosen.compressed_length_mm == pytest.approx(17, abs=1e-3)
    assert chosen.to_solid_mm == pytest.approx(9, abs=1e-3)
    assert chosen.stress_mpa == pytest.approx(38 / 33 * 8 * 7.005 * 9 / math.pi)
    assert chosen.does(1, 300)
    assert not chosen.does(10, 300)
    assert not chosen.does(1, 100)
    with pytest.raises(ValueError, match="above zero"):
        fit(Coil(1, 9, 6, 20, 81.7), math.nan)


def test_travel_and_what_a_turn_adds() -> None:
    """20 mm long, solid at 10, mounted at 15: half of its travel used. 1.5 N/mm by 0.8 mm a turn is 1.2 N."""
    assert travel_in_hand(20, 10, 15) == pytest.approx(2)
    with pytest.raises(NoAnswer, match="not compressed"):
        travel_in_hand(20, 10, 20)
    assert force_per_turn_n(1.5, 0.8) == pytest.approx(1.2)
    assert mounted_length_mm(20, 9, 1.5) == pytest.approx(14)


def test_share_of_what_the_wire_bears() -> None:
    """Shigley's example 10-1 (recalled): 146 of 324 kpsi is 45 % of the tensile strength, where music wire yields."""
    assert stress_share(146, 0.45, 324) == pytest.approx(1, abs=2e-3)
