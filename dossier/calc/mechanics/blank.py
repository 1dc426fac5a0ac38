"""The primary's glass as a solid: a flat-backed disc with the curve ground out over its clear aperture.

Lengths in millimetres. Stations run along the optical axis from the primary's vertex, positive towards the sky.
"""

from __future__ import annotations

import math

from dossier.working import formula

_SOLID = "A solid of revolution; it is checked by numerical integration with another library."


@formula(title="Thickness of the mirror in its middle", source="geometry", rule="edge_thickness_mm - sagitta_mm",
         note="From the vertex to the flat back.", unproved="A difference of two lengths.")
def centre_thickness_mm(edge_thickness_mm: float, sagitta_mm: float) -> float:
    """From the vertex to the flat back, mm."""
    return edge_thickness_mm - sagitta_mm


@formula(title="Centre of mass of the mirror", source="geometry",
         rule="ground_out_mm3 = pi * (2 * focal_length_mm * sagitta_mm**2 - (1 + conic) * sagitta_mm**3 / 3); "
              "moment_mm4 = pi * (4 * focal_length_mm * sagitta_mm**3 / 3 - (1 + conic) * sagitta_mm**4 / 4); "
              "blank_mm3 = pi / 4 * blank_diameter_mm**2 * edge_thickness_mm; "
              "(blank_mm3 * (sagitta_mm - edge_thickness_mm / 2) - moment_mm4) / (blank_mm3 - ground_out_mm3)",
         note="From the vertex; behind it where negative. The disc less what is ground out over the clear aperture.",
         unproved=_SOLID)
def mirror_centroid_mm(
    blank_diameter_mm: float, edge_thickness_mm: float, focal_length_mm: float, conic: float, sagitta_mm: float,
) -> float:
    """Station of the glass's centre of mass, mm.

    A conic's radius at depth z is r² = 2Rz − (1 + k)z²; volume and moment of what is ground out are the integrals of
    πr² and πr²z over its depth.
    """
    ground_out = math.pi * (2 * focal_length_mm * sagitta_mm**2 - (1 + conic) * sagitta_mm**3 / 3)
    moment = math.pi * (4 * focal_length_mm * sagitta_mm**3 / 3 - (1 + conic) * sagitta_mm**4 / 4)
    blank = math.pi / 4 * blank_diameter_mm**2 * edge_thickness_mm
    return (blank * (sagitta_mm - edge_thickness_mm / 2) - moment) / (blank - ground_out)
