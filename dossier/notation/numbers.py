"""A number with its unit, as its readers want it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from html import escape
from typing import Protocol

from dossier.notation.digits import Digits, Written, digits_of, stays_metric, written
from dossier.notation.units import CUSTOMARY, joined, unit_text
from dossier.working import Result, Value


class Readers(Protocol):
    """Who reads: ``units`` is ``metric`` or ``inch``, ``currency`` a code such as EUR."""

    @property
    def units(self) -> str: ...

    @property
    def currency(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class _Metric:
    units: str = "metric"
    currency: str | None = None


METRIC: Readers = _Metric()


def in_metric(readers: Readers) -> Readers:
    """The same readers, shown metric units."""
    return _Metric(currency=readers.currency)


@dataclass(frozen=True, slots=True)
class Shown:
    """A number as it is shown: its digits, its unit, and both together as plain text and as HTML."""

    number: str
    unit: str
    plain: str
    html: str


def show(value: Value, unit: str, *, result_id: str = "", readers: Readers = METRIC) -> Shown:
    """A number, or a list of them, in the unit its readers use.

    ``unit`` is a key of ``working.UNITS``; the digits are those of the result with this ID, else of the unit.
    """
    digits = digits_of(result_id, unit)
    text = unit_text(unit, readers.currency)
    many = value if isinstance(value, tuple) else (value,)
    if readers.units == "inch" and unit in CUSTOMARY and not stays_metric(result_id):
        other = CUSTOMARY[unit]
        many = tuple(item * other.factor + other.offset for item in many)
        text, digits = other.text, _finer(digits, other.more_decimals)
    return _shown([written(item, digits) for item in many], text)


def show_result(result: Result, readers: Readers = METRIC) -> Shown:
    """A result as its readers want it."""
    return show(result.value, result.unit, result_id=result.id, readers=readers)


def _finer(digits: Digits, more: int) -> Digits:
    return digits if digits.decimals is None else replace(digits, decimals=digits.decimals + more)


def _shown(numbers: list[Written], unit: str) -> Shown:
    plain = ", ".join(number.plain for number in numbers)
    html = ", ".join(number.html for number in numbers)
    return Shown(plain, unit, joined(plain, unit), joined(html, escape(unit)))
