"""What a printed part weighs, takes and costs, from its mesh and the way it is printed. Lengths in mm.

Volume and surface are those of the closed mesh. Surface within 45° of level is top or bottom and gets a skin, the rest
is side and gets walls; where two of them meet the edge is counted twice. Times are estimates and are to be shown as
such.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from dossier.calc.bounds import positive
from dossier.working import formula


@formula(title="Plastic in a printed part", source="common-practice",
         rule="shell_mm3 = min(mesh_volume_mm3, side_surface_mm2 * walls * line_mm + level_surface_mm2 * skin_mm); "
              "(shell_mm3 + fill * (mesh_volume_mm3 - shell_mm3)) / 1000",
         holds={"fill": (0, 1)},
         note="Walls at the sides, a skin on top and bottom, the rest filled by this share. Thin parts are solid.",
         unproved="A sum of volumes; a box printed on paper checks it.")
def printed_volume_cm3(mesh_volume_mm3: float, side_surface_mm2: float, level_surface_mm2: float, walls: float,
                       line_mm: float, skin_mm: float, fill: float) -> float:
    """Volume of plastic in a part with this many walls of this line width, this skin and this fill, cm³."""
    shell = min(mesh_volume_mm3, side_surface_mm2 * walls * line_mm + level_surface_mm2 * skin_mm)
    return (shell + fill * (mesh_volume_mm3 - shell)) / 1000


@formula(title="Mass of a printed part", source="common-practice", rule="density_kg_per_m3 * printed_volume_cm3 / 1e6",
         unproved="A volume times a density.")
def printed_mass_kg(density_kg_per_m3: float, printed_volume_cm3: float) -> float:
    """Mass of one printed part, kg."""
    return density_kg_per_m3 * printed_volume_cm3 / 1e6


@formula(title="Filament for a printed part", source="geometry",
         rule="printed_volume_cm3 / (pi / 4 * filament_diameter_mm**2)",
         note="Without supports and what is purged.", unproved="The length of a cylinder.")
def filament_m(printed_volume_cm3: float, filament_diameter_mm: float) -> float:
    """Length of filament in one part, m, without supports and purge."""
    return printed_volume_cm3 / (math.pi / 4 * filament_diameter_mm**2)


@formula(title="Printing time, an estimate", source="common-practice",
         rule="printed_volume_cm3 * 1000 / (speed_mm_per_s * line_mm * layer_mm * busy) / 3600",
         holds={"busy": (0.2, 1)},
         note="Plastic laid down at an even speed for this share of the time; travel, cooling and corners take the "
              "rest. Half is a fair guess.",
         unproved="An estimate; the printer's own slicer knows better.")
def print_time_h(printed_volume_cm3: float, speed_mm_per_s: float, line_mm: float, layer_mm: float,
                 busy: float) -> float:
    """Hours that one part takes to print."""
    return printed_volume_cm3 * 1000 / (speed_mm_per_s * line_mm * layer_mm * busy) / 3600


@formula(title="Material of a printed part, cost", source="common-practice",
         rule="printed_mass_kg * spool_price_money / spool_mass_kg", unproved="A price times a share.")
def printed_cost_money(printed_mass_kg: float, spool_price_money: float, spool_mass_kg: float) -> float:
    """What the plastic in one part costs; the price is for a spool that holds so much."""
    return printed_mass_kg * spool_price_money / spool_mass_kg


@formula(title="Printing time of one kit, an estimate", source="common-practice",
         equation="time = Σ (nᵢ + spareᵢ) × timeᵢ", method="Added up over every part with a mesh that can be read.",
         note="One part after the other on one printer, without the time between them.",
         unproved="A sum of estimates; a list added up by hand checks it.")
def kit_print_time_h(
    quantities: Sequence[float], spare_pieces: Sequence[float], print_times_h: Sequence[float],
) -> float:
    """Hours for the printed parts of one kit. In step: pieces in one kit, spares, hours of one piece."""
    return float(np.dot(np.add(quantities, spare_pieces), print_times_h))


@formula(title="Plastic for one kit, cost", source="common-practice",
         equation="cost = Σ (nᵢ + spareᵢ) × costᵢ", method="Added up over every part with a mesh that can be read.",
         note="A share of whole spools, which the parts list buys; not to be added to the cost of the kit.",
         unproved="A sum of shares of a price; a list added up by hand checks it.")
def kit_print_cost_money(
    quantities: Sequence[float], spare_pieces: Sequence[float], printed_costs_money: Sequence[float],
) -> float:
    """Cost of the plastic in the printed parts of one kit. In step: pieces in one kit, spares, cost of one piece."""
    return float(np.dot(np.add(quantities, spare_pieces), printed_costs_money))


def fits_printer(size_mm: tuple[float, float, float], bed_mm: tuple[float, float, float]) -> bool:
    """Whether a part of this size (x, y, z as it is printed) fits on the bed, turned by a quarter if need be."""
    for number, (part, bed) in enumerate(zip(size_mm, bed_mm, strict=True)):
        positive(**{f"size_{'xyz'[number]}": part, f"bed_{'xyz'[number]}": bed})
    across, along, up = size_mm
    return up <= bed_mm[2] and ((across <= bed_mm[0] and along <= bed_mm[1])
                                or (along <= bed_mm[0] and across <= bed_mm[1]))
