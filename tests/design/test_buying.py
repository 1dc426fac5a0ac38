"""Lengths paid for as the cut plan buys them, and prices that nobody gave. All parts and prices are invented."""

from __future__ import annotations

import pytest

from dossier.design.buying import unpriced, wrong_packs
from dossier.design.cut_plans import cut_plans, sheet_pieces
from dossier.errors import Unusable
from dossier.views.prices import wrong_pack_words

POLES = """\
readers: {currency: EUR}
parts:
  - {ref: A, name: Poles, group: frame, get: make, quantity: 3, price: 15.40,
     cut: {from: tube, price_of: length, stock_length: 2000 mm, kerf: 1.5 mm, trim: 10 mm,
           pieces: [{length: 640 mm, quantity: 3}]}}
  - {ref: B, name: Screws, group: frame, get: buy, quantity: 6, pack: 10, price: 3}
"""
# Two parts from one tube: 3 × 500 and 2 × 400 with three cuts of 2 are 2306 of 2400.
SHARED = """\
readers: {currency: EUR}
parts:
  - {ref: A, name: Long, group: frame, get: make, quantity: 3, price: 20,
     cut: {from: tube, price_of: length, stock_length: 2400 mm, kerf: 2 mm, pieces: [{length: 500 mm, quantity: 3}]}}
  - {ref: B, name: Short, group: box, get: make, quantity: 2,
     cut: {from: tube, stock_length: 2400 mm, pieces: [{length: 400 mm, quantity: 2}]}}
"""
UNPRICED = """\
readers: {currency: EUR}
goals: [{result: parts.cost, at_most: 100, because: as much as there is}]
parts:
  - {ref: P1, name: Mirror, group: optics, get: buy, price: 60}
  - {ref: P6, name: Focuser, group: focuser, get: buy, supplier: a shop}
  - {ref: P7, name: Board, group: focuser, get: make}
"""


def cost(worked, result: str = "parts.cost") -> float:
    return worked.results[result].number


def test_a_longer_pole_buys_the_lengths_that_the_cut_plan_buys(design):
    """Three poles of 640 mm come out of 2 m; of 700 mm only two do."""
    assert cost(design(POLES)) == pytest.approx(15.40 + 3)
    longer = design(POLES.replace("640 mm", "700 mm"))
    assert cost(longer, "cut.tube.lengths") == 2
    assert cost(longer) == pytest.approx(2 * 15.40 + 3)
    (poles, _) = longer.parts
    assert (poles.packs, poles.cost, poles.pack, poles.stock) == (2, pytest.approx(30.80), 1, "tube")


def test_what_is_on_the_shelf_is_not_paid_for(design):
    worked = design(POLES.replace("trim: 10 mm", "trim: 10 mm, shelf_stock: [{length: 1960 mm, quantity: 1}]"))
    assert cost(worked, "cut.tube.lengths") == 0
    assert cost(worked) == 3


def test_one_kit_and_all_of_them_are_each_cut_by_themselves(design):
    """Two poles of 900 mm are one length a kit; five kits of one pole of 900 mm are three lengths and not five."""
    one = POLES.replace("640 mm, quantity: 3", "900 mm, quantity: 1").replace("quantity: 3, price", "price")
    worked = design(one, kits=5)
    assert cost(worked, "cut.tube.lengths") == 3
    assert cost(worked) == pytest.approx(15.40 + 3)
    assert cost(worked, "parts.cost_all_kits") == pytest.approx(3 * 15.40 + 3 * 3)
    assert (worked.parts[0].packs, worked.parts[0].all_packs, worked.parts[0].needed) == (1, 3, 3)


def test_parts_that_share_a_stock_buy_it_once(design):
    worked = design(SHARED)
    assert cost(worked, "cut.tube.lengths") == 1
    assert cost(worked) == cost(worked, "parts.group_cost.frame") == 20
    (long, short) = worked.parts
    assert (long.cost, long.shares, short.cost, short.packs, short.shares) == (20, "", None, 0, "A")
    assert "parts.group_cost.box" not in worked.results


def test_every_sum_of_prices_is_that_of_the_lines(design):
    for text in (POLES, SHARED, POLES.replace("640 mm", "1000 mm")):
        for kits in (1, 3, 8):
            worked = design(text, kits=kits)
            one, every = (sum(each or 0 for each in column) for column in zip(
                *((line.cost, line.all_cost) for line in worked.parts), strict=True))
            assert (one, every) == pytest.approx((cost(worked), cost(worked, "parts.cost_all_kits")))
            for plan in cut_plans(worked):
                assert plan.bought == sum(line.all_packs for line in worked.parts if line.stock == plan.stock)


def test_two_prices_of_one_stock_are_an_error_at_their_line(design):
    second = SHARED.replace("quantity: 2,\n", "quantity: 2, price: 21,\n", 1).replace(
        "{from: tube, stock", "{from: tube, price_of: length, stock")
    with pytest.raises(Unusable) as caught:
        design(second)
    (problem,) = caught.value.problems
    assert (problem.key, problem.line) == ("parts[1].price", 10)
    assert "parts[0].price (21, 20)" in problem.message


def test_a_spare_has_pieces_of_its_own(design):
    """Three poles and a spare of 640 mm are four, one more than a length of 2 m gives."""
    worked = design(POLES.replace("quantity: 3, price", "quantity: 3, spares: 1, price"))
    assert cost(worked, "cut.tube.lengths") == 2
    assert [len(length.pieces) for plan in cut_plans(worked) for length in plan.lengths] == [3, 1]
    sheet = design("""parts:
  - {ref: R, name: Rings, get: make, quantity: 2, spares: 1, cut: {from: ply, stock_length: 1220 mm,
     stock_width: 610 mm, pieces: [{length: 250 mm, width: 250 mm, quantity: 2}]}}
""", kits=2)
    assert [piece.quantity for piece in sheet_pieces(sheet)] == [6]


def test_a_price_is_of_the_part_where_its_cut_does_not_say_of_a_length(design):
    """Each, or for one pack where there is a pack, as for any part; the cut plan then buys nothing."""
    each = POLES.replace("price_of: length, ", "")
    assert cost(design(each)) == pytest.approx(3 * 15.40 + 3)
    worked = design(each.replace("price: 15.40", "pack: 3, price: 15.40").replace("640 mm", "700 mm"))
    assert cost(worked) == pytest.approx(15.40 + 3)
    (wrong,) = wrong_packs(worked.loaded)
    assert (wrong.typed, wrong.sawn, wrong.by_length) == (3, 2, False)
    assert "packs are bought as typed. Say price_of: length" in wrong_pack_words(wrong)


def test_a_stock_is_not_paid_for_by_the_part_and_by_the_length(design):
    with pytest.raises(Unusable, match=r"parts\[1\].cut.price_of: is part, but parts\[0\] pays for tube by the length"):
        design(SHARED.replace("quantity: 2,\n", "quantity: 2, price: 21,\n", 1))


@pytest.mark.parametrize(("typed", "sawn"), [(3, None), (2, 3), (4, 3), (1, 3)])
def test_a_pack_that_the_cut_contradicts_is_told_with_its_line(design, typed, sawn):
    worked = design(POLES.replace("price: 15.40", f"pack: {typed}, price: 15.40"))
    assert cost(worked) == pytest.approx(18.40), "the cut decides"
    found = list(wrong_packs(worked.loaded))
    assert [(each.key, each.line, each.typed, each.sawn) for each in found] == (
        [("parts[0].pack", 8, typed, sawn)] if sawn else [])


def test_what_is_to_buy_without_a_price_is_named(design):
    worked = design(UNPRICED)
    assert [part.ref for part in unpriced(worked.build)] == ["P6"]
    assert worked.results["parts.cost"].title == "Cost of one kit, at least (P6 without a price)"
    assert worked.results["parts.group_cost.optics"].title == "Cost of one kit, optics"


def test_a_cost_limit_is_not_met_while_a_price_is_missing(design):
    worked = design(UNPRICED)
    assert worked.results["parts.cost"].goal is None
    (open_,) = worked.unmet
    assert (open_.goal.result, open_.goal.limit) == ("parts.cost", 100)
    assert open_.missing == "P6 to buy without a price; parts.cost is at least 60.00 EUR"


def test_a_cost_limit_is_missed_all_the_same_where_the_rest_exceeds_it(design):
    worked = design(UNPRICED.replace("at_most: 100", "at_most: 50"))
    assert [result.id for result in worked.misses] == ["parts.cost"]
    assert not worked.unmet


def test_a_limit_with_all_prices_is_judged(design):
    worked = design(UNPRICED.replace("get: buy, supplier", "get: buy, price: 30, supplier"))
    assert worked.results["parts.cost"].goal.outcome(cost(worked)) == "meets"
    assert not worked.unmet


def test_what_shares_a_priced_stock_lacks_no_price(design):
    assert not unpriced(design(SHARED.replace("get: make, quantity: 2", "get: buy, quantity: 2")).build)
