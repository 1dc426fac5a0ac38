"""Balloons: the references of the parts that a figure shows, in circles on bare paper, each with a leader to its part.

After ISO 6433 and ISO 128-22 (recalled): all of one size, in rows and columns where there is room, outside of what is
drawn and of tables. A leader ends in a dot within its part's outline, on the side that it comes from, or in an arrow
where it can only end on the outline; it crosses no lettering, no dimension line and no other leader, and as few
outlines of other things as can be. Parts at one place share a leader.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop

from dossier.drawings.figure import Balloon
from dossier.drawings.lettering import CAPITALS, width_of
from dossier.drawings.room import Stroke
from dossier.drawings.scene import THIN, Box, Circle, Group, Medium, Pen, Point, Polyline, Shape, Text, Wash, Words
from dossier.drawings.sheets.ground import Ground
from dossier.drawings.sheets.settling import Place, settled

# In type sizes: a circle's least radius, what lettering leaves at its sides, what is kept free round it, the leader's
# least length.
_RADIUS, _PAD, _CLEAR, _LEAST = 1.15, 0.3, 0.25, 0.9
# Steps in which places are looked for, in type sizes, and how many are tried in each direction: closely where a balloon
# finds none in wide ones.
_STEPS = ((1.4, 12), (0.9, 40))
# What stands against a place, in lengths of leader: inside of something; each outline, extension line and other line
# run over; each line run along; another leader's dot passed closely; a leader level or upright, as most lines of a
# drawing are. What standing in one row or column is worth.
_WITHIN, _OUTLINE, _EXTENSION, _THIN, _ALONG, _DOT, _SQUARE, _ALIGNED = 9.0, 7.0, 5.0, 0.8, 6.0, 6.0, 1.5, 3.0
# A leader passes another's end closely where it is nearer than so much.
_NEAR = 0.7
# Places are looked for in so many directions, so many kept in each, so many in all, each for so many of the ends that
# are nearest to it.
_SECTORS, _KEPT, _MOST, _NEAREST = 16, 3, 32, 2
# Those farther away than so many type sizes are looked at only where there are hardly any nearer ones.
_FAR = 18.0
# Points of a part near its outline that a leader may end on: how many are tried, how far inside, in type sizes.
_ENDS, _INSET = 8, 0.35


@dataclass(frozen=True, slots=True)
class Placed:
    """Balloons as they stand, and the references that found no place."""

    shapes: tuple[Group, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _End:
    """Where a leader may end: a point, whether on an outline, and whether inside of one, which it then runs over."""

    at: Point
    on_outline: bool
    inside: bool


def placed(balloons: Sequence[Balloon], frame: Box, shapes: Iterable[Shape], medium: Medium) -> Placed:
    """A balloon for each part, inside the frame and clear of the shapes that are there."""
    if not balloons:
        return Placed((), ())
    ground = Ground(frame, shapes, medium)
    size = medium.lettering
    radius = max(_RADIUS * size, *(width_of(each.ref, size) / 2 + _PAD * size for each in balloons))
    groups: list[Group] = []
    lost: list[str] = []
    for after, refs in _grouped((each.ref, each.after) for each in balloons if each.after).items():
        row = [(after[0] + (2 * index + 1) * radius, after[1]) for index in range(len(refs))]
        groups.append(Group((*_from_words(ground, after, size), *_circles(refs, row, radius, size)),
                            {"balloons": " ".join(refs)}))
        ground.take(Box(after[0], after[1], row[-1][0] + radius, after[1]).grown(_CLEAR * size))
    grouped = _grouped((each.ref, each.at) for each in balloons if not each.after)
    also = {(round(each.at[0], 2), round(each.at[1], 2)): each.also for each in balloons}
    ends = [_ends(ground, (place, *also[place]), medium) for place in grouped]
    for step, most in _STEPS:
        spots = list(ground.bare_places(radius + _CLEAR * size, step * size))
        choices = [_places(ground, spots, each, len(refs), radius, size, most)
                   for each, refs in zip(ends, grouped.values(), strict=True)]
        chosen = settled([[place for _, place in each] for each in choices], _ALIGNED * size, _NEAR * size, _DOT * size)
        if None not in chosen:
            break
    for refs, each, number in zip(grouped.values(), choices, chosen, strict=True):
        if number is None:
            lost += refs
        else:
            end, place = each[number]
            groups.append(_drawn(refs, place.spot, end, radius, medium))
    return Placed(tuple(groups), tuple(lost))


def _grouped(balloons: Iterable[tuple[str, Point]]) -> dict[Point, list[str]]:
    """The references by their places, each once."""
    grouped: dict[Point, list[str]] = {}
    for ref, (x, y) in balloons:
        refs = grouped.setdefault((round(x, 2), round(y, 2)), [])
        if ref not in refs:
            refs.append(ref)
    return grouped


def _ends(ground: Ground, points: Sequence[Point], medium: Medium) -> list[_End]:
    """The points that the figure gives, and others of the same thing: where the first is on an outline, along all that
    are drawn for that part; else near the outline round it, where no line of another thing lies between."""
    dot, size = medium.arrow / 5 + medium.wide / 2, medium.lettering
    ends = []
    for point in points:
        line = ground.nearest_outline(point, dot)
        ends.append(_End(line.nearest(point), True, False) if line else
                    _End(point, False, ground.outlined(point) is not None))
    if ends[0].on_outline:
        lines = ground.outlines_of_one(points[0], dot)
        share = max(2, _ENDS // max(1, len(lines)))
        return ends + [_End(point, True, False) for line in lines[:_ENDS] for point in line.along(share)
                       if not ground.lettered(point, dot)]
    surface = ground.outlined(points[0])
    if surface:
        ends += [_End(point, False, True) for point in surface.near_rim(_INSET * size, _ENDS)
                 if ground.outlined(point) is surface and _same_surface(ground, points[0], point)
                 and not ground.nearest_outline(point, dot) and not ground.lettered(point, dot)]
    return ends


def _same_surface(ground: Ground, one: Point, other: Point) -> bool:
    """Whether no outline lies between two points."""
    met = ground.met((one, other))
    return met is not None and not met.outlines


def _places(ground: Ground, spots: Sequence[tuple[Point, int]], ends: Sequence[_End], count: int, radius: float,
            size: float, most: int) -> list[tuple[_End, Place]]:
    """Places with a free way to one of the ends, the shortest ways first, some in every direction, in each of which
    ``most`` are tried; each with what stands against it."""
    (x, y), far = ends[0].at, _FAR * size
    near = [each for each in spots if -far < each[0][0] - x < far and -far < each[0][1] - y < far]
    among = near if len(near) > _MOST else spots
    within, dist = (0.0, _WITHIN * size), math.dist
    # A heap, since seldom more than the first few of these hundreds are looked at.
    rated = [(dist(spot, end.at) + within[inside], spot, number)
             for number, end in enumerate(ends) for spot, inside in among]
    heapify(rated)
    found: list[tuple[_End, Place]] = []
    tried, kept = [0] * (2 * _SECTORS), [0] * (2 * _SECTORS)
    seen: dict[Point, int] = {}
    while rated:
        cost, spot, number = heappop(rated)
        if seen.get(spot, 0) >= _NEAREST:
            continue
        end = ends[number]
        sector = int((math.atan2(spot[1] - end.at[1], spot[0] - end.at[0]) / math.tau + 1) * _SECTORS)
        if tried[sector] >= most or kept[sector] >= _KEPT or dist(spot, end.at) - radius < _LEAST * size:
            continue
        tried[sector] += 1
        seen[spot] = seen.get(spot, 0) + 1
        leader, box = _leader(spot, end.at, radius), _box(spot, end.at, count, radius).grown(_CLEAR * size)
        # A place for one balloon is known to be bare.
        against = _against(ground, leader, end) if count == 1 or ground.bare(box) is not None else None
        if against is not None:
            kept[sector] += 1
            found.append((end, Place(cost - radius + against * size, box, spot, leader)))
        if len(found) >= _MOST:
            break
    return found


def _against(ground: Ground, leader: Stroke, end: _End) -> float | None:
    """What stands against a leader, in type sizes; None where there is no way for it."""
    met = ground.met(leader)
    if met is None:
        return None
    (x0, y0), (x1, y1) = leader
    square = min(abs(x1 - x0), abs(y1 - y0)) < 0.1 * math.dist(*leader)
    return (max(0, met.outlines - end.inside) * _OUTLINE + met.extensions * _EXTENSION + met.thin * _THIN
            + met.along * _ALONG + square * _SQUARE)


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


def _from_words(ground: Ground, end: Point, size: float) -> Iterator[Shape]:
    """The leader from the words that a balloon stands behind, where it does not stand right beside them."""
    before = [box.right for box in ground.texts if box.top < end[1] < box.bottom and box.right <= end[0]]
    start = max(before, default=end[0]) + _CLEAR * size
    if end[0] - start > _CLEAR * size:
        yield Polyline(((start, end[1]), end), Pen(THIN), data={"line": "leader"})


def _drawn(refs: Sequence[str], spot: Point, end: _End, radius: float, medium: Medium) -> Group:
    line = _leader(spot, end.at, radius)
    leader = Polyline(line, Pen(THIN), data={"line": "leader"})
    head = _arrow(line, medium) if end.on_outline else Circle(end.at, medium.arrow / 5, None, Wash("ink"),
                                                              {"leader": "dot"})
    circles = _circles(refs, _row(spot, end.at, len(refs), radius), radius, medium.lettering)
    return Group((leader, head, *circles), {"balloons": " ".join(refs)})


def _arrow(leader: Stroke, medium: Medium) -> Polyline:
    """A filled arrowhead at the leader's end, three times as long as wide."""
    (x0, y0), (x, y) = leader
    length = math.dist(*leader)
    along = ((x0 - x) / length, (y0 - y) / length)
    base, half = (x + along[0] * medium.arrow, y + along[1] * medium.arrow), medium.arrow / 6
    return Polyline(((x, y), (base[0] - along[1] * half, base[1] + along[0] * half),
                     (base[0] + along[1] * half, base[1] - along[0] * half)), None, Wash("ink"), closed=True,
                    data={"leader": "arrow"})


def _circles(refs: Sequence[str], row: Sequence[Point], radius: float, size: float) -> Iterator[Shape]:
    for ref, (x, y) in zip(refs, row, strict=True):
        yield Circle((x, y), radius, Pen(THIN), Wash("ground"), {"balloon": ref})
        yield Text((x, y + CAPITALS * size / 2), (Words(ref),), "middle")
