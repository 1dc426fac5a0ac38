"""Axes: where a value stands along a line, and the ticks that are marked on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dossier.drawings.numerals import fixed

Tick = tuple[float, str]


@dataclass(frozen=True, slots=True)
class Axis:
    """From ``low`` to ``high`` with ticks between, and in words what is measured. ``second`` are further words below
    ticks of a horizontal axis, at the same places."""

    low: float
    high: float
    ticks: tuple[Tick, ...]
    title: str
    second: tuple[Tick, ...] = ()
    second_title: str = ""

    def share(self, value: float) -> float:
        """0 at the axis's low end, 1 at its high end."""
        return (value - self.low) / (self.high - self.low)


def round_ticks(low: float, high: float, most: int, factor: float = 1.0) -> tuple[Tick, ...]:
    """Round values between two ends, at most so many, written alike; ``factor`` turns a value into what is written."""
    step = _round_step((high - low) * factor / max(most, 1))
    first, last = math.ceil(low * factor / step - 1e-9), math.floor(high * factor / step + 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return tuple((index * step / factor, fixed(index * step, decimals)) for index in range(first, last + 1))


def _round_step(least: float) -> float:
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= least * (1 - 1e-9))


def listed_ticks(values: Sequence[float], decimals: int) -> tuple[Tick, ...]:
    """Ticks at just these values."""
    return tuple((value, fixed(value, decimals)) for value in values)
