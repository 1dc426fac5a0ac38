"""Which of its places each balloon takes, so that all of them together read best.

Each has places with what stands against them by themselves. What stands between two balloons is weighed here: one may
not lie on the other, nor a leader run into a balloon or over a leader. Every balloon in turn takes the place that is
best beside those of the others, until none moves any more; that is done from more than one beginning, and the best end
counts.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from dossier.drawings.room import Stroke, cross, touches
from dossier.drawings.scene import Box, Point
from dossier.drawings.sheets.outlines import distance

_HARD = 1e4
_ROUNDS = 12


@dataclass(frozen=True, slots=True)
class Place:
    """A place for a balloon: what stands against it, the room of its circles, the first of them, its leader."""

    cost: float
    box: Box
    spot: Point
    leader: Stroke


def settled(choices: Sequence[Sequence[Place]], aligned: float, near: float, passing: float) -> list[int | None]:
    """For each balloon the number of its place; None where it has none beside the others.

    ``aligned`` is what standing in a row or column with another is worth, ``passing`` what a leader costs that goes by
    another's end nearer than ``near``.
    """
    table = _Table(choices, aligned, near, passing)
    best = min((table.descended(table.begun(taken_by_others)) for taken_by_others in (False, True)), key=table.total)
    # Where two still stand in each other's way, one of them keeps each of its places in turn until the rest can make
    # room for it.
    for one in table.in_conflict(best):
        for place in range(len(choices[one])):
            if not table.in_conflict(best):
                break
            best = min(best, table.descended(table.begun(True, {one: place}), {one}), key=table.total)
    for one in reversed(table.order):
        if one in table.in_conflict(best):
            best[one] = None
    return best


class _Table:
    """What every choice of places costs; what stands between two places is worked out once."""

    def __init__(self, choices: Sequence[Sequence[Place]], aligned: float, near: float, passing: float) -> None:
        self.choices, self.aligned, self.near, self.passing = choices, aligned, near, passing
        self.known: dict[tuple[int, int, int, int], float] = {}
        self.rooms = [[_room(place) for place in each] for each in choices]
        # Those with the fewest places first.
        self.order = sorted(range(len(choices)), key=lambda one: len(choices[one]))

    def begun(self, beside_others: bool, fixed: Mapping[int, int] | None = None) -> list[int | None]:
        """A beginning: each in its best place by itself, or beside those placed before it."""
        alone: list[int | None] = [None] * len(self.choices)
        taken = list(alone)
        for one, place in (fixed or {}).items():
            taken[one] = place
        for one in self.order:
            if taken[one] is None:
                taken[one] = self._best(one, taken if beside_others else alone)
        return taken

    def descended(self, taken: list[int | None], fixed: Collection[int] = ()) -> list[int | None]:
        """The same after every balloon that is not fixed has moved as long as that makes it better."""
        for _ in range(_ROUNDS):
            before = list(taken)
            for one in self.order:
                if one not in fixed:
                    taken[one] = self._best(one, taken)
            if taken == before:
                break
        return taken

    def total(self, taken: Sequence[int | None]) -> float:
        """What all together cost."""
        return sum(self._cost(one, place, taken) for one, place in enumerate(taken) if place is not None)

    def in_conflict(self, taken: Sequence[int | None]) -> list[int]:
        """The balloons that stand in another's way."""
        return [one for one, place in enumerate(taken) if place is not None
                and self._cost(one, place, taken) >= _HARD / 2]

    def _best(self, one: int, taken: Sequence[int | None]) -> int | None:
        best, least = None, math.inf
        for place in range(len(self.choices[one])):
            cost = self._cost(one, place, taken, least)
            if best is None or cost < least:
                best, least = place, cost
        return best

    def _cost(self, one: int, place: int, taken: Sequence[int | None], enough: float = math.inf) -> float:
        """What a place costs beside those of the others; no more is added up where it can no longer be less than
        ``enough``."""
        mine, known = self.choices[one][place], self.known
        (x, y), cost, aligned = mine.spot, mine.cost, False
        for other, there in enumerate(taken):
            if cost - self.aligned >= enough:
                return cost
            if there is not None and other != one:
                left, top = self.choices[other][there].spot
                aligned = aligned or x == left or y == top
                key = (one, place, other, there) if one < other else (other, there, one, place)
                apart = known.get(key)
                if apart is None:
                    apart = known[key] = self._apart(*key)
                cost += apart
        return cost - self.aligned * aligned

    def _apart(self, one: int, place: int, other: int, there: int) -> float:
        left, top, right, bottom = self.rooms[one][place]
        left_there, top_there, right_there, bottom_there = self.rooms[other][there]
        near = self.near
        # Most are far from each other.
        if (right + near < left_there or right_there + near < left or bottom + near < top_there
                or bottom_there + near < top):
            return 0.0
        return _between(self.choices[one][place], self.choices[other][there], near, self.passing)


def _room(place: Place) -> tuple[float, float, float, float]:
    """What circles and leader take together: left, top, right, bottom."""
    box, ((x0, y0), (x1, y1)) = place.box, place.leader
    return min(box.left, x0, x1), min(box.top, y0, y1), max(box.right, x0, x1), max(box.bottom, y0, y1)


def _between(one: Place, other: Place, near: float, passing: float) -> float:
    if (one.box.meets(other.box) or touches(other.box, *one.leader) or touches(one.box, *other.leader)
            or cross(one.leader, other.leader)):
        return _HARD
    return passing * ((_passes(one.leader, other.leader[1], near)) + _passes(other.leader, one.leader[1], near))


def _passes(leader: Stroke, dot: Point, near: float) -> bool:
    """Whether a leader that ends elsewhere goes by a point."""
    return math.dist(dot, leader[1]) > 1e-6 and distance(dot, leader) < near
