"""Numbers of a design as a figure's lettering: each run carries the result or the key that it prints.

Lengths are written alike whether worked out or typed: a metric one without zeros at its end (ISO 129-1, recalled), an
inch one with three decimals always, as the trade has it. One for which the spec states a tolerance carries it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.numerals import fixed
from dossier.drawings.scene import Words
from dossier.notation import Readers, show, show_result
from dossier.spec.ranges import read_tolerance

if TYPE_CHECKING:
    from dossier.design.model import Design

Runs = tuple[Words, ...]
DIAMETER, RADIUS, TIMES = "⌀\u202f", "R\u202f", "\u202f×\u202f"
PLUS_MINUS = "\u00a0±\u202f"
# Lengths that are off by as much as the one that the author said, and by nothing else.
_FOLLOWS = dict.fromkeys(("frame.tube_length", "frame.pole_length", "frame.sawn_length"), "frame.length")


@dataclass(frozen=True, slots=True)
class Measures:
    """What a design knows as numbers in mm and, for its readers, as figures in their unit."""

    design: Design

    def number(self, name: str) -> float | None:
        """A result's number, in its own unit; None where it is left out."""
        found = self.design.results.get(name)
        return None if found is None else found.number

    def result(self, name: str, *, unit: bool = False) -> Words:
        """A result's figure. KeyError where it is left out."""
        found, readers = self.design.results[name], self.design.build.readers
        shown = show_result(found, readers)
        if unit:
            return Words(shown.plain, result=name)
        if found.unit != "mm":
            return Words(shown.number, result=name)
        tolerance = self.tolerance(_FOLLOWS.get(name, ""))
        return Words(length_as_drawn(shown.number, readers) + self._allowed(tolerance, name), result=name)

    def length(self, length_mm: float, key: str) -> Words:
        """A length that the author said under this key: no zeros that he did not say; in inches as results are."""
        tolerance = self.tolerance(key) if length_mm == self._said(key) else None
        return Words(self._bare(length_mm, key) + self._allowed(tolerance, key), key=key)

    def tolerance(self, key: str) -> float | None:
        """By how many mm the length under this key may be off, where the spec says a limit. A scatter, which a normal
        distribution is, is none."""
        said = self.design.build.tolerances.get(key)
        if said is None:
            return None
        found = read_tolerance(key, said)
        return found.size if found.unit == "mm" and found.size > 0 and not found.normal else None

    def _said(self, key: str) -> object:
        found: object = self.design.build
        for name in key.split("."):
            found = getattr(found, name, None)
        return found

    def _bare(self, length_mm: float, key: str) -> str:
        readers = self.design.build.readers
        if readers.units == "inch":
            return show(length_mm, "mm", result_id=key, readers=readers).number
        return _trimmed(length_mm)

    def _allowed(self, tolerance_mm: float | None, key: str) -> str:
        return "" if tolerance_mm is None else f"{PLUS_MINUS}{self._bare(tolerance_mm, key)}"

    def angle(self, angle_deg: float, key: str) -> Words:
        """An angle with its sign for degrees."""
        return Words(f"{_trimmed(angle_deg)}°", key=key)

    @property
    def unit(self) -> str:
        """The unit of every length, in words."""
        return "inches" if self.design.build.readers.units == "inch" else "millimetres"

    def dimensions_note(self) -> Runs:
        """The note that says in which unit lengths are printed."""
        return (Words(f"Dimensions in {self.unit}."),)


def length_as_drawn(number: str, readers: Readers) -> str:
    """The figure of a length in its readers' unit as a drawing has it: 1032.0 mm is 1032."""
    return number if readers.units == "inch" or "." not in number else number.rstrip("0").rstrip(".")


def auxiliary(*pieces: Words | str) -> Runs:
    """A dimension that follows from others, in brackets: nobody works to it (ISO 129-1)."""
    return phrase("(", *pieces, ")")


def _trimmed(value: float) -> str:
    text = fixed(value, 2)
    return text.rstrip("0").rstrip(".") if "." in text else text


def plain(runs: Runs) -> str:
    """Lettering as it reads."""
    return "".join(run.text for run in runs)


def phrase(*pieces: Words | str) -> Runs:
    """Lettering of words and figures."""
    return tuple(Words(piece) if isinstance(piece, str) else piece for piece in pieces)


def sentence(*pieces: Words | str, first: Callable[[str], str] = str.capitalize) -> Runs:
    """A phrase that begins with a capital and ends with a full stop."""
    runs = phrase(*pieces)
    begin = Words(first(runs[0].text[:1]) + runs[0].text[1:], result=runs[0].result, key=runs[0].key)
    return (begin, *runs[1:], Words("."))
