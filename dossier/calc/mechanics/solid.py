"""The mirror's blank as a solid body, to tell how far a real thick blank departs from the thin plate.

Linear elasticity of a free disc of height t solved by Ritz's method, one harmonic of the angle at a time: Zernike's
radial polynomials across, Legendre's through the thickness, the energy least. Even and odd shapes about the
mid-plane do not couple and are solved apart. The supports press on points of the back face, the weight acts in the
whole body, and the front face, which is the optical surface, is what is judged: print-through fades on its way up,
so that judging the mid-plane would exaggerate it.

Lengths are in plate radii, stresses in Young's moduli; a deflection is in force / (E R).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dossier.calc.mechanics.plate import FloatArray, PointForces, Shape, gauss, quadrature

Orders = npt.NDArray[np.int_]

RADIAL = 8
AXIAL = 3
HARMONICS = 24
"""Terms across, terms of each parity through the thickness, highest harmonic. The RMS of up to nine points stands
within 0.1 %; eighteen need twelve terms across."""
_QUADRATURE = 40


@dataclass(frozen=True, slots=True)
class Terms:
    """How many terms the series takes."""

    radial: int = RADIAL
    axial: int = AXIAL


def _jacobi(a: float, b: FloatArray, x: FloatArray, terms: int) -> FloatArray:
    """Jacobi's polynomials P_j^(a,b)(x), shape (b, x, j), by their recurrence."""
    found = [np.ones(np.broadcast_shapes(b.shape, x.shape)), (a + 1) + (a + b + 2) * (x - 1) / 2]
    for j in range(2, terms):
        c = 2 * j + a + b
        lead = (c - 1) * (c * (c - 2) * x + a * a - b * b) * found[-1]
        trail = 2 * (j + a - 1) * (j + b - 1) * c * found[-2]
        found.append((lead - trail) / (2 * j * (j + a + b) * (c - 2)))
    return np.stack(found[:terms], axis=-1)


def _radial(powers: Orders, r: FloatArray, terms: int) -> tuple[FloatArray, FloatArray]:
    """Zernike's radial polynomials rᵐ P_j^(0,m)(2r² − 1) and their slopes, shape (orders, r, terms)."""
    m = powers[:, None].astype(float)
    x, at = 2 * r**2 - 1, r[None, :, None]
    plain, stepped = _jacobi(0.0, m, x, terms), _jacobi(1.0, m + 1, x, terms)
    slope = np.zeros_like(plain)
    slope[..., 1:] = stepped[..., :-1] * (np.arange(1, terms) + m[..., None] + 1) / 2
    power = (r**m)[..., None]
    return power * plain, power * (m[..., None] / at * plain + slope * 4 * at)


def _axial(degrees: Sequence[int], points: FloatArray) -> tuple[FloatArray, FloatArray]:
    legendre = np.polynomial.legendre
    unit = np.eye(max(degrees) + 1)
    value = np.array([legendre.legval(points, unit[degree]) for degree in degrees], dtype=np.float64)
    slope = np.array([legendre.legval(points, legendre.legder(unit[degree])) for degree in degrees], dtype=np.float64)
    return value, slope


def _stiffness(orders: Orders, height: float, poissons_ratio: float, terms: Terms, *, bending: bool) -> FloatArray:
    """Stiffness of every harmonic, shape (orders, unknowns, unknowns).

    The unknowns are, each with all its axial terms: the two circular parts of the sideways motion, which start at the
    centre as rⁿ⁺¹ and r^|n−1|, then the axial motion. ``bending`` takes the shapes whose axial motion is even.
    """
    shear = 1 / (2 * (1 + poissons_ratio))
    lame = poissons_ratio / ((1 + poissons_ratio) * (1 - 2 * poissons_ratio))
    stiff, half = lame + 2 * shear, height / 2
    point, weight = gauss(_QUADRATURE)
    r = (point + 1) / 2
    area = weight / 2 * r
    n, at = orders[:, None, None], r[None, :, None]
    outer, outer_slope = _radial(orders + 1, r, terms.radial)
    inner, inner_slope = _radial(np.abs(orders - 1), r, terms.radial)
    axial, axial_slope = _radial(orders, r, terms.radial)
    radial_motion, turning_motion = _beside(outer, inner), _beside(outer, -inner)
    stretch = _beside(outer_slope, inner_slope)
    hoop = _beside((1 + n) * outer, (1 - n) * inner) / at
    twist = _beside(outer_slope - (1 + n) * outer / at, (1 - n) * inner / at - inner_slope)

    def across(left: FloatArray, right: FloatArray) -> FloatArray:
        return np.asarray(left.transpose(0, 2, 1) @ (area[:, None] * right))

    height_point, height_weight = gauss(2 * terms.axial + 2)
    even, odd = [2 * k for k in range(terms.axial)], [2 * k + 1 for k in range(terms.axial)]
    up, up_slope = _axial(even if bending else odd, height_point)
    side, side_slope = _axial(odd if bending else even, height_point)

    def through(left: FloatArray, right: FloatArray) -> FloatArray:
        return np.asarray((left * height_weight) @ right.T)

    sideways = _crossed(
        stiff * (across(stretch, stretch) + across(hoop, hoop)) + lame * (across(stretch, hoop) + across(hoop, stretch))
        + shear * across(twist, twist), half * through(side, side)) + _crossed(
        shear * (across(radial_motion, radial_motion) + across(turning_motion, turning_motion)),
        through(side_slope, side_slope) / half)
    upright = _crossed(
        shear * (across(axial_slope, axial_slope) + n**2 * across(axial / at, axial / at)), half * through(up, up),
    ) + _crossed(stiff * across(axial, axial), through(up_slope, up_slope) / half)
    coupled = _crossed(lame * across(stretch + hoop, axial), through(side, up_slope)) + _crossed(
        shear * (across(radial_motion, axial_slope) - n * across(turning_motion, axial / at)), through(side_slope, up))
    whole = np.concatenate((np.concatenate((sideways, coupled), axis=2),
                            np.concatenate((coupled.transpose(0, 2, 1), upright), axis=2)), axis=1)
    whole *= np.where(orders == 0, 2 * np.pi, np.pi)[:, None, None]
    _pin(whole, orders, terms, bending=bending)
    return whole


def _beside(left: FloatArray, right: FloatArray) -> FloatArray:
    return np.concatenate((left, right), axis=-1)


def _crossed(radial: FloatArray, axial: FloatArray) -> FloatArray:
    """Products of every radial with every axial term, axial terms running fastest."""
    whole = radial[:, :, None, :, None] * axial[None, None, :, None, :]
    return whole.reshape(len(radial), radial.shape[1] * len(axial), radial.shape[2] * len(axial))


def _pin(whole: FloatArray, orders: Orders, terms: Terms, *, bending: bool) -> None:
    """Hold the rigid motions, which loads in balance do not stir: lift and tilt; turn and sideways shift."""
    lift, shift = 2 * terms.radial * terms.axial, terms.radial * terms.axial
    for row, order in enumerate(orders):
        if order > 1:
            continue
        held = lift if bending else (0 if order == 0 else shift)
        whole[row, held, held] += 1


def front_face(forces: PointForces, height: float, poissons_ratio: float, *, orders: Orders | None = None,
               front: PointForces | None = None, terms: Terms | None = None) -> Shape:
    """Deflection of the front face, balanced by the body's own even weight, in units of 1 N / (E R).

    ``forces`` press on the back face, ``front`` on the front face; ``height`` is thickness ÷ radius. ``orders`` are
    the harmonics to sum, all up to HARMONICS unless given.
    """
    n = np.arange(HARMONICS + 1) if orders is None else orders
    terms = terms or Terms()
    rings, area = quadrature(forces.radius if front is None else np.concatenate((forces.radius, front.radius)))
    cosine = np.zeros((int(n[-1]) + 1, len(rings)))
    sine = np.zeros_like(cosine)
    across = _radial(n, rings, terms.radial)[0]
    for bending in (True, False):
        stiffness = _stiffness(n, height, poissons_ratio, terms, bending=bending)
        loads = _loads(forces, n, terms, 1.0 if bending else -1.0)
        if front is not None:
            loads = loads + _loads(front, n, terms, 1.0)
        if bending and n[0] == 0:
            weight = forces.total + (front.total if front is not None else 0.0)
            loads[0, 2 * terms.radial * terms.axial, 0] -= weight
        solved = np.linalg.solve(stiffness, loads)[:, 2 * terms.radial * terms.axial:, :]
        face = solved.reshape(len(n), terms.radial, terms.axial, 2).sum(axis=2)
        moved = across @ face
        cosine[n] += moved[..., 0]
        sine[n] += moved[..., 1]
    return Shape(np.arange(int(n[-1]) + 1), rings, area, cosine, sine)


def _loads(forces: PointForces, orders: Orders, terms: Terms, side: float) -> FloatArray:
    """Work of the forces on every unknown, shape (orders, unknowns, cosine and sine); ``side`` is the terms' sign."""
    at = _radial(orders, np.maximum(forces.radius, 1e-9), terms.radial)[0]
    turned = orders[:, None] * forces.angle
    work = np.stack([np.einsum("nb,nbj->nj", part * forces.force, at) for part in (np.cos(turned), np.sin(turned))], -1)
    upright = np.repeat(side * work, terms.axial, axis=1)
    sideways = np.zeros((len(orders), 2 * terms.radial * terms.axial, 2))
    return np.concatenate((sideways, upright), axis=1)
