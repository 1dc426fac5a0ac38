"""What a workshop buys: the parts list for as many kits as it builds, where that is not what the results are for."""

from __future__ import annotations

from dataclasses import replace

from dossier.design import worksheet
from dossier.design.model import Design
from dossier.design.parts import lines
from dossier.working import Result


def for_workshop(design: Design) -> Design | None:
    """The same build with its parts and cuts for all kits that the workshop builds; its results stay. None where they
    are for as many already."""
    kits = design.workshop_kits
    if kits == design.kits:
        return None
    return replace(design, kits=kits, kits_asked=True, parts=lines(worksheet(design.loaded, kits=kits)))


def workshop_costs(design: Design) -> tuple[Result, Result] | None:
    """What all kits that the workshop builds cost together, and each of them. None where no part has a price, or there
    is one kit."""
    if "parts.cost" not in design.results or design.workshop_kits == 1:
        return None
    sheet = worksheet(design.loaded, kits=design.workshop_kits)
    return sheet.result("parts.cost_all_kits"), sheet.result("parts.cost_per_kit")
