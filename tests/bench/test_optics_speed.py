"""How fast light is traced. Every figure is a ratio to something timed in the same run, or to a stated floor.

Run with ``pytest -m long tests/bench -s`` to read the ratios.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable

import numpy as np
import pytest
from prysm.experimental.raytracing.spencer_and_murty import raytrace
from prysm.experimental.raytracing.surfaces import Surface

from dossier.calc.optics import rays
from dossier.calc.optics.mirror import Mirror

FLOOR_RAYS_A_SECOND = 1.5e7
A_MILLION = 1_000_000
MIRROR = Mirror(114, 900, 0, 25)

DEMO = """
import time
start = time.process_time()
import numpy as np
from dossier.calc.optics import (bench_pictures, bench_tests, collimation, diffraction, illumination, offaxis, scenes,
                                 sight, spots, star_images, straylight, wavefront, zone_mask)
from dossier.calc.optics.fold import Diagonal, Telescope
from dossier.calc.optics.mirror import Mirror

size, nm = (150.0, 1200.0, 0.0, 35.0), 550.0
mirror, diagonal = Mirror(*size), Diagonal(35.0, 162.0, 0.9)
shares = np.linspace(0, 1, 41)
wavefront.wavefront_pv_wave(*size, nm), wavefront.wavefront_rms_wave(*size, nm), wavefront.strehl(*size, nm, 20.0)
spots.axis_rms_radius_um(*size), spots.edge_rms_radius_um(*size, 24.0), offaxis.edge_wavefront_rms_wave(*size, 24.0, nm)
diffraction.mtf_25(*size, nm), diffraction.mtf_50(*size, nm), diffraction.airy_energy(*size, nm)
illumination.full_field_mm(150, 1200, 1.17, 162, 35, 0.9), illumination.edge_light(150, 1200, 0, 162, 35, 0.9, 24)
straylight.mirror_ring_mm(150, 1200, 0, 162, 35, 0.9, 31.75, 60, 24), collimation.tilt_tolerance_arcmin(*size, nm)
focus = wavefront.highest_strehl(mirror, nm).focus_mm
for each, at in ((mirror, focus), (mirror.perfect(), 0.0), (mirror.unobstructed().perfect(), 0.0)):
    diffraction.contrast(each, at, nm, shares)
    diffraction.encircled_energy(each, at, nm, np.linspace(0.1, 6, 60))
heights = np.linspace(-20, 20, 41)
illumination.light_share(diagonal, mirror, heights, 0 * heights)
spots.spot_matrix(mirror, np.array([0, 0.25, 0.5]), np.linspace(-0.3, 0.3, 5))
for each in (mirror, mirror.perfect()):
    for waves in (-5.0, 5.0):
        star_images.white_image(each, 0.0, star_images.defocused(each, nm, waves), 110, 96, 3, 0.8)
star_images.white_image(mirror, 0.5, focus, 60, 96, 3, 0.8)
scenes.seen(scenes.invented_planet(160), 60 / 160, mirror, 2.0)
scenes.two_stars(mirror, 1.5, 0.5, 1.0, 8.0, 128)
for position in (-2.0, 2.0):
    bench_pictures.ronchi(mirror, 4.0, position, 160)
edges = zone_mask.mask_edges_mm(150, 35, 4)
bench_tests.knife_readings_mm(150, 1200, 0.0, zone_mask.zone_radii_mm(edges), 1.0)
sight.outlines(Telescope(mirror, diagonal, bore_mm=31.75, drawtube_mm=60))
print(time.process_time() - start)
"""
WEASYPRINT = """
import time
start = time.process_time()
import weasyprint
print(time.process_time() - start)
"""


def best_of(runs: int, work: Callable[[], object]) -> float:
    """Least processor time of one thread."""
    taken = []
    for _ in range(runs):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def own_time(code: str) -> float:
    """Processor time of a fresh interpreter on one core, so that a busy machine tells the same."""
    alone = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=alone)
    return float(done.stdout)


@pytest.mark.long
def test_a_million_rays_to_the_focal_plane(capsys: pytest.CaptureFixture[str]) -> None:
    chance = np.random.default_rng(3)
    x, y = chance.uniform(-40, 40, (2, A_MILLION))
    direction = rays.star_direction(0.25, 20.0)
    rate = A_MILLION / best_of(7, lambda: rays.at_plane(MIRROR, x, y, direction, 899.7))
    few = 100_000
    glass = Surface.conic(1 / MIRROR.radius_mm, MIRROR.conic, "refl", np.zeros(3))
    plane = Surface.plane("eval", np.array([0, 0, 899.7]))
    start = np.stack([x[:few], y[:few], np.full(few, 50.0)], axis=1)
    way = np.tile(direction, (few, 1))
    library = few / best_of(3, lambda: raytrace([glass, plane], start, way, 0.55))
    with capsys.disabled():
        print(f"\nrays: {rate / FLOOR_RAYS_A_SECOND:.1f} × the floor of {FLOOR_RAYS_A_SECOND / 1e6:g} million a "
              f"second, {rate / library:.0f} × a general library's tracer")
    assert rate >= FLOOR_RAYS_A_SECOND
    assert rate >= 5 * library


@pytest.mark.long
def test_results_and_pictures_of_a_telescope(capsys: pytest.CaptureFixture[str]) -> None:
    """In less than twice the time that importing the packet's library takes, numpy's import included."""
    ours = min(own_time(DEMO) for _ in range(3))
    theirs = min(own_time(WEASYPRINT) for _ in range(3))
    with capsys.disabled():
        print(f"\noptical results and pictures: {ours / theirs:.2f} × the import of weasyprint")
    assert ours < 2 * theirs
