"""Templates to cut, drill and mark after, at full size: everything that a build gives the data for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.drawings.templates import (
    cell_plate,
    collimation_target,
    diagonal,
    focuser_board,
    focusing_mask,
    pole_circle,
    poles,
    primary_centre,
    support_levers,
    tube_wrap,
    zone_card,
)
from dossier.drawings.templates.model import Make, Template

if TYPE_CHECKING:
    from dossier.design.model import Design

# One maker a subject, in the order in which they are needed: frame, mirror, upper end, bench, sky.
MAKERS: tuple[Make, ...] = (
    tube_wrap.make, poles.make, pole_circle.make, cell_plate.make, support_levers.make, primary_centre.make,
    diagonal.make, focuser_board.make, collimation_target.make, zone_card.make, focusing_mask.make)


def templates_of(design: Design) -> tuple[Template, ...]:
    """Every template of a design, each with a key of its own."""
    return tuple(template for make in MAKERS for template in make(design))
