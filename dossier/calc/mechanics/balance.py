"""Masses: of the mirror, of all parts together, and where they balance.

Masses in kilograms, lengths in millimetres; stations run along the optical axis from the primary's vertex, positive
towards the sky.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from dossier.working import formula


@formula(title="Mass of the primary mirror", source="geometry",
         rule="ground_out_mm3 = pi * (2 * focal_length_mm * sagitta_mm**2 - (1 + conic) * sagitta_mm**3 / 3); "
              "blank_mm3 = pi / 4 * blank_diameter_mm**2 * edge_thickness_mm; "
              "density_kg_per_m3 * (blank_mm3 - ground_out_mm3) / 1e9",
         note="A flat-backed disc, as thick at its edge as stated, less the exact volume of the curve that is ground "
              "out over the clear aperture.",
         unproved="A solid of revolution; its volume is checked by numerical integration with another library.")
def mirror_mass_kg(
    blank_diameter_mm: float, edge_thickness_mm: float, focal_length_mm: float, conic: float, sagitta_mm: float,
    density_kg_per_m3: float,
) -> float:
    """Mass of the finished mirror, kg.

    A conic's radius at depth z is r² = 2Rz − (1 + k)z², so the curve's volume is the integral of πr² over its depth.
    """
    ground_out = math.pi * (2 * focal_length_mm * sagitta_mm**2 - (1 + conic) * sagitta_mm**3 / 3)
    blank = math.pi / 4 * blank_diameter_mm**2 * edge_thickness_mm
    return density_kg_per_m3 * (blank - ground_out) / 1e9


@formula(title="Mass of the listed parts", source="geometry", equation="total = Σ nᵢ mᵢ",
         method="Added up over every line of the parts list that states a mass: n pieces of mass m.",
         unproved="It is a sum of the author's own masses; a list added up by hand checks it.")
def total_mass_kg(quantities: Sequence[float], masses_kg: Sequence[float]) -> float:
    """Mass of all lines of the list, kg. The two lists run in step: how many pieces, and the mass of one."""
    return float(np.dot(quantities, masses_kg))


@formula(title="Station of the balance point", source="young-freedman-2016", where="example 8.13",
         equation="balance = Σ nᵢ mᵢ zᵢ / Σ nᵢ mᵢ",
         method="Added up over every line of the parts list that states both a mass and a station.")
def centre_of_mass_mm(
    quantities: Sequence[float], masses_kg: Sequence[float], stations_mm: Sequence[float],
) -> float:
    """Centre of mass along the axis, mm. The lists run in step; not a number where nothing has a mass."""
    masses = np.multiply(quantities, masses_kg)
    total = float(masses.sum())
    return float(np.dot(masses, stations_mm)) / total if total else math.nan


@formula(title="Balance point off the axis", source="young-freedman-2016", where="example 8.13",
         equation="balance = Σ nᵢ mᵢ yᵢ / Σ nᵢ mᵢ",
         method="Added up over every line of the parts list that states both a mass and a station; a line that does "
                "not "
                "say how far it lies off the axis counts as on it.", note="Positive towards the focuser.",
         unproved="The same mean as along the axis, for which the book's example stands; a list added up by hand "
                  "checks it.")
def centre_of_mass_across_mm(
    quantities: Sequence[float], masses_kg: Sequence[float], offsets_mm: Sequence[float],
) -> float:
    """How far the centre of mass lies off the optical axis, towards the focuser, mm. The lists run in step."""
    return centre_of_mass_mm(quantities, masses_kg, offsets_mm)


@formula(title="Balance point beyond the pivot", source="geometry", rule="centre_of_mass_mm - pivot_mm",
         note="Positive: the front is heavy.", unproved="It is a difference of two lengths.")
def pivot_arm_mm(centre_of_mass_mm: float, pivot_mm: float) -> float:
    """How far the centre of mass stands beyond the altitude pivot towards the sky, mm."""
    return centre_of_mass_mm - pivot_mm


@formula(title="Turning moment at the pivot", source="cgpm-1901",
         rule="load_kg * gravity_m_per_s2 * pivot_arm_mm / 1000", constants={"gravity_m_per_s2": 9.80665},
         note="With the tube level, where it is greatest. Positive: the front sinks.",
         unproved="Weight times arm; a lever of two weights checks it.")
def pivot_moment_n_m(load_kg: float, pivot_arm_mm: float) -> float:
    """Moment about the altitude pivot that the bearings' friction has to hold, N m."""
    return load_kg * 9.80665 * pivot_arm_mm / 1000
