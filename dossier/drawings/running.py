"""Running dimensions after ISO 129-1: one line from a common origin, an arrowhead and a figure at each place.

They take far less room than dimensions side by side, which suits a narrow screen. Here they run upwards, on the right
of what they measure, with their figures level so that they can be read without turning the head.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.drawings.dimension import CLEAR, GAP
from dossier.drawings.lettering import CAPITALS
from dossier.drawings.scene import THIN, Circle, Group, Medium, Pen, Polyline, Text, Wash, Words


@dataclass(frozen=True, slots=True)
class Place:
    """A point to be dimensioned: ``y`` of the drawing, the ``foot`` x where its extension line starts, its figure."""

    name: str
    y: float
    foot: float
    runs: tuple[Words, ...]


def running(places: Sequence[Place], origin: Place, line_x: float, medium: Medium) -> list[Group]:
    """Dimensions of places above an origin, on a line at ``line_x``; figures that would touch are moved apart."""
    pen, size, arrow = Pen(THIN), medium.lettering, medium.arrow
    rising = sorted(places, key=lambda place: -place.y)
    figures = apart([origin.y, *(place.y for place in rising)], size * (CAPITALS + 2 * CLEAR))
    groups = []
    for place, level in zip((origin, *rising), figures, strict=True):
        bend, end = line_x + 0.5 * size, line_x + 1.3 * size
        leader = ((place.foot + GAP * size, place.y), (bend, place.y), (end, level))
        text = Text((end + GAP * size, level + CAPITALS * size / 2), place.runs)
        if place is origin:
            head: Polyline | Circle = Circle((line_x, place.y), arrow / 4, pen, Wash("ground"))
        else:
            corners = ((line_x, place.y), (line_x - arrow / 6, place.y + arrow), (line_x + arrow / 6, place.y + arrow))
            head = Polyline(corners, None, Wash("ink"), closed=True, data={"arrow": "tip"})
        groups.append(Group((Polyline(leader, pen, data={"line": "extension"}), head, text),
                            {"dimension": place.name, "side": "right"}))
    top = min(place.y for place in rising) if rising else origin.y
    line = Polyline(((line_x, origin.y - arrow / 4), (line_x, top)), pen, data={"line": "dimension"})
    return [Group((line,), {"dimension-line": "running"}), *groups]


def apart(levels: Sequence[float], least: float) -> list[float]:
    """Levels, given downmost first, moved as little as needed to stand ``least`` apart.

    Neighbours that would touch form a cluster, which is spread about the mean of where its members want to be.
    """
    clusters: list[list[float]] = []
    for level in levels:
        clusters.append([level])
        while len(clusters) > 1 and _spread(clusters[-2], least)[-1] - _spread(clusters[-1], least)[0] < least:
            last = clusters.pop()
            clusters[-1] += last
    return [level for cluster in clusters for level in _spread(cluster, least)]


def _spread(cluster: Sequence[float], least: float) -> list[float]:
    middle, half = sum(cluster) / len(cluster), (len(cluster) - 1) / 2
    return [middle + (half - index) * least for index in range(len(cluster))]
