"""Axes for any key or result, in the units of the readers."""

from __future__ import annotations

import math

from dossier.charts.axes import Axis, round_ticks
from dossier.notation import Readers
from dossier.notation.digits import stays_metric
from dossier.notation.units import CUSTOMARY, unit_text


def axis(low: float, high: float, unit: str, title: str, most: int, readers: Readers, *, result_id: str = "") -> Axis:
    """From ``low`` to ``high`` with round ticks in the readers' unit. ValueError where the two are not apart."""
    if not (math.isfinite(low) and math.isfinite(high) and low < high):
        raise ValueError("an axis needs two ends")
    factor, text = 1.0, unit_text(unit, readers.currency)
    customary = CUSTOMARY.get(unit)
    if readers.units == "inch" and customary and not customary.offset and not stays_metric(result_id):
        factor, text = customary.factor, customary.text
    return Axis(low, high, round_ticks(low, high, most, factor), ", ".join(filter(None, (title, text))))


def room_about(low: float, high: float, share: float = 0.06) -> tuple[float, float]:
    """Ends with room to spare; about a single value, a tenth of it to either side."""
    wide = high - low or 0.2 * abs(high) or 1.0
    return (low - share * wide, high + share * wide) if high > low else (low - wide / 2, high + wide / 2)
