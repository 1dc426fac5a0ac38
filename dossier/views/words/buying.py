"""What is to be known of a sum of prices before it is believed: missing prices, packs that contradict a cut."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design, Unmet
from dossier.design.buying import unpriced, wrong_packs
from dossier.notation import show
from dossier.views.prices import listed, wrong_pack_words


def tell(design: Design) -> str:
    """The parts without a price and the limits that are open because of them; then packs that are typed wrongly."""
    return " ".join((*_without_a_price(design), *_packs(design)))


def _without_a_price(design: Design) -> Iterator[str]:
    missing = unpriced(design.build)
    if not missing:
        return
    yield f"**Without a price: {listed(missing)}.** Every sum that lacks one says what is spent at least."
    for unmet in design.unmet:
        if unmet.goal.result in design.results:
            until = "it has" if len(missing) == 1 else "they have"
            yield f"{_limit(unmet, design)} cannot be judged until {until} one."


def _limit(unmet: Unmet, design: Design) -> str:
    result = design.results[unmet.goal.result]
    limit = show(unmet.goal.limit, result.unit, readers=design.build.readers).plain
    return f"The limit of {unmet.goal.sense.replace('_', ' ')} {limit}"


def _packs(design: Design) -> Iterator[str]:
    for pack in wrong_packs(design.loaded):
        yield f"**Pack beside a cut:** line {pack.line} {wrong_pack_words(pack)}."
