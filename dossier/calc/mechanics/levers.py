"""Where the holes go in the bars and triangles that share a mirror's weight among its points.

Lengths in mm. A ring has evenly spaced points; a bar joins two neighbours; a triangle joins a point of the inner ring
with the two neighbours of the outer ring that stand to both sides of it.
"""

from __future__ import annotations

import math

from dossier.working import formula

_CHECKED = "Geometry of an even ring; tests check it against the points' own coordinates."


@formula(title="Between neighbours on a ring", source="geometry", rule="2 * ring_radius_mm * sin(pi / ring_count)",
         note="The length of a bar between its ends, or of a triangle's outer side.", unproved=_CHECKED)
def neighbour_spacing_mm(ring_radius_mm: float, ring_count: float) -> float:
    """Straight distance between two neighbours of a ring of so many points, mm."""
    return 2 * ring_radius_mm * math.sin(math.pi / ring_count)


@formula(title="Axis to the middle of two neighbours", source="geometry", rule="ring_radius_mm * cos(pi / ring_count)",
         note="Where a bar with equal loads has its pivot.", unproved=_CHECKED)
def bar_pivot_mm(ring_radius_mm: float, ring_count: float) -> float:
    """Radius at which the middle between two neighbours of a ring stands, mm."""
    return ring_radius_mm * math.cos(math.pi / ring_count)


@formula(title="Depth of the triangle", source="geometry",
         rule="outer_radius_mm * cos(pi / ring_count) - inner_radius_mm",
         note="From its outer side to its inner point.", unproved=_CHECKED)
def triangle_depth_mm(inner_radius_mm: float, outer_radius_mm: float, ring_count: float) -> float:
    """Height of the triangle over the side between its outer points, mm; ``ring_count`` points on the outer ring."""
    return outer_radius_mm * math.cos(math.pi / ring_count) - inner_radius_mm


@formula(title="Inner point's share of the triangle's load", source="geometry",
         rule="inner_force_n / (inner_force_n + 2 * outer_force_n)", note="One third where all points carry the same.",
         unproved="A share of three forces.")
def inner_point_share(inner_force_n: float, outer_force_n: float) -> float:
    """What the inner point carries ÷ what the whole triangle carries."""
    return inner_force_n / (inner_force_n + 2 * outer_force_n)


@formula(title="Outer side to the triangle's pivot", source="geometry", rule="inner_point_share * triangle_depth_mm",
         note="On the line to the inner point.", unproved="The law of the lever; tests check that the loads balance.")
def triangle_pivot_offset_mm(inner_point_share: float, triangle_depth_mm: float) -> float:
    """How far inside its outer side the triangle turns, mm."""
    return inner_point_share * triangle_depth_mm


@formula(title="Axis to the triangle's pivot", source="geometry",
         rule="inner_radius_mm + (1 - inner_point_share) * triangle_depth_mm",
         unproved="The law of the lever; tests check that the loads balance.")
def triangle_pivot_mm(inner_radius_mm: float, inner_point_share: float, triangle_depth_mm: float) -> float:
    """Radius at which the triangle turns, mm."""
    return inner_radius_mm + (1 - inner_point_share) * triangle_depth_mm
