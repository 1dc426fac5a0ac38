"""J. Carvill, *Mechanical Engineer's Data Handbook*, 1.10, p. 53: flat circular plates, ν 0.3. Known: read.

The book prints the middle's deflection y as a multiple of p r⁴/(E t³) or P r²/(E t³), and the stress as one of
p r²/t². Here the plate is free and stands on so many points at its edge that they make a simple support; a clamped
edge is the same plate with an even edge moment, which adds an exact bowl, bent back until the edge is level.
"""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.mechanics.mirror_cell import deflection_nm
from dossier.calc.mechanics.plate import PointForces, deflection, point_forces, rigidity_n_mm

POISSON = 0.3
EDGE_POINTS = 96
RADIUS_MM, THICKNESS_MM, MODULUS_GPA, LOAD_N = 100.0, 5.0, 200.0, 50.0
STEP = 1e-3


def edge(force: float = 1.0) -> tuple[list[float], list[float], list[float]]:
    angles = list(2 * np.pi * np.arange(EDGE_POINTS) / EDGE_POINTS)
    return [1.0] * EDGE_POINTS, angles, [force / EDGE_POINTS] * EDGE_POINTS


def evenly_loaded() -> PointForces:
    return point_forces(*edge(), weight=1.0)


def loaded_in_the_middle() -> PointForces:
    radii, angles, forces = edge()
    return point_forces([0.0, *radii], [0.0, *angles], [-1.0, *forces])


def along_a_radius(forces: PointForces, r: float) -> float:
    """Mean deflection round a circle of this radius, which is what an even support leaves."""
    angle = 2 * np.pi * np.arange(4 * EDGE_POINTS) / (4 * EDGE_POINTS)
    return float(deflection(forces, POISSON, r * np.cos(angle), r * np.sin(angle)).mean())


def middle_above_edge(forces: PointForces, *, clamped: bool) -> float:
    drop = along_a_radius(forces, 1.0) - along_a_radius(forces, 0.0)
    slope = (along_a_radius(forces, 1.0) - along_a_radius(forces, 1.0 - STEP)) / STEP
    slope += (along_a_radius(forces, 1.0) - 2 * along_a_radius(forces, 1 - STEP)
              + along_a_radius(forces, 1 - 2 * STEP)) / (2 * STEP)
    return drop - slope / 2 if clamped else drop


def in_the_books_units(y_nm: float) -> float:
    """y E t³ / (load r²), the load being P or p π r²."""
    return y_nm / 1e6 * 1000 * MODULUS_GPA * THICKNESS_MM**3 / (LOAD_N * RADIUS_MM**2)


@pytest.mark.proves("rigidity_n_mm", "deflection_nm", source="carvill-1993", known="read")
@pytest.mark.parametrize(("clamped", "printed"), [(False, 0.696), (True, 0.171)])
def test_even_load(clamped: bool, printed: float) -> None:
    rigidity = rigidity_n_mm(MODULUS_GPA, THICKNESS_MM, POISSON)
    y_nm = deflection_nm(LOAD_N, 2 * RADIUS_MM, rigidity, middle_above_edge(evenly_loaded(), clamped=clamped))
    assert round(np.pi * in_the_books_units(y_nm), 3) == printed


@pytest.mark.proves("rigidity_n_mm", "deflection_nm", source="carvill-1993", known="read")
@pytest.mark.parametrize(("clamped", "printed"), [(False, 0.552), (True, 0.217)])
def test_load_in_the_middle(clamped: bool, printed: float) -> None:
    rigidity = rigidity_n_mm(MODULUS_GPA, THICKNESS_MM, POISSON)
    y_nm = deflection_nm(LOAD_N, 2 * RADIUS_MM, rigidity, middle_above_edge(loaded_in_the_middle(), clamped=clamped))
    assert in_the_books_units(y_nm) == pytest.approx(printed, abs=0.0006)


def test_stress_in_the_middle_of_a_supported_plate() -> None:
    """σ = 6M/t², M = D(1 + ν) w'' in the middle: 1.238 p r²/t². The exact 3(3 + ν)/8 = 1.2375 rounds either way."""
    forces = evenly_loaded()
    bend = 2 * (along_a_radius(forces, STEP) - along_a_radius(forces, 0.0)) / STEP**2
    assert 6 * (1 + POISSON) * np.pi * bend == pytest.approx(1.238, abs=0.0006)


def test_supported_against_clamped() -> None:
    """E. J. Hearn, *Mechanics of Materials 2*, chapter 7: about four times, 4.08 at ν 0.3. Known: read."""
    forces = evenly_loaded()
    ratio = middle_above_edge(forces, clamped=False) / middle_above_edge(forces, clamped=True)
    assert round(ratio, 2) == 4.08
