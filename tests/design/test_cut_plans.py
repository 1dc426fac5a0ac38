"""Which piece from which length, against plans worked out by hand. All stock and prices are invented."""

from __future__ import annotations

import pytest

from dossier.design.cut_plans import cut_plans, sheet_pieces

SAWN = """\
parts:
  - {ref: A, name: Poles, get: make, quantity: 4, cut: {from: tube, stock_length: 1003 mm, kerf: 3 mm,
     pieces: [{length: 500 mm, quantity: 4, name: pole}]}}
  - {ref: B, name: Stubs, get: make, quantity: 2, cut: {from: rail, stock_length: 1000 mm, kerf: 2 mm, trim: 10 mm,
     pieces: [{length: 300 mm, quantity: 2}, {length: 200 mm}]}}
"""
SHELF = """\
parts:
  - {ref: A, name: Poles, get: make, cut: {from: tube, stock_length: 1000 mm,
     pieces: [{length: 400 mm, quantity: 3}], shelf_stock: [{length: 450 mm}]}}
"""
SHEET = """\
parts:
  - {ref: A, name: Rings, get: make, cut: {from: plywood, stock_length: 1220 mm, stock_width: 610 mm,
     pieces: [{length: 250 mm, width: 240 mm, quantity: 2, name: ring}]}}
"""


def test_a_kerf_between_pieces_and_none_after_the_last(design):
    """Two pieces of 500 mm and one cut of 3 mm fill 1003 mm exactly."""
    (tube, rail) = cut_plans(design(SAWN))
    assert [[piece.length_mm for piece in length.pieces] for length in tube.lengths] == [[500, 500], [500, 500]]
    assert [length.left_over_mm for length in tube.lengths] == [0, 0]
    # 1000 − 10 trim − 300 − 300 − 200 − three cuts of 2, the last of which parts off what is left.
    assert [length.left_over_mm for length in rail.lengths] == [184]


def test_every_piece_is_sawn_once_for_its_own_part(design):
    worked = design(SAWN, kits=3)
    for plan in cut_plans(worked):
        sawn = sorted((piece.length_mm, piece.ref) for length in plan.lengths for piece in length.pieces)
        wanted = {"tube": [(500.0, "A")] * 12, "rail": [(200.0, "B")] * 3 + [(300.0, "B")] * 6}[plan.stock]
        assert sawn == sorted(wanted)
        assert plan.proved
        assert plan.bought == worked.results[plan.result_id].value
        for length in plan.lengths:
            used = sum(piece.length_mm for piece in length.pieces) + plan.kerf_mm * (len(length.pieces) - 1)
            assert used + plan.trim_mm <= length.stock_mm


def test_what_is_on_the_shelf_goes_first(design):
    worked = design(SHELF)
    (plan,) = cut_plans(worked)
    assert worked.results["cut.tube.lengths"].value == plan.bought == 1
    assert [(length.stock_mm, length.bought) for length in plan.lengths] == [(1000, True), (450, False)]


def test_sheets_are_listed_and_not_nested(design):
    (ring,) = sheet_pieces(design(SHEET, kits=4))
    assert (ring.ref, ring.length_mm, ring.width_mm, ring.quantity) == ("A", 250, 240, 8)
    assert not cut_plans(design(SHEET))


def test_left_over_is_never_less_than_nothing(design):
    text = SAWN.replace("1003 mm", "1004 mm")
    (tube, _) = cut_plans(design(text))
    # What is left would be 1 mm, which the last cut of 3 mm takes.
    assert [length.left_over_mm for length in tube.lengths] == pytest.approx([0, 0])
