"""Where the supports stand, and the bars and triangles that carry them, as points."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.mechanics import levers
from dossier.calc.mechanics.supports import layout_of

if TYPE_CHECKING:
    from dossier.design.model import Design

Point = tuple[float, float]
EQUAL = 1 / 3


@dataclass(frozen=True, slots=True)
class Lever:
    """A bar or a triangle that shares its load equally: what stands on it (``supports``, or the pivots of triangles),
    mm about its own pivot, y towards the mirror's rim; ``count`` are needed; ``pivot_mm`` is from the optical axis."""

    kind: str
    count: int
    carries: str
    ends: tuple[Point, ...]
    pivot_mm: float


def support_rings(design: Design) -> tuple[tuple[int, float, float], ...]:
    """Each ring of supports as (count, radius in mm, angle of the first in degrees); empty where they are not known."""
    radii, cell = design.results.get("cell.support_radii"), design.build.cell
    if radii is None or cell is None or cell.points is None:
        return ()
    layout = layout_of(cell.points)
    return tuple((count, radius, math.degrees(start))
                 for count, radius, start in zip(layout.counts, radii.numbers, layout.starts, strict=True))


def levers_of(design: Design) -> tuple[Lever, ...]:
    """The levers of six, nine or eighteen points; none for three."""
    rings = support_rings(design)
    points = sum(count for count, _, _ in rings)
    if points == 6:
        return (_bar(rings[0][1], 6, 3, "supports"),)
    if len(rings) < 2:
        return ()
    (_, inner, _), (outer_count, outer, _) = rings
    depth = levers.triangle_depth_mm(inner, outer, outer_count)
    half = levers.neighbour_spacing_mm(outer, outer_count) / 2
    below = levers.triangle_pivot_offset_mm(EQUAL, depth)
    pivot = levers.triangle_pivot_mm(inner, EQUAL, depth)
    ends = ((0.0, below - depth), (half, below), (-half, below))
    triangle = Lever("triangle", outer_count // 2, "supports", ends, pivot)
    return (triangle,) if points == 9 else (triangle, _bar(pivot, 6, 3, "triangles"))


def _bar(ring_radius: float, ring_count: int, count: int, carries: str) -> Lever:
    half = levers.neighbour_spacing_mm(ring_radius, ring_count) / 2
    return Lever("bar", count, carries, ((-half, 0.0), (half, 0.0)), levers.bar_pivot_mm(ring_radius, ring_count))
