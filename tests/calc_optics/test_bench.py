"""The bench, there and back: readings made from a known mirror give that mirror again, whatever the scale's zero."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.calc.optics import bench_pictures, bench_profile, bench_tests, zone_mask
from dossier.calc.optics.mirror import Mirror

EDGES = zone_mask.mask_edges_mm(150, 35, 5.0)
ZONES = zone_mask.zone_radii_mm(EDGES)
NM = 550.0


def test_mask_has_zones_of_one_area() -> None:
    areas = np.diff(np.square(EDGES))
    assert areas == pytest.approx(np.full(5, areas[0]))
    assert (EDGES[0], EDGES[-1]) == pytest.approx((17.5, 75))
    assert all(inner < centre < outer for inner, centre, outer in zip(EDGES[:-1], ZONES, EDGES[1:], strict=True))


@pytest.mark.parametrize("source_moves", [0.0, 1.0])
@settings(max_examples=40, deadline=None)
@given(conic=st.floats(-4, 3), zero=st.floats(-20, 20))
def test_readings_give_back_their_conic(source_moves: float, conic: float, zero: float) -> None:
    readings = [zero + reading for reading in bench_tests.knife_readings_mm(150, 1200, conic, ZONES, source_moves)]
    assert bench_tests.bench_conic(150, 1200, ZONES, readings, source_moves) == pytest.approx(conic, abs=1e-8)
    found = bench_tests.best_conic(bench_tests.model_for(source_moves), 150, 1200, ZONES, readings)
    assert found.zero_mm == pytest.approx(zero, abs=1e-9)
    assert found.left_mm == pytest.approx((0,) * 5, abs=1e-9)


def test_a_sphere_reads_alike_everywhere() -> None:
    assert bench_tests.knife_readings_mm(150, 1200, 0.0, ZONES, 1.0) == (0,) * 5
    assert bench_tests.knife_readings_mm(150, 1200, 0.0, ZONES, 0.0) == pytest.approx((0,) * 5, abs=1e-9)


@pytest.mark.parametrize("conic", [-2.0, -1.0, -0.7, 0.0, 0.8])
@pytest.mark.parametrize("source_moves", [0.0, 1.0])
def test_measured_profile_of_a_conic_is_its_wavefront(conic: float, source_moves: float) -> None:
    """Two ways round: slopes from readings integrated, and the exact path by way of the conic."""
    readings = bench_tests.knife_readings_mm(150, 1200, conic, ZONES, source_moves)
    span = bench_profile.profile_pv_wave(150, 1200, ZONES, readings, source_moves, NM)
    rms = bench_profile.profile_rms_wave(150, 1200, ZONES, readings, source_moves, NM)
    assert span == pytest.approx(bench_tests.full_pupil_wavefront_pv_wave(150, 1200, conic, NM), rel=1e-3, abs=1e-6)
    assert rms == pytest.approx(bench_tests.full_pupil_wavefront_rms_wave(150, 1200, conic, NM), rel=1e-3, abs=1e-6)
    # Exact at another focus: that of the highest ratio, which can only be better.
    ratio, best = (bench_profile.profile_strehl(150, 1200, ZONES, readings, source_moves, NM),
                   bench_tests.bench_strehl(150, 1200, conic, NM))
    assert best - 0.01 < ratio < best + 1e-4 or best < 0.4
    left = bench_profile.left_surface_rms_nm(150, 1200, ZONES, readings, source_moves)
    assert left == pytest.approx(0, abs=1e-6)


def test_a_raised_zone_shows_in_the_profile_and_not_in_the_conic() -> None:
    """A reading 0.1 mm off in one zone turns its slope by r·0.1/R², a height of some ten nanometres beside it."""
    readings = list(bench_tests.knife_readings_mm(150, 1200, -1.0, ZONES, 1.0))
    readings[2] += 0.1
    slope = ZONES[2] * 0.1 / 2400**2
    span_nm = bench_profile.profile_pv_wave(150, 1200, ZONES, readings, 1.0, NM) * NM / 2
    assert 0.3 * slope * 15e6 < span_nm < 3 * slope * 15e6
    assert bench_profile.left_surface_rms_nm(150, 1200, ZONES, readings, 1.0) > 1


def test_uncertainty_is_what_scatter_makes() -> None:
    """Readings scattered by 0.02 mm, many times over: the conics scatter as each uncertainty says."""
    chance = np.random.default_rng(5)
    true = np.array(bench_tests.knife_readings_mm(200, 1200, -0.9, (40, 60, 75, 88, 97), 1.0))
    conics, uncertainties = [], []
    for _ in range(300):
        readings = true + chance.normal(0, 0.02, 5)
        conics.append(bench_tests.bench_conic(200, 1200, (40, 60, 75, 88, 97), readings, 1.0))
        uncertainties.append(bench_tests.bench_conic_uncertainty(200, 1200, (40, 60, 75, 88, 97), readings, 1.0))
    assert np.mean(conics) == pytest.approx(-0.9, abs=0.003)
    assert math.sqrt(np.mean(np.square(uncertainties))) == pytest.approx(np.std(conics), rel=0.15)


def test_uncertainty_of_the_wavefront_is_that_of_its_conic() -> None:
    """Near the paraboloid the wavefront runs straight with the conic: what u adds anywhere, it adds at −1."""
    size, spread = (150, 1200), 0.05
    added = (bench_tests.full_pupil_wavefront_pv_wave(*size, -0.6 + spread, NM)
             - bench_tests.full_pupil_wavefront_pv_wave(*size, -0.6, NM))
    assert bench_tests.bench_pv_uncertainty_wave(*size, spread, NM) == pytest.approx(added, rel=0.01)
    added = (bench_tests.full_pupil_wavefront_rms_wave(*size, -0.6 + spread, NM)
             - bench_tests.full_pupil_wavefront_rms_wave(*size, -0.6, NM))
    assert bench_tests.bench_rms_uncertainty_wave(*size, spread, NM) == pytest.approx(added, rel=0.01)
    worst = min(bench_tests.bench_strehl(*size, conic, NM) for conic in (-0.65, -0.6, -0.55))
    lost = bench_tests.bench_strehl(*size, -0.6, NM) - worst
    assert bench_tests.bench_strehl_uncertainty(*size, -0.6, spread, NM) == pytest.approx(lost)


def test_picture_returns_light_where_the_zones_read() -> None:
    """A ray off a zone comes back to the axis where the knife reads that zone: it lands in the middle there."""
    mirror = Mirror(150, 1200, -1)
    reading = bench_tests.knife_readings_mm(150, 1200, -1.0, (52.734375,), 0.0)[0]
    landed = bench_pictures.returned(mirror, 0.0, reading, 256)[0]
    row = landed[127]
    places = ((np.arange(256) + 0.5) / 256 - 0.5) * 150
    zone = np.interp(52.734375, places, row)
    assert zone == pytest.approx(0, abs=2e-5)
    assert abs(np.interp(30, places, row)) > 1e-3


def test_ronchi_bands_of_a_sphere_are_straight_and_of_a_paraboloid_are_not() -> None:
    sphere = bench_pictures.ronchi(Mirror(150, 1200, 0), 5, -3.0)
    columns = np.nanstd(sphere, axis=0)
    assert np.nanmax(columns) < 2e-3
    paraboloid = bench_pictures.ronchi(Mirror(150, 1200, -1), 5, -3.0)
    assert np.nanmax(np.nanstd(paraboloid, axis=0)) > 30 * np.nanmax(columns)


def test_ronchi_counts_bands() -> None:
    """Light from a sphere, focused d away, spreads over d D/R there: so many lines, each a band."""
    picture = bench_pictures.ronchi(Mirror(150, 1200, 0), 10, 8.0, 601)
    middle = picture[300]
    bands = np.sum((middle[1:-1] > middle[:-2]) & (middle[1:-1] >= middle[2:]))
    assert bands == pytest.approx(8.0 * 150 / 2400 * 2 * 10 / 1, abs=1.5)


def test_knife_edge_darkens_zones_inside_and_outside_opposite_ways() -> None:
    picture = bench_pictures.knife_edge(Mirror(150, 1200, -1, 35), 0.6, 0.02)
    assert np.isnan(picture[0, 0])
    assert np.isnan(picture[128, 128])
    assert np.nanmin(picture) >= 0
    assert np.nanmax(picture) <= 1
    left, right = picture[128, 4], picture[128, 251]
    assert left + right == pytest.approx(1, abs=1e-9)
    assert abs(left - right) > 0.5
