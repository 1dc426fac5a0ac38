"""Scales a drawing may have, and the bars that show them."""

from __future__ import annotations

from dataclasses import dataclass

# The preferred reductions of ISO 5455 (recalled).
REDUCTIONS = (1, 2, 5, 10, 20, 50, 100)
# The same with its enlargements, as units of the drawing to one of the thing, the largest first.
PREFERRED = (5.0, 2.0, *(1 / reduction for reduction in REDUCTIONS))
# Round lengths of a bar and the steps that divide them into round lengths again.
_BARS = {"millimetres": ((10, 5), (20, 4), (50, 5), (100, 5), (200, 4), (500, 5), (1000, 5)),
         "inches": ((1, 4), (2, 4), (4, 4), (8, 4), (20, 4), (40, 4))}
_UNITS = {"millimetres": (1.0, "mm"), "inches": (25.4, "in")}


@dataclass(frozen=True, slots=True)
class Bar:
    """A scale bar: the telescope's length that it shows, in words too, and its divisions."""

    length_mm: float
    words: str
    steps: int


def written(reduction: int) -> str:
    """How a scale is written: ``1 : 5``."""
    return f"1\u202f:\u202f{reduction}"


def ratio(scale: float) -> str:
    """How a scale is written that may also enlarge: ``2 : 1``."""
    return f"{scale:g}\u202f:\u202f1" if scale > 1 else written(round(1 / scale))


def bar(scale: float, room: float, unit: str) -> Bar:
    """The longest round bar that fits in ``room`` at this scale; ``unit`` is millimetres or inches."""
    size, short = _UNITS[unit]
    fitting = [(length, steps) for length, steps in _BARS[unit] if length * size * scale <= room]
    length, steps = fitting[-1] if fitting else _BARS[unit][0]
    return Bar(length * size, f"{length}\u202f{short}", steps)
