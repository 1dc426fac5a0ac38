"""What a printed part weighs, takes and costs, from its mesh and the way it is printed. Lengths in mm.

Volume and surface are those of the closed mesh. Top and bottom skins count as walls: the shell is taken as thick as
the walls all over. Times are estimates and are to be shown as such.
"""

from __future__ import annotations

import math

from dossier.calc.bounds import positive
from dossier.working import formula


@formula(title="Plastic in a printed part", source="common-practice",
         rule="shell_mm3 = min(mesh_volume_mm3, mesh_surface_mm2 * walls * line_mm); "
              "shell_mm3 + fill * (mesh_volume_mm3 - shell_mm3)",
         holds={"fill": (0, 1)}, note="Walls all round, the rest filled by this share. Thin parts are solid.",
         unproved="A sum of volumes; a box printed on paper checks it.")
def printed_volume_mm3(mesh_volume_mm3: float, mesh_surface_mm2: float, walls: float, line_mm: float,
                       fill: float) -> float:
    """Volume of plastic in a part with this many walls of this line width and this fill, mm³."""
    shell = min(mesh_volume_mm3, mesh_surface_mm2 * walls * line_mm)
    return shell + fill * (mesh_volume_mm3 - shell)


@formula(title="Mass of a printed part", source="common-practice", rule="density_kg_per_m3 * printed_volume_mm3 / 1e9",
         unproved="A volume times a density.")
def printed_mass_kg(density_kg_per_m3: float, printed_volume_mm3: float) -> float:
    """Mass of one printed part, kg."""
    return density_kg_per_m3 * printed_volume_mm3 / 1e9


@formula(title="Filament for a printed part", source="geometry",
         rule="printed_volume_mm3 / (pi / 4 * filament_diameter_mm**2) / 1000", unproved="The length of a cylinder.")
def filament_m(printed_volume_mm3: float, filament_diameter_mm: float) -> float:
    """Length of filament in one part, m, without supports and purge."""
    return printed_volume_mm3 / (math.pi / 4 * filament_diameter_mm**2) / 1000


@formula(title="Printing time, an estimate", source="common-practice",
         rule="printed_volume_mm3 / (speed_mm_per_s * line_mm * layer_mm * busy) / 3600",
         holds={"busy": (0.2, 1)},
         note="Plastic laid down at an even speed for this share of the time; travel, cooling and corners take the "
              "rest. Half is a fair guess.",
         unproved="An estimate; the printer's own slicer knows better.")
def print_time_h(printed_volume_mm3: float, speed_mm_per_s: float, line_mm: float, layer_mm: float,
                 busy: float) -> float:
    """Hours that one part takes to print."""
    return printed_volume_mm3 / (speed_mm_per_s * line_mm * layer_mm * busy) / 3600


@formula(title="Material of a printed part, cost", source="common-practice",
         rule="printed_mass_kg * spool_price_money / spool_mass_kg", unproved="A price times a share.")
def printed_cost_money(printed_mass_kg: float, spool_price_money: float, spool_mass_kg: float) -> float:
    """What the plastic in one part costs; the price is for a spool that holds so much."""
    return printed_mass_kg * spool_price_money / spool_mass_kg


def fits_printer(size_mm: tuple[float, float, float], bed_mm: tuple[float, float, float]) -> bool:
    """Whether a part of this size (x, y, z as it is printed) fits on the bed, turned by a quarter if need be."""
    for number, (part, bed) in enumerate(zip(size_mm, bed_mm, strict=True)):
        positive(**{f"size_{'xyz'[number]}": part, f"bed_{'xyz'[number]}": bed})
    across, along, up = size_mm
    return up <= bed_mm[2] and ((across <= bed_mm[0] and along <= bed_mm[1])
                                or (along <= bed_mm[0] and across <= bed_mm[1]))
