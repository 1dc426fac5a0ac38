"""What a workshop buys: the parts list for as many kits as it builds, where that is not what the results are for."""

from __future__ import annotations

from dossier.design import worksheet
from dossier.design.model import Design, PartLine
from dossier.design.parts import lines


def workshop_lines(design: Design) -> tuple[PartLine, ...]:
    """Every line of the parts list; ``all_packs`` and ``all_cost`` are for all kits that the workshop builds."""
    kits = design.workshop_kits
    return design.parts if kits == design.kits else lines(worksheet(design.loaded, kits=kits))
