"""Balloons: the references of the parts that a figure shows, in circles on bare paper, each with a leader to its part.

After ISO 6433: all of one size, in rows and columns where there is room, outside of what is drawn. A leader ends in a
dot on the part, and crosses no lettering, no dimension line and no other leader. Parts at one place share a leader.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from dossier.drawings.figure import Balloon
from dossier.drawings.lettering import CAPITALS, width_of
from dossier.drawings.room import Stroke
from dossier.drawings.scene import THIN, Box, Circle, Group, Medium, Pen, Point, Polyline, Shape, Text, Wash, Words
from dossier.drawings.sheets.ground import Ground, Marked

# In type sizes: a circle's least radius, what lettering leaves at its sides, what is kept free round it, the leader's
# least length, the steps in which places are looked for.
_RADIUS, _PAD, _CLEAR, _LEAST, _STEP = 1.15, 0.3, 0.25, 0.9, 0.9
# What stands against a place, in lengths of leader: inside of something, each line run over, an
# extension line besides; what standing in one row or column is worth.
_WITHIN, _OVER, _EXTENSION, _ALIGNED = 9.0, 2.2, 5.0, 4.0
# Of all places the most promising ones are looked at closely.
_CLOSELY = 60


@dataclass(frozen=True, slots=True)
class Placed:
    """Balloons as they stand, and the references that found no place."""

    shapes: tuple[Group, ...]
    left_out: tuple[str, ...]


def placed(balloons: Sequence[Balloon], frame: Box, shapes: Iterable[Shape], medium: Medium) -> Placed:
    """A balloon for each part, inside the frame and clear of the shapes that are there."""
    if not balloons:
        return Placed((), ())
    ground = Ground(frame, shapes, medium)
    size = medium.lettering
    radius = max(_RADIUS * size, *(width_of(each.ref, size) / 2 + _PAD * size for each in balloons))
    taken: list[Point] = []
    groups: list[Group] = []
    lost: list[str] = []
    for end, refs in _grouped((each.ref, each.after) for each in balloons if each.after).items():
        row = [(end[0] + (2 * index + 1) * radius, end[1]) for index in range(len(refs))]
        taken += row
        groups.append(Group(tuple(_circles(refs, row, radius, size)), {"balloons": " ".join(refs)}))
        ground.take(Box(end[0], end[1], row[-1][0] + radius, end[1]).grown(_CLEAR * size))
    spots = list(ground.bare_places(radius + _CLEAR * size, _STEP * size))
    grouped = _grouped((each.ref, each.at) for each in balloons if not each.after)
    also = {(round(each.at[0], 2), round(each.at[1], 2)): each.also for each in balloons}
    # What is nearest to the edge has the fewest ways out, so it comes first.
    for place, refs in sorted(grouped.items(), key=lambda each: _to_edge(each[0], frame)):
        found = ((at, spot) for at in (place, *also[place])
                 if (spot := _best(ground, spots, taken, at, len(refs), radius, size)) is not None)
        at, spot = next(found, (place, None))
        if spot is None:
            lost += refs
            continue
        taken += _row(spot, at, len(refs), radius)
        groups.append(_drawn(refs, spot, at, radius, medium))
        ground.take(_box(spot, at, len(refs), radius).grown(_CLEAR * size))
        ground.add(Marked("leader", _leader(spot, at, radius)))
    return Placed(tuple(groups), tuple(lost))


def _grouped(balloons: Iterable[tuple[str, Point]]) -> dict[Point, list[str]]:
    """The references by their places, each once."""
    grouped: dict[Point, list[str]] = {}
    for ref, (x, y) in balloons:
        refs = grouped.setdefault((round(x, 2), round(y, 2)), [])
        if ref not in refs:
            refs.append(ref)
    return grouped


def _to_edge(at: Point, frame: Box) -> float:
    return min(at[0] - frame.left, frame.right - at[0], at[1] - frame.top, frame.bottom - at[1])


def _best(ground: Ground, spots: Sequence[tuple[Point, int]], taken: Sequence[Point], at: Point, count: int,
          radius: float, size: float) -> Point | None:
    """The place with the shortest free way, running over as little as can be."""
    columns, rows = {x for x, _ in taken}, {y for _, y in taken}
    rated = []
    for spot, inside in spots:
        length = math.dist(spot, at) - radius
        if length >= _LEAST * size:
            # Balloons in one row or column read better than scattered ones.
            aligned = spot[0] in columns or spot[1] in rows
            rated.append((length + (_WITHIN * inside - _ALIGNED * aligned) * size, spot))
    rated.sort()
    best: tuple[float, Point] | None = None
    tried = 0
    for cost, spot in rated:
        if best and (cost > best[0] or tried > _CLOSELY):
            break
        leader = _leader(spot, at, radius)
        if ground.bare(_box(spot, at, count, radius).grown(_CLEAR * size)) is not None and ground.passes(leader):
            tried += 1
            over = max(0, ground.crossed(leader) - 1) * _OVER + ground.extensions_crossed(leader) * _EXTENSION
            best = min(best or (math.inf, spot), (cost + over * size, spot))
    return best[1] if best else None


def _row(spot: Point, at: Point, count: int, radius: float) -> list[Point]:
    """The circles of one leader side by side, away from what they name."""
    way = -1 if spot[0] < at[0] else 1
    return [(spot[0] + way * index * 2 * radius, spot[1]) for index in range(count)]


def _box(spot: Point, at: Point, count: int, radius: float) -> Box:
    ends = _row(spot, at, count, radius)
    return Box(min(x for x, _ in ends), spot[1], max(x for x, _ in ends), spot[1]).grown(radius)


def _leader(spot: Point, at: Point, radius: float) -> Stroke:
    share = radius / math.dist(spot, at)
    return (spot[0] + (at[0] - spot[0]) * share, spot[1] + (at[1] - spot[1]) * share), at


def _drawn(refs: Sequence[str], spot: Point, at: Point, radius: float, medium: Medium) -> Group:
    leader = Polyline(_leader(spot, at, radius), Pen(THIN), data={"line": "leader"})
    dot = Circle(at, medium.arrow / 5, None, Wash("ink"), {"leader": "dot"})
    circles = _circles(refs, _row(spot, at, len(refs), radius), radius, medium.lettering)
    return Group((leader, dot, *circles), {"balloons": " ".join(refs)})


def _circles(refs: Sequence[str], row: Sequence[Point], radius: float, size: float) -> Iterator[Shape]:
    for ref, (x, y) in zip(refs, row, strict=True):
        yield Circle((x, y), radius, Pen(THIN), Wash("ground"), {"balloon": ref})
        yield Text((x, y + CAPITALS * size / 2), (Words(ref),), "middle")
