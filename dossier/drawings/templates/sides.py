"""Which side of a thing a template lies on: the focuser's side, and whether front and back look alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dossier.drawings.scene import Point, Words
from dossier.drawings.templates.model import Item, Label, Outline

_ALIKE = 0.01


def focuser_side(above: float, seen: str = "") -> tuple[Item, ...]:
    """The line from the axis up to an arrow over everything drawn, which stands this high; beside it what it points to
    and, above, from where all is ``seen``."""
    tip = (0.0, above + 10.0)
    return (Outline("mark", ((0.0, 0.0), (0.0, above + 5.5)), False, "focuser's line"),
            Outline("mark", (tip, (-1.5, tip[1] - 4.5), (1.5, tip[1] - 4.5)), name="focuser's side"),
            Label((3.0, tip[1] - 4.0), (Words("focuser’s side, up"),)),
            *((Label((3.0, tip[1] + 1.5), (Words(seen),)),) if seen else ()))


def mirrored(points: Sequence[Point]) -> tuple[Point, ...]:
    """These points seen from the other side, the focuser's side still up."""
    return tuple((-x, y) for x, y in points)


def alike_from_behind(points: Sequence[Point]) -> bool:
    """Whether a pattern is its own mirror image about the line to the focuser's side."""
    return all(any(math.dist(point, other) < _ALIKE for other in points) for point in mirrored(points))
