"""A thin circular plate with a free edge, held by point forces and loaded by its own even weight.

Kirchhoff's equation D∇⁴w = q solved exactly, one harmonic of the angle at a time: the response to a point force is
the infinite plate's s² ln s / 8πD plus the harmonics αₙrⁿ + βₙrⁿ⁺² that leave no moment and no effective shear at
the edge. Nothing is meshed.

Units: mm, N, MPa inside; radii here are shares of the plate's radius (0 centre, 1 edge), angles are in radians.
Signs: a deflection and a force are positive towards the sky; the weight acts the other way.
A shape is deflection ÷ (force × R² / D) until ``scale`` is applied.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from dossier.working import formula

FloatArray = npt.NDArray[np.float64]

ORDERS = 48
"""Harmonics of the angle that are summed; the mean square falls with the seventh power of the harmonic."""
_NODES = 24
_BALANCE = 1e-6


@formula(title="Bending stiffness of a plate", source="timoshenko-1959", where="eq. 3",
         rule="1000 * youngs_modulus_gpa * edge_thickness_mm**3 / (12 * (1 - poissons_ratio**2))",
         holds={"poissons_ratio": (0, 0.5)})
def rigidity_n_mm(youngs_modulus_gpa: float, edge_thickness_mm: float, poissons_ratio: float) -> float:
    """Plate stiffness D = E t³ / 12(1 − ν²), N mm."""
    return 1000 * youngs_modulus_gpa * edge_thickness_mm**3 / (12 * (1 - poissons_ratio**2))


@dataclass(frozen=True, slots=True)
class PointForces:
    """Forces along the axis: ``radius`` as a share of the plate's radius, ``angle`` in radians, ``force`` in N."""

    radius: FloatArray
    angle: FloatArray
    force: FloatArray

    @property
    def total(self) -> float:
        return float(self.force.sum())


def point_forces(radius: Sequence[float] | FloatArray, angle: Sequence[float] | FloatArray,
                 force: Sequence[float] | FloatArray, *, weight: float = 0) -> PointForces:
    """Forces that hold a plate of this weight in balance. All three lists have one entry a point.

    Raises ValueError where a number is missing or not finite, a point lies outside the plate, the forces do not
    balance the weight, they leave a moment, or a plate with weight rests on points that lie on one line.
    """
    radii, angles, forces = (np.asarray(item, dtype=float) for item in (radius, angle, force))
    if not radii.shape == angles.shape == forces.shape or radii.ndim != 1 or not radii.size:
        raise ValueError("each point needs a radius, an angle and a force")
    if not (np.isfinite(radii).all() and np.isfinite(angles).all() and np.isfinite(forces).all()
            and np.isfinite(weight)):
        raise ValueError("a support's radius, angle or force is not a number")
    if not ((radii >= 0) & (radii <= 1)).all():
        raise ValueError("a support lies outside the plate")
    x, y = radii * np.cos(angles), radii * np.sin(angles)
    size = max(float(np.abs(forces).sum()), abs(weight))
    if not abs(forces.sum() - weight) <= _BALANCE * size:
        raise ValueError(f"the forces do not balance: they add up to {forces.sum():.6g} N against {weight:.6g} N")
    if not max(abs(float(forces @ x)), abs(float(forces @ y))) <= _BALANCE * size:
        raise ValueError("the forces do not balance: they leave a moment that tips the plate over")
    if weight and _on_one_line(x, y):
        raise ValueError("a plate needs at least three supports that do not lie on one line")
    return PointForces(radii, angles, forces)


def _on_one_line(x: FloatArray, y: FloatArray) -> bool:
    spread = np.linalg.svd(np.stack((x - x.mean(), y - y.mean())), compute_uv=False)
    return bool(len(x) < 3 or spread[-1] < 1e-6)


def _edge_terms(orders: npt.NDArray[np.int_], radius: FloatArray, poissons_ratio: float) -> tuple[FloatArray, ...]:
    """α and β of the edge's answer αrⁿ + βrⁿ⁺², shape (orders, radii), in units of force R² / 8πD.

    Found so that the bending moment w'' + ν(w' − n²w) and the effective shear (∇²w)' − (1−ν)n²(w' − w) of the whole
    response vanish at r = 1. For n = 0 and 1 the shear vanishes by balance alone; β answers the moment.
    """
    nu = poissons_ratio
    b = radius[None, :]
    n = np.maximum(orders, 2)[:, None].astype(float)

    def moment(power: FloatArray) -> FloatArray:
        return np.asarray(power * (power - 1) + nu * (power - n**2))

    def shear(power: FloatArray) -> FloatArray:
        return np.asarray((power**2 - n**2) * (power - 2) - (1 - nu) * n**2 * (power - 1))

    far, near = b**n / (n * (n - 1)), b ** (n + 2) / (n * (n + 1))
    load_moment = far * moment(2 - n) - near * moment(-n)
    load_shear = far * shear(2 - n) - near * shear(-n)
    determinant = moment(n) * shear(n + 2) - moment(n + 2) * shear(n)
    alpha = (moment(n + 2) * load_shear - shear(n + 2) * load_moment) / determinant
    beta = (shear(n) * load_moment - moment(n) * load_shear) / determinant
    lowest, first = orders == 0, orders == 1
    alpha[lowest | first] = 0
    # n = 0 carries its share −r⁴/8 of the weight that balances the force, with the moment −(12 + 4ν)/8.
    beta[lowest] = -((3 + nu) + b**2 * (nu - 1) - (12 + 4 * nu) / 8) / (2 + 2 * nu)
    beta[first] = (b**3 * (1 - nu) + 2 * b * (1 + nu)) / (6 + 2 * nu)
    return alpha, beta


def responses(orders: npt.NDArray[np.int_], r: FloatArray, radius: FloatArray, poissons_ratio: float) -> FloatArray:
    """Each harmonic of the deflection under unit forces, shape (orders, radii of the forces, r).

    The deflection at (r, θ) is the sum over n of this × force × R²/D × cos n(θ − angle of the force). Each force is
    balanced by an even load over the whole plate.
    """
    n = orders[:, None, None].astype(float)
    b, at = radius[None, :, None], r[None, None, :]
    outer = np.maximum(np.maximum(at, b), 1e-300)
    t = np.minimum(at, b) / outer
    squares, product, log = at**2 + b**2, at * b, np.log(outer)
    high = np.maximum(n, 2)
    power = t ** (high - 1)
    direct = -squares * power * t / high + product * (power / (high - 1) + power * t**2 / (high + 1))
    direct = np.where(n == 0, squares * log + product * t - at**4 / 8, direct)
    direct = np.where(n == 1, -squares * t - 2 * product * log + product * t**2 / 2, direct)
    alpha, beta = _edge_terms(orders, radius, poissons_ratio)
    reflected = (alpha[:, :, None] + beta[:, :, None] * at**2) * at**n
    return np.asarray((direct + reflected) / (8 * np.pi))


@dataclass(frozen=True, slots=True)
class Shape:
    """A deflection as harmonics of the angle on rings: ``cosine`` and ``sine`` of shape (orders, rings).

    ``rings`` are radii as shares of the plate's radius and ``area`` the share of the disc's area each stands for.
    """

    orders: npt.NDArray[np.int_]
    rings: FloatArray
    area: FloatArray
    cosine: FloatArray
    sine: FloatArray

    def __add__(self, other: Shape) -> Shape:
        return Shape(self.orders, self.rings, self.area, self.cosine + other.cosine, self.sine + other.sine)


@lru_cache(maxsize=16)
def gauss(nodes: int) -> tuple[FloatArray, FloatArray]:
    """Gauss's points and weights from −1 to 1. They are shared: do not write into them."""
    point, weight = np.polynomial.legendre.leggauss(nodes)
    return np.asarray(point), np.asarray(weight)


def quadrature(kinks: Sequence[float] | FloatArray, nodes: int = _NODES) -> tuple[FloatArray, FloatArray]:
    """Radii and shares of the disc's area that integrate exactly what is smooth between the given radii."""
    ends = np.array(sorted({0.0, 1.0, *np.round(np.asarray(kinks, dtype=float), 12).tolist()}))
    point, weight = gauss(nodes)
    half, middle = np.diff(ends)[:, None] / 2, (ends[1:] + ends[:-1])[:, None] / 2
    r = (middle + half * point).ravel()
    return r, (half * weight).ravel() * 2 * r


def shape(forces: PointForces, poissons_ratio: float, orders: int = ORDERS) -> Shape:
    """Deflection of the plate under these forces and the even weight that balances them, in units of R²/D × 1 N."""
    n = np.arange(orders + 1)
    rings, area = quadrature(forces.radius)
    rounded = np.round(forces.radius, 12)
    radius = np.array(sorted(set(rounded.tolist())))
    unit = responses(n, rings, radius, poissons_ratio)[:, np.searchsorted(radius, rounded), :]
    turned = n[:, None] * forces.angle
    cosine = np.einsum("nb,nbr->nr", np.cos(turned) * forces.force, unit)
    sine = np.einsum("nb,nbr->nr", np.sin(turned) * forces.force, unit)
    return Shape(n, rings, area, cosine, sine)


@dataclass(frozen=True, slots=True)
class Residual:
    """What is left of a shape: its root mean square over the disc, and the piston, tilts and focus taken out.

    The plane and bowl taken out are ``piston + tilt_x x + tilt_y y + focus (x² + y²)``, x and y in plate radii.
    """

    rms: float
    piston: float
    tilt_x: float
    tilt_y: float
    focus: float


def residual(form: Shape, *, refocused: bool) -> Residual:
    """Area-weighted residual over the whole disc after piston and tilt, and where asked focus, are taken out."""
    bowl = form.rings**2 - 0.5
    even = form.cosine[0]
    focus = float((form.area * bowl) @ even) * 12 if refocused else 0.0
    piston = float(form.area @ even) - focus / 2
    tilts = [float((form.area * form.rings) @ part[1]) * 2 for part in (form.cosine, form.sine)]
    cosine, sine = form.cosine.copy(), form.sine.copy()
    cosine[0] -= piston + focus * form.rings**2
    cosine[1] -= tilts[0] * form.rings
    sine[1] -= tilts[1] * form.rings
    share = np.where(form.orders == 0, 1.0, 0.5)
    mean_square = float(share @ ((cosine**2 + sine**2) @ form.area))
    return Residual(float(np.sqrt(max(mean_square, 0.0))), piston, tilts[0], tilts[1], focus)


def deflection(forces: PointForces, poissons_ratio: float, x: FloatArray, y: FloatArray) -> FloatArray:
    """Deflection at points of the plate (x, y in plate radii, any one shape), in units of R²/D × 1 N.

    The point forces' own part is summed in closed form, so that the map is exact beside a support too.
    """
    n = np.arange(_orders_of_map(float(forces.radius.max())) + 1)
    alpha, beta = _edge_terms(n, forces.radius, poissons_ratio)
    turned = np.exp(-1j * n[:, None] * forces.angle) * forces.force
    inner, outer = (alpha * turned).sum(axis=1), (beta * turned).sum(axis=1)
    place = np.asarray(x) + 1j * np.asarray(y)
    square = np.abs(place) ** 2
    total = np.polynomial.polynomial.polyval(place, inner) + square * np.polynomial.polynomial.polyval(place, outer)
    deflected = total.real - forces.total * square**2 / 8
    for point, force in zip(forces.radius * np.exp(1j * forces.angle), forces.force, strict=True):
        apart = np.abs(place - point) ** 2
        deflected = deflected + force * apart * np.log(np.maximum(apart, 1e-300)) / 2
    return np.asarray(deflected / (8 * np.pi))


def _orders_of_map(largest_radius: float) -> int:
    """Harmonics of the edge's answer to sum: they fall as radiusⁿ / n³."""
    decay = -np.log(max(min(largest_radius, 1 - 1e-9), 1e-3))
    return int(min(max(np.ceil(18 / decay), 16), 400))


def left_over(forces: PointForces, poissons_ratio: float, taken: Residual, x: FloatArray, y: FloatArray) -> FloatArray:
    """The deflection at points of the plate with a residual's piston, tilts and focus taken out."""
    plane = taken.piston + taken.tilt_x * x + taken.tilt_y * y + taken.focus * (x**2 + y**2)
    return deflection(forces, poissons_ratio, x, y) - plane
