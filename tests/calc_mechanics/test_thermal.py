"""Cooling mirrors: times computed independently, a slab stepped in time, limits."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.thermal import (
    cooling_curve,
    mirror_seeing_arcsec,
    settling_time_hottest_min,
    settling_time_lumped_min,
    settling_time_min,
    slab,
    time_constant_min,
    total_seeing_arcsec,
    warmth_for_blur_k,
)

GLASS = {"density_kg_per_m3": 2230, "heat_capacity_j_per_kg_k": 830}
CONDUCTIVITY = 1.14
FROM_15_TO_5 = {"stored_at_degc": 15, "used_at_degc": 5, "within_k": 0.5}


@pytest.mark.parametrize(("thickness", "front", "back", "lumped", "mean", "hottest"), [
    (25, 5, 5, 231.0, 235.3, 236.0), (38, 10, 0, 351.2, 390.7, 397.3),
])
def test_settling(thickness: float, front: float, back: float, lumped: float, mean: float, hottest: float) -> None:
    """Borosilicate, 10 K warmer, to within 0.5 K."""
    faces = {"front_transfer_w_per_m2_k": front, "back_transfer_w_per_m2_k": back, "edge_thickness_mm": thickness}
    constant = time_constant_min(**GLASS, **faces)
    assert settling_time_lumped_min(constant, **FROM_15_TO_5) == pytest.approx(lumped, abs=0.06)
    exact = {**GLASS, **faces, **FROM_15_TO_5, "conductivity_w_per_m_k": CONDUCTIVITY}
    assert settling_time_min(**exact) == pytest.approx(mean, abs=0.06)
    assert settling_time_hottest_min(**exact) == pytest.approx(hottest, abs=0.06)


@pytest.mark.parametrize(("front", "back"), [(10, 10), (25, 5), (5, 25), (15, 0)])
def test_against_a_slab_stepped_in_time(front: float, back: float) -> None:
    """Finite volumes, Crank and Nicolson's steps of two seconds, 30 mm of glass."""
    cells, step_s, thickness = 200, 2.0, 0.030
    width = thickness / cells
    heat = GLASS["density_kg_per_m3"] * GLASS["heat_capacity_j_per_kg_k"] * width
    flow = np.zeros((cells, cells))
    for cell in range(cells - 1):
        flow[[cell, cell + 1], [cell, cell + 1]] += CONDUCTIVITY / width
        flow[[cell, cell + 1], [cell + 1, cell]] -= CONDUCTIVITY / width
    for cell, transfer in ((0, front), (-1, back)):
        flow[cell, cell] += 1 / (1 / transfer + width / 2 / CONDUCTIVITY) if transfer else 0.0
    half = np.eye(cells) * heat / step_s
    march = np.linalg.solve(half + flow / 2, half - flow / 2)
    warm = np.ones(cells)
    for _ in range(1800):
        warm = march @ warm
    glass = slab(1000 * thickness, **GLASS, conductivity_w_per_m_k=CONDUCTIVITY, front_transfer_w_per_m2_k=front,
                 back_transfer_w_per_m2_k=back)
    assert glass.left_on_average(60) == pytest.approx(float(warm.mean()), rel=1e-4)
    assert float(glass.left(60).max()) == pytest.approx(float(warm.max()), rel=1e-4)
    assert float(glass.left(60)[0]) == pytest.approx(float(1.5 * warm[0] - 0.5 * warm[1]), rel=1e-3)


def test_settling_time_is_when_the_curve_says() -> None:
    glass = slab(25, **GLASS, conductivity_w_per_m_k=CONDUCTIVITY, front_transfer_w_per_m2_k=5,
                 back_transfer_w_per_m2_k=5)
    mean, hottest = cooling_curve(glass, 10, np.array([0.5, 235.2656]))
    assert mean[1] == pytest.approx(0.5, abs=1e-4)
    assert hottest[0] == pytest.approx(10, abs=0.01)
    assert hottest[1] > mean[1]


@pytest.mark.parametrize(("stored", "used"), [(5, 5), (5.4, 5), (4.6, 5)])
def test_mirror_that_is_already_there(stored: float, used: float) -> None:
    exact = {**GLASS, "edge_thickness_mm": 25, "front_transfer_w_per_m2_k": 5, "back_transfer_w_per_m2_k": 5,
             "conductivity_w_per_m_k": CONDUCTIVITY, "stored_at_degc": stored, "used_at_degc": used, "within_k": 0.5}
    assert settling_time_min(**exact) == 0
    assert settling_time_hottest_min(**exact) == 0
    assert settling_time_lumped_min(40, stored, used, 0.5) == 0


def test_warming_takes_as_long_as_cooling() -> None:
    exact = {**GLASS, "edge_thickness_mm": 25, "front_transfer_w_per_m2_k": 5, "back_transfer_w_per_m2_k": 5,
             "conductivity_w_per_m_k": CONDUCTIVITY, "within_k": 0.5}
    assert settling_time_min(**exact, stored_at_degc=5, used_at_degc=15) == \
        settling_time_min(**exact, stored_at_degc=15, used_at_degc=5)


def test_thin_or_well_conducting_glass_is_lumped() -> None:
    exact = {**GLASS, "edge_thickness_mm": 25, "front_transfer_w_per_m2_k": 5, "back_transfer_w_per_m2_k": 8}
    lumped = settling_time_lumped_min(time_constant_min(**exact), **FROM_15_TO_5)
    metal = settling_time_min(**exact, **FROM_15_TO_5, conductivity_w_per_m_k=5000)
    assert metal == pytest.approx(lumped, rel=1e-4)


@pytest.mark.parametrize(("change", "said"), [
    ({"front_transfer_w_per_m2_k": 0, "back_transfer_w_per_m2_k": 0}, "never cools"),
    ({"front_transfer_w_per_m2_k": -1}, "negative"), ({"edge_thickness_mm": 0}, "above zero"),
    ({"stored_at_degc": math.nan}, "not a number"), ({"conductivity_w_per_m_k": math.nan}, "above zero"),
    ({"within_k": 0}, "above zero"),
])
def test_mirrors_that_cannot_cool(change: dict[str, float], said: str) -> None:
    exact = {**GLASS, **FROM_15_TO_5, "edge_thickness_mm": 25, "front_transfer_w_per_m2_k": 5,
             "back_transfer_w_per_m2_k": 5, "conductivity_w_per_m_k": CONDUCTIVITY}
    with pytest.raises(ValueError, match=said):
        settling_time_min(**{**exact, **change})


@pytest.mark.parametrize("warmer", [0.1, 0.5, 3, 10])
def test_warmth_and_blur_are_each_other_backwards(warmer: float) -> None:
    assert warmth_for_blur_k(mirror_seeing_arcsec(warmer)) == pytest.approx(warmer)


def test_layers_of_air_add_up() -> None:
    """One layer alone is itself; two alike blur 2^0.6 times as much; the stronger one decides."""
    assert total_seeing_arcsec(1.3, 0) == pytest.approx(1.3)
    assert total_seeing_arcsec(1, 1) == pytest.approx(2**0.6)
    assert 2 < total_seeing_arcsec(0.3, 2) < 2.1
