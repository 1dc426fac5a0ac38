"""Pieces cut from stock lengths: the fewest lengths that give them all, and which piece comes from which length.

Lengths are counted in whole tenths of a millimetre, so that nothing is lost or won by rounding: pieces, kerf and trim
are rounded up, stock down. A kerf lies between neighbouring pieces, so n pieces need their lengths and n − 1 kerfs;
the trim is lost once from each length.

First a quick nesting and bounds that need no solver; where they do not meet, integer programming over all ways of
filling a length. What was proved is always said beside what was found.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from dossier.calc.shop import patterns
from dossier.calc.shop.patterns import Demand, Stock
from dossier.working import formula

TIME_LIMIT_S = 20.0


@dataclass(frozen=True, slots=True)
class CutLength:
    """One length as it is cut: its own length, the pieces in order, and what is left over, mm."""

    stock_mm: float
    pieces_mm: tuple[float, ...]
    left_over_mm: float
    bought: bool


@dataclass(frozen=True, slots=True)
class Nesting:
    """All lengths, those bought first; ``bound`` is the least number to buy that was proved possible at all."""

    lengths: tuple[CutLength, ...]
    bound: int

    @property
    def bought(self) -> int:
        return sum(length.bought for length in self.lengths)

    @property
    def proved(self) -> bool:
        """Whether no nesting with fewer bought lengths exists."""
        return self.bought == self.bound


def nest(
    pieces_mm: Sequence[float], quantities: Sequence[float], stock_mm: float, *, kerf_mm: float = 0,
    trim_mm: float = 0, shelf: Sequence[tuple[float, int]] = (), time_limit_s: float = TIME_LIMIT_S,
) -> Nesting:
    """The fewest stock lengths for these pieces; ``shelf`` holds (length, how many) that are there already and free.

    Raises ValueError for a length that is not positive, a count that is not whole, or a piece that fits no stock.
    """
    demand = _demand(pieces_mm, quantities)
    kerf, trim = _tenths_up("kerf", kerf_mm), _tenths_up("trim", trim_mm)
    new = Stock(_room(stock_mm, trim, kerf), None)
    own = tuple(Stock(_room(length, trim, kerf), count) for length, count in _on_shelf(shelf))
    sized = Demand(tuple(size + kerf for size in demand.sizes), demand.counts)
    most = max(new.room, *(stock.room for stock in own)) if own else new.room
    if sized.sizes and max(sized.sizes) > most:
        raise ValueError(f"a piece of {max(demand.sizes) / 10:g} mm is longer than its stock of {stock_mm:g} mm "
                         f"less trim")
    found, bound = _solved(sized, new, own, time_limit_s)
    made = [_cut(fill, sized, stock, kerf, trim, bought=stock.count is None) for stock, fill in found]
    return Nesting(tuple(sorted(made, key=lambda length: not length.bought)), bound)


@lru_cache(maxsize=64)
def _solved(demand: Demand, new: Stock, own: tuple[Stock, ...], time_limit_s: float,
            ) -> tuple[tuple[tuple[Stock, tuple[int, ...]], ...], int]:
    quick = first_fit(demand, new.room)
    if not own and quick is not None and len(quick) <= _by_length(demand, new.room):
        return tuple((new, fill) for fill in quick), len(quick)
    least = lower_bound(demand, new.room) if new.room else 0
    if not own and quick is not None and len(quick) <= least:
        return tuple((new, fill) for fill in quick), len(quick)
    found, bound = patterns.fewest(demand, new, own, time_limit_s)
    if not own:
        bound = max(bound, least)
        if quick is not None and len(quick) < len(found):
            found = tuple((new, fill) for fill in quick)
    return found, bound


def first_fit(demand: Demand, room: int) -> tuple[tuple[int, ...], ...] | None:
    """Each piece, longest first, into the first length that has room: how many of each size each length gives.

    None where a piece is longer than the length.
    """
    if demand.sizes and demand.sizes[0] > room:
        return None
    fills: list[list[int]] = []
    left: list[int] = []
    for kind, (size, count) in enumerate(zip(demand.sizes, demand.counts, strict=True)):
        start = 0
        for _ in range(count):
            while start < len(left) and left[start] < size:
                start += 1
            if start == len(left):
                left.append(room)
                fills.append([0] * len(demand.sizes))
            left[start] -= size
            fills[start][kind] += 1
    return tuple(tuple(fill) for fill in fills)


def _by_length(demand: Demand, room: int) -> int:
    """Lengths that the total length alone asks for."""
    return -(-sum(size * count for size, count in zip(demand.sizes, demand.counts, strict=True)) // room) if room else 0


def lower_bound(demand: Demand, room: int) -> int:
    """Lengths that any nesting needs: the total length, sharpened by counting what cannot lie side by side.

    Each size is given a value such that no length can hold more than one in all (dual feasible functions of Fekete and
    Schepers); the whole demand's value, rounded up, is then a bound.
    """
    best = sum(size * count for size, count in zip(demand.sizes, demand.counts, strict=True)) / Fraction(room)
    for values in _valuations(demand.sizes, room):
        best = max(best, sum((value * count for value, count in zip(values, demand.counts, strict=True)), Fraction(0)))
    return math.ceil(best)


def _valuations(sizes: Sequence[int], room: int) -> Iterator[list[Fraction]]:
    for parts in range(1, 25):
        yield [Fraction(size, room) if (parts + 1) * size % room == 0
               else Fraction((parts + 1) * size // room, parts) for size in sizes]
    for small in sizes:
        if 2 * small <= room:
            yield [Fraction(1) if size > room - small else Fraction(size, room) if size >= small else Fraction(0)
                   for size in sizes]


def _demand(pieces_mm: Sequence[float], quantities: Sequence[float]) -> Demand:
    if len(pieces_mm) != len(quantities):
        raise ValueError("each piece needs a length and a quantity")
    total: dict[int, int] = {}
    for length, quantity in zip(pieces_mm, quantities, strict=True):
        if not (quantity >= 0 and quantity == int(quantity)):
            raise ValueError(f"a quantity of pieces must be a whole number (got {quantity:g})")
        if not length > 0:
            raise ValueError(f"a piece must be longer than nothing (got {length:g} mm)")
        size = _tenths_up("piece", length)
        total[size] = total.get(size, 0) + int(quantity)
    kept = sorted(((size, count) for size, count in total.items() if count), reverse=True)
    return Demand(tuple(size for size, _ in kept), tuple(count for _, count in kept))


def _on_shelf(shelf: Sequence[tuple[float, int]]) -> Iterator[tuple[float, int]]:
    for length, count in shelf:
        if not (count >= 0 and count == int(count)):
            raise ValueError(f"a count of lengths must be a whole number (got {count:g})")
        if count:
            yield length, int(count)


def _tenths_up(what: str, length_mm: float) -> int:
    if not (length_mm >= 0 and math.isfinite(length_mm)):
        raise ValueError(f"{what} must be a length of zero or more (got {length_mm:g} mm)")
    return math.ceil(round(length_mm * 10, 6))


def _room(stock_mm: float, trim: int, kerf: int) -> int:
    """Tenths of a millimetre that pieces, each with one kerf, may fill."""
    if not (stock_mm > 0 and math.isfinite(stock_mm)):
        raise ValueError(f"a stock length must be longer than nothing (got {stock_mm:g} mm)")
    return max(math.floor(round(stock_mm * 10, 6)) - trim, 0) + kerf


def _cut(fill: Sequence[int], demand: Demand, stock: Stock, kerf: int, trim: int, *, bought: bool) -> CutLength:
    pieces = [size for size, count in zip(demand.sizes, fill, strict=True) for _ in range(count)]
    left = max(stock.room - kerf - sum(pieces), 0)
    return CutLength((stock.room - kerf + trim) / 10, tuple((size - kerf) / 10 for size in pieces), left / 10, bought)


def parts_from_length(pieces_mm: Sequence[float], quantities: Sequence[float], parts: int, stock_mm: float, *,
                      kerf_mm: float = 0, trim_mm: float = 0) -> int:
    """How many of so many ``parts``, which all these pieces make, have their pieces in one length of stock.

    Raises ValueError for a length that is not positive or a count that is not whole.
    """
    _demand(pieces_mm, quantities)
    kerf = _tenths_up("kerf", kerf_mm)
    room = _room(stock_mm, _tenths_up("trim", trim_mm), kerf)
    sizes = [(_tenths_up("piece", length) + kerf, int(quantity))
             for length, quantity in zip(pieces_mm, quantities, strict=True)]
    found = 0
    while sum(size * -(-count * (found + 1) // parts) for size, count in sizes) <= room:
        found += 1
    return found


@formula(title="Stock lengths to buy", source="chvatal-1983", where="chapter 13",
         equation="least Σ xₚ where Σ aᵢₚ xₚ ≥ dᵢ, x whole: p every way of filling one length",
         method="First fit and dual bounds; where they do not meet, integer programming, in whole tenths of a "
                "millimetre.",
         note="A kerf between neighbouring pieces, the trim once from each length; what is on the shelf is used first.")
def stock_lengths(
    piece_lengths_mm: Sequence[float], piece_quantities: Sequence[float], kits: float, stock_length_mm: float,
    kerf_mm: float, trim_mm: float, shelf_lengths_mm: Sequence[float], shelf_quantities: Sequence[float],
) -> float:
    """Number of lengths of one stock to buy for all pieces of all kits; lists of a kind run in step."""
    shelf = tuple((length, int(count)) for length, count in zip(shelf_lengths_mm, shelf_quantities, strict=True))
    return float(nest(piece_lengths_mm, [kits * count for count in piece_quantities], stock_length_mm,
                      kerf_mm=kerf_mm, trim_mm=trim_mm, shelf=shelf).bought)
