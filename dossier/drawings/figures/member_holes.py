"""The holes of a tube or a pole: where each is, in which direction, how wide, and the sentence that says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier.drawings.figures.measures import DIAMETER, Measures, Runs, phrase
from dossier.drawings.scene import Words

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_structure import Hole

_LETTERS = "ABCDEFGHJKLMNPRTUVWY"


@dataclass(frozen=True, slots=True)
class Drilled:
    """A row of holes at one distance from an end.

    ``at`` is from the lower end, in mm; ``upper`` tells that the distance printed is from the upper end. ``angles_deg``
    are counted clockwise seen from the sky, from the focuser's side (a pole's outer side); empty where nobody says
    them. ``diameter``, and ``size`` that prints it, are None where only the place is known. ``unturned`` is how many
    there are where no angle is said.
    """

    letter: str
    name: str
    at: float
    upper: bool
    distance: Words
    diameter: float | None
    angles_deg: tuple[float, ...]
    through: bool
    note: Runs
    size: Words | None = None
    unturned: int = 1

    @property
    def count(self) -> int:
        """How many are drilled: one through both walls is one."""
        return len(self.angles_deg) or self.unturned

    @property
    def walls_deg(self) -> tuple[float, ...]:
        """The directions of every hole in a wall: a hole through both has two."""
        both = [angle + turn for angle in self.angles_deg for turn in ((0.0, 180.0) if self.through else (0.0,))]
        return tuple(sorted({round(angle % 360, 6) for angle in both}))


def holes_of(design: Design, measures: Measures, length: float) -> tuple[Drilled, ...]:
    """Every row of holes that is known, lettered from the lower end up."""
    rows = [*_optical(design, measures), *_own(design, measures, length)]
    ordered = sorted((row for row in rows if 0 < row.at < length), key=lambda row: row.at)
    return tuple(_lettered(row, letter) for row, letter in zip(ordered, _LETTERS, strict=False))


def _lettered(row: Drilled, letter: str) -> Drilled:
    note = (Words(f"{letter}: "), *row.note, Words("."))
    return replace(row, letter=letter, note=note)


def _optical(design: Design, measures: Measures) -> Iterator[Drilled]:
    """A tube's holes for focuser and spider."""
    focuser, spider = design.build.focuser, design.build.spider
    at = measures.number("frame.focuser_hole")
    if at is not None:
        size = measures.length(focuser.hole, "focuser.hole") if focuser.hole else None
        wide = phrase(DIAMETER, size) if size else phrase("as wide as the focuser asks")
        yield Drilled("", "frame.focuser_hole", at, False, measures.result("frame.focuser_hole"), focuser.hole, (0.0,),
                      False, phrase("focuser’s axis, ", *wide, ", at 0°"), size)
    at = measures.number("frame.spider_holes")
    if at is not None and spider:
        count = spider.vanes or 0
        angles = (tuple(spider.turned + 360 * index / count for index in range(count))
                  if spider.turned is not None and count else ())
        size = measures.length(spider.hole, "spider.hole") if spider.hole else None
        wide = phrase(DIAMETER, size) if size else phrase("screw holes")
        first = (phrase(", the first at ", measures.angle(spider.turned % 360, "spider.turned"), ", evenly spaced")
                 if angles and spider.turned is not None else phrase(", at angles that are not said"))
        many = phrase(Words(str(count), key="spider.vanes"), "\u202f×\u202f") if count else ()
        yield Drilled("", "frame.spider_holes", at, False, measures.result("frame.spider_holes"), spider.hole, angles,
                      False, phrase("spider, ", *many, *wide, *first), size, count or 1)


def _own(design: Design, measures: Measures, length: float) -> Iterator[Drilled]:
    """The holes that the author lists."""
    frame = design.build.frame
    for place, hole in enumerate(frame.holes if frame else ()):
        upper = hole.end == "upper"
        key = f"frame.holes[{place}]"
        at = length - hole.from_end if upper else hole.from_end
        yield Drilled("", f"{key}.from_end", at, upper, measures.length(hole.from_end, f"{key}.from_end"),
                      hole.diameter, (hole.turned or 0.0,), bool(hole.through), _said(hole, key, measures),
                      measures.length(hole.diameter, f"{key}.diameter"))


def _said(hole: Hole, key: str, measures: Measures) -> Runs:
    through = ", through both walls" if hole.through else ", through one wall"
    turned = (phrase(", at ", measures.angle(hole.turned % 360, f"{key}.turned"))
              if hole.turned is not None else phrase(""))
    what = (Words(f", for {hole.for_}", key=f"{key}.for"),) if hole.for_ else ()
    return phrase(DIAMETER, measures.length(hole.diameter, f"{key}.diameter"), through, *turned, *what)
