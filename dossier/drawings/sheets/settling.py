"""Which of its places each balloon takes, so that all of them together read best.

Each has places with what stands against them by themselves. What stands between two balloons is weighed here: one may
not lie on the other, nor a leader run into a balloon or over a leader. Every balloon in turn takes the place that is
best beside those of the others, until none moves any more; that is done from two beginnings, and the better end counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
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
    pairs: dict[tuple[int, int, int, int], float] = {}

    def between(one: int, place: int, other: int, there: int) -> float:
        key = (one, place, other, there) if one < other else (other, there, one, place)
        if key not in pairs:
            pairs[key] = _between(choices[one][place], choices[other][there], near, passing)
        return pairs[key]

    def cost(one: int, place: int, taken: Sequence[int | None]) -> float:
        others = [(other, there) for other, there in enumerate(taken) if there is not None and other != one]
        spot = choices[one][place].spot
        rows = any(choices[other][there].spot[0] == spot[0] or choices[other][there].spot[1] == spot[1]
                   for other, there in others)
        return (choices[one][place].cost - aligned * rows
                + sum(between(one, place, other, there) for other, there in others))

    def best(one: int, taken: Sequence[int | None]) -> int | None:
        return min(range(len(choices[one])), key=lambda place: cost(one, place, taken), default=None)

    # Those with the fewest places first.
    order = sorted(range(len(choices)), key=lambda one: len(choices[one]))
    ends = []
    for beginning in ("alone", "in turn"):
        taken: list[int | None] = [None] * len(choices)
        for one in order:
            taken[one] = best(one, [None] * len(choices) if beginning == "alone" else taken)
        for _ in range(_ROUNDS):
            before = list(taken)
            for one in order:
                taken[one] = best(one, taken)
            if taken == before:
                break
        ends.append((sum(cost(one, place, taken) for one, place in enumerate(taken) if place is not None), taken))
    taken = min(ends, key=lambda end: end[0])[1]
    for one in reversed(order):
        place = taken[one]
        if place is not None and cost(one, place, taken) >= _HARD / 2:
            taken[one] = None
    return taken


def _between(one: Place, other: Place, near: float, passing: float) -> float:
    if (one.box.meets(other.box) or touches(other.box, *one.leader) or touches(one.box, *other.leader)
            or cross(one.leader, other.leader)):
        return _HARD
    return passing * ((_passes(one.leader, other.leader[1], near)) + _passes(other.leader, one.leader[1], near))


def _passes(leader: Stroke, dot: Point, near: float) -> bool:
    """Whether a leader that ends elsewhere goes by a point."""
    return math.dist(dot, leader[1]) > 1e-6 and distance(dot, leader) < near
