"""A mirror on the points of its cell: where they go, how much it sags between them, the levers that share the load.

Lengths in mm, forces in N, surfaces in nm. Every deflection is of the surface; the wavefront's is twice as large.
Zenith-pointing: the weight acts along the axis, which is the worst case for a cell.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dossier.calc.bounds import finite, positive
from dossier.calc.mechanics.plate import FloatArray, PointForces, left_over, residual, shape
from dossier.calc.mechanics.solid import Terms, front_face
from dossier.calc.mechanics.supports import LAYOUTS, best_rings, layout_of, ring_forces
from dossier.working import formula

_SERIES = ("Exact series in the angle for a free circular plate under point forces; area-weighted residual over the "
           "whole disc")
_SEARCH = _SERIES + "; a coarse search over all radii, then Newton's method."


def _shares(support_radii_mm: Sequence[float], blank_diameter_mm: float) -> tuple[float, ...]:
    positive(blank_diameter=blank_diameter_mm)
    finite(**{f"support_radius_{number}": radius for number, radius in enumerate(support_radii_mm, 1)})
    return tuple(radius / (blank_diameter_mm / 2) for radius in support_radii_mm)


@formula(title="Best support radii", source="nelson-1982",
         equation="∂rms/∂rᵢ = 0, rms of w − piston − tilt − focus, where D∇⁴w = Σ Fₖδ − q, Fₖ equal",
         method=_SEARCH, note="With focus taken out, as an observer does. Inner ring first.",
         unproved="The paper minimises without refocusing; tests check that form against it and this one against "
                  "finite elements.")
def support_radii_mm(blank_diameter_mm: float, poissons_ratio: float, points: float) -> tuple[float, ...]:
    """Radii (mm, inner first) of 3, 6, 9 or 18 equally loaded points of the least refocused residual."""
    positive(blank_diameter=blank_diameter_mm)
    best = best_rings(points, poissons_ratio, refocused=True)
    return tuple(radius * blank_diameter_mm / 2 for radius in best.radii)


@formula(title="Best support radii, focus left in", source="nelson-1982",
         equation="∂rms/∂rᵢ = 0, rms of w − piston − tilt, where D∇⁴w = Σ Fₖδ − q, Fₖ equal", method=_SEARCH,
         note="With only piston and tilt taken out: the form most tables print. Inner ring first.")
def support_radii_unfocused_mm(blank_diameter_mm: float, poissons_ratio: float, points: float) -> tuple[float, ...]:
    """Radii (mm, inner first) of 3, 6, 9 or 18 equally loaded points of the least residual without refocusing."""
    positive(blank_diameter=blank_diameter_mm)
    best = best_rings(points, poissons_ratio, refocused=False)
    return tuple(radius * blank_diameter_mm / 2 for radius in best.radii)


@formula(title="Best support radii with unequal loads", source="nelson-1982",
         equation="∂rms/∂rᵢ = 0 and ∂rms/∂Fₖ = 0, rms of w − piston − tilt − focus, where D∇⁴w = Σ Fₖδ − q",
         method=_SEARCH, note="The levers' arms give each ring its own load. Inner ring first.",
         unproved="The paper keeps the loads equal; tests check against finite elements.")
def free_support_radii_mm(blank_diameter_mm: float, poissons_ratio: float, points: float) -> tuple[float, ...]:
    """Radii (mm, inner first) of the least refocused residual where the load on each ring may be chosen too."""
    positive(blank_diameter=blank_diameter_mm)
    best = best_rings(points, poissons_ratio, refocused=True, free_loads=True)
    return tuple(radius * blank_diameter_mm / 2 for radius in best.radii)


@formula(title="Force on one point of each ring, unequal loads", source="nelson-1982",
         equation="∂rms/∂Fₖ = 0, rms of w − piston − tilt − focus, Σ Fₖ = weight", method=_SEARCH,
         note="Inner ring first.", unproved="The paper keeps the loads equal; tests check against finite elements.")
def free_point_forces_n(blank_weight_n: float, poissons_ratio: float, points: float) -> tuple[float, ...]:
    """Force on one point (N, inner ring first) at the best radii with the best loads."""
    best = best_rings(points, poissons_ratio, refocused=True, free_loads=True)
    counts = layout_of(points).counts
    return tuple(blank_weight_n * share / count for share, count in zip(best.shares, counts, strict=True))


@formula(title="Residual of the best supports with unequal loads, in units of weight × R²/D", source="nelson-1982",
         equation="rms of w − piston − tilt − focus, where D∇⁴w = Σ Fₖδ − q, least over radii and forces",
         method=_SEARCH, unproved="The paper keeps the loads equal; tests check against finite elements.")
def free_support_rms(poissons_ratio: float, points: float) -> float:
    """RMS surface of the plate on the best supports with the best loads, as a share of weight × R²/D."""
    return best_rings(points, poissons_ratio, refocused=True, free_loads=True).rms


@formula(title="Weight of the blank", source="cgpm-1901",
         rule="gravity_m_per_s2 * density_kg_per_m3 * pi / 4 * blank_diameter_mm**2 * edge_thickness_mm / 1e9",
         constants={"gravity_m_per_s2": 9.80665}, note="As a flat disc of the edge's thickness.",
         unproved="The volume of a disc; it is checked by hand.")
def blank_weight_n(blank_diameter_mm: float, edge_thickness_mm: float, density_kg_per_m3: float) -> float:
    """Weight of the plate that stands for the mirror, N."""
    return 9.80665 * density_kg_per_m3 * math.pi / 4 * blank_diameter_mm**2 * edge_thickness_mm / 1e9


@formula(title="RMS between the supports, in units of weight × R²/D", source="nelson-1982",
         equation="rms of w − piston − tilt − focus, where D∇⁴w = Σ Fₖδ − q, Fₖ equal", method=_SERIES + ".",
         unproved="The paper leaves focus in; tests check that form against it and this one against finite elements.")
def support_rms(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float,
                points: float) -> float:
    """RMS surface after piston, tilt and focus, as a share of weight × R²/D; radii in mm, inner first."""
    return _residual(blank_diameter_mm, support_radii_mm, poissons_ratio, points, refocused=True)


@formula(title="RMS between the supports, focus left in, in units of weight × R²/D", source="nelson-1982",
         equation="rms of w − piston − tilt, where D∇⁴w = Σ Fₖδ − q, Fₖ equal", method=_SERIES + ".")
def support_rms_unfocused(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float,
                          points: float) -> float:
    """RMS surface after piston and tilt only, as a share of weight × R²/D; radii in mm, inner first."""
    return _residual(blank_diameter_mm, support_radii_mm, poissons_ratio, points, refocused=False)


@formula(title="Peak to valley between the supports, in units of weight × R²/D", source="nelson-1982",
         equation="max − min of w − piston − tilt − focus, where D∇⁴w = Σ Fₖδ − q, Fₖ equal",
         method=_SERIES + "; extremes on a polar grid through the supports, the centre and the edge.",
         unproved="The paper gives the RMS; tests check against finite elements.")
def support_pv(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float,
               points: float) -> float:
    """P-V surface after piston, tilt and focus, as a share of weight × R²/D; radii in mm, inner first."""
    return _span(blank_diameter_mm, support_radii_mm, poissons_ratio, points, refocused=True)


@formula(title="Peak to valley between the supports, focus left in, in units of weight × R²/D", source="nelson-1982",
         equation="max − min of w − piston − tilt, where D∇⁴w = Σ Fₖδ − q, Fₖ equal",
         method=_SERIES + "; extremes on a polar grid through the supports, the centre and the edge.",
         unproved="The paper gives the RMS; tests check against finite elements.")
def support_pv_unfocused(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float,
                         points: float) -> float:
    """P-V surface after piston and tilt only, as a share of weight × R²/D; radii in mm, inner first."""
    return _span(blank_diameter_mm, support_radii_mm, poissons_ratio, points, refocused=False)


def _residual(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float, points: float, *,
              refocused: bool) -> float:
    forces = ring_forces(points, _shares(support_radii_mm, blank_diameter_mm), 1.0)
    return residual(shape(forces, poissons_ratio), refocused=refocused).rms


def _span(blank_diameter_mm: float, support_radii_mm: Sequence[float], poissons_ratio: float, points: float, *,
          refocused: bool) -> float:
    radii = _shares(support_radii_mm, blank_diameter_mm)
    forces = ring_forces(points, radii, 1.0)
    taken = residual(shape(forces, poissons_ratio), refocused=refocused)
    # All layouts repeat every 120° and mirror about 0°, so 0 to 60° in steps that meet every support is the whole.
    r, angle = np.sort(np.concatenate((np.linspace(0, 1, 61), radii))), np.radians(np.linspace(0, 60, 25))
    surface = left_over(forces, poissons_ratio, taken, np.outer(r, np.cos(angle)), np.outer(r, np.sin(angle)))
    return float(surface.max() - surface.min())


@formula(title="Sag of the mirror between its supports", source="timoshenko-1959", where="art. 22",
         rule="1e6 * blank_weight_n * (blank_diameter_mm / 2)**2 / rigidity_n_mm * support_share",
         note="Surface, thin flat plate. A real blank deflects more by the shear factor.")
def deflection_nm(blank_weight_n: float, blank_diameter_mm: float, rigidity_n_mm: float,
                  support_share: float) -> float:
    """Surface deflection, nm: the share of weight × R²/D that ``support_rms`` and its like give."""
    return 1e6 * blank_weight_n * (blank_diameter_mm / 2) ** 2 / rigidity_n_mm * support_share


_SOLID = ("Ritz's method with Zernike's polynomials across and Legendre's through the thickness, one harmonic of the "
          "angle at a time; ratio of the front face's residual to the thin plate's. Within 0.1 % of the series "
          "taken far on and 0.5 % of finite elements of the solid.")


@formula(title="Shear factor of the thick blank", source="timoshenko-1959", where="art. 26",
         equation="rms of the solid's front face ÷ rms of the thin plate, piston, tilt and focus out; div σ = ρg",
         method=_SOLID, holds={"poissons_ratio": (0.05, 0.4)},
         unproved="No published ratio for the front face was found; tests check it against finite elements.")
def shear_factor(blank_diameter_mm: float, edge_thickness_mm: float, support_radii_mm: Sequence[float],
                 poissons_ratio: float, points: float) -> float:
    """How much more the optical face of a blank this thick deflects than a thin plate, focus taken out."""
    return _solid_ratio(blank_diameter_mm, edge_thickness_mm, support_radii_mm, poissons_ratio, points, refocused=True)


@formula(title="Shear factor of the thick blank, focus left in", source="timoshenko-1959", where="art. 26",
         equation="rms of the solid's front face ÷ rms of the thin plate, piston and tilt out; div σ = ρg",
         method=_SOLID, holds={"poissons_ratio": (0.05, 0.4)},
         unproved="No published ratio for the front face was found; tests check it against finite elements.")
def shear_factor_unfocused(blank_diameter_mm: float, edge_thickness_mm: float, support_radii_mm: Sequence[float],
                           poissons_ratio: float, points: float) -> float:
    """How much more the optical face of a blank this thick deflects than a thin plate, piston and tilt taken out."""
    return _solid_ratio(blank_diameter_mm, edge_thickness_mm, support_radii_mm, poissons_ratio, points, refocused=False)


@formula(title="Shear factor of the thick blank, unequal loads", source="timoshenko-1959", where="art. 26",
         equation="rms of the solid's front face ÷ rms of the thin plate, piston, tilt and focus out; div σ = ρg",
         method=_SOLID, holds={"poissons_ratio": (0.05, 0.4)},
         unproved="No published ratio for the front face was found; tests check the solid against finite elements.")
def free_shear_factor(blank_diameter_mm: float, edge_thickness_mm: float, poissons_ratio: float,
                      points: float) -> float:
    """The same on the best supports with the best loads, focus taken out."""
    best = best_rings(points, poissons_ratio, refocused=True, free_loads=True)
    radii = tuple(radius * blank_diameter_mm / 2 for radius in best.radii)
    return _solid_ratio(blank_diameter_mm, edge_thickness_mm, radii, poissons_ratio, points, refocused=True,
                        shares=best.shares)


def _solid_ratio(blank_diameter_mm: float, edge_thickness_mm: float, support_radii_mm: Sequence[float],
                 poissons_ratio: float, points: float, *, refocused: bool,
                 shares: tuple[float, ...] | None = None) -> float:
    positive(edge_thickness=edge_thickness_mm)
    return _ratio(edge_thickness_mm / (blank_diameter_mm / 2), _shares(support_radii_mm, blank_diameter_mm),
                  poissons_ratio, points, refocused, shares)


@lru_cache(maxsize=64)
def _ratio(height: float, radii: tuple[float, ...], poissons_ratio: float, points: float, refocused: bool,
           shares: tuple[float, ...] | None) -> float:
    """Front face of the solid ÷ thin plate; words, tables and results ask for the same."""
    forces = ring_forces(points, radii, 1.0, shares)
    every = np.arange(0, 25, layout_of(points).counts[0])
    # Eighteen points leave so little that more terms are needed to tell it.
    terms = Terms(radial=12) if points > 9 else Terms()
    solid = residual(front_face(forces, height, poissons_ratio, orders=every, terms=terms), refocused=refocused).rms
    thin = residual(shape(forces, poissons_ratio), refocused=refocused).rms
    return solid * height**3 / (12 * (1 - poissons_ratio**2)) / thin


@formula(title="Wavefront error from the cell", source="definition",
         rule="2 * deflection_nm * shear_factor / wavelength_nm", note="A reflected wavefront bends twice the surface.",
         unproved="A definition.")
def wavefront_rms_wave(deflection_nm: float, shear_factor: float, wavelength_nm: float) -> float:
    """RMS wavefront of the mirror sagging between its supports, waves."""
    return 2 * deflection_nm * shear_factor / wavelength_nm


def surface_nm(forces: PointForces, blank_diameter_mm: float, rigidity_n_mm: float, poissons_ratio: float,
               x_mm: FloatArray, y_mm: FloatArray, *, refocused: bool) -> FloatArray:
    """Residual surface (nm, same shape as x and y) of the thin plate under these forces; points in mm from the axis."""
    radius = blank_diameter_mm / 2
    taken = residual(shape(forces, poissons_ratio), refocused=refocused)
    surface = left_over(forces, poissons_ratio, taken, x_mm / radius, y_mm / radius)
    return np.asarray(1e6 * radius**2 / rigidity_n_mm * surface)


def best_share_by_points(poissons_ratio: float, *, refocused: bool = True) -> dict[int, float]:
    """Least RMS for each number of equally loaded points, as a share of weight × R²/D."""
    return {points: best_rings(points, poissons_ratio, refocused=refocused).rms for points in LAYOUTS}


@dataclass(frozen=True, slots=True)
class Lever:
    """A bar or triangle of the cell: the places (x, y mm) that it carries and the place it turns on."""

    carries: tuple[tuple[float, float], ...]
    pivot: tuple[float, float]


def levers(points: float, radii_mm: Sequence[float], shares: Sequence[float] | None = None) -> tuple[Lever, ...]:
    """The bars and triangles of a cell of 6, 9 or 18 points, triangles before the bars that carry them.

    ``shares`` is the share of the load on each ring, inner first; equal loads where not given. None for three points.
    """
    layout = layout_of(points)
    forces = ring_forces(points, [radius / max(radii_mm) for radius in radii_mm], 1.0, shares)
    places = np.stack((np.cos(forces.angle), np.sin(forces.angle)), axis=1) * forces.radius[:, None] * max(radii_mm)
    if points == 3:
        return ()
    if points == 6:
        return tuple(_lever(places, forces.force, (2 * bar, 2 * bar + 1)) for bar in range(3))
    inner, outer = layout.counts
    # The outer ring starts half its pitch past the inner points, two to a triangle: one before, one after.
    triangles = [_lever(places, forces.force, (one, inner + 2 * one, inner + (2 * one - 1) % outer))
                 for one in range(inner)]
    if points == 9:
        return tuple(triangles)
    pivots = np.array([triangle.pivot for triangle in triangles])
    bars = [_lever(pivots, np.ones(inner), (2 * bar, 2 * bar + 1)) for bar in range(3)]
    return (*triangles, *bars)


def _lever(places: FloatArray, force: FloatArray, members: tuple[int, ...]) -> Lever:
    chosen = list(members)
    pivot = force[chosen] @ places[chosen] / force[chosen].sum()
    return Lever(tuple((float(x), float(y)) for x, y in places[chosen]), (float(pivot[0]), float(pivot[1])))
