"""Glass: what the makers print. SCHOTT, BOROFLOAT 33 data: read. EN 572-1 and a float maker's bulletin: read."""

from __future__ import annotations

import pytest

from dossier import shelf


def _value(material: str, datum: str) -> float:
    return float(getattr(shelf.materials()[material], datum).value)


@pytest.mark.parametrize(("datum", "published"), [("density", 2230), ("youngs_modulus", 64), ("expansion", 3.3e-6)])
def test_borosilicate(datum: str, published: float) -> None:
    """SCHOTT, BOROFLOAT 33 technical data, read: 2230 kg/m³, 64 GPa, 3.3e-6 1/K."""
    assert _value("borosilicate", datum) == published


@pytest.mark.parametrize(("material", "source", "youngs_modulus_gpa"), [
    ("soda-lime", "en-572-1", 70), ("plate-glass", "pilkington-ats-129", 72),
])
def test_soda_lime_differs_by_source_and_says_so(material: str, source: str, youngs_modulus_gpa: float) -> None:
    """EN 572-1 gives 70 GPa, float makers' bulletins 72 GPa; both read."""
    datum = shelf.materials()[material].youngs_modulus
    assert datum
    assert (datum.value, datum.source) == (youngs_modulus_gpa, source)
    assert datum.note, "names the other figure"
