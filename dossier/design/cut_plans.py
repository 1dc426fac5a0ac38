"""Which piece is sawn from which length: the nesting behind each ``cut.<stock>.lengths``, worked out when asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dossier.calc.shop import cutting
from dossier.design.cutting import pieces_in_one_kit, stocks
from dossier.design.model import Design
from dossier.spec.keys import value_at
from dossier.spec.model_parts import Cut


@dataclass(frozen=True, slots=True)
class SawnPiece:
    """A piece: its length, the part it is for, and what it becomes, where the spec says."""

    length_mm: float
    ref: str
    name: str


@dataclass(frozen=True, slots=True)
class SawnLength:
    """One length of stock in the order in which it is sawn; ``bought`` is false for one from the shelf."""

    number: int
    stock_mm: float
    pieces: tuple[SawnPiece, ...]
    left_over_mm: float
    bought: bool


@dataclass(frozen=True, slots=True)
class CutPlan:
    """All lengths of one stock for all kits. ``bound`` is the least number to buy that was proved possible at all."""

    stock: str
    result_id: str
    kerf_mm: float
    trim_mm: float
    lengths: tuple[SawnLength, ...]
    bound: int

    @property
    def bought(self) -> int:
        return sum(length.bought for length in self.lengths)

    @property
    def proved(self) -> bool:
        """Whether no plan with fewer bought lengths exists."""
        return self.bought == self.bound


@dataclass(frozen=True, slots=True)
class SheetPiece:
    """A piece of a sheet, listed and not nested: its part, its size, how many for all kits, and how long the sheet is.
    """

    stock: str
    ref: str
    name: str
    length_mm: float
    width_mm: float
    quantity: int
    stock_mm: float


def cut_plans(design: Design) -> tuple[CutPlan, ...]:
    """The plan of every stock that is sold by length."""
    return tuple(_plan(design, name, keys) for name, keys in stocks(design.build).items()
                 if f"cut.{name}.lengths" in design.results)


def sheet_pieces(design: Design) -> tuple[SheetPiece, ...]:
    """The pieces of every sheet, in the order of the parts."""
    return tuple(SheetPiece(part.cut.from_, part.ref, piece.name or "", piece.length, piece.width,
                            pieces_in_one_kit(part, piece) * design.kits, part.cut.stock_length)
                 for part in design.build.parts if part.cut and part.get != "have"
                 for piece in part.cut.pieces if piece.width is not None)


def lengths_for_pieces(design: Design, name: str, pieces_mm: Sequence[float]) -> int:
    """Lengths to buy for these pieces and no others, from the stock of this slug, with nothing on the shelf."""
    cuts = [_cut(design, key) for key in stocks(design.build)[name]]
    kerf, trim = _kerf_and_trim(cuts)
    return cutting.nest(pieces_mm, [1.0] * len(pieces_mm), cuts[0].stock_length, kerf_mm=kerf, trim_mm=trim).bought


def _kerf_and_trim(cuts: Sequence[Cut]) -> tuple[float, float]:
    """What one of the cuts of a stock says for all of them."""
    kerf, trim = (next((value for cut in cuts if (value := getattr(cut, datum)) is not None), 0.0)
                  for datum in ("kerf", "trim"))
    return kerf, trim


def _plan(design: Design, name: str, keys: tuple[str, ...]) -> CutPlan:
    cuts = [_cut(design, key) for key in keys]
    kerf, trim = _kerf_and_trim(cuts)
    wanted = [piece for key, cut in zip(keys, cuts, strict=True) for piece in _pieces(design, key, cut)]
    shelf = [(stock.length, stock.quantity) for cut in cuts for stock in cut.shelf_stock]
    found = cutting.nest([piece.length_mm for piece in wanted], [1.0] * len(wanted), cuts[0].stock_length,
                         kerf_mm=kerf, trim_mm=trim, shelf=shelf)
    return CutPlan(cuts[0].from_, f"cut.{name}.lengths", kerf, trim, tuple(_handed_out(found, wanted)), found.bound)


def _cut(design: Design, key: str) -> Cut:
    cut = value_at(design.build, key)
    assert isinstance(cut, Cut)
    return cut


def _pieces(design: Design, key: str, cut: Cut) -> Iterator[SawnPiece]:
    part = value_at(design.build, key.rpartition(".")[0])
    for piece in cut.pieces:
        yield from [SawnPiece(piece.length, part.ref, piece.name or "")] * (
            pieces_in_one_kit(part, piece) * design.kits)


def _handed_out(found: cutting.Nesting, wanted: list[SawnPiece]) -> Iterator[SawnLength]:
    """Each place in the nesting to a piece of its length; pieces of one length go to their parts in turn."""
    waiting: dict[int, list[SawnPiece]] = {}
    for piece in wanted:
        waiting.setdefault(_tenths(piece.length_mm), []).append(piece)
    for number, length in enumerate(found.lengths, 1):
        pieces = tuple(waiting[_tenths(size)].pop(0) for size in length.pieces_mm)
        yield SawnLength(number, length.stock_mm, pieces, length.left_over_mm, length.bought)


def _tenths(length_mm: float) -> int:
    """As the nesting counts: whole tenths of a millimetre, rounded up."""
    return math.ceil(round(length_mm * 10, 6))
