"""The series against finite elements: Morley's triangles for the thin plate, quadratic bricks for the solid.

scikit-fem solves the same problems in its own way, on meshes. The thin plate's answer falls towards the true one as
the square of the mesh, so two meshes give it to four digits.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from skfem import (
    Basis,
    BilinearForm,
    ElementHex2,
    ElementTriMorley,
    ElementTriP1,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshHex,
    MeshHex2,
    MeshQuad,
    MeshTri,
    asm,
    condense,
    solve,
)
from skfem.helpers import dd, ddot, trace
from skfem.models.elasticity import lame_parameters, linear_elasticity

from dossier.calc.mechanics.mirror_cell import shear_factor, shear_factor_unfocused
from dossier.calc.mechanics.pinch import pinch_forces
from dossier.calc.mechanics.plate import PointForces, point_forces, residual, shape
from dossier.calc.mechanics.supports import best_rings, ring_forces

POISSON = 0.20


def rms_left(w: np.ndarray, x: np.ndarray, y: np.ndarray, area: np.ndarray, *, refocused: bool) -> float:
    """RMS after a weighted fit of piston and tilt, and where asked of a bowl."""
    columns = [np.ones_like(x), x, y, x**2 + y**2][: 4 if refocused else 3]
    table, root = np.stack(columns, axis=1), np.sqrt(area)
    left = w - table @ np.linalg.lstsq(table * root[:, None], w * root, rcond=None)[0]
    return math.sqrt(float((left**2 * area).sum() / area.sum()))


def plate_of_triangles(forces: PointForces, refinements: int, *, refocused: bool) -> float:
    """RMS of the thin plate in units of R²/D, on a circle of Morley triangles with a node under each force."""
    mesh = MeshTri.init_circle(refinements)
    nodes = mesh.p.copy()
    places = np.stack((forces.radius * np.cos(forces.angle), forces.radius * np.sin(forces.angle)), axis=1)
    under = [int(np.argmin(((nodes - place[:, None]) ** 2).sum(axis=0))) for place in places]
    nodes[:, under] = places.T
    basis = Basis(MeshTri(nodes, mesh.t), ElementTriMorley(), intorder=4)

    @BilinearForm
    def bending(u: Any, v: Any, _: Any) -> Any:
        return (1 - POISSON) * ddot(dd(u), dd(v)) + POISSON * trace(dd(u)) * trace(dd(v))

    @LinearForm
    def evenly(v: Any, _: Any) -> Any:
        return 1.0 * v

    area = float(asm(evenly, Basis(basis.mesh, ElementTriP1())).sum())
    load = -forces.total / area * asm(evenly, basis)
    load[basis.nodal_dofs[0][under]] += forces.force
    rim = np.array([[math.cos(angle), math.sin(angle)] for angle in (0.3, 2.4, 4.5)])
    held = [int(np.argmin(((nodes - place[:, None]) ** 2).sum(axis=0))) for place in rim]
    moved = solve(*condense(asm(bending, basis), load, D=basis.nodal_dofs[0][held]))
    x, y = (np.asarray(part).ravel() for part in basis.global_coordinates())
    return rms_left(np.asarray(basis.interpolate(moved)).ravel(), x, y, basis.dx.ravel(), refocused=refocused)


def anyhow() -> PointForces:
    """A push at no particular place and three that balance it: nothing here is symmetrical."""
    radius, angle = np.array([0.2, 0.6, 0.6, 0.9]), np.array([1.0, 0.0, 2.2, 4.0])
    table = np.stack((np.ones(4), radius * np.cos(angle), radius * np.sin(angle)))
    return point_forces(radius, angle, np.concatenate(([1.0], np.linalg.solve(table[:, 1:], -table[:, 0]))))


def extrapolated(solved: Callable[[int], float], coarse: int) -> float:
    return (4 * solved(coarse + 1) - solved(coarse)) / 3


@pytest.mark.parametrize(("forces", "refocused"), [
    (ring_forces(3, (0.649,), 1.0), False), (ring_forces(3, (0.401,), 1.0), True),
    (ring_forces(6, (0.682,), 1.0), False),
    (pinch_forces(150, 3, 50, 0, 3, 72, 0), True), (pinch_forces(150, 3, 50, 0, 3, 72, 60), True),
    (pinch_forces(150, 3, 50, 10, 4, 70, 45), True),
    (anyhow(), True),
], ids=["3 points", "3 points refocused", "6 points", "pinch", "pinch turned", "4 clips", "anyhow"])
def test_thin_plate(forces: PointForces, refocused: bool) -> None:
    exact = residual(shape(forces, POISSON), refocused=refocused).rms
    found = extrapolated(lambda refinements: plate_of_triangles(forces, refinements, refocused=refocused), 4)
    assert found == pytest.approx(exact, rel=1e-3)


@pytest.mark.long
@pytest.mark.parametrize("points", [9, 18])
@pytest.mark.parametrize("free_loads", [False, True])
def test_thin_plate_on_many_points(points: int, free_loads: bool) -> None:
    best = best_rings(points, POISSON, refocused=True, free_loads=free_loads)
    forces = ring_forces(points, best.radii, 1.0, best.shares)
    found = extrapolated(lambda refinements: plate_of_triangles(forces, refinements, refocused=True), 5)
    assert found == pytest.approx(best.rms, rel=2e-3)


def sixth_of_a_disc(cells: int) -> MeshQuad:
    """Quadrilaterals over the sector from 0 to 60°: one block at the centre, two around it."""
    inner, apex = 0.5, 0.55 * np.array([math.sqrt(3) / 2, 0.5])
    foot, head = np.array([inner, 0.0]), inner * np.array([0.5, math.sqrt(3) / 2])

    def on_the_rim(turned: float) -> np.ndarray:
        return np.array([math.cos(turned), math.sin(turned)])

    blocks = (
        lambda s, t: s * (1 - t) * foot + s * t * apex + (1 - s) * t * head,
        lambda s, t: (1 - s) * ((1 - t) * foot + t * apex) + s * on_the_rim(t * math.pi / 6),
        lambda s, t: (1 - s) * ((1 - t) * apex + t * head) + s * on_the_rim((1 + t) * math.pi / 6),
    )
    step = np.linspace(0, 1, cells + 1)
    nodes = np.array([block(s, t) for block in blocks for s in step for t in step])
    corner = np.arange(3 * (cells + 1) ** 2).reshape(3, cells + 1, cells + 1)
    quads = np.stack((corner[:, :-1, :-1], corner[:, 1:, :-1], corner[:, 1:, 1:], corner[:, :-1, 1:])).reshape(4, -1)
    _, first, same = np.unique(np.round(nodes, 9), axis=0, return_index=True, return_inverse=True)
    return MeshQuad(nodes[first].T, same.ravel()[quads])


def bricks(flat: MeshQuad, height: float, layers: int) -> MeshHex:
    levels, count = np.linspace(0, height, layers + 1), flat.p.shape[1]
    nodes = np.hstack([np.vstack((flat.p, np.full(count, level))) for level in levels])
    around = {(0, 0): 0, (1, 0): 1, (1, 1): 2, (0, 1): 3}
    one = MeshHex()
    rows = [flat.t[around[int(x), int(y)]] + int(z) * count for x, y, z in one.p[:, one.t[:, 0]].T]
    cells = np.vstack(rows)
    return MeshHex(nodes, np.hstack([cells + layer * count for layer in range(layers)]))


def rounded(straight: MeshHex, cells: int) -> MeshHex2:
    """The same bricks with the rim's sides bent onto the circle; inside it they stay straight."""
    mesh = MeshHex2.from_mesh(straight)
    nodes = mesh.doflocs.copy()
    radius = np.hypot(nodes[0], nodes[1])
    rim = radius > math.cos(math.pi / 12 / cells) - 1e-9
    nodes[:2, rim] /= radius[rim]
    return MeshHex2(nodes, mesh.t)


def front_of_the_solid(radius: float, angles: tuple[float, ...], height: float, cells: int, layers: int,
                       ) -> tuple[float, float]:
    """RMS of the front face, piston out, then focus out too, in units of 1 N / (E R); one sixth of a disc.

    The sector's two sides are planes of symmetry, on which the supports stand: half of each, one sixth of 1 N in all.
    """
    straight = bricks(sixth_of_a_disc(cells), height, layers)
    mesh = rounded(straight, cells)
    element = ElementVector(ElementHex2())
    basis = Basis(mesh, element, intorder=5)
    stiffness = asm(linear_elasticity(*lame_parameters(1.0, POISSON)), basis)

    @BilinearForm
    def kept_in_plane(u: Any, v: Any, w: Any) -> Any:
        return 1e5 * (u[0] * w.n[0] + u[1] * w.n[1]) * (v[0] * w.n[0] + v[1] * w.n[1])

    sides = mesh.facets_satisfying(
        lambda p: (np.abs(p[1]) < 1e-9) | (np.abs(p[1] - math.sqrt(3) * p[0]) < 1e-9), boundaries_only=True)
    stiffness = stiffness + asm(kept_in_plane, FacetBasis(mesh, element, facets=sides, intorder=5))

    @LinearForm
    def weight(v: Any, _: Any) -> Any:
        return -v[2] / (math.pi * height)

    load = asm(weight, basis)
    for angle in angles:
        place = np.array([radius * math.cos(angle), radius * math.sin(angle), 0.0])[:, None]
        cell = straight.element_finder()(*(place * (1 - 1e-9) + 1e-10))
        local = straight.mapping().invF(place[:, :, None], tind=cell)
        for index in range(basis.Nbfun):
            lift = np.asarray(element.gbasis(straight.mapping(), local, index, tind=cell)[0])[2].ravel()[0]
            load[basis.element_dofs[index, cell[0]]] += lift / (6 * len(angles))
    moved = solve(*condense(stiffness, load, D=basis.nodal_dofs[2, :1]))
    face = FacetBasis(mesh, element, intorder=6, facets=mesh.facets_satisfying(
        lambda p: np.abs(p[2] - height) < 1e-9, boundaries_only=True))
    x, y, _ = (np.asarray(part).ravel() for part in face.global_coordinates())
    w, area = np.asarray(face.interpolate(moved))[2].ravel(), face.dx.ravel()
    # By symmetry the whole disc has no tilt: in a sector only piston and focus may be fitted.
    flat = w - (w * area).sum() / area.sum()
    bowl = x**2 + y**2 - ((x**2 + y**2) * area).sum() / area.sum()
    hollow = flat - bowl * (flat * bowl * area).sum() / (bowl**2 * area).sum()
    plain, focused = (math.sqrt(float((left**2 * area).sum() / area.sum())) for left in (flat, hollow))
    return plain, focused


@pytest.mark.long
@pytest.mark.parametrize(("diameter", "thickness", "points", "angles"), [
    (114.0, 19.0, 3, (0.0,)), (203.2, 25.4, 3, (0.0,)), (203.2, 25.4, 6, (0.0, math.pi / 3)),
])
@pytest.mark.parametrize("refocused", [False, True])
def test_solid_blank(
    diameter: float, thickness: float, points: int, angles: tuple[float, ...], refocused: bool,
) -> None:
    best = best_rings(points, POISSON, refocused=refocused)
    height = thickness / (diameter / 2)
    solid = front_of_the_solid(best.radii[0], angles, height, 6, 4)[1 if refocused else 0]
    ratio = solid * height**3 / (12 * (1 - POISSON**2)) / best.rms
    factor = shear_factor if refocused else shear_factor_unfocused
    radii = tuple(radius * diameter / 2 for radius in best.radii)
    assert factor(diameter, thickness, radii, POISSON, points) == pytest.approx(ratio, rel=5e-3)
