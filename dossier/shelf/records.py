"""What stands on the shelf: one frozen record for each kind of entry."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from typing import Literal

Known = Literal["read", "worked", "recalled"]
Kind = Literal["book", "paper", "standard", "web", "practice"]

# Each property of a material and the ending (a key of ``working.UNITS``) of the unit its data stand in.
PROPERTIES: Mapping[str, str] = {
    "youngs_modulus": "gpa",
    "shear_modulus": "gpa",
    "poissons_ratio": "",
    "density": "kg_per_m3",
    "expansion": "per_k",
    "conductivity": "w_per_m_k",
    "heat_capacity": "j_per_kg_k",
    "softens_at": "degc",
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a statement comes from. ``known`` tells how: read, worked (computed from it) or recalled (from memory)."""

    key: str
    title: str
    kind: Kind
    known: Known
    author: str = ""
    year: str = ""
    publisher: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Datum:
    """One property of one material, in the unit of ``PROPERTIES``, with the key of its source."""

    value: float
    source: str
    known: Known
    note: str = ""


@dataclass(frozen=True, slots=True)
class Material:
    """A glass, metal, wood, board, plastic or composite. A property without a source is left out: None."""

    key: str
    name: str
    kind: Literal["glass", "metal", "wood", "board", "plastic", "composite"]
    notes: tuple[str, ...] = ()
    youngs_modulus: Datum | None = None
    shear_modulus: Datum | None = None
    poissons_ratio: Datum | None = None
    density: Datum | None = None
    expansion: Datum | None = None
    conductivity: Datum | None = None
    heat_capacity: Datum | None = None
    softens_at: Datum | None = None

    def data(self) -> Mapping[str, Datum]:
        """The properties that are known, by the names of ``PROPERTIES``."""
        found = {name: getattr(self, name) for name in PROPERTIES}
        return {name: datum for name, datum in found.items() if datum is not None}


@dataclass(frozen=True, slots=True)
class Limit:
    """A usual limit of the trade on one result, or on every result whose ID fits the pattern ``result``.

    The limit is one of ``number`` (in the result's own unit), ``key`` (what the spec says there) and ``other`` (the
    value of that result), times ``times``. It holds only where the spec has the values in ``when``.
    ``cures`` are spec keys that may be varied to find what would put a miss right.
    """

    result: str
    sense: Literal["at_least", "at_most"]
    because: str
    source: str
    number: float | None = None
    key: str = ""
    other: str = ""
    times: float = 1.0
    when: Mapping[str, float | str | bool] = field(default_factory=dict)
    cures: tuple[str, ...] = ()

    def speaks_of(self, result_id: str) -> bool:
        """Whether this limit is one on the result with this ID."""
        if "*" not in self.result:
            return result_id == self.result
        return result_id.startswith(self.result.partition("*")[0]) and fnmatchcase(result_id, self.result)


@dataclass(frozen=True, slots=True)
class Occasion:
    """What in a build calls a caution up: a part's material, how it is got, its group, or a word in what is said.

    ``aside`` are turns of phrase that hold such a word and mean no work with the thing.
    """

    materials: tuple[str, ...] = ()
    gets: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()

    def named_in(self, text: str) -> bool:
        """Whether the text holds one of the words, whole and in any case. A hyphen or a plural s may follow."""
        return any(re.search(_whole(word), text, re.IGNORECASE) for word in self.words)

    def meant_in(self, text: str) -> bool:
        """The same, but for what is only said in passing."""
        if not self.named_in(text):
            return False
        text = " ".join(text.split())
        for phrase in self.aside:
            text = re.sub(_whole(phrase), " ", text, flags=re.IGNORECASE)
        return self.named_in(text)


def _whole(words: str) -> str:
    return rf"(?<!\w){re.escape(words)}s?(?!\w)"


@dataclass(frozen=True, slots=True)
class Caution:
    """What can happen and to whom, what to do, who says so. ``always``: every telescope needs it."""

    topic: str
    title: str
    can_happen: str
    do: tuple[str, ...]
    defer: str
    authority: tuple[str, ...]
    protects: str
    always: bool = False
    when: Occasion = Occasion()


@dataclass(frozen=True, slots=True)
class Thread:
    """A coarse ISO metric thread, the holes that belong to it, its nut's width across flats; lengths in mm,
    ``stress_area`` in mm²."""

    name: str
    diameter: float
    pitch: float
    stress_area: float
    tapping_drill: float
    clearance_fine: float
    clearance_medium: float
    clearance_coarse: float
    across_flats: float


@dataclass(frozen=True, slots=True)
class ThreadTable:
    """The threads by name (``M6``), and for each column the key of its source."""

    threads: Mapping[str, Thread]
    sources: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class SymbolEntry:
    """How a word of the rules is written: a letter, what stands below it, what it means."""

    symbol: str
    sub: str
    meaning: str
