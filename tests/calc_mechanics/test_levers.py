"""Levers against the coordinates of the points that they join; radii of the least pinch; the free loads' thickness."""

from __future__ import annotations

import math

import pytest

from dossier.calc.mechanics.levers import (
    bar_pivot_mm,
    inner_point_share,
    neighbour_spacing_mm,
    triangle_depth_mm,
    triangle_pivot_mm,
    triangle_pivot_offset_mm,
)
from dossier.calc.mechanics.mirror_cell import (
    free_point_forces_n,
    free_shear_factor,
    free_support_radii_mm,
    levers,
    shear_factor,
    support_radii_mm,
)
from dossier.calc.mechanics.pinch import best_clip_radius_mm, best_push_radius_mm, pinch_share

POISSON = 0.20


def test_bars_of_six() -> None:
    bar = levers(6, (60.0,))[0]
    assert neighbour_spacing_mm(60, 6) == pytest.approx(math.dist(*bar.carries))
    assert bar_pivot_mm(60, 6) == pytest.approx(math.hypot(*bar.pivot))


@pytest.mark.parametrize(("points", "outer"), [(9, 6), (18, 12)])
@pytest.mark.parametrize("forces", [(1.0, 1.0), (0.875, 4.035)])
def test_triangles(points: int, outer: int, forces: tuple[float, float]) -> None:
    """Equal loads, and nine points with loads of their own."""
    radii, inner = (40.0, 90.0), outer // 2
    whole = forces[0] * inner + forces[1] * outer
    triangle = levers(points, radii, (forces[0] * inner / whole, forces[1] * outer / whole))[0]
    near, *far = triangle.carries
    middle = ((far[0][0] + far[1][0]) / 2, (far[0][1] + far[1][1]) / 2)
    depth, share = triangle_depth_mm(40, 90, outer), inner_point_share(*forces)
    assert neighbour_spacing_mm(90, outer) == pytest.approx(math.dist(*far))
    assert depth == pytest.approx(math.dist(near, middle))
    assert triangle_pivot_offset_mm(share, depth) == pytest.approx(math.dist(triangle.pivot, middle))
    assert triangle_pivot_mm(40, share, depth) == pytest.approx(math.hypot(*triangle.pivot))


def test_bars_of_eighteen() -> None:
    found = levers(18, (40.0, 90.0))
    pivot = math.hypot(*found[0].pivot)
    assert neighbour_spacing_mm(pivot, 6) == pytest.approx(math.dist(*found[-1].carries))
    assert bar_pivot_mm(pivot, 6) == pytest.approx(math.hypot(*found[-1].pivot))


def test_free_loads_agree() -> None:
    """Nine points, 250 × 25 mm, computed independently: 16.49 and 79.13 mm; 0.875 and 4.035 N on each point."""
    assert free_support_radii_mm(250, POISSON, 9) == pytest.approx((16.49, 79.13), abs=0.006)
    weight = 9.80665 * 2230e-9 * math.pi / 4 * 250**2 * 25
    assert free_point_forces_n(weight, POISSON, 9) == pytest.approx((0.875, 4.035), abs=6e-4)


@pytest.mark.parametrize("points", [9, 18])
def test_thickness_under_free_loads(points: int) -> None:
    """A thin blank is a thin plate; a thick one sags more, and other loads do not make it another solid."""
    assert free_shear_factor(300, 3, POISSON, points) == pytest.approx(1, abs=0.03)
    equal = shear_factor(250, 25, support_radii_mm(250, POISSON, points), POISSON, points)
    assert 1.1 < free_shear_factor(250, 25, POISSON, points) < 2 * equal


@pytest.mark.parametrize("turned", [0.0, 25.0, 60.0])
def test_no_radius_pinches_less(turned: float) -> None:
    push = best_push_radius_mm(150, POISSON, 3, 0, 3, 72, turned)
    clip = best_clip_radius_mm(150, POISSON, 3, 50, 0, 3, turned)
    least_push = pinch_share(150, POISSON, 3, push, 0, 3, 72, turned)
    least_clip = pinch_share(150, POISSON, 3, 50, 0, 3, clip, turned)
    for radius in range(76):
        assert pinch_share(150, POISSON, 3, radius, 0, 3, 72, turned) >= least_push - 1e-9
        assert pinch_share(150, POISSON, 3, 50, 0, 3, radius, turned) >= least_clip - 1e-9


def test_pushes_belong_behind_the_clips() -> None:
    assert best_push_radius_mm(150, POISSON, 3, 0, 3, 72, 120) == 72
    assert best_clip_radius_mm(150, POISSON, 3, 50, 0, 3, 0) == 50
