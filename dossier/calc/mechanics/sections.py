"""Cross-sections of tubes and bars: area, second moment, mass a metre. Lengths in mm."""

from __future__ import annotations

import math

from dossier.working import formula


@formula(title="Area of the tube's wall", source="geometry",
         rule="pi / 4 * (outer_diameter_mm**2 - inner_diameter_mm**2)", unproved="The area between two circles.")
def tube_area_mm2(outer_diameter_mm: float, inner_diameter_mm: float) -> float:
    """Cross-section of a round tube, mm²; a solid rod has an inner diameter of 0."""
    return math.pi / 4 * (outer_diameter_mm**2 - inner_diameter_mm**2)


@formula(title="Second moment of the tube's section", source="shigley-2015", where="table A-18",
         rule="pi / 64 * (outer_diameter_mm**4 - inner_diameter_mm**4)",
         unproved="An integral over two circles; a numerical integration checks it.")
def tube_second_moment_mm4(outer_diameter_mm: float, inner_diameter_mm: float) -> float:
    """Second moment of area of a round tube about a diameter, mm⁴."""
    return math.pi / 64 * (outer_diameter_mm**4 - inner_diameter_mm**4)


@formula(title="Area of a rectangular bar", source="geometry", rule="bar_width_mm * bar_depth_mm",
         unproved="The area of a rectangle.")
def bar_area_mm2(bar_width_mm: float, bar_depth_mm: float) -> float:
    """Cross-section of a rectangular bar, mm²."""
    return bar_width_mm * bar_depth_mm


@formula(title="Second moment of a rectangular bar", source="shigley-2015", where="table A-18",
         rule="bar_width_mm * bar_depth_mm**3 / 12", note="About the axis parallel to its width.",
         unproved="An integral over a rectangle; a numerical integration checks it.")
def bar_second_moment_mm4(bar_width_mm: float, bar_depth_mm: float) -> float:
    """Second moment of area of a rectangular bar that bends in the direction of its depth, mm⁴."""
    return bar_width_mm * bar_depth_mm**3 / 12


@formula(title="Area of a square box's walls", source="geometry", rule="4 * wall_mm * (inner_side_mm + wall_mm)",
         unproved="The area between two squares.")
def box_area_mm2(inner_side_mm: float, wall_mm: float) -> float:
    """Cross-section of a square tube of four boards, mm²."""
    return 4 * wall_mm * (inner_side_mm + wall_mm)


@formula(title="Second moment of a square box", source="shigley-2015", where="table A-18",
         rule="((inner_side_mm + 2 * wall_mm)**4 - inner_side_mm**4) / 12",
         note="About a line through the middle, parallel to a side or not: a square's is the same all ways.",
         unproved="One square less another; a numerical integration checks it.")
def box_second_moment_mm4(inner_side_mm: float, wall_mm: float) -> float:
    """Second moment of area of a square tube of four boards that are glued along their edges, mm⁴."""
    return ((inner_side_mm + 2 * wall_mm) ** 4 - inner_side_mm**4) / 12


@formula(title="Mass of one member", source="geometry",
         rule="density_kg_per_m3 * member_area_mm2 * member_length_mm / 1e9",
         unproved="A volume times a density.")
def member_mass_kg(density_kg_per_m3: float, member_area_mm2: float, member_length_mm: float) -> float:
    """Mass of a tube, pole or bar of this section and length, kg."""
    return density_kg_per_m3 * member_area_mm2 * member_length_mm / 1e9
