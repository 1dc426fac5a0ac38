"""Cutting stock. V. Chvátal, *Linear Programming* (1983), chapter 13, and a textbook instance of 13 widths.

Chvátal: rolls of 100 in, 97 pieces of 45, 610 of 36, 395 of 31 and 211 of 14 in: 453 rolls. The other: rolls of
5600 mm, 13 widths: 73 rolls. Known: recalled; both are proved again here by the solver.
"""

import pytest

from dossier.calc.shop.cutting import nest, stock_lengths

PAPER = ((45, 36, 31, 14), (97, 610, 395, 211), 100)
ROLLS = ((1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200),
         (22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20), 5600)


@pytest.mark.proves("stock_lengths", source="chvatal-1983", known="recalled")
def test_paper_rolls() -> None:
    pieces, counts, stock = PAPER
    assert stock_lengths(pieces, counts, 1, stock, 0, 0, (), ()) == 453


@pytest.mark.proves("stock_lengths", source="cutting-stock-textbook", known="recalled")
def test_thirteen_widths() -> None:
    pieces, counts, stock = ROLLS
    assert stock_lengths(pieces, counts, 1, stock, 0, 0, (), ()) == 73


@pytest.mark.parametrize(("pieces", "counts", "stock"), [PAPER, ROLLS])
def test_every_piece_is_cut_and_no_length_overfilled(
    pieces: tuple[int, ...], counts: tuple[int, ...], stock: int,
) -> None:
    nesting = nest(pieces, counts, stock)
    assert nesting.proved
    cut = [piece for length in nesting.lengths for piece in length.pieces_mm]
    assert {piece: cut.count(piece) for piece in pieces} == dict(zip(pieces, counts, strict=True))
    assert all(sum(length.pieces_mm) + length.left_over_mm == stock for length in nesting.lengths)
