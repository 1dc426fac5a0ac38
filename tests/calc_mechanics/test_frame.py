"""Frames: values of an independent frame solver, and a solver of beam elements kept here."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.mechanics.frame import (
    collimation_share,
    focus_drift_mm_per_k,
    mirror_focus_drift_mm_per_k,
    play_tilt_arcmin,
    poles_sag_mm,
    poles_stiffness_n_per_mm,
    poles_tilt_arcmin,
    push_shift_mm,
    tube_sag_mm,
    tube_stiffness_n_per_mm,
    tube_tilt_arcmin,
    wind_push_n,
)
from dossier.calc.mechanics.sections import (
    bar_area_mm2,
    bar_second_moment_mm4,
    member_mass_kg,
    tube_area_mm2,
    tube_second_moment_mm4,
)
from dossier.calc.mechanics.truss import (
    truss_focus_drift_mm_per_k,
    truss_frequency_hz,
    truss_sag_mm,
    truss_stiffness_n_per_mm,
    truss_tilt_arcmin,
)
from dossier.calc.mechanics.vibration import poles_frequency_hz, ring_down_s, tube_frequency_hz

G = 9.80665
URAD_PER_ARCMIN = math.pi / 10800 * 1e6


def poles(modulus: float, density: float, outer: float, inner: float, length: float) -> dict[str, float]:
    area = tube_area_mm2(outer, inner)
    return {"youngs_modulus_gpa": modulus, "pole_second_moment_mm4": tube_second_moment_mm4(outer, inner),
            "pole_area_mm2": area, "pole_mass_kg": member_mass_kg(density, area, length), "pole_length_mm": length}


CARBON = {**poles(120, 1600, 12, 10, 700), "pole_count": 3, "circle_radius_mm": 70, "upper_mass_kg": 0.5}
ALUMINIUM = {**poles(68.9, 2700, 20, 17, 1100), "pole_count": 4, "circle_radius_mm": 130, "upper_mass_kg": 1.6}


@pytest.mark.parametrize(("frame", "sag", "tilt_arcmin", "hertz"), [
    (CARBON, 0.8393, 0.14508, 17.44), (ALUMINIUM, 2.2576, 56.6 / URAD_PER_ARCMIN, 10.83),
])
def test_poles(frame: dict[str, float], sag: float, tilt_arcmin: float, hertz: float) -> None:
    assert poles_sag_mm(**frame) == pytest.approx(sag, rel=1e-4)
    assert poles_tilt_arcmin(**frame) == pytest.approx(tilt_arcmin, rel=1e-3)
    assert poles_frequency_hz(**frame) == pytest.approx(hertz, rel=5e-4)


def beam_elements(frame: dict[str, float], count: int, *, point: bool) -> tuple[float, float, float]:
    """Sag, tilt and frequency of n equal beams whose heads move and turn as one; Hermite elements, consistent mass.

    ``point``: the heads are free to turn with no stretching to stop them (a tube).
    """
    poles_, length = frame["pole_count"], frame["pole_length_mm"] / count
    bend = 1000 * frame["youngs_modulus_gpa"] * frame["pole_second_moment_mm4"] * poles_
    mass = frame["pole_mass_kg"] * poles_ / count
    stiff = bend / length**3 * np.array([[12, 6 * length, -12, 6 * length],
                                         [6 * length, 4 * length**2, -6 * length, 2 * length**2],
                                         [-12, -6 * length, 12, -6 * length],
                                         [6 * length, 2 * length**2, -6 * length, 4 * length**2]])
    inertia = mass / 420 * np.array([[156, 22 * length, 54, -13 * length],
                                     [22 * length, 4 * length**2, 13 * length, -3 * length**2],
                                     [54, 13 * length, 156, -22 * length],
                                     [-13 * length, -3 * length**2, -22 * length, 4 * length**2]])
    weight = mass * G * np.array([0.5, length / 12, 0.5, -length / 12])
    size = 2 * (count + 1)
    whole, masses, load = np.zeros((size, size)), np.zeros((size, size)), np.zeros(size)
    for element in range(count):
        at = slice(2 * element, 2 * element + 4)
        whole[at, at] += stiff
        masses[at, at] += inertia
        load[at] += weight
    if not point:
        stretch = 1000 * frame["youngs_modulus_gpa"] * frame["pole_area_mm2"] * poles_ / frame["pole_length_mm"]
        whole[-1, -1] += stretch * frame["circle_radius_mm"] ** 2 / 2
    masses[-2, -2] += frame["upper_mass_kg"]
    load[-2] += frame["upper_mass_kg"] * G
    moved = np.linalg.solve(whole[2:, 2:], load[2:])
    values = np.linalg.eigvals(np.linalg.solve(masses[2:, 2:], 1000 * whole[2:, 2:])).real
    return float(moved[-2]), float(moved[-1]) * 10800 / math.pi, math.sqrt(float(values.min())) / (2 * math.pi)


@pytest.mark.parametrize("frame", [CARBON, ALUMINIUM, {**ALUMINIUM, "upper_mass_kg": 0.0}, {**CARBON, "pole_count": 6}])
def test_poles_against_beam_elements(frame: dict[str, float]) -> None:
    sag, tilt, frequency = beam_elements(frame, 8, point=False)
    assert poles_sag_mm(**frame) == pytest.approx(sag, rel=1e-6)
    assert poles_tilt_arcmin(**frame) == pytest.approx(tilt, rel=1e-6)
    assert poles_frequency_hz(**frame) == pytest.approx(frequency, rel=3e-4)
    heavier = {**frame, "upper_mass_kg": frame["upper_mass_kg"] + 1}
    give = (poles_sag_mm(**heavier) - poles_sag_mm(**frame)) / G
    keys = [key for key in frame if key not in ("pole_mass_kg", "upper_mass_kg")]
    assert poles_stiffness_n_per_mm(**{key: frame[key] for key in keys}) == pytest.approx(1 / give)


@pytest.mark.parametrize("upper", [0.0, 0.8, 5.0])
def test_tube_against_beam_elements(upper: float) -> None:
    area, second = tube_area_mm2(200, 190), tube_second_moment_mm4(200, 190)
    mass = member_mass_kg(700, area, 1100)
    frame = {"youngs_modulus_gpa": 4.0, "pole_second_moment_mm4": second, "pole_area_mm2": area, "pole_mass_kg": mass,
             "pole_length_mm": 1100.0, "pole_count": 1, "circle_radius_mm": 0.0, "upper_mass_kg": upper}
    sag, tilt, frequency = beam_elements(frame, 8, point=True)
    assert tube_sag_mm(4, second, mass, 1100, upper) == pytest.approx(sag, rel=1e-6)
    assert tube_tilt_arcmin(4, second, mass, 1100, upper) == pytest.approx(tilt, rel=1e-6)
    assert tube_frequency_hz(4, second, mass, 1100, upper) == pytest.approx(frequency, rel=1e-4)
    heavier = tube_sag_mm(4, second, mass, 1100, upper + 1) - tube_sag_mm(4, second, mass, 1100, upper)
    assert tube_stiffness_n_per_mm(4, second, 1100) == pytest.approx(G / heavier)


def truss_nodes(count: int, lower: float, upper: float, length: float, area: float, modulus: float,
                ) -> tuple[np.ndarray, float]:
    """Stiffness of the rigid upper ring (six motions) on pinned poles, N and mm, and the ring's height."""
    step = 2 * math.pi / count
    chord = math.sqrt(lower**2 + upper**2 - 2 * lower * upper * math.cos(step))
    height = math.sqrt(length**2 - chord**2)
    whole = np.zeros((6, 6))
    for pole in range(count):
        node = pole + 1 - pole % 2
        foot = 2 * ((pole + 1) // 2)
        top = np.array([upper * math.cos(node * step), upper * math.sin(node * step), 0.0])
        low = np.array([lower * math.cos(foot * step), lower * math.sin(foot * step), -height])
        along = (top - low) / length
        assert float(np.linalg.norm(top - low)) == pytest.approx(length)
        motion = np.concatenate((along, np.cross(top, along)))
        whole += 1000 * modulus * area / length * np.outer(motion, motion)
    return whole, height


@pytest.mark.parametrize(("count", "lower", "upper"), [(8, 160, 160), (6, 160, 140), (8, 200, 160), (12, 150, 170)])
def test_truss_against_its_nodes(count: int, lower: float, upper: float) -> None:
    area, length, mass = tube_area_mm2(25, 22), 1150.0, 2.5
    pole = member_mass_kg(2700, area, length)
    whole, height = truss_nodes(count, lower, upper, length, area, 68.9)
    moved = np.linalg.solve(whole, [G * (mass + count * pole / 2), 0, 0, 0, 0, 0])
    stiffness = truss_stiffness_n_per_mm(68.9, area, count, lower, length)
    sag = truss_sag_mm(mass, count, pole, stiffness)
    assert sag == pytest.approx(moved[0], rel=1e-9)
    tilt = truss_tilt_arcmin(sag, upper, lower, count, height)
    assert abs(tilt) == pytest.approx(abs(moved[4]) * 10800 / math.pi, rel=1e-9)


def test_eight_poles_of_aluminium() -> None:
    """0.1480 mm with the poles' weight, 0.0954 mm with the mass alone."""
    area = tube_area_mm2(25, 22)
    stiffness = truss_stiffness_n_per_mm(68.9, area, 8, 160, 1150)
    pole = member_mass_kg(2700, area, 1150)
    assert truss_sag_mm(2.5, 8, pole, stiffness) == pytest.approx(0.1480, abs=5e-5)
    assert truss_sag_mm(2.5, 8, 0, stiffness) == pytest.approx(0.0954, abs=5e-5)
    moving = 2.5 + 8 * pole / 3
    assert truss_frequency_hz(stiffness, 2.5, 8, pole) == pytest.approx(math.sqrt(1000 * stiffness / moving) / math.tau)


def test_warm_poles_lift_a_truss() -> None:
    """Poles longer by 1e-5 on nodes that stay: the ring's height, twice by Pythagoras."""
    length, chord, expansion = 1150.0, 122.0, 23.6e-6
    height = math.sqrt(length**2 - chord**2)
    warm = math.sqrt((length * (1 + expansion)) ** 2 - chord**2)
    assert truss_focus_drift_mm_per_k(expansion, length, height) == pytest.approx(warm - height, rel=1e-4)
    assert focus_drift_mm_per_k(expansion, 1000) == pytest.approx(0.0236)
    assert mirror_focus_drift_mm_per_k(3.3e-6, 1200) == pytest.approx(0.00396)


def test_sections_by_counting_squares() -> None:
    grid = np.linspace(-10, 10, 2001)
    x, y = np.meshgrid(grid, grid)
    inside, step = (np.hypot(x, y) <= 10) & (np.hypot(x, y) > 8), 0.01**2
    assert tube_area_mm2(20, 16) == pytest.approx(float(inside.sum()) * step, rel=1e-3)
    assert tube_second_moment_mm4(20, 16) == pytest.approx(float((y[inside] ** 2).sum()) * step, rel=1e-3)
    bar = (np.abs(x) <= 3) & (np.abs(y) <= 5)
    assert bar_area_mm2(6, 10) == pytest.approx(float(bar.sum()) * step, rel=5e-3)
    assert bar_second_moment_mm4(6, 10) == pytest.approx(float((y[bar] ** 2).sum()) * step, rel=5e-3)


def test_pushes_and_play_by_hand() -> None:
    assert push_shift_mm(5, 20) == 0.25
    assert wind_push_n(1.2, 1.225, 5, 200_000) == pytest.approx(3.675)
    assert play_tilt_arcmin(0.2, 100) == pytest.approx(math.degrees(math.atan(0.1 / 100)) * 60, rel=1e-5)
    assert collimation_share(0.5, 2) == 0.25
    assert ring_down_s(1.0, math.exp(-math.tau), 2.0, 0.01) == pytest.approx(50)


@pytest.mark.parametrize("change", [{"pole_mass_kg": 0.0}, {"upper_mass_kg": -1.0}, {"pole_length_mm": math.nan}])
def test_frames_that_cannot_swing(change: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=next(iter(change)).rpartition("_")[0].replace("_", " ")):
        poles_frequency_hz(**{**CARBON, **change})
