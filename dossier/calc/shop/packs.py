"""Buying: whole packs and what they cost. Money is in the build's own currency."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dossier.working import formula

# A quotient this little above a whole number is the rounding of binary fractions, and buys no further pack.
_ROUNDING = 1e-9

_OWN_NUMBERS = "It is arithmetic on the author's own prices; a shopping basket worked by hand checks it."


@formula(title="Packs to buy", source="common-practice", rule="ceil(quantity * kits / pack_size)",
         note="Part of a pack cannot be bought.", unproved=_OWN_NUMBERS)
def pack_count(quantity: float, kits: float, pack_size: float) -> float:
    """Whole packs that hold this quantity for so many kits."""
    return float(np.ceil(quantity * kits / pack_size - _ROUNDING))


@formula(title="Cost of one line of the parts list", source="common-practice", rule="pack_count * price_money",
         unproved=_OWN_NUMBERS)
def line_cost_money(pack_count: float, price_money: float) -> float:
    """What the packs of one part cost; the price is for one pack."""
    return pack_count * price_money


@formula(title="Cost of everything to buy", source="common-practice",
         equation="cost = Σ ⌈(nᵢ + spareᵢ) × kits / packᵢ⌉ × priceᵢ + Σ lengthsₖ × priceₖ",
         method="Added up over every line of the parts list that states a price; part of a pack is bought whole, and "
                "what is cut from lengths is paid for by the lengths of the cut plan, each stock once.",
         unproved=_OWN_NUMBERS)
def total_cost_money(
    quantities: Sequence[float], spare_pieces: Sequence[float], pack_sizes: Sequence[float],
    prices_money: Sequence[float], kits: float, length_counts: Sequence[float], length_prices_money: Sequence[float],
) -> float:
    """Cost of all lines for so many kits. In step: pieces in one kit and spares, pieces in a pack, price of a pack;
    then of each stock that is sold by length, the lengths for all these kits and the price of one."""
    pieces = np.multiply(np.add(quantities, spare_pieces), kits)
    by_the_pack = np.dot(np.ceil(pieces / np.asarray(pack_sizes, dtype=float) - _ROUNDING), prices_money)
    return float(by_the_pack + np.dot(length_counts, length_prices_money))


@formula(title="Cost of each kit", source="common-practice", rule="total_cost_money / kits", unproved=_OWN_NUMBERS)
def cost_per_kit_money(total_cost_money: float, kits: float) -> float:
    """What one kit costs when so many are bought together."""
    return total_cost_money / kits
