"""What a workshop buys: the parts list for as many kits as it builds, where that is not what the results are for."""

from __future__ import annotations

from dossier.design import worksheet
from dossier.design.model import Design, PartLine
from dossier.design.parts import lines
from dossier.working import Result


def workshop_lines(design: Design) -> tuple[PartLine, ...]:
    """Every line of the parts list; ``all_packs`` and ``all_cost`` are for all kits that the workshop builds."""
    kits = design.workshop_kits
    return design.parts if kits == design.kits else lines(worksheet(design.loaded, kits=kits))


def workshop_costs(design: Design) -> tuple[Result, Result] | None:
    """What all kits that the workshop builds cost together, and each of them. None where no part has a price, or there
    is one kit."""
    if "parts.cost" not in design.results or design.workshop_kits == 1:
        return None
    sheet = worksheet(design.loaded, kits=design.workshop_kits)
    return sheet.result("parts.cost_all_kits"), sheet.result("parts.cost_per_kit")
