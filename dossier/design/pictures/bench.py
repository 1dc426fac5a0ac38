"""What a tester sees on the bench at the mirror's centre of curvature, this mirror beside another to tell it by, and
what readings say of the surface."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.optics import bench_pictures as bench
from dossier.calc.optics import bench_profile, bench_tests, zone_mask
from dossier.calc.optics.mirror import Floats, Mirror
from dossier.calc.optics.zone_mask import Window
from dossier.design.pictures.light import Light, light_of
from dossier.working import Value, converted

if TYPE_CHECKING:
    from dossier.design.model import Design

PIXELS = 144
LINES_PER_MM = 4.0
SLIT_MM = 0.03
# So many bands at the farther position, a third of them at the nearer.
_BANDS = 6
# Nearer to a sphere than this, a mirror's own readings are too close together to show three positions of a knife.
_NEAR_A_SPHERE = 0.05


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
    """Ronchi bands and knife-edge shadows of the bare mirror, and of ``other``: the planned figure beside a tested
    mirror, else a paraboloid beside a sphere and a sphere beside anything else. Source beside the grating or the
    knife, moving with it. The knife stands where middle, half the area and rim of ``read`` turn grey."""

    light: Light
    other: Mirror
    planned: bool
    lines_per_mm: float
    slit_mm: float
    read: Mirror
    ronchi: BenchRow
    knife: BenchRow


@dataclass(frozen=True, slots=True)
class ZoneMask:
    """The mask for this mirror's knife-edge test: the diameter of its card, its edges from the middle out, the radius
    each zone is read at, its openings; all in mm. Inside ``shadow_mm`` of the middle the diagonal hides the mirror."""

    aperture_mm: float
    card_mm: float
    shadow_mm: float
    edges_mm: tuple[float, ...]
    centres_mm: tuple[float, ...]
    windows: tuple[Window, ...]


@dataclass(frozen=True, slots=True)
class BenchProfile:
    """The surface that the readings tell, nm above the paraboloid that fits it best, at each radius, mm; and the same
    of the conic that fits the readings. ``left_nm`` is the one less the other at each zone."""

    aperture_mm: float
    shadow_mm: float
    zones_mm: tuple[float, ...]
    radius_mm: Floats
    surface_nm: Floats
    conic_nm: Floats
    left_nm: tuple[float, ...]


def bench_pictures(design: Design) -> BenchPictures:
    """Pictures at three positions of a grating, and at three of a knife."""
    return _pictures(light_of(design), design.build.primary.conic)


@lru_cache(maxsize=4)
def _pictures(light: Light, planned: float) -> BenchPictures:
    bare = light.mirror.unobstructed()
    tested = bare.conic != planned
    beside = planned if tested else -1.0 if bare.conic == 0 else 0.0
    other = Mirror(bare.aperture_mm, bare.focal_length_mm, beside)
    far = _round(_BANDS * bare.radius_mm / (2 * LINES_PER_MM * bare.aperture_mm))
    grating = (-far, -_round(far / 3), far)
    ronchi = _row("ronchi", grating, bare, other, lambda each, at: bench.ronchi(each, LINES_PER_MM, at, PIXELS))
    read = max(bare, other, key=lambda each: abs(each.conic))
    if abs(read.conic) < _NEAR_A_SPHERE:
        read = bare.perfect()
    knife = _row("knife", _knife_positions(read), bare, other,
                 lambda each, at: bench.knife_edge(each, at, SLIT_MM, True, PIXELS))
    return BenchPictures(light, other, tested, LINES_PER_MM, SLIT_MM, read, ronchi, knife)


def _row(test: str, positions: tuple[float, ...], own: Mirror, other: Mirror,
         show: Callable[[Mirror, float], Floats]) -> BenchRow:
    shown = ([np.nan_to_num(show(mirror, at)) for at in positions] for mirror in (own, other))
    return BenchRow(test, positions, *(tuple(views) for views in shown))


def _knife_positions(read: Mirror) -> tuple[float, float, float]:
    """The readings for the middle, for half the area and for the rim."""
    zones = np.array([0.0, 0.5, 1.0]) * read.aperture_mm**2 / 4
    middle, half, rim = (float(at) for at in bench_tests.moving_source(read, zones))
    return middle, half, rim


def _round(length: float) -> float:
    """To one figure that a ruler shows: 1, 2, 3, 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(length))
    return min((1, 2, 3, 5, 10), key=lambda step: abs(step * power - length)) * power


def zone_mask_of(design: Design) -> ZoneMask:
    """The mask for this aperture, its zones from the edge of the diagonal's shadow to the rim."""
    mirror = light_of(design).mirror
    count = zone_mask.mask_zones(mirror.aperture_mm)
    edges = zone_mask.mask_edges_mm(mirror.aperture_mm, mirror.obstruction_diameter_mm, count)
    card = max(design.build.primary.blank_diameter or 0.0, mirror.aperture_mm * (1 + 2 * zone_mask.BRIDGE_SHARE))
    return ZoneMask(mirror.aperture_mm, card, mirror.obstruction_diameter_mm / 2, edges,
                    zone_mask.zone_radii_mm(edges), zone_mask.windows(mirror.aperture_mm, edges))


def bench_profile_of(design: Design) -> BenchProfile | None:
    """The surface as the readings have it. None without readings."""
    found = design.results.get("bench.conic")
    if found is None:
        return None
    said = {name: converted(entry, name) for name, entry in found.inputs.items()}
    return _profile(_one(said["aperture_mm"]), _one(said["focal_length_mm"]), found.number,
                    light_of(design).mirror.obstruction_diameter_mm / 2, _many(said["zone_radii_mm"]),
                    _many(said["readings_mm"]), _one(said["source_moves"]))


@lru_cache(maxsize=4)
def _profile(aperture: float, focal_length: float, conic: float, shadow: float, zones: tuple[float, ...],
             readings: tuple[float, ...], source_moves: float) -> BenchProfile:
    smooth = bench_tests.knife_readings_mm(aperture, focal_length, conic, zones, source_moves)
    measured, ideal = (bench_profile.profile(aperture, focal_length, zones, each, source_moves)
                       for each in (readings, smooth))
    left = np.interp(zones, measured.radius_mm, measured.surface_nm - ideal.surface_nm)
    return BenchProfile(aperture, shadow, zones, measured.radius_mm, measured.surface_nm, ideal.surface_nm,
                        tuple(left.tolist()))


def _one(value: Value) -> float:
    if isinstance(value, tuple):
        raise TypeError("a list where one number was put in")
    return value


def _many(value: Value) -> tuple[float, ...]:
    return value if isinstance(value, tuple) else (value,)
