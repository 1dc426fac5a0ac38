"""Coarse ISO metric threads: ISO 898-1, ISO 2306 and ISO 273.

Known: read where the standard's rows are given below; the other sizes of the shelf are recalled and are checked
against the relation that ISO 898-1 itself gives (recalled).
"""

from __future__ import annotations

import math

import pytest

from dossier import shelf

THREADS = shelf.threads().threads


@pytest.mark.parametrize(("name", "area_mm2"), [("M5", 14.18), ("M6", 20.12), ("M8", 36.61), ("M10", 57.99)])
def test_stress_area(name: str, area_mm2: float) -> None:
    """ISO 898-1, read."""
    assert THREADS[name].stress_area == area_mm2


@pytest.mark.parametrize("name", THREADS)
def test_stress_area_follows_from_the_pitch(name: str) -> None:
    """ISO 898-1: π/4 × ((d2 + d3)/2)², with d2 = d − 0.6495 P and d3 = d − 1.2269 P. Recalled; the areas are printed to
    three digits for small threads."""
    thread = THREADS[name]
    mean = thread.diameter - (0.649519 + 1.226869) / 2 * thread.pitch
    assert thread.stress_area == pytest.approx(math.pi / 4 * mean**2, rel=5e-4)


@pytest.mark.parametrize(("name", "drill_mm"), [("M3", 2.5), ("M4", 3.3), ("M5", 4.2), ("M6", 5.0), ("M8", 6.8)])
def test_tapping_drill(name: str, drill_mm: float) -> None:
    """ISO 2306, in Carvill, Mechanical Engineer's Data Handbook, p. 299, read."""
    assert THREADS[name].tapping_drill == drill_mm


@pytest.mark.parametrize(("name", "fine_mm", "medium_mm", "coarse_mm"), [("M6", 6.4, 6.6, 7.0), ("M8", 8.4, 9.0, 10.0)])
def test_clearance_holes(name: str, fine_mm: float, medium_mm: float, coarse_mm: float) -> None:
    """ISO 273, read."""
    thread = THREADS[name]
    assert (thread.clearance_fine, thread.clearance_medium, thread.clearance_coarse) == (fine_mm, medium_mm, coarse_mm)


def test_m6_pitch() -> None:
    """ISO 724 form, read."""
    assert THREADS["M6"].pitch == 1


def test_each_column_has_its_source() -> None:
    columns = shelf.threads().sources
    assert all(source in shelf.sources() for source in columns.values())
    assert (columns["stress_area"], columns["tapping_drill"], columns["clearance_medium"]) == \
        ("iso-898-1", "iso-2306", "iso-273")
