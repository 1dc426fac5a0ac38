"""Text with a unit ↔ a number in one canonical unit. The only place where units are told apart.

Number and unit are split here; the unit library sees only unit words from a fixed list, never an expression.
"""

from __future__ import annotations

import math
import re
import unicodedata
from functools import lru_cache

from dossier.spec import unit_text
from dossier.working import UNITS

EXAMPLES = {
    "": "0.88", "percent": "12 %", "mm": "150 mm", "nm": "550 nm", "um": "12 um", "m": "2 m", "mm2": "40 mm^2",
    "mm3": "900 mm^3", "m2": "0.2 m^2", "deg": "50 deg", "arcmin": "30 arcmin", "arcsec": "2 arcsec",
    "rad": "0.1 rad", "urad": "50 urad", "kg": "1.2 kg", "g": "340 g", "degc": "20 degC", "k": "5 K",
    "n": "4 N", "n_per_mm": "0.8 N/mm", "n_mm": "500 N mm", "n_m": "2 N m", "mpa": "180 MPa", "gpa": "64 GPa",
    "kg_per_m3": "2230 kg/m^3", "per_k": "3.3e-6 1/K", "w_per_m_k": "1.14 W/m/K", "w_per_m2_k": "8 W/m^2/K",
    "j_per_kg_k": "830 J/kg/K", "s": "30 s", "min": "40 min", "h": "2 h", "hz": "12 Hz", "wave": "0.25 wave",
    "mag": "12.5 mag", "money": "42.00",
}
_NOUNS = {
    "": "a pure number", "mm": "a length", "mm2": "an area", "mm3": "a volume", "mm4": "a second moment of area",
    "deg": "an angle", "kg": "a mass", "degc": "a temperature", "n": "a force", "n_per_mm": "a spring rate",
    "n_m": "a torque", "gpa": "a pressure or modulus", "kg_per_m3": "a density", "per_k": "an expansion per kelvin",
    "w_per_m_k": "a conductivity", "w_per_m2_k": "a heat transfer", "j_per_kg_k": "a heat capacity", "s": "a time",
    "hz": "a frequency", "mag": "a magnitude", "wave": "a number of waves", "m_per_s": "a speed",
    "money": "a bare price", "per_mm": "an inverse length",
}
LONGEST_TEXT = 80
# Nothing a builder measures lies outside these, in the canonical unit; inside them no product of a few overflows.
MOST, LEAST = 1e12, 1e-15

_DECIMAL = r"(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_NUMBER = re.compile(rf"([-+]?)(?:(\d+)[ -]+(\d+)/(\d+)|(\d+)/(\d+)|({_DECIMAL}))")
_COMMA = re.compile(r"[-+]?\d[\d.]*,\d")
_NOT_FINITE = re.compile(r"[-+]?\.?(?:nan|inf|infinity)\b", re.IGNORECASE)
_FRACTION_SLASH = "\N{FRACTION SLASH}"


def parse(text: object, unit_ending: str, example: str = "") -> float:
    """The number that a text such as ``1 1/4 in`` says, in the unit of ``unit_ending`` (a key of working.UNITS).

    ``example`` is shown in messages. Raises ValueError with a plain message that quotes what was said.
    """
    such_as = example or example_of(unit_ending)
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise ValueError(f"{_wants(unit_ending, such_as)} (got {shorten(text)})")
    if not isinstance(text, str):
        return _bare(text, unit_ending, such_as)
    number, unit = split(text, f"{_wants(unit_ending, such_as)}")
    if not unit:
        return _bounded(number, text) if unit_ending in {"", "money"} else _bare_text(text, such_as)
    return _bounded(_converted(number, unit, unit_ending, text, such_as), text)


def split(text: str, wants: str = "wants a number and a unit") -> tuple[float, str]:
    """A text cut into its number and the text of its unit (empty where there is none). ValueError as ``parse``."""
    plain = _plain(text)
    got = f"(got {shorten(text)})"
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"is too long for a number and a unit {got}")
    if _NOT_FINITE.match(plain):
        raise ValueError(f"must be a finite number {got}")
    if _COMMA.match(plain):
        raise ValueError(f"has a comma in its number; write a decimal point and no mark for thousands {got}")
    match = _NUMBER.match(plain)
    if not match:
        raise ValueError(f"{wants} {got}")
    return _number(match, got), plain[match.end():].strip()


def example_of(unit_ending: str) -> str:
    """A text that ``parse`` accepts for this unit."""
    return EXAMPLES.get(unit_ending) or f"2 {UNITS[unit_ending].text}"


def shorten(said: object, most: int = 48) -> str:
    """What was said, short enough for one line of a message."""
    text = " ".join(_as_written(said).split())
    return text if len(text) <= most else text[: most - 1] + "…"


def _as_written(said: object) -> str:
    if isinstance(said, bool):
        return "true" if said else "false"
    if isinstance(said, dict):
        return "a map"
    if isinstance(said, (list, tuple)):
        return "a list"
    return "nothing" if said is None else str(said) or "an empty text"


def _plain(text: str) -> str:
    """One line, with typographic signs and vulgar fractions (``1½``) in plain form."""
    spread = "".join(
        f" {unicodedata.normalize('NFKC', sign)}" if _FRACTION_SLASH in unicodedata.normalize("NFKC", sign) else sign
        for sign in text[: LONGEST_TEXT + 1]
    )
    return " ".join(unit_text.plain_signs(spread).replace(_FRACTION_SLASH, "/").split())


def _number(match: re.Match[str], got: str) -> float:
    sign, whole, above, below, over, under, decimal = match.groups()
    if decimal:
        size = float(decimal)
    else:
        top, bottom = float(above or over), float(below or under)
        if bottom == 0:
            raise ValueError(f"has a fraction with zero below the line {got}")
        size = float(whole or 0) + top / bottom
    if not math.isfinite(size):
        raise ValueError(f"is too large to work with {got}")
    return -size if sign == "-" else size


def _bare(value: float, unit_ending: str, such_as: str) -> float:
    said = shorten(value)
    if isinstance(value, float) and not math.isfinite(value):
        raise ValueError(f"must be a finite number (got {said})")
    if not -MOST <= value <= MOST:
        raise ValueError(f"is too large to work with (got {said})")
    if unit_ending in {"", "money"}:
        return _bounded(float(value), said)
    return _bare_text(said, such_as)


def _bare_text(said: str, such_as: str) -> float:
    raise ValueError(f"needs a unit, such as {such_as} (got {shorten(said)})")


def _bounded(value: float, said: str) -> float:
    if not abs(value) <= MOST:
        raise ValueError(f"is too large to work with (got {shorten(said)})")
    if 0 < abs(value) < LEAST:
        raise ValueError(f"is too small to work with (got {shorten(said)})")
    return value


def _converted(number: float, unit: str, unit_ending: str, said: str, such_as: str) -> float:
    wanted_unit = UNITS[unit_ending].text if unit_ending != "money" else "1"
    try:
        scale, offset = _conversion(unit, "" if wanted_unit == "1" else wanted_unit)
    except ValueError as error:
        what, dash, hint = str(error).partition(" — ")
        raise ValueError(f"{what}, {_wants(unit_ending, such_as)} (got {shorten(said)}){dash}{hint}") from None
    if not offset and unit_ending != "degc":
        return number if scale == 1 else float(f"{number * scale:.15g}")  # 6 in is 152.4 mm, not 152.39999999999998
    celsius = round(number * scale + offset, 9)
    if celsius < -273.15:
        raise ValueError(f"is below absolute zero (got {shorten(said)})")
    return celsius


@lru_cache(maxsize=512)
def _conversion(unit: str, wanted: str) -> tuple[float, float]:
    """Scale and offset that turn a number of one unit into the other. ValueError where the kinds differ."""
    said_factors, wanted_factors = unit_text.factors(unit, wanted), unit_text.factors(wanted) if wanted else ()
    if said_factors == wanted_factors:
        return 1.0, 0.0
    has, wants = unit_text.of_factors(said_factors), unit_text.of_factors(wanted_factors)
    if has.dimensionality != wants.dimensionality:
        raise ValueError(f"is {_noun(unit)}")
    registry = unit_text.registry()
    nought, one = (float(registry.Quantity(number, has).to(wants).magnitude) for number in (0.0, 1.0))
    return one - nought, nought


@lru_cache(maxsize=64)
def _noun(unit: str) -> str:
    has = unit_text.as_unit(unit).dimensionality
    for ending, noun in _NOUNS.items():
        text = "1" if ending == "money" else UNITS[ending].text
        if unit_text.of_factors(() if text == "1" else unit_text.factors(text)).dimensionality == has:
            return noun
    return f"in {unit}"


def _wants(unit_ending: str, such_as: str) -> str:
    noun = _NOUNS.get(unit_ending) or next((noun for ending, noun in _NOUNS.items() if _alike(ending, unit_ending)),
                                           "a number with a unit")
    return f"wants {noun} such as {such_as}"


def _alike(ending: str, other: str) -> bool:
    angles = {"deg", "rad", "arcmin", "arcsec", "urad"}
    if ending in angles or other in angles:
        return ending in angles and other in angles
    return ending not in {"", "mag", "wave", "money"} and UNITS[ending].dimension == UNITS[other].dimension
