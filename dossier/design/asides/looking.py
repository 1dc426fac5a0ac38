"""What the tables of things to see are worked out from: the mirror as it was traced, the air, the eye.

Each is a given or a result of the design, so that a table's working leads to the author's own line.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dossier import shelf
from dossier.design.model import Design
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.shelf.tables import Sized
from dossier.working import Given, Result

_PUPIL = ("aperture_mm", "focal_length_mm", "conic", "obstruction_diameter_mm", "wavelength_nm")
# What an eye tells apart is published; what it finds easy and what it finds soft is custom.
EYE = Given("what an eye tells apart", 1.0, "arcmin", "shelf", source="young-freedman-2016")
EASY = Given("what an eye sees without strain", 2.0, "arcmin", "default", said="common practice, no source")
SOFT = Given("a star’s disc that makes a view soft", 4.0, "arcmin", "default", said="common practice, no source")


@dataclass(frozen=True, slots=True)
class Looking:
    """One telescope under its usual air. ``seeing`` and ``eye_pupil`` are None where the spec is silent.

    ``pupil`` are the inputs of the trace by their parameters' names.
    """

    pupil: Mapping[str, Given | Result]
    rayleigh: Result
    seeing: Given | None
    eye_pupil: Given | None

    @property
    def coarser(self) -> Given | Result | None:
        """What limits detail in the usual air: the seeing, or the aperture where that is less; None where unsaid."""
        if self.seeing is None:
            return None
        return self.seeing if number(self.seeing) > self.rayleigh.number else self.rayleigh


def looking(design: Design) -> Looking:
    """What this design is worked out from."""
    sheet = Worksheet(design.loaded, {})
    inputs = design.results["figure.strehl"].inputs
    return Looking({name: inputs[name] for name in _PUPIL}, design.results["optics.rayleigh_limit"],
                   _said(sheet, "conditions.seeing"), _said(sheet, "conditions.eye_pupil"))


def number(entry: Given | Result) -> float:
    """A single number. TypeError where it is a list."""
    if isinstance(entry.value, tuple):
        raise TypeError(f"{entry.title} is a list")
    return entry.value


def moon_distance() -> Given:
    """The Moon's mean distance."""
    found = shelf.targets()
    return Given("the Moon’s mean distance", found.moon_distance_km, "km", "shelf", source=found.moon.source)


def size_of(thing: Sized) -> Given:
    """The size of a crater or of a planet's detail."""
    return Given(f"{thing.name}, size ({thing.known})", thing.size_km, "km", "shelf", source=thing.source)


def angle(value: float) -> str:
    """An angle in arcseconds as a sentence says it: 0.92″, 2″, 13.8″."""
    return f"{value:.0f}″" if value >= 100 else f"{value:.3g}″"


def listed(names: list[str]) -> str:
    """A, B and C."""
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1]))) if names else ""


def _said(sheet: Worksheet, key: str) -> Given | None:
    try:
        return sheet.given(key)
    except NotSaid:
        return None
