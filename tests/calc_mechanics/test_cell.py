"""The cell: levers that share the load, the thick blank, pushes against clips."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.mechanics.mirror_cell import (
    best_share_by_points,
    blank_weight_n,
    levers,
    shear_factor,
    shear_factor_unfocused,
    support_radii_mm,
    support_radii_unfocused_mm,
    surface_nm,
)
from dossier.calc.mechanics.pinch import (
    pinch_force_limit_n,
    pinch_forces,
    pinch_share,
    pinch_solid_factor,
    pinch_strehl,
    pinch_surface_nm_per_n,
    pinch_wavefront_rms_wave,
    strehl_curve,
)
from dossier.calc.mechanics.plate import residual, rigidity_n_mm, shape
from dossier.calc.mechanics.solid import Terms, front_face
from dossier.calc.mechanics.supports import ring_forces

POISSON = 0.20
PUSHES_AND_CLIPS = {"push_count": 3, "push_radius_mm": 50, "push_turned_deg": 0, "clip_count": 3, "clip_radius_mm": 72}


@pytest.mark.parametrize(("diameter", "thickness", "points", "ratio"), [
    (203.2, 25.4, 3, 1.14), (114, 19, 3, 1.22), (203.2, 25.4, 6, 1.41), (250, 25, 9, 1.31),
])
def test_front_of_the_solid_against_the_thin_plate(
    diameter: float, thickness: float, points: int, ratio: float,
) -> None:
    """Finite elements of the solid, computed independently, ±2 %: layout and residual of piston and tilt."""
    radii = support_radii_unfocused_mm(diameter, POISSON, points)
    assert shear_factor_unfocused(diameter, thickness, radii, POISSON, points) == pytest.approx(ratio, rel=0.02)


@pytest.mark.parametrize("points", [3, 6, 9, 18])
def test_series_has_settled(points: int) -> None:
    """Terms as used against many more of them: what ``solid`` promises."""
    diameter, thickness = 200.0, 25.0
    radii = support_radii_mm(diameter, POISSON, points)
    forces = ring_forces(points, [radius / (diameter / 2) for radius in radii], 1.0)
    used, many = (residual(front_face(forces, thickness / (diameter / 2), POISSON, terms=terms, orders=orders),
                           refocused=True).rms
                  for terms, orders in ((Terms(12) if points > 9 else Terms(), None),
                                        (Terms(16, 5), np.arange(0, 37, 3))))
    assert used == pytest.approx(many, rel=1e-3)


@pytest.mark.parametrize("points", [3, 6, 9, 18])
def test_thin_blank_is_a_thin_plate(points: int) -> None:
    radii = support_radii_mm(300, POISSON, points)
    assert shear_factor(300, 3.0, radii, POISSON, points) == pytest.approx(1, abs=0.02)
    assert 1 < shear_factor(300, 20, radii, POISSON, points) < shear_factor(300, 40, radii, POISSON, points)


@pytest.mark.parametrize("points", [3, 6, 9, 18])
@pytest.mark.parametrize("shares", [None, "unequal"])
def test_levers_balance(points: int, shares: str | None) -> None:
    """Each lever's pivot is the balance point of what it carries, and the three last ones carry the whole mirror."""
    radii = (60.0,) if points < 9 else (40.0, 90.0)
    given = (0.2, 0.8) if shares and points >= 9 else None
    found = levers(points, radii, given)
    assert len(found) == {3: 0, 6: 3, 9: 3, 18: 9}[points]
    if not found:
        return
    last = np.array([lever.pivot for lever in found[-3:]])
    assert last.mean(axis=0) == pytest.approx((0, 0), abs=1e-9)
    assert np.ptp(np.hypot(*last.T)) == pytest.approx(0, abs=1e-9)
    carried = {place for lever in found for place in lever.carries}
    assert len(carried) == points + (6 if points == 18 else 0)


def test_triangles_of_nine_points() -> None:
    """By hand: inner point 40 mm out, two outer at 90 mm and ±30°: the pivot at (40 + 2 × 90 cos 30°)/3."""
    triangle = levers(9, (40.0, 90.0))[0]
    assert triangle.pivot == pytest.approx(((40 + 180 * math.cos(math.pi / 6)) / 3, 0), abs=1e-9)
    heavy_outside = levers(9, (40.0, 90.0), (0.1, 0.9))[0]
    assert heavy_outside.pivot[0] == pytest.approx(0.1 * 40 + 0.9 * 90 * math.cos(math.pi / 6))


def test_bar_of_six_points() -> None:
    """Neighbours 60° apart on 60 mm are 60 mm apart; their bar turns at 60 cos 30°."""
    bar = levers(6, (60.0,))[0]
    (ax, ay), (bx, by) = bar.carries
    assert math.hypot(ax - bx, ay - by) == pytest.approx(60)
    assert math.hypot(*bar.pivot) == pytest.approx(60 * math.cos(math.pi / 6))


def test_more_points_hold_better_but_for_nine_equal_ones() -> None:
    shares = best_share_by_points(POISSON)
    assert shares[3] > shares[9] > shares[6] > shares[18]


def test_weight_of_a_blank() -> None:
    """By hand: 100 mm across, 10 mm thick, 2500 kg/m³: 78.54 cm³, 0.19635 kg, 1.92554 N."""
    assert blank_weight_n(100, 10, 2500) == pytest.approx(1.92554, rel=1e-5)


@pytest.mark.parametrize(("turned", "per_newton", "limit"), [(0, 0.47490, 20.87), (60, 1.21844, 8.135)])
def test_pinch(turned: float, per_newton: float, limit: float) -> None:
    """Thin 150 × 25 mm borosilicate at 550 nm; the largest force leaves a Strehl ratio of 0.95."""
    share = pinch_share(150, POISSON, **PUSHES_AND_CLIPS, clip_turned_deg=turned)
    surface = pinch_surface_nm_per_n(150, rigidity_n_mm(64, 25, POISSON), share)
    assert surface == pytest.approx(per_newton, abs=1e-5)
    force = pinch_force_limit_n(0.95, surface, 550)
    assert force == pytest.approx(limit, rel=3e-4)
    assert pinch_strehl(pinch_wavefront_rms_wave(force, surface, 550)) == pytest.approx(0.95)
    assert strehl_curve(np.array([0.0, force]), surface, 550) == pytest.approx([1, 0.95])


def test_pushes_behind_the_clips_bend_nothing() -> None:
    assert pinch_share(150, POISSON, 3, 60, 0, 3, 60, 0) == 0
    assert pinch_share(150, POISSON, 3, 60, 10, 3, 60, 130) == 0
    with pytest.raises(ValueError, match="no limit"):
        pinch_force_limit_n(0.95, 0.0, 550)


def test_turning_both_changes_nothing() -> None:
    """Needs the sine terms: half the shape is in them."""
    plain = pinch_share(150, POISSON, 3, 50, 0, 4, 72, 17)
    assert pinch_share(150, POISSON, 3, 50, 33, 4, 72, 50) == pytest.approx(plain, rel=1e-9)


def test_map_of_the_pinch_has_its_rms() -> None:
    forces = pinch_forces(150, **PUSHES_AND_CLIPS, clip_turned_deg=60)
    grid = np.linspace(-75, 75, 201)
    x, y = np.meshgrid(grid, grid)
    inside = np.hypot(x, y) <= 75
    rigidity = rigidity_n_mm(64, 25, POISSON)
    surface = surface_nm(forces, 150, rigidity, POISSON, x[inside], y[inside], refocused=True)
    assert math.sqrt(float((surface**2).mean())) == pytest.approx(1.21844, rel=5e-3)
    assert residual(shape(forces, POISSON), refocused=True).rms > 0


@pytest.mark.parametrize(("turned", "least", "most"), [(0, 1.5, 1.6), (60, 1.3, 1.4)])
def test_thick_blank_is_pinched_worse(turned: float, least: float, most: float) -> None:
    """A solid 150 × 25 mm blank is 1.3 to 1.6 times worse; one as thin as card is a thin plate."""
    factor = pinch_solid_factor(150, 25, POISSON, **PUSHES_AND_CLIPS, clip_turned_deg=turned, clip_pad_mm=5)
    assert least < factor < most
    thin = pinch_solid_factor(150, 1.5, POISSON, **PUSHES_AND_CLIPS, clip_turned_deg=turned, clip_pad_mm=2)
    assert thin == pytest.approx(1, abs=0.01)


@pytest.mark.parametrize(("change", "said"), [
    ({"push_count": 1}, "at least two"), ({"clip_count": 2.5}, "whole"), ({"clip_radius_mm": 80}, "outside"),
    ({"push_radius_mm": math.nan}, "not a number"),
])
def test_pushes_that_cannot_be(change: dict[str, float], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        pinch_share(150, POISSON, **{**PUSHES_AND_CLIPS, **change}, clip_turned_deg=0)
