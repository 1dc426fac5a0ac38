"""What the mount carries, against what it is made for. Masses in kilograms."""

from __future__ import annotations

from dossier.working import formula


@formula(title="Share of the mount's capacity", source="common-practice", rule="load_kg / capacity_kg",
         note="Makers state the capacity for careful visual use; wind and photography ask for less.",
         unproved="It is a ratio of two masses.")
def load_share(load_kg: float, capacity_kg: float) -> float:
    """Mass carried ÷ the mount's stated capacity."""
    return load_kg / capacity_kg
