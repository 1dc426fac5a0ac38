"""Every datum on the shelf says where it comes from, and fits the others beside it."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields
from typing import Any

import pytest

from dossier import shelf
from dossier.shelf import Datum, Material
from dossier.shelf.records import PROPERTIES
from dossier.working import UNITS

# What a solid may have at all, in the units of PROPERTIES. A misplaced decimal point or a wrong unit falls outside.
PLAUSIBLE = {
    "youngs_modulus": (0.5, 250), "shear_modulus": (0.2, 100), "poissons_ratio": (0.05, 0.49), "density": (300, 9000),
    "expansion": (-1e-6, 200e-6), "conductivity": (0.05, 420), "heat_capacity": (300, 2500), "softens_at": (40, 300),
}
ASKED_FOR = {
    "borosilicate", "soda-lime", "plate-glass", "fused-silica", "glass-ceramic", "aluminium-6061", "steel",
    "stainless-steel", "brass", "carbon", "spruce", "birch-ply", "card-tube", "pla", "petg", "asa", "abs", "nylon",
    "spring-steel", "spring-stainless",
}
DATA = [(material, name, datum) for material in shelf.materials().values() for name, datum in material.data().items()]


def _id(case: object) -> str:
    return case.key if isinstance(case, Material) else "" if isinstance(case, Datum) else str(case)


@pytest.mark.parametrize(("material", "name", "datum"), DATA, ids=_id)
def test_a_datum_names_its_source_and_is_possible(material: Material, name: str, datum: Datum) -> None:
    source = shelf.sources()[datum.source]
    least, most = PLAUSIBLE[name]
    assert least <= datum.value <= most
    assert datum.known in ("read", "worked", "recalled")
    assert not (datum.known == "read" and source.kind == "practice"), "nobody can read what is not published"


def test_the_materials_a_maker_asks_for_are_there() -> None:
    assert set(shelf.materials()) >= ASKED_FOR


@pytest.mark.parametrize("material", [material for material in shelf.materials().values()
                                      if material.kind in ("glass", "metal") and material.shear_modulus
                                      and material.poissons_ratio], ids=_id)
def test_moduli_of_an_isotropic_solid_agree(material: Material) -> None:
    """E = 2 G (1 + ν) holds for every isotropic solid (Timoshenko & Woinowsky-Krieger 1959, recalled). The published
    figures are rounded each by itself, to two digits at worst: hence 3 %."""
    young, shear, poisson = material.youngs_modulus, material.shear_modulus, material.poissons_ratio
    assert young
    assert shear
    assert poisson
    assert young.value == pytest.approx(2 * shear.value * (1 + poisson.value), rel=0.03)


@pytest.mark.parametrize(("key", "name", "published", "unit"), [
    ("spring-steel", "shear_modulus", 11.85, "Mpsi"), ("spring-steel", "youngs_modulus", 29.0, "Mpsi"),
    ("spring-stainless", "shear_modulus", 10.0, "Mpsi"), ("spring-stainless", "youngs_modulus", 28.0, "Mpsi"),
    ("brass", "youngs_modulus", 14.0, "Mpsi"), ("brass", "shear_modulus", 5.3, "Mpsi"),
    ("brass", "expansion", 11.6e-6, "1/°F"), ("brass", "conductivity", 71, "Btu/(h ft °F)"),
    ("brass", "heat_capacity", 0.09, "Btu/(lb °F)"),
])
def test_data_published_in_inch_units_are_turned_rightly(key: str, name: str, published: float, unit: str) -> None:
    """The tables print these (read); the sizes of the units are exact by definition (NIST SP 811, recalled)."""
    pound_n, inch_m, btu_j, kelvin = 4.4482216152605, 0.0254, 1055.05585262, 5 / 9
    size = {
        "Mpsi": pound_n / inch_m**2 / 1000, "1/°F": 1 / kelvin,
        "Btu/(h ft °F)": btu_j / 3600 / (12 * inch_m) / kelvin, "Btu/(lb °F)": btu_j / 0.45359237 / kelvin,
    }[unit]
    assert getattr(shelf.materials()[key], name).value == pytest.approx(published * size, rel=2e-3)


@pytest.mark.parametrize("material", [m for m in shelf.materials().values() if m.kind == "plastic"], ids=_id)
def test_a_plastic_warns_of_creep_and_says_where_it_softens(material: Material) -> None:
    assert any("Creeps under a lasting load" in note for note in material.notes)
    assert material.softens_at


def test_no_material_promises_a_strength() -> None:
    """Hobby tables contradict themselves (several list an ultimate strength below yield): none is kept."""
    assert not [name for name in (field.name for field in fields(Material)) if "strength" in name or "yield" in name]


def test_properties_stand_in_known_units() -> None:
    assert set(PROPERTIES.values()) <= set(UNITS)


def test_every_source_is_complete() -> None:
    for source in shelf.sources().values():
        assert source.title, source.key
        assert source.kind in ("book", "paper", "standard", "web", "practice"), source.key
        assert source.known in ("read", "worked", "recalled"), source.key
        if source.kind in ("book", "paper"):
            assert source.year, source.key
        if source.kind == "book":
            assert source.author, source.key


def test_the_shelf_is_read_once_and_cannot_be_changed() -> None:
    once: Any = shelf.materials()
    assert once is shelf.materials()
    with pytest.raises(TypeError):
        once["borosilicate"] = None
    with pytest.raises(FrozenInstanceError):
        once["borosilicate"].name = "x"
