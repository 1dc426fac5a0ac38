"""Rays against tracers that share nothing with the program's: one written here, ray by ray, and prysm's.

The one here knows the mirror only as the zero of x² + y² + (1 + K) z² − 2Rz: it walks each ray down to it by halving
steps, and takes the normal from differences of that function.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from numpy.typing import NDArray
from prysm.experimental.raytracing.spencer_and_murty import raytrace
from prysm.experimental.raytracing.surfaces import Surface

from dossier.calc.optics import offaxis, rays, spots, wavefront
from dossier.calc.optics.mirror import Mirror

Vector = tuple[float, float, float]
Floats = NDArray[np.float64]
CASES = [
    (114, 900, 0, 25), (150, 1200, -1, 32), (250, 1250, -1, 58), (203.2, 1219.2, -1, 46),  # the table's four
    (200, 800, 0, 0), (300, 1200, -1.3, 80), (150, 1000, 0.7, 40), (100, 1500, -0.4, 20),
]
MirrorOf = tuple[float, float, float, float]


def implicit(mirror: Mirror, x: float, y: float, z: float) -> float:
    return x * x + y * y + (1 + mirror.conic) * z * z - 2 * mirror.radius_mm * z


def walked(mirror: Mirror, start: Vector, way: Vector) -> Vector:
    """Where a ray that starts above the mirror, inside its bowl, meets it."""
    near, far = 0.0, 2 * start[2]
    for _ in range(200):
        middle = (near + far) / 2
        inside = implicit(mirror, *(s + middle * w for s, w in zip(start, way, strict=True))) < 0
        near, far = (middle, far) if inside else (near, middle)
    x, y, z = (s + near * w for s, w in zip(start, way, strict=True))
    return x, y, z


def turned_back(mirror: Mirror, point: Vector, way: Vector) -> Vector:
    step = 1e-3
    gradient = []
    for axis in range(3):
        ahead, behind = list(point), list(point)
        ahead[axis] += step
        behind[axis] -= step
        gradient.append(implicit(mirror, *ahead) - implicit(mirror, *behind))
    along = sum(g * w for g, w in zip(gradient, way, strict=True)) / sum(g * g for g in gradient)
    x, y, z = (w - 2 * along * g for w, g in zip(way, gradient, strict=True))
    return x, y, z


@pytest.mark.parametrize("mirror", CASES)
def test_single_rays(mirror: MirrorOf) -> None:
    """Random rays of a star off the axis: meeting point and landing point, to a nanometre."""
    surface, chance = Mirror(*mirror), random.Random(str(mirror))
    direction = rays.star_direction(0.6, 35.0)
    plane = surface.focal_length_mm - 0.4
    for _ in range(25):
        x, y = (chance.uniform(-1, 1) * surface.aperture_mm * 0.35 for _ in range(2))
        start = (x - 500 * direction[0], y - 500 * direction[1], -500 * direction[2])
        point = walked(surface, start, direction)
        met = rays.meet(surface, np.array(start)[:, None], np.array(direction)[:, None])[:, 0]
        assert met == pytest.approx(point, abs=1e-6)
        onward = turned_back(surface, point, direction)
        reach = (plane - point[2]) / onward[2]
        landed = rays.at_plane(surface, np.array([point[0]]), np.array([point[1]]), direction, plane)
        assert landed[0][0] == pytest.approx(point[0] + reach * onward[0], abs=1e-6)
        assert landed[1][0] == pytest.approx(point[1] + reach * onward[1], abs=1e-6)


def spiral(surface: Mirror, count: int = 40_000) -> tuple[Floats, Floats]:
    """Points that cover the annulus evenly: a sunflower's, each for an equal area."""
    share = (np.arange(count) + 0.5) / count
    inner, outer = surface.obstruction_diameter_mm**2 / 4, surface.aperture_mm**2 / 4
    radius, angle = np.sqrt(inner + (outer - inner) * share), np.pi * (3 - math.sqrt(5)) * np.arange(count)
    return radius * np.cos(angle), radius * np.sin(angle)


def by_prysm(surface: Mirror, angle_deg: float, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
    """Points on the mirror and directions after it, (n, 3), and the path from a plane wave, for a star towards −x."""
    glass = Surface.conic(1 / surface.radius_mm, surface.conic, "refl", np.zeros(3))
    way = np.array([math.sin(math.radians(angle_deg)), 0.0, -math.cos(math.radians(angle_deg))])
    height = np.hypot(x, y) ** 2 / (2 * surface.radius_mm)
    start = np.stack([x, y, height], axis=1) - 2000 * way
    places, directions = raytrace([glass], start, np.tile(way, (x.size, 1)), 0.55)
    return places[-1], directions[-1], places[-1] @ way


@pytest.mark.parametrize("angle_deg", [0.0, 0.25, 0.5])
@pytest.mark.parametrize("mirror", CASES)
def test_spots(mirror: MirrorOf, angle_deg: float) -> None:
    surface = Mirror(*mirror)
    plane = surface.focal_length_mm + wavefront.least_rms(surface).focus_mm
    points, onward, _ = by_prysm(surface, angle_deg, *spiral(surface))
    landed = points + onward * ((plane - points[:, 2]) / onward[:, 2])[:, None]
    theirs = 1000 * math.sqrt(np.var(landed[:, 0]) + np.var(landed[:, 1]))
    assert spots.spot(surface, angle_deg, plane - surface.focal_length_mm).rms_radius_um == pytest.approx(
        theirs, rel=5e-4, abs=1e-9)


@pytest.mark.parametrize("angle_deg", [0.25, 0.5])
@pytest.mark.parametrize("mirror", CASES)
def test_wavefronts(mirror: MirrorOf, angle_deg: float) -> None:
    """Path along each ray to the sphere about the chief ray's point, through the vertex; piston, tilt, focus fitted."""
    surface = Mirror(*mirror)
    plane = surface.focal_length_mm + wavefront.least_rms(surface).focus_mm
    points, onward, arrived = by_prysm(surface, angle_deg, *spiral(surface))
    focus = np.array([plane * math.tan(math.radians(angle_deg)), 0.0, plane])
    gap = focus - points
    along = np.sum(gap * onward, axis=1)
    miss = np.sum(gap**2, axis=1) - along**2
    path = arrived + along - np.sqrt(focus @ focus - miss)
    x, y = points[:, 0], points[:, 1]
    basis = np.stack([np.ones_like(x), x, y, x**2 + y**2], axis=1)
    left = path - basis @ np.linalg.lstsq(basis, path, rcond=None)[0]
    theirs = math.sqrt(np.mean(left**2))
    assert offaxis.wavefront_rms_mm(surface, angle_deg) == pytest.approx(theirs, rel=1e-3)
