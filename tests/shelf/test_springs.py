"""Springs on the shelf can be wound, have travel, and their wire is one that the shelf knows the strength of."""

from __future__ import annotations

import pytest

from dossier import shelf
from dossier.shelf.tables import SpringSize

# Preferred numbers of the R10 series (ISO 3, recalled), a decade of them.
R10 = {1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8}


@pytest.mark.parametrize("size", shelf.springs().sizes, ids=str)
def test_size_can_be_wound(size: SpringSize) -> None:
    assert 4 <= size.mean_diameter / size.wire <= 16
    assert size.free_length > 1.8 * size.wire * (size.active_coils + 2)
    for length in (size.wire, size.mean_diameter):
        assert any(round(length * power, 3) in R10 for power in (0.1, 1, 10)), length


def test_sources_and_wires_are_on_the_shelf() -> None:
    table = shelf.springs()
    assert set(table.sources) == {"sizes", "wires"}
    assert set(table.sources.values()) <= set(shelf.sources())
    for key, wire in table.wires.items():
        assert shelf.materials()[key].shear_modulus is not None
        assert 0.3 <= wire.torsion_share <= 0.5
        assert wire.least < wire.most
