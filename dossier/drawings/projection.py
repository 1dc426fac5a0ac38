"""Where the views of a figure stand, in the projection that the author chose (ISO 5456-2, recalled).

In first-angle projection a view stands on the far side of what it looks at: seen from the right, on the left. In
third-angle projection it stands on the side that it is seen from.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from dossier.drawings.dimension import Side
from dossier.drawings.scene import Box, Point

if TYPE_CHECKING:
    from dossier.design.model import Design

Projection = Literal["first", "third"]
_ACROSS: dict[Side, Side] = {"left": "right", "right": "left", "above": "below", "below": "above"}


def projection_of(design: Design) -> Projection:
    """First angle where the author says nothing."""
    return design.build.about.projection


def side_of(seen_from: Side, projection: Projection) -> Side:
    """On which side of the main view a view stands that looks at the thing from this side of it."""
    return seen_from if projection == "third" else _ACROSS[seen_from]


def beside(main: Box, view: Box, seen_from: Side, projection: Projection, gap: float) -> Point:
    """How far to the right and how far down a view is moved to stand beside the main one.

    It moves along one axis only: across it the view is taken to be level with the main one already, as projection
    wants it. ``gap`` is what is left free between the two boxes, in their unit.
    """
    side = side_of(seen_from, projection)
    if side == "left":
        return main.left - gap - view.right, 0.0
    if side == "right":
        return main.right + gap - view.left, 0.0
    if side == "above":
        return 0.0, main.top - gap - view.bottom
    return 0.0, main.bottom + gap - view.top
