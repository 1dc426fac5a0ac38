"""How wide a member's holes are, told at one of them: a leader down to words between the member and its length."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from dossier.drawings.dimension import CLEAR
from dossier.drawings.figures.breaks import Broken
from dossier.drawings.figures.callouts import Callout, callouts
from dossier.drawings.figures.measures import DIAMETER, TIMES, Runs, phrase
from dossier.drawings.figures.member_holes import Drilled
from dossier.drawings.lettering import ASCENT, DESCENT, box_of_text
from dossier.drawings.scene import Box, Group, Medium, Point, Polyline, Text, box_of

# From the member's edge down to the first line of words, from a hole aside to the bend of its leader, both in type
# sizes; and how many lines are tried.
_BELOW, _BEND, _LINES = 1.6, 0.6, 2
Ways = tuple[Literal["right", "left"], ...]
_EDGE_ON = 0.05


def sizes(holes: Sequence[Drilled], outer: float, drawn: Broken, medium: Medium, scale: float) -> tuple[Group, ...]:
    """What has room; the notes say every size. Holes at one distance that are alike are told together."""
    alike: dict[tuple[float, float], list[Drilled]] = {}
    for hole in holes:
        if hole.diameter and hole.size:
            alike.setdefault((round(hole.at, 6), hole.diameter), []).append(hole)
    rows = list(alike.values())
    # A row that is in its neighbour's way on one side may not be on the other, or when that one is placed first.
    ways: tuple[Ways, ...] = (("right", "left"), ("left", "right"))
    return max((_placed(order, way, outer, drawn, medium, scale) for way in ways for order in (rows, rows[::-1])),
               key=len)


def _placed(rows: Sequence[Sequence[Drilled]], ways: Ways, outer: float, drawn: Broken, medium: Medium,
            scale: float) -> tuple[Group, ...]:
    """One row after the other, each at the first place that is free."""
    taken: list[Box] = []
    made: list[Group] = []
    end, clear = drawn.at(drawn.length), CLEAR * medium.lettering
    for row in rows:
        for group, words in _tried(row, _tip(row, outer, drawn, scale), ways, outer / 2 * scale, medium):
            line = box_of([point for shape in group.members if isinstance(shape, Polyline) for point in shape.points])
            inside = clear <= words.left and words.right <= end - clear
            if inside and not any(box.grown(clear / 2).meets(other) for box in (words, line) for other in taken):
                taken += [words, line]
                made.append(group)
                break
    return tuple(made)


def _tip(holes: Sequence[Drilled], outer: float, drawn: Broken, scale: float) -> Point:
    """The lower edge of the hole that is told: the lowest that is seen, else one at the member's edge or behind."""
    x, radius = drawn.at(holes[0].at), outer / 2 * scale
    seen: list[tuple[bool, float]] = []
    for hole in holes:
        for angle in hole.walls_deg:
            facing, down = math.cos(math.radians(angle)), -math.sin(math.radians(angle))
            # Seen at a slant a hole is as wide along the member as ever, and narrower across it.
            reach = (hole.diameter or 0.0) / 2 * scale * abs(facing) if abs(facing) > _EDGE_ON else 0.0
            seen.append((facing > _EDGE_ON, radius * down + reach))
    return x, max(seen, default=(False, radius))[1]


def _tried(holes: Sequence[Drilled], tip: Point, ways: Ways, radius: float,
           medium: Medium) -> Iterator[tuple[Group, Box]]:
    """The words on one side of the hole, on the other, and each once more a line lower."""
    size, runs = medium.lettering, _words(holes)
    for line in range(_LINES):
        level = radius + (_BELOW + line * (ASCENT + DESCENT + CLEAR)) * size
        for way in ways:
            told = Callout(holes[0].name, tip, runs, level=level)
            bend = tip[0] + (_BEND if way == "right" else -_BEND) * size
            group, = callouts([told], way, bend, medium)
            yield group, box_of_text(next(each for each in group.members if isinstance(each, Text)), size)


def _words(holes: Sequence[Drilled]) -> Runs:
    many = sum(hole.count for hole in holes)
    size = holes[0].size
    assert size is not None
    times = (f"{many}{TIMES}",) if many > 1 else ()
    return phrase(*times, DIAMETER, size, *((" through",) if holes[0].through else ()))
