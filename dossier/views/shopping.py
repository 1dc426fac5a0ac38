"""What to buy where: what is to pay for by supplier, in whole packs and lengths for all kits, and what that costs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dossier.design import Design, PartLine
from dossier.design.buying import unpriced
from dossier.notation import show
from dossier.notation.given import show_given
from dossier.spec.defaults import slug
from dossier.spec.deferred import OPENS
from dossier.spec.model_parts import Part
from dossier.views.align import aligned
from dossier.views.links import part_anchor
from dossier.views.markup import Html, text
from dossier.views.spoken import Spoken
from dossier.views.tables import Cell

NOWHERE = "Where you find it"
# Behind the name of a shop an author says what it is sold as there, or what to look out for.
_HINT = re.compile(r"[,;]\s*")


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to buy: how many are needed, in what they are sold, how many of those, and what is left over of them.
    ``hint`` is what the author says of buying it."""

    ref: str
    anchor: str
    name: Html
    hint: Html
    needed: str
    sold: str
    packs: str
    left_over: str
    price: Cell
    cost: Cell


@dataclass(frozen=True, slots=True)
class Shop:
    """What is bought of one kind of supplier, and what that comes to."""

    name: Html
    items: tuple[Item, ...]
    cost: Cell


@dataclass(frozen=True, slots=True)
class Shopping:
    """The shopping list for so many ``kits``, in words. ``without_price`` names what is to buy and has none."""

    kits: str
    currency: str
    shops: tuple[Shop, ...]
    cost: Cell
    without_price: str


def bought(design: Design) -> tuple[tuple[Part, PartLine], ...]:
    """What is to pay for, for all kits, in the order of the parts: all that has a price, and what is to
    buy although it has none."""
    wanting = {part.ref for part in unpriced(design.build)}
    lined = zip(design.build.parts, design.parts, strict=True)
    return tuple((part, line) for part, line in lined if part.get != "have" and not line.shares
                 and (part.price is not None or part.ref in wanting))


def shop_of(part: Part) -> str:
    """Where a part is sold, without what is said of buying it there."""
    return _said_of_shop(part)[0]


def _said_of_shop(part: Part) -> tuple[str, str]:
    """A supplier, and what its author says after a comma or semicolon; a text with live numbers is not taken apart."""
    said = part.supplier or ""
    if OPENS in said:
        return said, ""
    name, *hint = _HINT.split(said, maxsplit=1)
    return name, "".join(hint)


def kits_words(design: Design) -> str:
    """For how many kits is shopped."""
    return "one kit" if design.kits == 1 else f"{design.kits} kits"


def shopping_list(design: Design, spoken: Spoken) -> Shopping | None:
    """The shopping list; None where nothing is bought."""
    lines = bought(design)
    if not lines:
        return None
    by_shop: dict[str, list[tuple[Part, PartLine]]] = {}
    for part, line in sorted(lines, key=lambda each: not each[0].supplier):
        by_shop.setdefault(slug(shop_of(part)), []).append((part, line))
    sums = [_sum(line for _, line in own) for own in by_shop.values()]
    costs = _cells([*(line.all_cost for own in by_shop.values() for _, line in own), *sums, _sum(
        line for _, line in lines)], design)
    prices = iter(_cells([part.price for own in by_shop.values() for part, _ in own], design))
    each = iter(costs)
    keys = {part.ref: f"parts[{index}]" for index, part in enumerate(design.build.parts)}
    items = [tuple(_item(part, line, keys[part.ref], next(prices), next(each), design, spoken) for part, line in own)
             for own in by_shop.values()]
    shops = tuple(Shop(_named(own[0][0], keys, spoken), bundle, cost)
                  for own, bundle, cost in zip(by_shop.values(), items, costs[len(lines):], strict=False))
    missing = [part.ref for part in unpriced(design.build)]
    return Shopping(kits_words(design), show(0.0, "money", readers=design.build.readers).unit, shops, costs[-1],
                    ", ".join(missing))


def _sum(lines: Iterable[PartLine]) -> float | None:
    known = [line.all_cost for line in lines if line.all_cost is not None]
    return sum(known) if known else None


def _cells(values: Sequence[float | None], design: Design) -> list[Cell]:
    """Sums of money on one decimal point; empty where there is none."""
    numbers = ["" if value is None else show(value, "money", readers=design.build.readers).number for value in values]
    return [Cell(place.number, place.pad) if place.number else Cell("") for place in aligned(numbers)]


def _named(part: Part, keys: dict[str, str], spoken: Spoken) -> Html:
    name = spoken.of_spec(shop_of(part), f"{keys[part.ref]}.supplier") if part.supplier else text(NOWHERE)
    return Html(name[:1].upper() + name[1:])


def _item(part: Part, line: PartLine, key: str, price: Cell, cost: Cell, design: Design, spoken: Spoken) -> Item:
    hints = filter(None, (_sawn_from(part, line, design), _said_of_shop(part)[1]))
    unit = "" if line.stock == "" else " length" if line.needed == 1 else " lengths"
    return Item(part.ref, part_anchor(part.ref), spoken.of_spec(part.name, f"{key}.name"),
                text("; ".join(hints)),
                f"{line.needed}{unit}", f"packs of {line.pack}" if line.pack > 1 else "",
                str(line.all_packs), str(line.left_over or ""), price, cost)


def _sawn_from(part: Part, line: PartLine, design: Design) -> str:
    if not line.stock or part.cut is None:
        return ""
    length = show_given(part.cut.stock_length, "mm", design.build.readers).plain
    return f"{line.stock}, sold by the length of {length}"
