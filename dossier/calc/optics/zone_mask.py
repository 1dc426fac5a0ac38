"""The mask for the knife-edge test: rings of equal area, each open to both sides, and the radius each is read at.

Lengths in millimetres from the mirror's axis. Nothing of this knows how the mask is drawn or cut: ``windows`` gives the
outlines alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from dossier.calc.optics.mirror import above_zero
from dossier.working import formula

Point = tuple[float, float]
LEAST_ZONES = 2
# The card that is left between windows, in apertures; how far up or down a window reaches; points along its arcs.
BRIDGE_SHARE, REACH_DEG, _ARC_POINTS = 0.04, 26.0, 24


@formula(title="Number of zones on the mask", source="common-practice",
         rule="max(3, ceil(aperture_mm / zone_mm))", constants={"zone_mm": 40.0},
         note="About one zone for every 40 mm of aperture, three at least.",
         unproved="A custom of the bench; no publication is claimed for it.")
def mask_zones(aperture_mm: float) -> float:
    """How many zones a knife-edge mask for this aperture has."""
    return float(max(3, math.ceil(aperture_mm / 40.0)))


@formula(title="Edge of a zone of the mask", source="geometry",
         rule="sqrt((obstruction_diameter_mm**2 + zones_inside / zones * (aperture_mm**2 - obstruction_diameter_mm**2))"
              " / 4)",
         note="Zones of equal area, from the edge of the diagonal's shadow to the rim: each sends the same light.",
         unproved="It is the definition of zones of equal area.")
def zone_edge_mm(aperture_mm: float, obstruction_diameter_mm: float, zones: float, zones_inside: float) -> float:
    """Radius of the edge that has so many zones of the mask inside it: 0 the shadow's edge, ``zones`` the rim, mm.

    ValueError where there is no mirror outside the shadow, or no such edge.
    """
    above_zero(aperture_mm=aperture_mm)
    if not 0 <= obstruction_diameter_mm < aperture_mm:
        raise ValueError(f"obstruction_diameter_mm {obstruction_diameter_mm:g} must lie between 0 and the aperture of "
                         f"{aperture_mm:g}")
    if not (zones >= LEAST_ZONES and zones % 1 == 0):
        raise ValueError(f"zones must be a whole number of {LEAST_ZONES} or more, not {zones:g}")
    if not 0 <= zones_inside <= zones:
        raise ValueError(f"zones_inside must lie between 0 and {zones:g}, not {zones_inside:g}")
    inner, outer = obstruction_diameter_mm**2, aperture_mm**2
    return math.sqrt((inner + zones_inside / zones * (outer - inner)) / 4)


@formula(title="Radius at which a zone is read", source="mirror-makers-list-2001", where="message 229",
         rule="(zone_inner_mm + zone_outer_mm) / 4 + sqrt((zone_inner_mm**2 + zone_outer_mm**2) / 2) / 2",
         note="Half-way between the middle of the window and the radius that halves its area.")
def zone_centre_mm(zone_inner_mm: float, zone_outer_mm: float) -> float:
    """Radius that stands for the window between two edges of a mask, mm."""
    return (zone_inner_mm + zone_outer_mm) / 4 + math.sqrt((zone_inner_mm**2 + zone_outer_mm**2) / 2) / 2


def mask_edges_mm(aperture_mm: float, obstruction_diameter_mm: float, zones: float) -> tuple[float, ...]:
    """Radii of the edges of the mask's zones, from the middle outwards, mm: one more than there are zones."""
    inside = range(int(zones) + 1) if math.isfinite(zones) else (0,)
    return tuple(zone_edge_mm(aperture_mm, obstruction_diameter_mm, zones, float(count)) for count in inside)


def zone_radii_mm(edges_mm: Sequence[float]) -> tuple[float, ...]:
    """Radius that stands for each zone of a mask with these edges, mm."""
    return tuple(zone_centre_mm(inner, outer) for inner, outer in pairwise(edges_mm))


@dataclass(frozen=True, slots=True)
class Window:
    """The two openings of one zone, left and right alike, as closed outlines of points (x to the right, y up)."""

    zone: int
    inner_mm: float
    outer_mm: float
    right: tuple[Point, ...]
    left: tuple[Point, ...]


def windows(aperture_mm: float, edges_mm: Sequence[float]) -> tuple[Window, ...]:
    """The openings of a mask with these edges, innermost zone first.

    A window is cut by the arcs of its zone's edges, by a line beside the level diameter and by a ray ``REACH_DEG`` from
    it. Neighbours lie on either side of the level diameter, so that their edges can coincide and the card still hold
    together. ValueError where a zone is so near the middle that no window has room beside the card.
    """
    half_bridge = BRIDGE_SHARE * aperture_mm / 2
    made = []
    for zone, (inner, outer) in enumerate(pairwise(edges_mm), start=1):
        up = 1 if zone % 2 else -1
        right = tuple((x, up * y) for x, y in _opening(inner, outer, half_bridge))
        made.append(Window(zone, inner, outer, right, tuple((-x, y) for x, y in right)))
    return tuple(made)


def _opening(inner: float, outer: float, half_bridge: float) -> tuple[Point, ...]:
    """A window to the right and above, counter-clockwise from its lower inner corner."""
    reach = math.radians(REACH_DEG)
    # Nearer the middle than this the two straight sides have met.
    meeting = half_bridge / math.sin(reach)
    if not outer > meeting:
        raise ValueError(f"a zone that ends {outer:g} mm from the middle has no room for a window")
    start = max(inner, meeting)
    lower_outer, lower_inner = (math.asin(half_bridge / radius) for radius in (outer, start))
    rising, falling = np.linspace(lower_outer, reach, _ARC_POINTS), np.linspace(reach, lower_inner, _ARC_POINTS)
    back = [(start, angle) for angle in falling] if inner > meeting else [(start, reach)]
    return tuple((float(radius * math.cos(angle)), float(radius * math.sin(angle)))
                 for radius, angle in (*((outer, angle) for angle in rising), *back))
