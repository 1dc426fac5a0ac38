"""The plan of the cutting: how many lengths of each stock the pieces of all kits take."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from dossier.calc.shop import cutting
from dossier.design.worksheet import Work, Worksheet
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.model import Build
from dossier.spec.model_parts import Cut, Part, Piece
from dossier.working import Given, Result, gathered


def plan(build: Build) -> Mapping[str, Work]:
    """One result for each stock that is sold by length; sheets are listed piece by piece and not nested."""
    return {f"cut.{name}.lengths": _work(name, keys) for name, keys in stocks(build).items()}


def stocks(build: Build) -> Mapping[str, tuple[str, ...]]:
    """The cuts of each stock that is sold by length: the stock's slug, and the keys of the cuts that share it. What is
    at hand is not cut again."""
    found: dict[str, list[str]] = {}
    for index, part in enumerate(build.parts or ()):
        if part.cut and part.get != "have" and not part.cut.is_sheet:
            found.setdefault(slug(part.cut.from_), []).append(f"parts[{index}].cut")
    return {name: tuple(keys) for name, keys in found.items()}


def lengths_for(sheet: Worksheet, name: str, kits: int) -> Given | Result:
    """Lengths of the stock of this slug to buy for so many kits; the plan's own result where it is for as many.

    Raises what the sheet raises, and ValueError for a piece that no length gives.
    """
    if kits == sheet.kits:
        return sheet.result(f"cut.{name}.lengths")
    again = _lengths(sheet, name, stocks(sheet.build)[name], kits)
    kit = "one kit" if kits == 1 else f"{kits} kits"
    return Given(f"lengths of {_cut(sheet.build, stocks(sheet.build)[name][0]).from_} for {kit}", again.number, "",
                 "default", said="worked out as the cut plan is")


def pieces_in_one_kit(part: Part, piece: Piece) -> int:
    """How many pieces of one size a kit takes, those of the part's spares counted: a spare has pieces of its own."""
    return -(-piece.quantity * (part.quantity + part.spares) // part.quantity)


def _work(name: str, cuts: tuple[str, ...]) -> Work:
    return lambda sheet: _lengths(sheet, name, cuts, sheet.kits)


def _lengths(sheet: Worksheet, name: str, cuts: tuple[str, ...], kits: int) -> Result:
    pieces = [f"{cut}.pieces[{index}]" for cut in cuts for index in range(len(_cut(sheet.build, cut).pieces))]
    shelf = [f"{cut}.shelf_stock[{index}]" for cut in cuts
             for index in range(len(_cut(sheet.build, cut).shelf_stock))]
    return cutting.stock_lengths.work(
        f"cut.{name}.lengths",
        piece_lengths_mm=gathered("lengths of the pieces", [sheet.given(f"{key}.length") for key in pieces], "mm"),
        piece_quantities=gathered("pieces for one kit", list(_counted(sheet, cuts)), ""),
        kits=Given("kits", float(kits), "", "default"),
        stock_length_mm=sheet.given(f"{cuts[0]}.stock_length"),
        kerf_mm=_said_once(sheet, cuts, "kerf"), trim_mm=_said_once(sheet, cuts, "trim"),
        shelf_lengths_mm=gathered("lengths on the shelf", [sheet.given(f"{key}.length") for key in shelf], "mm"),
        shelf_quantities=gathered("how many of each", [sheet.given(f"{key}.quantity") for key in shelf], ""))


def _counted(sheet: Worksheet, cuts: tuple[str, ...]) -> Iterator[Given]:
    for cut in cuts:
        part = value_at(sheet.build, cut.rpartition(".")[0])
        for index, piece in enumerate(_cut(sheet.build, cut).pieces):
            said = sheet.given(f"{cut}.pieces[{index}].quantity")
            count = pieces_in_one_kit(part, piece)
            yield said if count == said.value else replace(said, value=float(count), said=f"{said.said}, with spares")


def _cut(build: Build, key: str) -> Cut:
    cut = value_at(build, key)
    assert isinstance(cut, Cut)
    return cut


def _said_once(sheet: Worksheet, cuts: tuple[str, ...], datum: str) -> Given:
    """What one of the cuts of a stock says for all of them; nothing is lost where none does."""
    key = next((f"{cut}.{datum}" for cut in cuts if sheet.says(f"{cut}.{datum}")), None)
    return sheet.given(key) if key else Given(f"{cuts[0]}.{datum}", 0.0, "mm", "default", said="none")
