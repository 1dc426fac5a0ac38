"""Cutting and printing: instances with known answers, and every nesting checked piece by piece."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.calc.shop import patterns
from dossier.calc.shop.cutting import Nesting, first_fit, lower_bound, nest
from dossier.calc.shop.patterns import Demand, Stock


def check(nesting: Nesting, wanted: dict[float, int], kerf: float, trim: float) -> None:
    cut = Counter(piece for length in nesting.lengths for piece in length.pieces_mm)
    assert cut == Counter(wanted)
    for length in nesting.lengths:
        pieces = length.pieces_mm
        used = sum(pieces) + kerf * (len(pieces) - 1)
        assert used <= length.stock_mm - trim + 1e-6
        left = max(length.stock_mm - trim - used - kerf, 0)
        assert length.left_over_mm == pytest.approx(left, abs=1e-6)


def test_mixed_poles() -> None:
    wanted = {900: 3, 450: 4, 330: 6, 250: 5, 120: 8}
    nesting = nest(list(wanted), list(wanted.values()), 2000, kerf_mm=3)
    assert nesting.bought == 5
    assert nesting.proved
    check(nesting, wanted, 3, 0)


def test_kerf_lies_between_pieces_only() -> None:
    """1003 mm give two of 500 mm with one kerf of 3; were there a kerf after every piece it would be four lengths."""
    assert nest([500], [4], 1003, kerf_mm=3).bought == 2
    assert nest([500], [4], 1002.9, kerf_mm=3).bought == 4


def test_trim_is_lost_once_from_each_length() -> None:
    assert nest([500], [4], 1013, kerf_mm=3, trim_mm=10).bought == 2
    assert nest([500], [4], 1012, kerf_mm=3, trim_mm=10).bought == 4


def test_tenths_do_not_lie() -> None:
    """Ten of 0.1 mm more than a tenth each do not fit; ten of exactly a tenth do, whatever binary fractions say."""
    assert nest([100.1], [30], 1001).bought == 3
    assert nest([100.3], [30], 1002.9).bought == 4
    assert nest([33.35], [3], 100).bought == 2


def test_stock_on_the_shelf_is_used_first() -> None:
    wanted = {900.0: 3, 450.0: 4}
    nesting = nest(list(wanted), list(wanted.values()), 2000, kerf_mm=3, shelf=[(1000, 2), (500, 1)])
    assert nesting.bought == 2
    assert nesting.proved
    check(nesting, wanted, 3, 0)
    assert [length.bought for length in nesting.lengths] == sorted((length.bought for length in nesting.lengths),
                                                                  reverse=True)


def test_shelf_alone_may_do() -> None:
    nesting = nest([400], [4], 2000, shelf=[(900, 5)])
    assert nesting.bought == 0
    assert len(nesting.lengths) == 2


def test_asking_twice_gives_the_same() -> None:
    pieces, counts = [45, 36, 31, 14], [97, 610, 395, 211]
    assert nest(pieces, counts, 100).bought == nest(pieces, counts, 100).bought == 453


def test_prices_find_what_listing_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirteen widths on 5600 mm, 73 lengths: with every way listed, and with ways found one at a time by prices."""
    widths = (2200, 2150, 2140, 2100, 2050, 2000, 1930, 1880, 1820, 1710, 1560, 1520, 1380)
    demand = Demand(widths, (20, 18, 16, 14, 12, 10, 20, 18, 18, 14, 12, 25, 22))
    listed, listed_bound = patterns.fewest(demand, Stock(5600, None), (), 20)
    monkeypatch.setattr(patterns, "MOST_PATTERNS", 50)
    priced, priced_bound = patterns.fewest(demand, Stock(5600, None), (), 20)
    assert len(listed) == listed_bound == priced_bound == 73
    assert 73 <= len(priced) <= 74
    given = [sum(fill[kind] for _, fill in priced) for kind in range(13)]
    assert tuple(given) == demand.counts


def test_bound_is_said_where_time_runs_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no time left for the prices the best nesting found is given with the bound that was proved, below it."""
    monkeypatch.setattr(patterns, "MOST_PATTERNS", 50)
    pieces = [300 + 37 * (number * number % 29) for number in range(28)]
    counts = [2 + number % 5 for number in range(28)]
    nesting = nest(pieces, counts, 2990, time_limit_s=0.0)
    assert 0 < nesting.bound <= nesting.bought
    assert sum(len(length.pieces_mm) for length in nesting.lengths) == sum(counts)


def least_by_trying(sizes: list[int], room: int) -> int:
    """Fewest lengths for single pieces, by trying every way of putting them in."""
    for count in range(1, len(sizes) + 1):
        for places in itertools.product(range(count), repeat=len(sizes)):
            filled = Counter[int]()
            for size, place in zip(sizes, places, strict=True):
                filled[place] += size
            if all(total <= room for total in filled.values()):
                return count
    return len(sizes)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(10, 100), min_size=1, max_size=6))
def test_against_every_possible_nesting(sizes: list[int]) -> None:
    nesting = nest(sizes, [1] * len(sizes), 100)
    assert nesting.proved
    assert nesting.bought == least_by_trying(sizes, 100)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(20, 900), st.integers(1, 9)), min_size=1, max_size=5),
       st.integers(0, 30), st.integers(0, 200))
def test_nesting_is_always_whole(lines: list[tuple[int, int]], kerf: int, trim: int) -> None:
    wanted = Counter[float]()
    for length, count in lines:
        wanted[float(length)] += count
    nesting = nest([length for length, _ in lines], [count for _, count in lines], 1200, kerf_mm=kerf / 10,
                   trim_mm=trim)
    check(nesting, dict(wanted), kerf / 10, trim)
    assert nesting.bound <= nesting.bought
    demand = Demand(tuple(sorted({int(10 * length) + kerf for length in wanted}, reverse=True)),
                    tuple(wanted[length] for length in sorted(wanted, reverse=True)))
    quick = first_fit(demand, (1200 - trim) * 10 + kerf)
    assert quick is not None
    assert lower_bound(demand, (1200 - trim) * 10 + kerf) <= nesting.bought <= len(quick)


def test_shelf_too_short_for_the_pieces_is_made_up_by_buying() -> None:
    found, bound = patterns.fewest(Demand((600,), (5,)), Stock(1300, None), (Stock(700, 2),), 5)
    assert bound == 2
    assert sum(stock.count is None for stock, _ in found) == 2


@pytest.mark.parametrize(("pieces", "counts", "stock", "said"), [
    ([2100], [1], 2000, "longer than its stock"), ([1995], [1], 2000, "longer than its stock"),
    ([100], [1.5], 2000, "whole number"), ([100], [-1], 2000, "whole number"), ([0], [1], 2000, "longer than nothing"),
    ([math.nan], [1], 2000, "longer than nothing"), ([100], [math.nan], 2000, "whole number"),
    ([100], [1], 0, "longer than nothing"), ([100], [1], math.inf, "longer than nothing"),
    ([100, 200], [1], 2000, "length and a quantity"),
])
def test_cuts_that_cannot_be(pieces: list[float], counts: list[float], stock: float, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        nest(pieces, counts, stock, trim_mm=10)


def test_nothing_to_cut() -> None:
    assert nest([], [], 2000).lengths == ()
    assert nest([100], [0], 2000).bought == 0
