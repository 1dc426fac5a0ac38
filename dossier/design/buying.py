"""Who pays for what: packs of pieces, lengths of stock that parts share, and what is to buy without a price."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from dossier.calc.shop import cutting as cuts
from dossier.design.cutting import pieces_in_one_kit, stocks
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded
from dossier.spec.model import Build
from dossier.spec.model_parts import Part

_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Payer:
    """The part on whose line a stock that is sold by length is bought, by its key, and the stock's slug."""

    key: str
    stock: str


def payers(build: Build) -> Mapping[str, Payer]:
    """For each part that is cut from lengths, by its key, who pays for its stock: the first part whose price is of a
    length of it. None pays where no price is; a part with a price of its own is bought by that."""
    found: dict[str, Payer] = {}
    for stock, keys in stocks(build).items():
        parts = {key: value_at(build, key) for key in (each.rpartition(".")[0] for each in keys)}
        paying = next((key for key, part in parts.items() if part.price is not None and part.cut.by_length), None)
        if paying is not None:
            found |= {key: Payer(paying, stock) for key, part in parts.items()
                      if part.price is None or part.cut.by_length}
    return found


def unpriced(build: Build) -> tuple[Part, ...]:
    """The parts to buy without a price. What is cut from a stock that another part pays for is not among them, nor what
    is made or printed from something else on the list."""
    wanting = [(index, part) for index, part in enumerate(build.parts) if part.get == "buy" and part.price is None]
    if not wanting:
        return ()
    paid = payers(build)
    return tuple(part for index, part in wanting if f"parts[{index}]" not in paid)


def unpriced_for(build: Build, result_id: str) -> tuple[Part, ...]:
    """The parts without a price that are missing in this result's sum; none where it is no sum of prices."""
    if result_id in {"parts.cost", "parts.cost_all_kits", "parts.cost_per_kit"}:
        return unpriced(build)
    _, _, group = result_id.partition("parts.group_cost.")
    return tuple(part for part in unpriced(build) if slug(part.group or "") == group) if group else ()


def named(parts: Sequence[Part]) -> str:
    """``P6``, ``P6 and P7``, or the first few and how many more."""
    refs = [part.ref for part in parts]
    if len(refs) > _MOST_NAMED:
        return f"{', '.join(refs[:_MOST_NAMED - 1])} and {len(refs) - _MOST_NAMED + 1} more"
    return " and ".join(filter(None, (", ".join(refs[:-1]), *refs[-1:])))


@dataclass(frozen=True, slots=True)
class WrongPack:
    """A pack that is typed beside a cut and says something else than the cut: how many pieces of the part come out of
    one length as typed, and as sawn. ``by_length`` says that the cut decides what is bought, else the pack does.
    ``file`` and ``line`` are where it was typed."""

    ref: str
    key: str
    file: str
    line: int
    typed: int
    sawn: int
    by_length: bool


def wrong_packs(loaded: Loaded) -> Iterator[WrongPack]:
    """The packs that contradict the cut beside them, in the order of the parts."""
    for index, part in enumerate(loaded.build.parts):
        key = f"parts[{index}].pack"
        if part.cut is None or part.cut.is_sheet or (spot := loaded.spots.get(key)) is None:
            continue
        sawn = _from_one_length(loaded.build, part)
        if sawn != part.pack:
            yield WrongPack(part.ref, key, spot.file, spot.line, part.pack, sawn, part.cut.by_length)


def _from_one_length(build: Build, part: Part) -> int:
    cut = part.cut
    assert cut is not None
    alike = [value_at(build, key) for key in stocks(build).get(slug(cut.from_), ())] or [cut]
    kerf, trim = (next((value for each in alike if (value := getattr(each, datum)) is not None), 0.0)
                  for datum in ("kerf", "trim"))
    counts = [pieces_in_one_kit(part, piece) for piece in cut.pieces]
    return cuts.parts_from_length([piece.length for piece in cut.pieces], counts, part.quantity + part.spares,
                                  cut.stock_length, kerf_mm=kerf, trim_mm=trim)
