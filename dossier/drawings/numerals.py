"""Numbers on axes and of round lengths, which no result's digits fit."""

from __future__ import annotations

from dossier.notation import Readers
from dossier.notation.digits import MINUS
from dossier.notation.units import CUSTOMARY, joined, unit_text


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
    return joined(f"{length_mm * factor:.{3 if readers.units == 'inch' else 4}g}".replace("-", MINUS), unit)


def length_unit(readers: Readers) -> tuple[float, str]:
    """What a length in millimetres is multiplied by to be written, and the unit it is written in."""
    if readers.units == "inch":
        return CUSTOMARY["mm"].factor, CUSTOMARY["mm"].text
    return 1.0, "mm"
