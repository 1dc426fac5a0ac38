"""What a tester sees on the bench at the mirror's centre of curvature, this mirror beside another to tell it by."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.optics import bench_pictures as bench
from dossier.calc.optics import bench_tests
from dossier.calc.optics.mirror import Floats, Mirror
from dossier.design.pictures.light import Light, light_of

if TYPE_CHECKING:
    from dossier.design.model import Design

PIXELS = 144
LINES_PER_MM = 4.0
SLIT_MM = 0.03
# So many bands at the farther position, a third of them at the nearer.
_BANDS = 6


@dataclass(frozen=True, slots=True)
class BenchRow:
    """One test: where grating or knife stand, mm from the vertex's centre of curvature, away from the mirror above
    zero; what this mirror and the other show there. Brightness 0…1, 0 off the mirror."""

    test: str
    positions_mm: tuple[float, ...]
    own: tuple[Floats, ...]
    other: tuple[Floats, ...]


@dataclass(frozen=True, slots=True)
class BenchPictures:
    """Ronchi bands and knife-edge shadows of the bare mirror, and of ``other``: a paraboloid beside a sphere, a
    sphere beside anything else. Source beside the grating or the knife, moving with it."""

    light: Light
    other: Mirror
    lines_per_mm: float
    slit_mm: float
    ronchi: BenchRow
    knife: BenchRow


def bench_pictures(design: Design) -> BenchPictures:
    """Pictures at three positions of a grating, and at three of a knife."""
    return _pictures(light_of(design))


@lru_cache(maxsize=4)
def _pictures(light: Light) -> BenchPictures:
    bare = light.mirror.unobstructed()
    other = Mirror(bare.aperture_mm, bare.focal_length_mm, -1.0 if bare.conic == 0 else 0.0)
    far = _round(_BANDS * bare.radius_mm / (2 * LINES_PER_MM * bare.aperture_mm))
    grating = (-far, -_round(far / 3), far)
    ronchi = _row("ronchi", grating, bare, other, lambda each, at: bench.ronchi(each, LINES_PER_MM, at, PIXELS))
    knife = _row("knife", _knife_positions(bare, other), bare, other,
                 lambda each, at: bench.knife_edge(each, at, SLIT_MM, True, PIXELS))
    return BenchPictures(light, other, LINES_PER_MM, SLIT_MM, ronchi, knife)


def _row(test: str, positions: tuple[float, ...], own: Mirror, other: Mirror,
         show: Callable[[Mirror, float], Floats]) -> BenchRow:
    shown = ([np.nan_to_num(show(mirror, at)) for at in positions] for mirror in (own, other))
    return BenchRow(test, positions, *(tuple(views) for views in shown))


def _knife_positions(bare: Mirror, other: Mirror) -> tuple[float, float, float]:
    """The readings of the curved one of the two for the middle, for half the area and for the rim."""
    aspheric = bare if bare.conic else other
    zones = np.array([0.0, 0.5, 1.0]) * bare.aperture_mm**2 / 4
    middle, half, rim = (float(at) for at in bench_tests.moving_source(aspheric, zones))
    return middle, half, rim


def _round(length: float) -> float:
    """To one figure that a ruler shows: 1, 2, 3, 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(length))
    return min((1, 2, 3, 5, 10), key=lambda step: abs(step * power - length)) * power
