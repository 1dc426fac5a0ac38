"""A number as its author gave it: 150 mm, not 150.0 mm."""

from __future__ import annotations

from html import escape

from dossier.notation.digits import Digits, written
from dossier.notation.numbers import Readers, Shown, show
from dossier.notation.units import CUSTOMARY, joined, unit_text

_AS_GIVEN = Digits(figures=7, trim=True)


def show_given(value: float, unit: str, readers: Readers) -> Shown:
    """A given number without the zeros that a worked-out one is shown with. Money keeps its two decimals."""
    if unit == "money" or (readers.units == "inch" and unit in CUSTOMARY):
        return show(value, unit, readers=readers)
    number, text = written(value, _AS_GIVEN), unit_text(unit, readers.currency)
    return Shown(number.plain, text, joined(number.plain, text), joined(number.html, escape(text)))
