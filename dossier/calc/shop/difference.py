"""What another choice costs more, or less. Money is in the build's own currency."""

from __future__ import annotations

from dossier.working import formula


@formula(title="Price difference, one kit", source="common-practice", rule="other_cost_money - chosen_cost_money",
         note="Whole packs on both sides. Above zero the other is dearer.",
         unproved="It is a difference of two costs that are proved by themselves.")
def cost_difference_money(other_cost_money: float, chosen_cost_money: float) -> float:
    """Cost of one kit with the other choice less its cost as chosen."""
    return other_cost_money - chosen_cost_money
