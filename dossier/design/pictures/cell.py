"""The mirror in its cell as pictures: the sag on its supports, what a pinch costs, the star that a pinch makes.

Surfaces in nm, positive towards the sky. Everything is of the thin plate where it does not say that the thickness is
counted in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.mechanics import mirror_cell, pinch
from dossier.calc.mechanics.supports import ring_forces
from dossier.calc.optics import star_images as stars
from dossier.calc.optics import wavefront
from dossier.calc.optics.mirror import Floats
from dossier.design.asides.pinch import IN_THE_LIGHT, Arrangement, arrangements
from dossier.design.pictures.light import Light, light_of
from dossier.working import converted

if TYPE_CHECKING:
    from dossier.design.model import Design

STAR_PIXELS, MAP_PIXELS = 112, 150
_RINGS, _SPOKES = 40, 144
_STAR_REACH_UNITS = 8.0
# A screw turned too far pushes with so many times what the glass bears.
TOO_FAR = 3.0


@dataclass(frozen=True, slots=True)
class Sag:
    """The surface after a residual is taken out: on ``polar`` rings (axis to edge) × spokes (all round, the first one
    again at the end), and on a square ``grid`` around the disc, rows from the top, not a number outside."""

    rms_nm: float
    polar: Floats
    grid: Floats

    @property
    def pv_nm(self) -> float:
        """Highest less lowest on the rings."""
        return float(self.polar.max() - self.polar.min())


@dataclass(frozen=True, slots=True)
class DeflectionMap:
    """The mirror on its supports, refocused and with focus left in. Lengths in mm from the axis."""

    blank_mm: float
    aperture_mm: float
    supports: tuple[tuple[float, float], ...]
    levers: tuple[mirror_cell.Lever, ...]
    refocused: Sag
    focus_left_in: Sag


@dataclass(frozen=True, slots=True)
class PinchCurve:
    """Strehl ratio against the force of each push in one arrangement; ``solid`` where the thickness is counted in."""

    key: str
    name: str
    strehl: Floats
    solid: bool = False

    @property
    def bends(self) -> bool:
        """Whether the Strehl ratio falls at all."""
        return float(self.strehl.min()) < 1 - 1e-9


@dataclass(frozen=True, slots=True)
class PinchCurves:
    """The arrangements over the same forces, N; the design's own push and its largest, None where there is none."""

    forces_n: Floats
    curves: tuple[PinchCurve, ...]
    arrangements: tuple[Arrangement, ...]
    own_n: float | None


@dataclass(frozen=True, slots=True)
class PinchedStar:
    """A star in focus by the mirror under pushes of this force: its picture, and its brightest point against the same
    mirror's without any push."""

    arrangement: str
    force_n: float
    what: str
    picture: Floats
    peak: float


@dataclass(frozen=True, slots=True)
class PinchedStars:
    """The star without a push, and a row of pushed ones for each arrangement; the thickness counted in."""

    light: Light
    half_width_um: float
    free: Floats
    rows: tuple[tuple[PinchedStar, ...], ...]


def deflection_map(design: Design) -> DeflectionMap | None:
    """The sag; None where supports or blank are not said."""
    rms, sag = design.results.get("cell.support_rms"), design.results.get("cell.deflection_rms")
    if rms is None or sag is None:
        return None
    radii = rms.inputs["support_radii_mm"].value
    return _map(_one(rms.inputs["blank_diameter_mm"].value), design.build.primary.aperture,
                radii if isinstance(radii, tuple) else (radii,), _one(rms.inputs["points"].value),
                _one(rms.inputs["poissons_ratio"].value), _one(sag.inputs["blank_weight_n"].value),
                _one(sag.inputs["rigidity_n_mm"].value), sag.number,
                design.results["cell.deflection_rms_unfocused"].number)


@lru_cache(maxsize=4)
def _map(blank: float, aperture: float, radii: tuple[float, ...], points: float, poisson: float, weight: float,
         rigidity: float, refocused_rms: float, unfocused_rms: float) -> DeflectionMap:
    half = blank / 2
    forces = ring_forces(points, [radius / half for radius in radii], weight)
    rings, spokes = np.linspace(0, half, _RINGS + 1), np.linspace(0, 2 * np.pi, _SPOKES + 1)
    x, y = np.outer(rings, np.cos(spokes)), np.outer(rings, np.sin(spokes))
    places = stars.places_um(half, MAP_PIXELS)
    across, up = np.meshgrid(places, -places)
    inside = np.hypot(across, up) <= half

    def sag(refocused: bool, rms: float) -> Sag:
        grid = np.full(across.shape, np.nan)
        grid[inside] = mirror_cell.surface_nm(forces, blank, rigidity, poisson, across[inside], up[inside],
                                              refocused=refocused)
        polar = mirror_cell.surface_nm(forces, blank, rigidity, poisson, x, y, refocused=refocused)
        return Sag(rms, polar, grid)

    supports = tuple((float(radius * half * math.cos(angle)), float(radius * half * math.sin(angle)))
                     for radius, angle in zip(forces.radius, forces.angle, strict=True))
    return DeflectionMap(blank, aperture, supports, mirror_cell.levers(points, radii), sag(True, refocused_rms),
                         sag(False, unfocused_rms))


def pinch_curves(design: Design) -> PinchCurves | None:
    """Strehl ratio against force; None where pushes or clips are not said, or nothing in any arrangement bends.

    Clips that would stand in the light are left out.
    """
    known = tuple(each for each in arrangements(design) if each.remark != IN_THE_LIGHT)
    limits = [each.limit.number for each in known if each.limit is not None]
    if not limits:
        return None
    force = design.results.get("cell.push_force")
    own = known[0]
    reach = 1.6 * own.limit.number if own.limit is not None else 2 * min(limits)
    forces = np.linspace(0, max(reach, 1.2 * force.number if force is not None else 0.0), 121)
    waves = design.build.conditions.wavelength
    curves = [PinchCurve(each.key, each.name, pinch.strehl_curve(forces, _bend(each), waves)) for each in known]
    if own.factor is not None:
        thick = pinch.strehl_curve(forces, _bend(own) * own.factor.number, waves)
        curves.insert(1, PinchCurve("solid", own.name, thick, solid=True))
    return PinchCurves(forces, tuple(curves), known, None if force is None else force.number)


def down_to(least: float, forces: Floats, strehl: Floats) -> tuple[Floats, Floats]:
    """A falling curve, ended where it reaches this Strehl ratio."""
    if strehl[-1] >= least:
        return forces, strehl
    last = int(np.argmax(strehl < least))
    end = np.interp(-least, -strehl[last - 1:last + 1], forces[last - 1:last + 1])
    return np.append(forces[:last], end), np.append(strehl[:last], least)


def pinched_stars(design: Design) -> PinchedStars | None:
    """Stars under no push, the design's own, the largest, one too many, in the design's and the worst arrangement."""
    bending = [each for each in arrangements(design) if each.bends and each.key in ("own", "between", "onto")]
    if not bending:
        return None
    chosen = [bending[0], *(each for each in bending[1:] if each.key == "between")]
    if len(chosen) == 1:
        chosen += bending[1:2]
    force = design.results.get("cell.push_force")
    own_n = force.number if force is not None else None
    rigidity = _one(design.results["cell.pinch_surface"].inputs["rigidity_n_mm"].value)
    spider = design.build.spider
    vanes = (spider.vanes, spider.vane_thickness) if spider and spider.vanes and spider.vane_thickness else (0, 0.0)
    light = light_of(design)
    free = _free(light, *vanes)
    rows = tuple(tuple(_star(light, vanes, each, what, newtons, rigidity) for what, newtons in _forces(each, own_n))
                 for each in chosen)
    return PinchedStars(light, _STAR_REACH_UNITS * light.unit_um, free, rows)


def _forces(arrangement: Arrangement, own: float | None) -> list[tuple[str, float]]:
    if arrangement.solid_limit is None:
        return []
    most = arrangement.solid_limit.number
    named = [("largest", most), ("too much", TOO_FAR * most)]
    if own:
        named.append(("now", own))
    return sorted(named, key=lambda each: each[1])


def _star(light: Light, vanes: tuple[int, float], arrangement: Arrangement, what: str, force: float,
          rigidity: float) -> PinchedStar:
    factor = arrangement.factor.number if arrangement.factor is not None else 1.0
    inputs = tuple(sorted((name, _one(converted(entry, name))) for name, entry in arrangement.inputs.items()))
    picture = _pinched(light, *vanes, inputs, rigidity, force * factor)
    return PinchedStar(arrangement.name, force, what, picture, float(picture.max() / _free(light, *vanes).max()))


@lru_cache(maxsize=4)
def _free(light: Light, vanes: int, thickness: float) -> Floats:
    return _image(light, vanes, thickness, None)


@lru_cache(maxsize=16)
def _pinched(light: Light, vanes: int, thickness: float, inputs: tuple[tuple[str, float], ...], rigidity: float,
             force: float) -> Floats:
    return _image(light, vanes, thickness, force * 1e-6 * _bent(light, vanes, thickness, inputs, rigidity))


@lru_cache(maxsize=4)
def _bent(light: Light, vanes: int, thickness: float, inputs: tuple[tuple[str, float], ...], rigidity: float) -> Floats:
    """Surface under pushes of one newton over the cells of the pupil, nm."""
    given = dict(inputs)
    blank, poisson = given["blank_diameter_mm"], given.pop("poissons_ratio")
    places, open_share = stars.pupil_grid(light.mirror, vanes, thickness, _samples(light))
    x, y = np.meshgrid(places, places)
    surface, used = np.zeros_like(x), open_share > 0
    surface[used] = mirror_cell.surface_nm(pinch.pinch_forces(**given), blank, rigidity, poisson, x[used], y[used],
                                           refocused=True)
    return surface


def _image(light: Light, vanes: int, thickness: float, surface_mm: Floats | None) -> Floats:
    mirror = light.mirror
    focus = wavefront.highest_strehl(mirror, light.wavelength_nm).focus_mm
    return stars.white_image(mirror, 0.0, focus, _STAR_REACH_UNITS * light.unit_um, STAR_PIXELS, vanes, thickness,
                             _samples(light), surface_mm)


def _samples(light: Light) -> int:
    """Samples across the pupil: none of the colours may repeat in the picture."""
    bluest = min(wavelength for wavelength, _ in stars.EYE)
    return max(80, 16 * math.ceil(2 * _STAR_REACH_UNITS * light.wavelength_nm / bluest / 16))


def _bend(arrangement: Arrangement) -> float:
    return _one(arrangement.surface.value)


def _one(value: float | tuple[float, ...]) -> float:
    if isinstance(value, tuple):
        raise TypeError("a list where one number is wanted")
    return value
