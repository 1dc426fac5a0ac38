"""Integer programming over the ways of filling one stock length. The solver is HiGHS, through scipy.

Every way is listed where there are few; where there are many, those worth having are found one at a time by the prices
that the linear programme puts on the pieces. Sizes are whole tenths of a millimetre, a kerf included in each.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

MOST_PATTERNS = 20000
_ROUNDS_A_SECOND = 15
_EDGE = 1e-7

Fill = tuple[int, ...]
IntArray = npt.NDArray[np.int_]
FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Demand:
    """Sizes, longest first, and how many of each are wanted."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of length: the room in it, and how many there are, or None where it is bought as needed."""

    room: int
    count: int | None


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of filling a length of this stock."""

    stock: int
    fill: Fill


def fewest(demand: Demand, new: Stock, own: Sequence[Stock], time_limit_s: float,
           ) -> tuple[tuple[tuple[Stock, Fill], ...], int]:
    """Lengths with their fills, with the fewest of ``new``; and the proved least number of ``new``.

    The time limit holds for the solver; the search for ways is limited by rounds, about as long, so that it ends the
    same on every machine. Raises ValueError where the own lengths alone must carry a piece and are too few.
    """
    stocks = (new, *own)
    ways, complete = _ways(demand, stocks)
    relaxed = 0.0
    if not complete:
        ways, relaxed = _generated(demand, stocks, ways, max(round(_ROUNDS_A_SECOND * time_limit_s), 1))
    counts, bound = _whole(demand, stocks, ways, time_limit_s)
    if not complete:
        bound = math.ceil(relaxed - 1e-6)
    if own:
        counts = _least_of_own(demand, stocks, ways, counts, time_limit_s)
    return tuple((stocks[way.stock], fill) for way, fill in _trimmed(demand, ways, counts)), bound


def _ways(demand: Demand, stocks: Sequence[Stock]) -> tuple[list[_Way], bool]:
    """Every fullest way of filling each stock, and whether that is all of them."""
    ways: list[_Way] = []
    for number, stock in enumerate(stocks):
        for fill in _fills(demand, stock.room, MOST_PATTERNS + 1 - len(ways)):
            ways.append(_Way(number, fill))
        if len(ways) > MOST_PATTERNS:
            return _starting(demand, stocks), False
    return ways, True


def _fills(demand: Demand, room: int, most: int) -> list[Fill]:
    """Ways of filling this room to which no further piece can be added, at most so many."""
    found: list[Fill] = []
    fill = [0] * len(demand.sizes)

    def fill_from(kind: int, left: int) -> None:
        if len(found) >= most:
            return
        if kind == len(fill):
            spare = any(left >= size and had < count
                        for size, had, count in zip(demand.sizes, fill, demand.counts, strict=True))
            if not spare and any(fill):
                found.append(tuple(fill))
            return
        for take in range(min(left // demand.sizes[kind], demand.counts[kind]), -1, -1):
            fill[kind] = take
            fill_from(kind + 1, left - take * demand.sizes[kind])
        fill[kind] = 0

    fill_from(0, room)
    return found


def _starting(demand: Demand, stocks: Sequence[Stock]) -> list[_Way]:
    """Lengths filled with one size each, enough for the first prices."""
    ways = []
    for number, stock in enumerate(stocks):
        for kind, (size, count) in enumerate(zip(demand.sizes, demand.counts, strict=True)):
            if size <= stock.room:
                take = min(stock.room // size, count)
                ways.append(_Way(number, tuple(take if other == kind else 0 for other in range(len(demand.sizes)))))
    return ways


def _tables(demand: Demand, stocks: Sequence[Stock], ways: Sequence[_Way]) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Cost of each way, pieces each way gives (sizes × ways), and which own stock each uses (stocks × ways)."""
    cost = np.array([1.0 if way.stock == 0 else 0.0 for way in ways])
    gives = np.array([way.fill for way in ways], dtype=float).T.reshape(len(demand.sizes), len(ways))
    uses = np.array([[1.0 if way.stock == number else 0.0 for way in ways] for number in range(1, len(stocks))])
    return cost, gives, uses.reshape(len(stocks) - 1, len(ways))


def _generated(demand: Demand, stocks: Sequence[Stock], ways: list[_Way], rounds: int) -> tuple[list[_Way], float]:
    """Ways worth having by the linear programme's prices, and a bound that no nesting can beat."""
    from scipy.optimize import linprog

    bound = 0.0
    own = np.array([stock.count or 0 for stock in stocks[1:]], dtype=float)
    for _ in range(rounds):
        cost, gives, uses = _tables(demand, stocks, ways)
        solved = linprog(cost, A_ub=np.vstack((-gives, uses)), b_ub=np.concatenate((-np.array(demand.counts), own)),
                         method="highs")
        if solved.status != 0:
            raise ValueError("the lengths at hand are too few for the longest pieces")
        prices = -solved.ineqlin.marginals[: len(demand.sizes)]
        rents = -solved.ineqlin.marginals[len(demand.sizes):]
        fresh, gain = [], 1.0
        for number, stock in enumerate(stocks):
            fill, worth = _worthiest(demand, stock.room, prices)
            worth_having = (1.0 if number == 0 else 0.0) + (rents[number - 1] if number else 0.0)
            if number == 0:
                gain = max(gain, worth)
            if worth > worth_having + _EDGE:
                fresh.append(_Way(number, fill))
        # With no own lengths the prices, scaled to what one length can hold, are a bound (Farley).
        bound = max(bound, float(solved.fun) / gain) if len(stocks) == 1 else bound
        if not fresh:
            return ways, float(solved.fun)
        ways = [*ways, *fresh]
    return ways, bound


def _worthiest(demand: Demand, room: int, prices: FloatArray) -> tuple[Fill, float]:
    """The fill of greatest total price, no more of a size than is wanted: a knapsack by dynamic programming."""
    best = np.zeros(room + 1)
    taken: list[tuple[int, int, IntArray]] = []
    for kind, (size, count) in enumerate(zip(demand.sizes, demand.counts, strict=True)):
        if prices[kind] <= 0:
            continue
        for bunch in _bunches(min(count, room // size)):
            weight = size * bunch
            better = best[: room + 1 - weight] + prices[kind] * bunch
            chosen = np.zeros(room + 1, dtype=int)
            chosen[weight:] = better > best[weight:] + 1e-15
            best[weight:] = np.maximum(best[weight:], better)
            taken.append((kind, bunch, chosen))
    fill, left = [0] * len(demand.sizes), room
    for kind, bunch, chosen in reversed(taken):
        if chosen[left]:
            fill[kind] += bunch
            left -= bunch * demand.sizes[kind]
    return tuple(fill), float(best[room])


def _bunches(count: int) -> list[int]:
    """Numbers that add up to anything from 0 to ``count``: 1, 2, 4 … and the rest."""
    bunches, size = [], 1
    while count > 0:
        bunches.append(min(size, count))
        count -= bunches[-1]
        size *= 2
    return bunches


def _whole(demand: Demand, stocks: Sequence[Stock], ways: Sequence[_Way], time_limit_s: float) -> tuple[IntArray, int]:
    cost, gives, uses = _tables(demand, stocks, ways)
    return _integer(cost, gives, uses, demand, stocks, time_limit_s)


def _integer(cost: FloatArray, gives: FloatArray, uses: FloatArray, demand: Demand, stocks: Sequence[Stock],
             time_limit_s: float, most_new: int | None = None) -> tuple[IntArray, int]:
    from scipy.optimize import Bounds, LinearConstraint, milp

    rules = [LinearConstraint(gives, lb=np.array(demand.counts, dtype=float))]
    if len(uses):
        rules.append(LinearConstraint(uses, ub=np.array([stock.count or 0 for stock in stocks[1:]], dtype=float)))
    if most_new is not None:
        rules.append(LinearConstraint(1.0 - uses.sum(axis=0), ub=float(most_new)))
    solved = milp(cost, constraints=rules, integrality=np.ones(len(cost)), bounds=Bounds(0, np.inf),
                  options={"time_limit": max(time_limit_s, 1.0)})
    if solved.x is None:
        raise ValueError("the lengths at hand are too few for the pieces, or no nesting was found in time")
    return np.round(solved.x).astype(int), math.ceil(solved.mip_dual_bound - 1e-6)


def _least_of_own(demand: Demand, stocks: Sequence[Stock], ways: Sequence[_Way], counts: IntArray, time_limit_s: float,
                  ) -> IntArray:
    """Of all nestings that buy no more, the one that takes the least length off the shelf."""
    cost, gives, uses = _tables(demand, stocks, ways)
    rooms = np.array([0.0 if way.stock == 0 else float(stocks[way.stock].room) for way in ways])
    bought = round(float(cost @ counts))
    return _integer(rooms, gives, uses, demand, stocks, time_limit_s, most_new=bought)[0]


def _trimmed(demand: Demand, ways: Sequence[_Way], counts: IntArray) -> list[tuple[_Way, Fill]]:
    """One entry a length, without the pieces that nobody asked for."""
    wanted = list(demand.counts)
    made = []
    for way, count in zip(ways, counts, strict=True):
        for _ in range(int(count)):
            fill = tuple(min(had, want) for had, want in zip(way.fill, wanted, strict=True))
            wanted = [want - had for want, had in zip(wanted, fill, strict=True)]
            if any(fill):
                made.append((way, fill))
    return made
