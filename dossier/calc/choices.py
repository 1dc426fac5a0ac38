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


@formula(title="Support radii as the author gives them", source="definition", equation="radii = as said, inner first",
         method="taken over as they are", unproved=_CUSTOM)
def radii_as_given_mm(chosen_radii_mm: Sequence[float]) -> Sequence[float]:
    """Radii (mm) of the rings of supports that the author states."""
    return tuple(chosen_radii_mm)


@formula(title="Force as the author gives it", source="definition", rule="chosen_n", unproved=_CUSTOM)
def force_as_given_n(chosen_n: float) -> float:
    """A force (N) that the author states outright."""
    return chosen_n


@formula(title="Rate as the author gives it", source="definition", rule="chosen_n_per_mm", unproved=_CUSTOM)
def rate_as_given_n_per_mm(chosen_n_per_mm: float) -> float:
    """A spring's rate (N/mm) that the author states outright."""
    return chosen_n_per_mm


@formula(title="Mass as the author gives it", source="definition", rule="chosen_kg", unproved=_CUSTOM)
def mass_as_given_kg(chosen_kg: float) -> float:
    """A mass (kg) that the author states, or that is taken over from an earlier result."""
    return chosen_kg
