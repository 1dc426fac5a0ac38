"""What a frame that gives way does to the image: against turned points, rays and beams, not against the rules."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.mechanics.sections import box_area_mm2, box_second_moment_mm4
from dossier.calc.mechanics.truss import truss_play_shift_mm
from dossier.calc.mechanics.wander import (
    calm_mm,
    depth_of_focus_mm,
    evening_drift_mm,
    image_shift_mm,
    shift_share,
    shift_strehl_lost,
    silhouette_mm2,
    star_shift_arcsec,
)


def mirrored(point: np.ndarray, on: np.ndarray, normal: np.ndarray) -> np.ndarray:
    return point - 2 * np.dot(point - on, normal) * normal


@pytest.mark.parametrize(("across", "arcmin"), [(0.4, 0.0), (0.0, 5.0), (0.3, 2.0), (0.3, -2.0)])
def test_field_middle_by_turning_the_fold(across: float, arcmin: float) -> None:
    """Diagonal and eyepiece, as points, shifted and turned about the upper end; the eyepiece seen in the diagonal lies
    where the mirror's axis should have come to focus."""
    focal, intercept, upper = 1200.0, 170.0, 950.0
    turn = arcmin * math.pi / 10800
    spin = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])

    def moved(x: float, z: float) -> np.ndarray:
        return spin @ np.array([x, z - upper]) + np.array([across, upper])

    fold = moved(0, focal - intercept)
    normal = moved(1, focal - intercept - 1) - fold
    seen = mirrored(moved(intercept, focal - intercept), fold, normal / np.linalg.norm(normal))
    assert image_shift_mm(across, arcmin, focal, upper) == pytest.approx(seen[0], abs=1e-3)


def test_strehl_lost_at_the_coma_free_radius() -> None:
    """V. Sacek, eq. 70.2: coma alone leaves 0.80 at F³/90 mm from the axis of a paraboloid (550 nm). Read.

    The pupil is clear. An RMS of λ/√180 leaves 0.80 by the sum of squares and a little more by the exact mean.
    """
    lost = shift_strehl_lost(200, 1200, -1, 0, 550, 6**3 / 90)
    assert 1 - lost == pytest.approx(0.80, abs=0.015)
    assert shift_strehl_lost(200, 1200, -1, 0, 550, 0) == pytest.approx(0, abs=1e-12)
    assert shift_strehl_lost(200, 1200, -1, 0, 550, -1.2) == pytest.approx(
        shift_strehl_lost(200, 1200, -1, 0, 550, 1.2), rel=1e-6)


def test_a_small_shift_costs_by_its_square() -> None:
    """Coma grows with the shift, and the loss with the square of its RMS."""
    one, two = (shift_strehl_lost(150, 1200, -1, 31, 550, shift) for shift in (0.3, 0.6))
    assert two / one == pytest.approx(4, rel=0.01)


@pytest.mark.parametrize("ratio", [5.0, 8.0])
def test_depth_of_focus_by_two_rays(ratio: float) -> None:
    """Moving the eyepiece by δ, the axial ray's path changes by δ, the edge ray's by δ cos u."""
    shift = depth_of_focus_mm(550, ratio)
    half_angle = 2 * math.atan(1 / (4 * ratio))  # of a paraboloid's edge ray
    assert shift * (1 - math.cos(half_angle)) == pytest.approx(550e-6 / 4, rel=0.01)


def test_even_pushes_by_beams() -> None:
    """Under an even load w a cantilever's end moves by wL⁴/8EI, under a force there by FL³/3EI; a beam whose far end
    may only slide by wL⁴/24EI and FL³/12EI. Shigley, table A-9, recalled."""
    length, load = 900.0, 0.02
    cantilever, sliding = (load * length**4 / 8) / (length**3 / 3), (load * length**4 / 24) / (length**3 / 12)
    assert silhouette_mm2(load, 0, 0.375, length) == pytest.approx(cantilever)
    assert silhouette_mm2(load, 0, 0.5, length) == pytest.approx(sliding)
    assert silhouette_mm2(200, 100, 0.5, 800) == 100_000
    with pytest.raises(ValueError, match="cage height"):
        silhouette_mm2(200, -1, 0.5, 800)


def test_by_hand() -> None:
    assert shift_share(0.5, 5) == 0.1
    assert star_shift_arcsec(0.1, 171.9) == pytest.approx(17.19)
    assert calm_mm(0.9, 180) == 0.005
    assert evening_drift_mm(0.015, 15) == pytest.approx(0.225)


@pytest.mark.parametrize(("count", "lower", "upper"), [(8, 160.0, 160.0), (6, 200.0, 160.0)])
def test_truss_play_by_its_nodes(count: int, lower: float, upper: float) -> None:
    """Shifted a little along one pole's slant: that pole changes its length by the play, no other by more."""
    length, play, step = 1150.0, 0.002, 2 * math.pi / count
    chord = math.sqrt(lower**2 + upper**2 - 2 * lower * upper * math.cos(step))
    height = math.sqrt(length**2 - chord**2)
    feet, tops = [], []
    for pole in range(count):
        node, foot = pole + 1 - pole % 2, 2 * ((pole + 1) // 2)
        tops.append([upper * math.cos(node * step), upper * math.sin(node * step), height])
        feet.append([lower * math.cos(foot * step), lower * math.sin(foot * step), 0.0])
    along = np.array(tops) - np.array(feet)
    way = np.array([*along[0, :2], 0.0]) / chord
    shifted = along + truss_play_shift_mm(play, length, chord) * way
    changes = np.linalg.norm(shifted, axis=1) - length
    assert changes[0] == pytest.approx(play, rel=2e-3)
    assert np.abs(changes).max() == pytest.approx(play, rel=2e-3)


def test_box_by_counting_squares() -> None:
    grid = np.linspace(-100, 100, 2001)
    x, y = np.meshgrid(grid, grid)
    wall = (np.maximum(np.abs(x), np.abs(y)) <= 80) & (np.maximum(np.abs(x), np.abs(y)) > 71)
    assert box_area_mm2(142, 9) == pytest.approx(float(wall.sum()) * 0.01, rel=5e-3)
    assert box_second_moment_mm4(142, 9) == pytest.approx(float((y[wall] ** 2).sum()) * 0.01, rel=5e-3)
