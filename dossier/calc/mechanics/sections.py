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


@formula(title="Mass of one member", source="geometry",
         rule="density_kg_per_m3 * member_area_mm2 * member_length_mm / 1e9",
         unproved="A volume times a density.")
def member_mass_kg(density_kg_per_m3: float, member_area_mm2: float, member_length_mm: float) -> float:
    """Mass of a tube, pole or bar of this section and length, kg."""
    return density_kg_per_m3 * member_area_mm2 * member_length_mm / 1e9
