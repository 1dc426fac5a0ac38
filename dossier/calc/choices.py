"""Numbers that an author may say or leave to custom. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.working import formula

_CUSTOM = "a choice, not a calculation: nothing to prove"


@formula(title="As the author gives it", source="definition", rule="chosen_mm", unproved=_CUSTOM)
def as_given_mm(chosen_mm: float) -> float:
    """A length (mm) that the author states outright."""
    return chosen_mm


@formula(title="Half the focuser's travel", source="common-practice", rule="travel_mm / 2", unproved=_CUSTOM)
def half_travel_mm(travel_mm: float) -> float:
    """Where the drawtube (mm drawn out) is meant to stand in focus when the author does not say: half way."""
    return travel_mm / 2


@formula(title="Largest field stop", source="definition", equation="largest = max(field stops)",
         method="the largest of the list", unproved=_CUSTOM)
def largest_field_stop_mm(field_stops_mm: Sequence[float]) -> float:
    """The widest field stop (mm) of the eyepieces: the field that is judged when the author does not say."""
    return max(field_stops_mm)


@formula(title="Least to spare", source="definition", equation="least = min(travel to spare)",
         method="the smallest of the list", unproved=_CUSTOM)
def least_spare_of_mm(spares_mm: Sequence[float]) -> float:
    """What the worst-placed eyepiece leaves (mm)."""
    return min(spares_mm)
