"""Aluminum Association, Aluminum Standards and Data, typical values of 6061-T6. Known: read."""

from __future__ import annotations

import pytest

from dossier import shelf


@pytest.mark.parametrize(("datum", "published"), [
    ("youngs_modulus", 68.9), ("density", 2700), ("expansion", 23.6e-6),
])
def test_6061_t6(datum: str, published: float) -> None:
    """68.9 GPa, 2700 kg/m³, 23.6e-6 1/K."""
    entry = getattr(shelf.materials()["aluminium-6061"], datum)
    assert (entry.value, entry.source) == (published, "aluminum-association")
