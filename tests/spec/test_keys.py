"""Key paths: what they lead to, and in which unit."""

from __future__ import annotations

import pytest

from dossier.spec import defaults
from dossier.spec.keys import all_keys, find, homes, join_key, split_key, unit_of_key, value_at
from dossier.working import UNITS
from tests.spec.conftest import Load


@pytest.mark.parametrize(("key", "unit"), [
    ("primary.aperture", "mm"), ("primary.conic", ""), ("primary.surface_rms", "nm"),
    ("primary.glass.density", "kg_per_m3"),
    ("conditions.seeing", "arcsec"), ("conditions.latitude", "deg"), ("conditions.used_at", "degc"),
    ("cell.rings", "mm"), ("cell.rings[1]", "mm"), ("diagonal.offset", "mm"), ("cell.push.spring.rate", "n_per_mm"),
    ("cell.push.force", "n"), ("cooling.back", "w_per_m2_k"), ("frame.material.youngs_modulus", "gpa"),
    ("frame.material.expansion", "per_k"), ("frame.material.conductivity", "w_per_m_k"),
    ("frame.material.heat_capacity", "j_per_kg_k"), ("parts[3].mass", "kg"), ("parts[0].price", "money"),
    ("parts[0].cut.pieces[2].length", "mm"), ("parts[0].quantity", ""), ("about.name", ""), ("bench.zones[0]", "mm"),
    ("tolerances.primary.focal_length", "mm"), ("parts[0].instead[1].set.cell.rings[0]", "mm"),
    ("compare_apertures[0]", "mm"), ("mount.bearing.pad_angle", "deg"),
])
def test_unit_of_key(key: str, unit: str) -> None:
    assert unit_of_key(key) == unit


@pytest.mark.parametrize("key", [
    "primary.apertur", "aperture", "", "primary", "primary.aperture.more", "primary[0]", "parts[0].mass[0]", "a..b",
    "parts[x]",
])
def test_keys_that_have_no_unit(key: str) -> None:
    if key == "primary":
        assert unit_of_key(key) == ""
    else:
        with pytest.raises(KeyError):
            unit_of_key(key)


def test_an_unknown_key_suggests_a_known_one() -> None:
    with pytest.raises(KeyError, match=r"did you mean 'primary\.aperture'"):
        find("primary.apertur")


@pytest.mark.parametrize("key", ["a.b[0].c", "parts[12].cut.pieces[0].length", "format"])
def test_paths_come_back(key: str) -> None:
    assert join_key(split_key(key)) == key


def test_every_key_has_a_unit_of_the_program() -> None:
    assert len(all_keys()) > 150
    for key in all_keys():
        assert unit_of_key(key.removesuffix("[]").replace("[]", "[0]")) in UNITS


def test_homes_of_a_name() -> None:
    assert homes("aperture") == ["primary"]
    assert homes("radius") == ["cell.push", "cell.clips", "mount.bearing"]
    assert homes("nothing") == []


def test_value_at(load: Load, least: str) -> None:
    build = load(least + """\
cell: {rings: [50 mm]}
tolerances: {primary.conic: 0.1}
parts: [{ref: P1, name: A, cut: {from: tube, stock_length: 2 m, pieces: [{length: 1 m}]}}]
""").build
    assert value_at(build, "primary.aperture") == 150.0
    assert value_at(build, "cell.rings[0]") == 50.0
    assert value_at(build, "parts[0].cut.from") == "tube"
    assert value_at(build, "parts[0].cut.pieces[0].length") == 1000.0
    assert value_at(build, "tolerances.primary.conic") == 0.1
    for absent in ("cell.rings[1]", "parts[4].mass", "cell.push.radius", "frame.length", "tolerances.primary.aperture",
                   "primary.glass.density"):
        assert value_at(build, absent) is None
    with pytest.raises(KeyError):
        value_at(build, "primary.colour")


def test_values_that_follow_from_others(load: Load, least: str) -> None:
    silent = load(least).build
    assert defaults.drawn_out_mm(silent) == 0.0
    assert defaults.intercept_mm(silent) == 150.0
    assert defaults.holder_diameter_mm(silent) == 35.0
    assert defaults.blank_diameter_mm(silent) == 150.0
    assert defaults.judged_field_mm(silent) == 12.0
    said = load(least.replace("35 mm", "35 mm, holder_diameter: 30 mm").replace("50 mm}", "50 mm, travel: 30 mm}") +
                "eyepieces: [{name: A, field_stop: 21 mm}, {name: B}, {name: C, field_stop: 27 mm}]\n").build
    assert defaults.drawn_out_mm(said) == 15.0
    assert defaults.intercept_mm(said) == 165.0
    assert defaults.holder_diameter_mm(said) == 30.0
    assert defaults.judged_field_mm(said) == 27.0
