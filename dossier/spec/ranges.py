"""Ranges of a key, as an author or a command says them: ``900 mm:1500 mm:50 mm``, or ``25 mm, 31 mm, 35 mm``.

And how far a builder's value may lie from the one said: ``6 mm``, anywhere within; ``6 mm normal``, a normal
distribution of which 6 mm is two standard deviations. As entries, both go without what a dataclass can do beyond its
``__init__``: a check reads them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.spec import keys
from dossier.spec.entries import Entry, Quantity, Section, Several, Whole, WordOr
from dossier.spec.quantities import example_of, parse, shorten

# A range of more values than this is a slip of the pen.
MOST_VALUES = 10_000
_NORMAL, _UNIFORM = "normal", "uniform"


@dataclass(eq=False, repr=False)
class Range:
    """The values of one key, in the unit that the key is kept in, in the order in which they were said."""

    key: str
    unit: str
    values: tuple[float, ...]


@dataclass(eq=False, repr=False)
class Tolerance:
    """How far a builder's value may lie from the one said, in ``unit``. ``normal``: a normal distribution of which
    ``size`` is two standard deviations; otherwise any value within is as likely as another."""

    key: str
    size: float
    unit: str
    normal: bool

    @property
    def deviation(self) -> float:
        """The standard deviation."""
        return self.size / 2 if self.normal else self.size / math.sqrt(3)


def number_entry(key: str) -> Quantity | Whole | None:
    """The entry that reads a number at this key; None where no number stands there. KeyError for an unknown key."""
    entry: Entry | Section = keys.find(key).entry
    if isinstance(entry, WordOr):
        entry = entry.other
    if isinstance(entry, Several) and isinstance(keys.split_key(key)[-1], int):
        entry = entry.of
    return entry if isinstance(entry, (Quantity, Whole)) else None


def read_range(key: str, said: object) -> Range:
    """The values of a range. ValueError, with a message that follows the key, where it is none."""
    entry = number_entry(_known(key))
    if entry is None:
        raise ValueError("is no number; name a key that holds one number, or a choice of a part")
    unit = keys.unit_of_key(key)
    such_as = f"FROM:TO:STEP such as {_sample(entry, unit)}, or values with commas between"
    if isinstance(said, bool) or not isinstance(said, str):
        raise ValueError(f"wants {such_as} (got {shorten(said)})")
    if ":" in said:
        return Range(key, unit, tuple(_steps(said, unit, such_as)))
    if "," not in said:
        raise ValueError(f"wants {such_as} (got {shorten(said)})")
    pieces = said.split(",")
    if len(pieces) > MOST_VALUES:
        raise ValueError(f"has {len(pieces)} values, of which at most {MOST_VALUES} can be worked out")
    values = tuple(parse(piece.strip(), unit) for piece in pieces)
    if len(set(values)) < len(values):
        raise ValueError(f"names a value twice (got {shorten(said)})")
    return Range(key, unit, values)


def read_tolerance(key: str, said: object) -> Tolerance:
    """A tolerance. ValueError, with a message that follows the key, where it is none; KeyError for an unknown key."""
    if not isinstance(number_entry(key), Quantity):
        raise ValueError("has no tolerance; name one of its values")
    unit = _of_difference(keys.unit_of_key(key))
    words = said.split() if isinstance(said, str) else []
    shape = words[-1].casefold() if len(words) > 1 else ""
    kept: object = said[:said.rindex(words[-1])].strip(" ,") if shape in (_NORMAL, _UNIFORM) and isinstance(
        said, str) else said
    number = Quantity("Tolerance.", "", unit, "not negative").read(kept)
    return Tolerance(key, number, unit, shape == _NORMAL)


def size_of(ranges: Iterator[Range]) -> int:
    """How many points the values of several ranges make together."""
    return math.prod(len(each.values) for each in ranges)


def _known(key: str) -> str:
    try:
        keys.find(key)
    except KeyError as error:
        raise ValueError(str(error.args[0]).removeprefix(f"{shorten(key)} ")) from None
    return key


def _steps(said: str, unit: str, such_as: str) -> Iterator[float]:
    pieces = [piece.strip() for piece in said.split(":")]
    if len(pieces) != 3 or not all(pieces):
        raise ValueError(f"wants {such_as} (got {shorten(said)})")
    low, high = parse(pieces[0], unit), parse(pieces[1], unit)
    step = parse(pieces[2], _of_difference(unit))
    if not step > 0:
        raise ValueError(f"needs a step above zero (got {shorten(said)})")
    if not high > low:
        raise ValueError(f"must run from the smaller to the larger value (got {shorten(said)})")
    # A part of a billionth of a step is the rounding of binary fractions.
    count = math.floor((high - low) / step + 1e-9) + 1
    if count > MOST_VALUES:
        raise ValueError(f"has {count} values, of which at most {MOST_VALUES} can be worked out (got {shorten(said)})")
    return (float(f"{low + index * step:.12g}") for index in range(count))


def _of_difference(unit: str) -> str:
    return "k" if unit == "degc" else unit


def _sample(entry: Quantity | Whole, unit: str) -> str:
    if isinstance(entry, Whole):
        return "3:9:3"
    return {"mm": "900mm:1500mm:50mm", "": "-1:0:0.1", "money": "40:80:10"}.get(
        unit, ":".join(3 * [example_of(unit).replace(" ", "")]))
