"""The text of a unit, checked word by word, so that nothing unchecked reaches the unit library."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from dossier.errors import did_you_mean

if TYPE_CHECKING:
    import pint

# Base units mm, kg, s, K, rad keep the usual conversions exact. A temperature scale has an offset and may stand alone
# only; inside a compound unit a degree is a difference, hence the two units of difference.
_DEFINITIONS = {
    "mm": "[length]", "nm": "1e-6 mm", "um": "1e-3 mm", "cm": "10 mm", "dm": "100 mm", "m": "1000 mm",
    "km": "1e6 mm", "au": "1.495978707e14 mm", "dioptre": "1e-3 / mm",
    "inch": "25.4 mm", "thou": "0.0254 mm", "foot": "304.8 mm", "kg": "[mass]", "g": "1e-3 kg", "mg": "1e-6 kg",
    "pound": "0.45359237 kg", "ounce": "0.028349523125 kg", "s": "[time]", "minute": "60 s", "hour": "3600 s",
    "kelvin": "[temperature]; offset: 0", "celsius": "kelvin; offset: 273.15",
    "fahrenheit": "0.5555555555555556 * kelvin; offset: 255.3722222222222", "celsius_difference": "kelvin",
    "fahrenheit_difference": "0.5555555555555556 * kelvin", "rad": "[angle]", "mrad": "1e-3 rad", "urad": "1e-6 rad",
    "deg": "0.017453292519943295 rad", "arcmin": "0.0002908882086657216 rad", "arcsec": "4.84813681109536e-06 rad",
    "newton": "kg * m / s ** 2", "mn": "1e-3 newton", "kn": "1e3 newton", "pound_force": "4.4482216152605 newton",
    "ounce_force": "0.27801385095378125 newton", "kilogram_force": "9.80665 newton", "pascal": "newton / m ** 2",
    "kpa": "1e3 pascal", "mpa": "1e6 pascal", "gpa": "1e9 pascal", "psi": "pound_force / inch ** 2", "ksi": "1e3 psi",
    "mpsi": "1e6 psi", "joule": "newton * m", "kj": "1e3 joule", "watt": "joule / s", "hertz": "1 / s",
    "cycle": "[cycle]", "wave": "[wave]", "magnitude": "[magnitude]", "percent": "0.01",
}
_SPELLINGS = {
    "mm": "mm millimetre millimetres millimeter millimeters", "nm": "nm nanometre nanometres nanometer nanometers",
    "um": "um µm micron microns micrometre micrometres", "cm": "cm centimetre centimetres centimeter centimeters",
    "dm": "dm", "m": "m metre metres meter meters", "km": "km", "au": "au", "dioptre": "dpt dioptre dioptres",
    "inch": "in inch inches", "thou": "thou mil", "foot": "ft foot feet",
    "kg": "kg kilogram kilograms", "g": "g gram grams", "mg": "mg", "pound": "lb lbs pound pounds",
    "ounce": "oz ounce ounces",
    "s": "s sec second seconds", "minute": "min minute minutes", "hour": "h hr hour hours",
    "kelvin": "K kelvin", "celsius": "degC °C celsius", "fahrenheit": "degF °F fahrenheit",
    "rad": "rad radian radians", "mrad": "mrad", "urad": "urad µrad", "deg": "deg ° degree degrees",
    "arcmin": "arcmin ′ arcminute arcminutes", "arcsec": "arcsec ″ arcsecond arcseconds",
    "newton": "N newton newtons", "mn": "mN", "kn": "kN", "pound_force": "lbf", "ounce_force": "ozf",
    "kilogram_force": "kgf",
    "pascal": "Pa", "kpa": "kPa", "mpa": "MPa", "gpa": "GPa", "psi": "psi", "ksi": "ksi", "mpsi": "Mpsi",
    "joule": "J", "kj": "kJ", "watt": "W watt watts", "hertz": "Hz", "cycle": "cycle cycles",
    "wave": "wave waves λ", "magnitude": "mag", "percent": "% percent",
}
UNIT_WORDS = {word: name for name, words in _SPELLINGS.items() for word in words.split()}

_SCALES = {"celsius": "celsius_difference", "fahrenheit": "fahrenheit_difference"}
_SIGNS = str.maketrans({"μ": "µ", "−": "-", "⁻": "-", "·": "*", "⋅": "*", "×": "*", "⁰": "0", "¹": "1", "²": "2",
                        "³": "3", "⁴": "4", "º": "°", "\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " ",
                        "\N{THIN SPACE}": " ", "’": "′", "”": "″"})
_PIECE = re.compile(r"(?P<power>(?:\^|\*\*)?-?\d+)|"
                    r"\s*(?:(?P<word>[^\W\d_]+|°[CF]?|[%′″])|(?P<number>\d+)|(?P<mark>[*/()]))")
_HIGHEST_POWER = 4
_ASIDES = {"C": "degC", "F": "degF", '"': "in", "'": "ft", "″": "in", "′": "ft", "u": "um", "#": "lb", "Nm": "N m"}

Factors = tuple[tuple[str, int], ...]


@lru_cache(maxsize=1)
def registry() -> pint.UnitRegistry[float]:
    """The units of this program that were used so far: ``of_factors`` adds each when it is first met.

    The library's own list would take sixty times as long to load, and all of ours five times as long as the few that a
    spec uses.
    """
    import pint

    return pint.UnitRegistry(None)


@cache
def _define(name: str) -> None:
    for word in re.findall(r"[a-z_]+", _DEFINITIONS[name]):
        if word in _DEFINITIONS and f"[{word}]" not in _DEFINITIONS[name]:
            _define(word)
    registry().define(f"{name} = {_DEFINITIONS[name]}")


def plain_signs(text: str) -> str:
    """The text with typographic signs (superscripts, minus, micro, dots) in their plain form."""
    return text.translate(_SIGNS)


def factors(text: str, wanted: str = "") -> Factors:
    """The unit as (name in the registry, power) pairs: ``W/(m^2 K)`` gives watt 1, m −2, kelvin −1.

    ValueError where a word is no unit or the text has no such form; ``wanted`` is shown as the form to write.
    """
    pieces = list(_pieces(plain_signs(text), wanted))
    found, end = _product(pieces, 0, 1)
    if end != len(pieces) or not pieces:
        raise ValueError(f"has a unit that cannot be read, '{text.strip()}'")
    if found in ([("celsius", 1)], [("fahrenheit", 1)]):
        return tuple(found)
    return tuple((_SCALES.get(name, name), power) for name, power in found)


@lru_cache(maxsize=512)
def as_unit(text: str) -> pint.Unit:
    """The checked unit in the registry. ValueError as ``factors``."""
    return of_factors(factors(text))


def of_factors(pairs: Factors) -> pint.Unit:
    """These factors multiplied, in the registry."""
    from pint.util import UnitsContainer

    powers: dict[str, int] = {}
    for name, power in pairs:
        _define(name)
        powers[name] = powers.get(name, 0) + power
    return registry().Unit(UnitsContainer(powers))


def _pieces(text: str, wanted: str) -> Iterator[tuple[str, str]]:
    at = 0
    text = text.rstrip()
    while at < len(text):
        match = _PIECE.match(text, at)
        if not match or not match.lastgroup:
            raise ValueError(f"has a unit that cannot be read, '{text.strip()}'{_aside(text.strip())}")
        kind, word = match.lastgroup, match[match.lastgroup]
        if kind == "word" and word not in UNIT_WORDS:
            raise ValueError(f"has an unknown unit, '{word}'{_nearest(word, wanted)}")
        yield kind, word
        at = match.end()


def _nearest(word: str, wanted: str) -> str:
    if _aside(word):
        return _aside(word)
    if wanted in UNIT_WORDS and len(word) <= 3 and word[0].casefold() == wanted[0].casefold():
        return f" — did you mean '{wanted}'?"
    same = [known for known in UNIT_WORDS if known.casefold() == word.casefold()]
    if same:
        return f" — did you mean '{same[0]}'?"
    return did_you_mean(word, UNIT_WORDS)


def _aside(word: str) -> str:
    return f" — did you mean '{_ASIDES[word]}'?" if word in _ASIDES else ""


def _product(pieces: list[tuple[str, str]], at: int, sign: int) -> tuple[list[tuple[str, int]], int]:
    """Factors from ``at`` to the end or a closing bracket, read from left to right, and where they end."""
    found: list[tuple[str, int]] = []
    turn = sign
    while at < len(pieces) and pieces[at] != ("mark", ")"):
        kind, word = pieces[at]
        if (kind, word) in {("mark", "/"), ("mark", "*")}:
            turn = -sign if word == "/" else sign
            at += 1
            if at == len(pieces) or pieces[at] in {("mark", "/"), ("mark", "*"), ("mark", ")")}:
                raise ValueError("has a unit with a sign that leads nowhere")
            continue
        inner, at = _factor(pieces, at, turn)
        found += inner
        turn = sign
    return found, at


def _factor(pieces: list[tuple[str, str]], at: int, sign: int) -> tuple[list[tuple[str, int]], int]:
    kind, word = pieces[at]
    if (kind, word) == ("mark", "("):
        inner, end = _product(pieces, at + 1, sign)
        if end == len(pieces):
            raise ValueError("has a unit with a bracket that is not closed")
        return inner, end + 1
    if kind in {"power", "number"}:
        if word != "1":
            raise ValueError("has a second number where its unit should be")
        return [], at + 1
    if kind != "word":
        raise ValueError("has a unit that cannot be read")
    power = 1
    if at + 1 < len(pieces) and pieces[at + 1][0] == "power":
        at += 1
        power = int(pieces[at][1].lstrip("^*"))
        if not 0 < abs(power) <= _HIGHEST_POWER:
            raise ValueError(f"has a unit raised to {power}")
    return [(UNIT_WORDS[word], sign * power)], at + 1
