"""The plan of the cutting: how many lengths of each stock the pieces of all kits take."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc.shop import cutting
from dossier.design.worksheet import Work, Worksheet
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.model import Build
from dossier.spec.model_parts import Cut
from dossier.working import Given, Result, gathered


def plan(build: Build) -> Mapping[str, Work]:
    """One result for each stock that is sold by length; sheets are listed piece by piece and not nested."""
    return {f"cut.{name}.lengths": _work(name, keys) for name, keys in stocks(build).items()}


def stocks(build: Build) -> Mapping[str, tuple[str, ...]]:
    """The cuts of each stock that is sold by length: the stock's slug, and the keys of the cuts that share it."""
    found: dict[str, list[str]] = {}
    for index, part in enumerate(build.parts or ()):
        if part.cut and part.cut.stock_width is None and all(piece.width is None for piece in part.cut.pieces):
            found.setdefault(slug(part.cut.from_), []).append(f"parts[{index}].cut")
    return {name: tuple(keys) for name, keys in found.items()}


def _work(name: str, cuts: tuple[str, ...]) -> Work:
    def work(sheet: Worksheet) -> Result:
        pieces = [f"{cut}.pieces[{index}]" for cut in cuts for index in range(len(_cut(sheet.build, cut).pieces))]
        shelf = [f"{cut}.shelf_stock[{index}]" for cut in cuts
                 for index in range(len(_cut(sheet.build, cut).shelf_stock))]
        return cutting.stock_lengths.work(
            f"cut.{name}.lengths",
            piece_lengths_mm=gathered("lengths of the pieces", [sheet.given(f"{key}.length") for key in pieces], "mm"),
            piece_quantities=gathered("pieces for one kit", [sheet.given(f"{key}.quantity") for key in pieces], ""),
            kits=Given("kits", float(sheet.kits), "", "default"),
            stock_length_mm=sheet.given(f"{cuts[0]}.stock_length"),
            kerf_mm=_said_once(sheet, cuts, "kerf"), trim_mm=_said_once(sheet, cuts, "trim"),
            shelf_lengths_mm=gathered("lengths on the shelf", [sheet.given(f"{key}.length") for key in shelf], "mm"),
            shelf_quantities=gathered("how many of each", [sheet.given(f"{key}.quantity") for key in shelf], ""))

    return work


def _cut(build: Build, key: str) -> Cut:
    cut = value_at(build, key)
    assert isinstance(cut, Cut)
    return cut


def _said_once(sheet: Worksheet, cuts: tuple[str, ...], datum: str) -> Given:
    """What one of the cuts of a stock says for all of them; nothing is lost where none does."""
    key = next((f"{cut}.{datum}" for cut in cuts if sheet.says(f"{cut}.{datum}")), None)
    return sheet.given(key) if key else Given(f"{cuts[0]}.{datum}", 0.0, "mm", "default", said="none")
