"""Numbers of a design as a figure's lettering: each run carries the result or the key that it prints."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.numerals import fixed
from dossier.drawings.scene import Words
from dossier.notation import show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

Runs = tuple[Words, ...]
DIAMETER, RADIUS, TIMES = "⌀\u202f", "R\u202f", "\u202f×\u202f"


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
        shown = show_result(self.design.results[name], self.design.build.readers)
        return Words(shown.plain if unit else shown.number, result=name)

    def length(self, length_mm: float, key: str) -> Words:
        """A length that the author said under this key: no zeros that he did not say; in inches as results are."""
        readers = self.design.build.readers
        if readers.units == "inch":
            return Words(show(length_mm, "mm", result_id=key, readers=readers).number, key=key)
        return Words(_trimmed(length_mm), key=key)

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
