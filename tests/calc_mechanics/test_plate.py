"""The thin plate: values computed independently by series and by two families of finite elements, and its traps."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.calc.mechanics.mirror_cell import (
    blank_weight_n,
    deflection_nm,
    free_point_forces_n,
    free_support_radii_mm,
    free_support_rms,
    support_pv,
    support_pv_unfocused,
    support_radii_mm,
    support_radii_unfocused_mm,
    support_rms,
    support_rms_unfocused,
)
from dossier.calc.mechanics.plate import deflection, left_over, point_forces, residual, rigidity_n_mm, shape
from dossier.calc.mechanics.supports import best_rings, ring_forces

MODULUS_GPA, POISSON, DENSITY = 64.0, 0.20, 2230.0


def in_nm(diameter_mm: float, thickness_mm: float, share: float) -> float:
    weight = blank_weight_n(diameter_mm, thickness_mm, DENSITY)
    return deflection_nm(weight, diameter_mm, rigidity_n_mm(MODULUS_GPA, thickness_mm, POISSON), share)


@pytest.mark.parametrize(("diameter", "thickness", "points", "rings", "rms"), [
    (203.2, 25.4, 3, (0.64888,), 3.981), (203.2, 25.4, 6, (0.68165,), 0.518),
    (250, 25, 9, (0.32203, 0.83525), 0.888),
])
def test_best_supports_with_focus_left_in(
    diameter: float, thickness: float, points: int, rings: tuple[float, ...], rms: float,
) -> None:
    radii = support_radii_unfocused_mm(diameter, POISSON, points)
    assert [radius / (diameter / 2) for radius in radii] == pytest.approx(rings, abs=2e-5)
    share = support_rms_unfocused(diameter, radii, POISSON, points)
    assert in_nm(diameter, thickness, share) == pytest.approx(rms, abs=0.0005)


@pytest.mark.parametrize(("diameter", "thickness", "points", "rings", "rms"), [
    (203.2, 25.4, 3, (0.40136,), 1.576), (203.2, 25.4, 6, (0.57284,), 0.221),
    (250, 25, 9, (0.32590, 0.74418), 0.775),
])
def test_best_supports_refocused(
    diameter: float, thickness: float, points: int, rings: tuple[float, ...], rms: float,
) -> None:
    radii = support_radii_mm(diameter, POISSON, points)
    assert [radius / (diameter / 2) for radius in radii] == pytest.approx(rings, abs=2e-5)
    share = support_rms(diameter, radii, POISSON, points)
    assert in_nm(diameter, thickness, share) == pytest.approx(rms, abs=0.0006)


def test_peak_to_valley() -> None:
    radii = support_radii_unfocused_mm(203.2, POISSON, 3)
    assert in_nm(203.2, 25.4, support_pv_unfocused(203.2, radii, POISSON, 3)) == pytest.approx(16.71, rel=1e-3)
    refocused = support_radii_mm(203.2, POISSON, 3)
    assert support_pv(203.2, refocused, POISSON, 3) < support_pv_unfocused(203.2, refocused, POISSON, 3)


@pytest.mark.parametrize(("points", "gamma"), [(3, 5.5838e-3), (6, 2.9069e-3), (9, 4.7380e-3), (18, 1.9145e-3)])
def test_efficiency(points: int, gamma: float) -> None:
    best = best_rings(points, POISSON, refocused=False)
    assert best.rms * points**2 / math.pi == pytest.approx(gamma, abs=1e-7)


def test_nine_points_with_the_best_loads() -> None:
    radii = free_support_radii_mm(250, POISSON, 9)
    forces = free_point_forces_n(blank_weight_n(250, 25, DENSITY), POISSON, 9)
    assert radii == pytest.approx((16.49, 79.13), abs=0.01)
    assert forces == pytest.approx((0.875, 4.035), abs=0.001)
    assert in_nm(250, 25, free_support_rms(POISSON, 9)) == pytest.approx(0.422, abs=0.0005)


def test_nine_equal_points_are_no_better_than_six_refocused() -> None:
    six, nine = (best_rings(points, POISSON, refocused=True) for points in (6, 9))
    assert nine.rms > six.rms
    assert best_rings(9, POISSON, refocused=True, free_loads=True).rms < six.rms


@pytest.mark.parametrize("points", [3, 6, 9, 18])
@pytest.mark.parametrize("refocused", [False, True])
def test_best_rings_are_the_best_of_a_fine_search(points: int, refocused: bool) -> None:
    best = best_rings(points, POISSON, refocused=refocused)
    trial = np.linspace(0.06, 0.98, 24)
    radii = [(r,) for r in trial] if points < 9 else [(a, b) for a in trial for b in trial if b > a]
    found = min(residual(shape(ring_forces(points, ring, 1.0), POISSON, 24), refocused=refocused).rms for ring in radii)
    assert best.rms <= found * 1.0001


def forces_anywhere() -> st.SearchStrategy[tuple[list[float], list[float], list[float]]]:
    """Four to six points; the last three forces put the set in balance."""
    place = st.tuples(st.floats(0.1, 1.0), st.floats(-3.1, 3.1))
    # Forces whose sums underflow cannot be put in balance; a millionth of the largest is small enough.
    force = st.floats(-2, 2).map(lambda value: round(value, 6))
    return st.tuples(st.lists(place, min_size=1, max_size=3), st.lists(force, min_size=3, max_size=3)).map(_balanced)


def _balanced(drawn: tuple[list[tuple[float, float]], list[float]]) -> tuple[list[float], list[float], list[float]]:
    places, sizes = drawn
    radii = [*(r for r, _ in places), 0.7, 0.7, 0.7]
    angles = [*(a for _, a in places), 0.3, 2.4, 4.4]
    x, y = np.array(radii) * np.cos(angles), np.array(radii) * np.sin(angles)
    chosen = np.array(sizes[: len(places)])
    table = np.stack((np.ones_like(x), x, y))
    last = np.linalg.solve(table[:, -3:], -table[:, : len(places)] @ chosen)
    return radii, angles, [*map(float, chosen), *map(float, last)]


@given(forces_anywhere())
def test_map_and_harmonics_tell_the_same(drawn: tuple[list[float], list[float], list[float]]) -> None:
    """The closed form summed over a polar grid against the harmonics' own mean square."""
    forces = point_forces(*drawn)
    form = shape(forces, POISSON)
    taken = residual(form, refocused=True)
    angle = np.arange(192) * 2 * np.pi / 192
    x, y = np.outer(form.rings, np.cos(angle)), np.outer(form.rings, np.sin(angle))
    surface = left_over(forces, POISSON, taken, x, y)
    mean_square = float(form.area @ (surface**2).mean(axis=1))
    size = float(np.abs(forces.force).sum())
    assert math.sqrt(mean_square) == pytest.approx(taken.rms, rel=1e-3, abs=1e-7 * size)


def test_edge_is_free_of_moment_and_shear() -> None:
    """By differences on the closed form: M_r = w'' + ν(w' + w_θθ) vanishes at the edge; inside it does not."""
    forces, step = ring_forces(3, (0.65,), 1.0), 2e-3

    def moment(r: float, angle: float) -> float:
        def at(radius: float, turned: float) -> float:
            place = radius * np.array([math.cos(turned), math.sin(turned)])
            return float(deflection(forces, POISSON, place[:1], place[1:])[0])

        slope = (at(r, angle) - at(r - 2 * step, angle)) / (2 * step)
        bend = (at(r, angle) - 2 * at(r - step, angle) + at(r - 2 * step, angle)) / step**2
        round_ = (at(r - step, angle + step) - 2 * at(r - step, angle) + at(r - step, angle - step)) / step**2
        return bend + POISSON * (slope / r + round_ / r**2)

    assert abs(moment(1.0, 0.4)) < 0.02 * abs(moment(0.6, 0.4))


@pytest.mark.parametrize("points", [3, 6, 9, 18])
def test_turning_the_mirror_changes_nothing(points: int) -> None:
    forces = ring_forces(points, (0.4,) if points < 9 else (0.3, 0.8), 1.0)
    turned = point_forces(forces.radius, forces.angle + 0.7, forces.force, weight=1.0)
    plain, other = (residual(shape(one, POISSON), refocused=True).rms for one in (forces, turned))
    assert other == pytest.approx(plain, rel=1e-9)


@pytest.mark.parametrize(("radius", "angle", "force", "weight", "said"), [
    ([0.5, 0.5, 0.5], [0, 2, 4], [1, 1, 1], 2.0, "add up"),
    ([0.5, 0.5, 0.5], [0, 1, 2], [1, 1, 1], 3.0, "moment"),
    ([0.5, 0.0, 0.5], [0, 0, math.pi], [1, 1, 1], 3.0, "one line"),
    ([0.5, 0.5], [0, math.pi], [1, 1], 2.0, "one line"),
    ([1.1, 1.1, 1.1], [0, 2 * math.pi / 3, 4 * math.pi / 3], [1, 1, 1], 3.0, "outside"),
    ([math.nan, 0.5, 0.5], [0, 2, 4], [1, 1, 1], 3.0, "not a number"),
    ([0.5, 0.5, 0.5], [0, 2, 4], [1, math.inf, 1], 3.0, "not a number"),
    ([0.5, 0.5], [0, 2, 4], [1, 1, 1], 3.0, "each point"),
    ([], [], [], 0.0, "each point"),
])
def test_supports_that_cannot_hold_a_mirror(
    radius: list[float], angle: list[float], force: list[float], weight: float, said: str,
) -> None:
    with pytest.raises(ValueError, match=said):
        point_forces(radius, angle, force, weight=weight)


@pytest.mark.parametrize(("points", "radii", "said"), [
    (4, (30.0,), "3, 6, 9 or 18"), (9, (30.0,), "2 support radii"), (3, (30.0, 60.0), "1 support radii"),
    (3, (120.0,), "outside"), (9, (80.0, 30.0), "inner first"), (3, (math.nan,), "not a number"),
])
def test_cells_that_do_not_exist(points: int, radii: tuple[float, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        support_rms(200, radii, POISSON, points)
