"""Where to hold a mirror: rings of equally spaced points, their best radii, and the best shares of the load.

Radii are shares of the mirror's radius. Two residuals are used and never mixed: ``refocused`` (piston, tilt and
focus taken out) is what an eye behind a focuser sees; with only piston and tilt taken out the best rings lie farther
out. By symmetry only harmonics that are a multiple of the smallest ring's count are left.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from dossier.calc.mechanics.plate import ORDERS, FloatArray, PointForces, point_forces, quadrature, responses


@dataclass(frozen=True, slots=True)
class Layout:
    """Rings of supports, inner first: how many points each has and the angle of its first point, rad."""

    counts: tuple[int, ...]
    starts: tuple[float, ...]

    @property
    def points(self) -> int:
        return sum(self.counts)

    @property
    def equal_shares(self) -> tuple[float, ...]:
        """Share of the whole load on each ring when every point carries the same."""
        return tuple(count / self.points for count in self.counts)


LAYOUTS: dict[int, Layout] = {
    3: Layout((3,), (0.0,)),
    6: Layout((6,), (0.0,)),
    9: Layout((3, 6), (0.0, np.pi / 6)),
    18: Layout((6, 12), (0.0, np.pi / 12)),
}
"""Three points; three bars; three triangles; six triangles on three bars. Each triangle has one point on the inner
ring and two on the outer, so that both rings are evenly spaced."""


def layout_of(points: float) -> Layout:
    """The layout of 3, 6, 9 or 18 points. ValueError for any other number."""
    if points not in LAYOUTS:
        raise ValueError(f"a cell has 3, 6, 9 or 18 points (got {points:g})")
    return LAYOUTS[int(points)]


def ring_forces(points: float, radii: Sequence[float], weight: float,
                shares: Sequence[float] | None = None) -> PointForces:
    """The supports' forces on a mirror of this weight; ``shares`` of the load by ring, equal loads where not given.

    Raises ValueError where the number of radii does not fit the points, or a radius lies outside the mirror.
    """
    layout = layout_of(points)
    if len(radii) != len(layout.counts):
        raise ValueError(f"a cell of {points:g} points has {len(layout.counts)} support radii (got {len(radii)})")
    if any(outer < inner for inner, outer in pairwise(radii)):
        raise ValueError("support radii are to be given inner first")
    parts = layout.equal_shares if shares is None else shares
    radius, angle, force = [], [], []
    for count, start, ring, share in zip(layout.counts, layout.starts, radii, parts, strict=True):
        radius += [ring] * count
        angle += [start + 2 * np.pi * k / count for k in range(count)]
        force += [weight * share / count] * count
    return point_forces(radius, angle, force, weight=weight)


def _orders(layout: Layout, most: int) -> npt.NDArray[np.int_]:
    return np.arange(0, most + 1, layout.counts[0])


def _ring_shapes(layout: Layout, ring: int, radii: FloatArray, r: FloatArray, area: FloatArray, poissons_ratio: float,
                 refocused: bool, most: int = ORDERS) -> FloatArray:
    """Residual shape of one ring under a unit load, for several radii, shape (radii, orders × r).

    Scaled so that the dot product of two such rows is the area-weighted mean product of the shapes.
    """
    orders, count, start = _orders(layout, most), layout.counts[ring], layout.starts[ring]
    aligned = np.where(orders % count == 0, np.cos(orders * start), 0.0)
    forms = responses(orders, r, radii, poissons_ratio) * aligned[:, None, None]
    forms[0] -= (forms[0] @ area)[:, None]
    if refocused:
        bowl = r**2 - 0.5
        forms[0] -= 12 * (forms[0] @ (area * bowl))[:, None] * bowl
    weight = np.sqrt(np.where(orders == 0, 1.0, 0.5)[:, None, None] * area)
    return np.asarray((forms * weight).transpose(1, 0, 2).reshape(len(radii), -1))


def _shares(layout: Layout, product: FloatArray, free: bool) -> FloatArray:
    """Shares of the load by ring; where ``free``, those of the least mean square: the minimum of sᵀMs, Σs = 1."""
    if not free or len(layout.counts) == 1:
        return np.array(layout.equal_shares)
    even = np.linalg.solve(product, np.ones(len(product)))
    return np.asarray(even / even.sum())


def _mean_square(layout: Layout, radii: FloatArray, poissons_ratio: float, refocused: bool, free: bool,
                 ) -> tuple[float, FloatArray]:
    r, area = quadrature(radii)
    rows = np.concatenate([
        _ring_shapes(layout, ring, radii[ring:ring + 1], r, area, poissons_ratio, refocused)
        for ring in range(len(layout.counts))])
    product = rows @ rows.T
    shares = _shares(layout, product, free)
    return float(shares @ product @ shares), shares


@dataclass(frozen=True, slots=True)
class BestRings:
    """The best supports: radii as shares of the mirror's radius, share of the load by ring, and the residual.

    ``rms`` is in units of weight × R² / D.
    """

    radii: tuple[float, ...]
    shares: tuple[float, ...]
    rms: float


@lru_cache(maxsize=64)
def best_rings(points: float, poissons_ratio: float, *, refocused: bool, free_loads: bool = False) -> BestRings:
    """Support radii of the least residual, over the whole range of radii; with equal loads or with the best loads.

    A coarse search over all radii, then Newton's method on the mean square.
    """
    layout = layout_of(points)
    start = _coarse(layout, poissons_ratio, refocused, free_loads)

    def value(radii: FloatArray) -> float:
        return _mean_square(layout, radii, poissons_ratio, refocused, free_loads)[0]

    radii = _newton(value, start)
    mean_square, shares = _mean_square(layout, radii, poissons_ratio, refocused, free_loads)
    return BestRings(tuple(map(float, radii)), tuple(map(float, shares)), float(np.sqrt(mean_square)))


def _coarse(layout: Layout, poissons_ratio: float, refocused: bool, free: bool, steps: int = 33) -> FloatArray:
    radii = np.linspace(0.04, 1.0, steps)
    r, area = quadrature([], 32)
    rows = [_ring_shapes(layout, ring, radii, r, area, poissons_ratio, refocused, ORDERS // 2)
            for ring in range(len(layout.counts))]
    if len(rows) == 1:
        return radii[[int(np.argmin((rows[0] ** 2).sum(axis=1)))]]
    inner, outer = [(row**2).sum(axis=1) for row in rows]
    cross = rows[0] @ rows[1].T
    if free:
        both = inner[:, None] + outer[None, :] - 2 * cross
        share = (outer[None, :] - cross) / np.maximum(both, 1e-300)
    else:
        share = np.full_like(cross, layout.equal_shares[0])
    squares = share**2 * inner[:, None] + (1 - share) ** 2 * outer[None, :] + 2 * share * (1 - share) * cross
    apart = radii[None, :] - radii[:, None] > 0.1
    first, second = np.unravel_index(int(np.argmin(np.where(apart, squares, np.inf))), squares.shape)
    return radii[[first, second]]


def _newton(value: Callable[[FloatArray], float], start: FloatArray) -> FloatArray:
    """The minimum near ``start`` by Newton's method with central differences, kept on the plate and never uphill."""
    place, best, step = start.copy(), value(start), 4e-3
    size = len(start)
    for _ in range(12):
        moves = step * np.eye(size)
        ahead = np.array([value(_kept(place + move)) for move in moves])
        behind = np.array([value(_kept(place - move)) for move in moves])
        slope = (ahead - behind) / (2 * step)
        curve = np.diag((ahead + behind - 2 * best) / step**2)
        if size == 2:
            corner = value(_kept(place + moves[0] + moves[1]))
            curve[0, 1] = curve[1, 0] = (corner - ahead[0] - ahead[1] + best) / step**2
        least = np.linalg.eigvalsh(curve)[0]
        if not least > 0:
            curve = curve + (1e-12 * best - 2 * least) * np.eye(size)
        change = -np.linalg.solve(curve, slope)
        change *= min(1.0, 0.03 / max(float(np.abs(change).max()), 1e-12))
        tried = _kept(place + change)
        found = value(tried)
        if found < best:
            place, best = tried, found
        if float(np.abs(change).max()) < 1e-6:
            break
        step = 1e-3 if float(np.abs(change).max()) < 4e-3 else step
    return place


def _kept(radii: FloatArray) -> FloatArray:
    return np.clip(radii, 1e-3, 1.0)
