"""The JSON Schema is valid, describes every key, and agrees with the models on every example."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from dossier.spec.entries import Entry, Quantity
from dossier.spec.examine import examine
from dossier.spec.keys import all_keys, find, unit_of_key
from dossier.spec.model import Build
from dossier.spec.schema import example_of, json_schema
from tests.conftest import TEASEL

SCHEMA = json_schema()
LEAST: dict[str, Any] = {
    "format": 1, "about": {"name": "Least"}, "primary": {"aperture": "150 mm", "focal_length": "1200 mm"},
    "diagonal": {"minor_axis": "35 mm"}, "focuser": {"mounting_radius": "100 mm", "height": "50 mm"}}


def properties(schema: dict[str, Any] = SCHEMA) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every property with the section that has it."""
    for section, body in [("", schema), *schema["$defs"].items()]:
        for key, body_of_key in body["properties"].items():
            yield f"{section}.{key}", body_of_key


def definition(key: str) -> Draft202012Validator:
    """A validator of one property."""
    return Draft202012Validator({**dict(properties())[key], "$defs": SCHEMA["$defs"]})


@pytest.mark.parametrize("measured", [False, True])
def test_it_is_a_schema(measured: bool) -> None:
    Draft202012Validator.check_schema(json_schema(measured=measured))
    json.dumps(json_schema(measured=measured))


@pytest.mark.parametrize("key", [key for key, _ in properties()])
def test_every_property_has_description_and_example(key: str) -> None:
    body = dict(properties())[key]
    assert re.fullmatch(r"[A-Z].*\.", body["description"]), body["description"]
    assert len(body["examples"]) == 1
    definition(key).validate(body["examples"][0])


def test_every_quantity_has_its_unit() -> None:
    named = {key.rpartition(".")[2] for key, body in properties() if "x-unit" in body}
    for key in all_keys():
        plain = key.removesuffix("[]").replace("[]", "[0]")
        assert (plain.rpartition(".")[2] in named) or not unit_of_key(plain) or key.startswith("bench"), key
    assert dict(properties())["Primary.aperture"]["x-unit"] == "mm"
    assert dict(properties())["Part.price"]["x-unit"] == "readers.currency"


def test_the_examples_make_a_build_without_a_fault() -> None:
    build, problems = examine(example_of(Build), {}, "example")
    assert problems == []
    assert build is not None
    Draft202012Validator(SCHEMA).validate(example_of(Build))


@pytest.mark.parametrize("key", all_keys())
def test_every_example_is_read_by_its_entry(key: str) -> None:
    entry = find(key.removesuffix("[]").replace("[]", "[0]")).entry
    if isinstance(entry, Entry):
        entry.read(entry.example)


def test_the_demo_is_valid() -> None:
    said = yaml.load((TEASEL / "build.yaml").read_text(), Loader=yaml.SafeLoader)
    Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(said, default=str)))


@pytest.mark.parametrize(("section", "key", "value"), [
    ("primary", "aperture", 150), ("primary", "aperture", "150"), ("primary", "aperture", "-150 mm"),
    ("primary", "aperture", "wide"), ("primary", "conic", "zero"), ("primary", "apertur", "150 mm"),
    ("primary", "reflectivity", 1.5), ("mount", "kind", "altas"), ("cell", "points", 4), ("spider", "vanes", 2.5),
    ("spider", "vanes", 0), ("mount", "tracking", "yes"), ("about", "date", "12.9.2026"),
    ("about", "picture", "../x.jpg"), ("about", "site", "javascript:x"), ("readers", "currency", "euro"),
    ("cell", "rings", "bst"), ("cell", "rings", [30]), ("diagonal", "offset", "ful"),
])
def test_it_refuses_what_the_program_refuses(section: str, key: str, value: object) -> None:
    spec = json.loads(json.dumps(LEAST))
    spec.setdefault(section, {})[key] = value
    assert not Draft202012Validator(SCHEMA).is_valid(spec)
    assert examine(spec, {}, "x")[1]


@pytest.mark.parametrize("text", ["6 in", "1 1/4 in", "½ in", "1½ in", "150mm", "{{ a.b }}", ".5 m", "1e2 mm",
                                  " 5 ft "])
def test_its_patterns_accept_what_the_program_reads(text: str) -> None:
    definition("Primary.aperture").validate(text)
    Quantity("", "150 mm").read(text)


@pytest.mark.parametrize("text", ["3.3e-6 1/K", "3.3e-6/K", "-1e-7 1/K"])
def test_units_that_begin_with_a_sign(text: str) -> None:
    definition("Material.expansion").validate(text)
    Quantity("", "3e-6 1/K", "per_k", "").read(text)


def test_nothing_is_required_of_a_measured_file() -> None:
    measured = json_schema(measured=True)
    validator = Draft202012Validator(measured)
    validator.validate({"primary": {"focal_length": "1187 mm"}})
    validator.validate({"bench": {"source": "moving", "zones": ["30 mm"] * 3, "readings": ["0 mm"] * 3}})
    assert "bench" not in SCHEMA["properties"]
