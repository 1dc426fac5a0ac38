"""Scales a drawing may have: the preferred series of ISO 5455 (recalled)."""

from __future__ import annotations

REDUCTIONS = (1, 2, 5, 10, 20, 50, 100)
_BARS = (10, 20, 50, 100, 200, 500, 1000)


def written(reduction: int) -> str:
    """How a scale is written: ``1 : 5``."""
    return f"1\u202f:\u202f{reduction}"


def bar_length_mm(scale: float, room: float) -> int:
    """The longest round length of the telescope, in millimetres, that fits in ``room`` at this scale."""
    return max((length for length in _BARS if length * scale <= room), default=_BARS[0])
