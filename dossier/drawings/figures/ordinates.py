"""Stations of what a cut-off view shows: each with an extension line and its figure, from an origin outside the view.

ISO 129-1 allows running dimensions without a line where there is no room for one; the note under the figure says where
the origin is. Figures that would touch are moved apart, and their extension lines bend with them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dossier.drawings.dimension import CLEAR, GAP
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import ASCENT, CAPITALS, DESCENT
from dossier.drawings.running import apart
from dossier.drawings.scene import THIN, Group, Medium, Pen, Point, Polyline, Text


@dataclass(frozen=True, slots=True)
class Station:
    """A place to be told: ``along`` the side that it is told on, the ``foot`` out there where its line starts."""

    name: str
    along: float
    foot: float
    runs: Runs


def ordinates(stations: Sequence[Station], side: Literal["below", "right"], level: float,
              medium: Medium) -> list[Group]:
    """The stations on one side, their lines running out to ``level`` (y below, x on the right) and then bending."""
    size = medium.lettering
    # ``apart`` takes what is farthest down, or farthest right, first.
    ordered = sorted(stations, key=lambda station: -station.along)
    places = apart([station.along for station in ordered], size * (ASCENT + DESCENT + CLEAR))
    stems: list[float] = []
    for station in ordered:
        # Lines that would run into one another are one, which forks.
        alone = not stems or stems[-1] - station.along > 0.25 * size
        stems.append(station.along if alone else stems[-1])
    return [_drawn(station, stem, place, side, level, medium)
            for station, stem, place in zip(ordered, stems, places, strict=True)]


def _drawn(station: Station, stem: float, place: float, side: Literal["below", "right"], level: float,
           medium: Medium) -> Group:
    size = medium.lettering
    bend, end = level + 0.6 * size, level + 1.2 * size
    line: tuple[Point, ...] = ((stem, station.foot + GAP * size), (stem, level), (place, bend), (place, end))
    if stem != station.along:
        line = line[1:]
    middle = place + CAPITALS * size / 2
    if side == "below":
        text = Text((middle, end + GAP * size), station.runs, "end", turned=True)
    else:
        text = Text((end + GAP * size, middle), station.runs)
        line = tuple((out, along) for along, out in line)
    return Group((Polyline(line, Pen(THIN), data={"line": "extension"}), text),
                 {"station": station.name, "side": side})
