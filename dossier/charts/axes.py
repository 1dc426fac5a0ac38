"""Axes: where a value stands along a line, and the ticks that are marked on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dossier.notation.digits import MINUS
from dossier.notation.numbers import Readers
from dossier.notation.units import CUSTOMARY, joined, unit_text

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


def fixed(value: float, decimals: int) -> str:
    """A number with so many decimals and a true minus; zero has no sign."""
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if not float(text) else text.replace("-", MINUS)


def plain(value: float, unit: str) -> str:
    """A round number with its unit, with no zeros at the end; ``unit`` is a key of ``working.UNITS``."""
    return joined(f"{value:.4g}".replace("-", MINUS), unit_text(unit))


def plain_length(length_mm: float, readers: Readers) -> str:
    """The same for a length, in inches where readers have them."""
    factor, unit = length_unit(readers)
    return joined(f"{length_mm * factor:.4g}".replace("-", MINUS), unit)


def listed_ticks(values: Sequence[float], decimals: int) -> tuple[Tick, ...]:
    """Ticks at just these values."""
    return tuple((value, fixed(value, decimals)) for value in values)


def length_unit(readers: Readers) -> tuple[float, str]:
    """What a length in millimetres is multiplied by to be written, and the unit it is written in."""
    if readers.units == "inch":
        return CUSTOMARY["mm"].factor, CUSTOMARY["mm"].text
    return 1.0, "mm"
