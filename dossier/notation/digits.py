"""A number's digits: how many are shown, and how they are written."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fnmatch import fnmatchcase
from functools import lru_cache
from typing import Any

from dossier import shelf

MINUS, THIN = "\N{MINUS SIGN}", "\N{NARROW NO-BREAK SPACE}"
_SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")

# What is nearer to zero than this is the rounding of binary fractions.
_NOTHING = 1e-12
# A calculator's digits: beyond these the binary fraction shows, and two ways to the same number may differ.
CARRIED = 12
# Outside these bounds a number is written with a power of ten.
_SMALL, _LARGE = Decimal("1e-4"), Decimal("1e7")
_FEWEST_FIGURES = 2


@dataclass(frozen=True, slots=True)
class Digits:
    """How many digits are shown: a number of ``decimals``, or of significant ``figures`` (whole numbers in full).

    ``trim`` drops zeros at the end; ``powers`` allows a power of ten for very large and very small numbers. ``fixed``
    keeps to the decimals whatever is left, for money; ``sign`` writes the plus of a difference.
    """

    decimals: int | None = None
    figures: int = 3
    trim: bool = False
    powers: bool = True
    fixed: bool = False
    sign: bool = False


@dataclass(frozen=True, slots=True)
class Written:
    """A number as it is printed: ``-1.50`` and, where ``exponent`` is not 0, times that power of ten."""

    mantissa: str
    exponent: int = 0

    @property
    def negative(self) -> bool:
        return self.mantissa.startswith("-")

    @property
    def plain(self) -> str:
        return self._mantissa + (f" × 10{raised(self.exponent)}" if self.exponent else "")

    @property
    def html(self) -> str:
        power = str(self.exponent).replace("-", MINUS)
        return self._mantissa + (f"{THIN}×{THIN}10<sup>{power}</sup>" if self.exponent else "")

    @property
    def value(self) -> float:
        """The number that a reader takes from the page; not a number where none is printed."""
        return float(f"{self.mantissa}e{self.exponent}") if self.mantissa[-1].isdigit() else math.nan

    @property
    def _mantissa(self) -> str:
        return self.mantissa.replace("-", MINUS)


def raised(power: int) -> str:
    """An integer in superscript signs: −6 gives ⁻⁶."""
    return str(power).translate(_SUPERSCRIPTS)


def written(value: float, digits: Digits) -> Written:
    """The number with so many digits, halves rounded away from zero as people do.

    Where so few decimals would leave nothing, or one rounded figure, two figures are shown instead.
    """
    if not math.isfinite(value):
        return Written("not a number" if math.isnan(value) else "∞" if value > 0 else "-∞")
    if abs(value) < _NOTHING:
        return Written(f"{0:.{digits.decimals}f}" if digits.fixed else "0")
    size = Decimal(f"{abs(value):.{CARRIED}g}")
    sign = "-" if value < 0 else "+" if digits.sign else ""
    if digits.powers and not _SMALL <= size < _LARGE:
        return _with_power(size, sign, digits)
    rounded = _rounded(size, _places(size, digits))
    text = f"{rounded:f}"
    return Written((sign if rounded else "") + (_trimmed(text) if digits.trim else text))


def _with_power(size: Decimal, sign: str, digits: Digits) -> Written:
    figures = _FEWEST_FIGURES if digits.decimals is not None and size < 1 else max(digits.figures, _FEWEST_FIGURES)
    exponent = size.adjusted()
    mantissa = _rounded(size.scaleb(-exponent), figures - 1)
    if mantissa >= 10:
        mantissa, exponent = _rounded(mantissa / 10, figures - 1), exponent + 1
    text = f"{mantissa:f}"
    return Written(sign + (_trimmed(text) if digits.trim else text), exponent)


def _places(size: Decimal, digits: Digits) -> int:
    """Decimal places to show; more than asked for where those would round the number to less than two figures."""
    if digits.decimals is None:
        return _for_figures(size, digits.figures)
    rounded = _rounded(size, digits.decimals)
    shown = rounded.adjusted() + digits.decimals + 1 if rounded else 0
    if digits.fixed or rounded == size or shown >= _FEWEST_FIGURES or (digits.decimals == 0 and size >= 1):
        return digits.decimals
    return _for_figures(size, _FEWEST_FIGURES)


def _for_figures(size: Decimal, figures: int) -> int:
    places = max(0, figures - 1 - size.adjusted())
    # 9.996 to three figures is 10.0, not 10.00.
    return max(0, figures - 1 - _rounded(size, places).adjusted())


def _rounded(size: Decimal, places: int) -> Decimal:
    return size.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


@lru_cache(maxsize=4096)
def digits_of(result_id: str, unit: str) -> Digits:
    """The digits of this result, else of this unit, as ``shelf/display.yaml`` says. A result may be named by a glob."""
    table = shelf.display()
    exact, globs = _by_name()
    place, entry = exact.get(result_id, (len(exact) + len(globs), None))
    for earlier, start, pattern, other in globs if result_id else ():
        if earlier < place and result_id.startswith(start) and fnmatchcase(result_id, pattern):
            return _digits(other)
    return _digits(entry if entry is not None else table["units"].get(unit, table["default"]))


@lru_cache(maxsize=1)
def _by_name() -> tuple[dict[str, tuple[int, Any]], list[tuple[int, str, str, Any]]]:
    """The table's names with their places in it, and its globs, each with what stands before its first star: the first
    of the table that fits is the one, and few have to be tried."""
    rows = list(enumerate(shelf.display()["results"].items()))
    globs = [(place, pattern.partition("*")[0], pattern, entry) for place, (pattern, entry) in rows if "*" in pattern]
    return {name: (place, entry) for place, (name, entry) in rows if "*" not in name}, globs


@lru_cache(maxsize=4096)
def stays_metric(result_id: str) -> bool:
    """Whether readers of inches are shown this result in metric units too, as ``shelf/display.yaml`` says."""
    return any(fnmatchcase(result_id, pattern) for pattern in shelf.display()["metric"])


def _digits(entry: Mapping[str, Any]) -> Digits:
    return Digits(**entry)
