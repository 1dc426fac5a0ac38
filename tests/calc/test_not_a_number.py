"""A number that is not a number goes through every rule of first order and is never hidden."""

import inspect
import math

import pytest

from dossier.calc.mechanics import balance, frame_lengths, mount
from dossier.calc.optics import diagonal, eyepieces, field, first_order, sphere, targets
from dossier.calc.shop import packs
from dossier.working import FORMULAS, AnyFormula

OWN = {module.__name__ for module in (balance, frame_lengths, mount, diagonal, eyepieces, field, first_order, sphere,
                                      targets, packs)}
CARDS = [card for card in FORMULAS.values() if card.function.__module__ in OWN]


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.name)
def test_not_a_number_shows(card: AnyFormula) -> None:
    signature = inspect.signature(card.function)
    for blank in signature.parameters:
        inputs = {name: _some(name, str(parameter.annotation), name == blank)
                  for name, parameter in signature.parameters.items()}
        assert math.isnan(card(**inputs)), f"{card.name} hides {blank}"


def _some(name: str, annotation: str, blank: bool) -> float | list[float]:
    size = {"focal_length_mm": 9.0, "rim_to_focus_mm": 9.0, "pole_length_mm": 9.0, "distance_m": 9.0}.get(name, 1.0)
    value = math.nan if blank else size
    return [value, 1.0] if "Sequence" in annotation else value
