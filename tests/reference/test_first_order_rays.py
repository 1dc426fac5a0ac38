"""Third-order arithmetic against rays traced by a general library: prysm, with SciPy for the best focus."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from prysm.experimental.raytracing.spencer_and_murty import raytrace
from prysm.experimental.raytracing.surfaces import Surface
from scipy.optimize import minimize_scalar

from dossier.calc.optics import field, sphere

Floats = NDArray[np.float64]
ABOVE_MM = 3000.0


def reflected(aperture_mm: float, focal_length_mm: float, conic: float, angle_rad: float,
              x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
    """Points on the mirror, directions after it (n, 3) and the path from a plane wave through the vertex (n)."""
    mirror = Surface.conic(1 / (2 * focal_length_mm), conic, "refl", np.zeros(3))
    start = np.stack([x + ABOVE_MM * math.tan(angle_rad), y, np.full_like(x, ABOVE_MM)], axis=1)
    onward = np.tile([-math.sin(angle_rad), 0.0, -math.cos(angle_rad)], (x.size, 1))
    places, directions = raytrace([mirror], start, onward, 0.55)
    return places[-1], directions[-1], places[-1] @ onward[0]


def pupil(radius_mm: float, count: int = 40) -> tuple[Floats, Floats]:
    """A square grid of points inside a circle, none at the vertex, where the library divides by the radius."""
    axis = np.linspace(-radius_mm, radius_mm, count)
    x, y = (grid.ravel() for grid in np.meshgrid(axis, axis))
    inside = x**2 + y**2 <= radius_mm**2
    return x[inside], y[inside]


@pytest.mark.parametrize("conic", [0.0, -0.5, -1.0])
def test_rays_near_the_axis_meet_at_the_focal_length(conic: float) -> None:
    places, directions, _ = reflected(150, 1200, conic, 0.0, np.array([0.01]), np.array([0.0]))
    crossing = places[0, 2] - places[0, 0] * directions[0, 2] / directions[0, 0]
    assert crossing == pytest.approx(1200, abs=1e-4)


@pytest.mark.parametrize("conic", [0.0, -0.5, 0.4])
def test_longitudinal_aberration_is_the_first_term_of_the_edge_ray(conic: float) -> None:
    """For a slow mirror, f/15, what comes after the third order is less than a thousandth of it."""
    places, directions, _ = reflected(100, 1500, conic, 0.0, np.array([50.0]), np.array([0.0]))
    crossing = places[0, 2] - places[0, 0] * directions[0, 2] / directions[0, 0]
    expected = sphere.longitudinal_aberration_third_order_mm(100, 1500, conic)
    assert crossing - 1500 == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("conic", [0.0, -0.4])
def test_wavefront_at_best_focus(conic: float) -> None:
    """Path lengths to the focus that leaves least from peak to valley, 150 mm f/8."""
    radius = np.linspace(0.01, 75, 400)
    places, _, paths = reflected(150, 1200, conic, 0.0, radius, np.zeros_like(radius))

    def spread_waves(shift_mm: float) -> float:
        total = paths + np.linalg.norm(places - [0, 0, 1200 + shift_mm], axis=1)
        return float(np.ptp(total)) / 0.55e-3

    best = minimize_scalar(spread_waves, bounds=(-3, 3), method="bounded", options={"xatol": 1e-6})
    assert sphere.wavefront_pv_third_order_wave(150, 8, conic, 0.55) == pytest.approx(best.fun, rel=3e-3)


def test_a_sphere_at_its_limit_leaves_a_quarter_wave() -> None:
    limit = sphere.sphere_limit_focal_ratio(150, 0.55)
    assert sphere.wavefront_pv_third_order_wave(150, limit, 0, 0.55) == pytest.approx(0.25)


def test_tangential_coma() -> None:
    """The rim rays in the plane of the tilt meet the focal plane three sixteenths of θ/F² beyond the middle ray."""
    angle = math.radians(10 / 60)
    x = np.array([-75.0, 0.0, 75.0])
    places, directions, _ = reflected(150, 1200, -1, angle, x, np.zeros(3))
    landed = places[:, 0] + (1200 - places[:, 2]) * directions[:, 0] / directions[:, 2]
    length_arcsec = abs((landed[0] + landed[2]) / 2 - landed[1]) / 1200 * 206265
    assert field.coma_tangential_arcsec(10, 8) == pytest.approx(length_arcsec, rel=5e-3)


@pytest.mark.parametrize(("aperture_mm", "focal_ratio"), [(150, 6), (200, 5)])
def test_coma_free_radius_is_where_coma_leaves_its_rms(aperture_mm: float, focal_ratio: float) -> None:
    """Path lengths of a paraboloid there, with piston, tilt, focus and astigmatism fitted away: 1/√180 of a wave."""
    focal_length = aperture_mm * focal_ratio
    height = field.coma_free_radius_mm(0.55, focal_ratio)
    x, y = pupil(aperture_mm / 2)
    places, _, paths = reflected(aperture_mm, focal_length, -1, math.atan(height / focal_length), x, y)
    waves = (paths + np.linalg.norm(places - [-height, 0, focal_length], axis=1)) / 0.55e-3
    smooth = np.stack([np.ones_like(x), x, y, x**2, y**2, x * y], axis=1)
    left = waves - smooth @ np.linalg.lstsq(smooth, waves, rcond=None)[0]
    assert float(np.std(left)) == pytest.approx(1 / math.sqrt(180), rel=0.02)
