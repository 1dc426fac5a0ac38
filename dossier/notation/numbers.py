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
# So many digits more than usual are shown to tell a number from its limit.
_MOST_MORE = 7


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


def show(value: Value, unit: str, *, result_id: str = "", readers: Readers = METRIC, more: int = 0) -> Shown:
    """A number, or a list of them, in the unit its readers use.

    ``unit`` is a key of ``working.UNITS``; the digits are those of the result with this ID, else of the unit, and so
    many ``more``.
    """
    digits = digits_of(result_id, unit)
    text = unit_text(unit, readers.currency)
    many = value if isinstance(value, tuple) else (value,)
    if readers.units == "inch" and unit in CUSTOMARY and not stays_metric(result_id):
        other = CUSTOMARY[unit]
        many = tuple(item * other.factor + other.offset for item in many)
        text, digits = other.text, _finer(digits, other.more_decimals)
    if more:
        digits = _finer(digits, more) if digits.decimals is not None else replace(digits, figures=digits.figures + more)
    return _shown([written(item, digits) for item in many], text)


def show_result(result: Result, readers: Readers = METRIC) -> Shown:
    """A result as its readers want it; one that misses its limit with digits enough to tell it from the limit."""
    return _with_more(result, result.value, readers)


def show_limit(result: Result, readers: Readers = METRIC) -> Shown:
    """The limit on a result, with the digits of the result. ValueError where it has none."""
    if result.goal is None:
        raise ValueError(f"{result.id} has no limit")
    return _with_more(result, result.goal.limit, readers)


def _with_more(result: Result, value: Value, readers: Readers) -> Shown:
    return show(value, result.unit, result_id=result.id, readers=readers, more=_more_digits(result, readers))


def _more_digits(result: Result, readers: Readers) -> int:
    """How many digits more than usual tell a result from the limit that it misses: 0.796 and not 0.80 where 0.80 is
    asked. A result that meets its limit never reads as if it missed it."""
    goal = result.goal
    if goal is None or isinstance(result.value, tuple) or not goal.spare(result.value) < 0:
        return 0

    def number(value: float, more: int) -> str:
        return show(value, result.unit, result_id=result.id, readers=readers, more=more).number

    return next((more for more in range(_MOST_MORE) if number(result.value, more) != number(goal.limit, more)), 0)


def _finer(digits: Digits, more: int) -> Digits:
    return digits if digits.decimals is None else replace(digits, decimals=digits.decimals + more)


def _shown(numbers: list[Written], unit: str) -> Shown:
    plain = ", ".join(number.plain for number in numbers)
    html = ", ".join(number.html for number in numbers)
    return Shown(plain, unit, joined(plain, unit), joined(html, escape(unit)))
