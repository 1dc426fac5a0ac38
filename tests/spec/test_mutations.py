"""Whatever is done to a good spec, it loads or it is Unusable in plain lines: nothing else ever comes out."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dossier.errors import Problem, Unusable
from dossier.spec.examine import examine
from dossier.spec.keys import join_key
from dossier.spec.load import Loaded, load_build, with_values
from dossier.spec.model import Build
from dossier.spec.schema import example_of

WHOLE = example_of(Build)
TEXT = yaml.safe_dump(WHOLE, allow_unicode=True, sort_keys=False)
Path_ = tuple[str | int, ...]

WORDS = ["", " ", "0", "-1", "nan", "inf", "{{ a.b }}", "{{", "150 mm", "-3 kg", "1e300 mm", "1e12 mm", "1e-15 mm",
         "1/0 in", "best", "full", "tube", "truss", "x" * 400, "../..", "P1", "a\nb", "0 mm", "1 mm", "1e11 mm",
         "20 degC", "NULL"]
VALUES = st.one_of(
    st.sampled_from(WORDS), st.text(max_size=12), st.integers(-(10**30), 10**30), st.floats(), st.booleans(),
    st.dates(), st.lists(st.sampled_from(WORDS), max_size=4),
    st.dictionaries(st.sampled_from([*WORDS, "aperture", "points"]), st.sampled_from(WORDS), max_size=3),
)
SIGNS = st.sampled_from(["\t", "  ", "\n", ": ", "- ", "{", "}", "[", "&a ", "*a", "!!int ", "'", '"', "#", "|", ">",
                         "---\n", "<<: ", "{{ a }}", "\ufeff", "\x00", "%"])
KEYS = st.sampled_from(["primary.aperture", "cell.rings[0]", "parts[0].cut.from", "frame", "tolerances.primary.conic",
                        "parts[9].mass"])


def paths(values: Any, path: Path_ = ()) -> Iterator[Path_]:
    """Every place in the values, the whole left out."""
    inner = values.items() if isinstance(values, dict) else enumerate(values) if isinstance(values, list) else ()
    for key, value in inner:
        yield (*path, key)
        yield from paths(value, (*path, key))


PLACES = list(paths(WHOLE))


def fault_lines(problems: list[Problem]) -> None:
    """There are problems, and each is one line that says something."""
    assert problems
    for problem in problems:
        assert "\n" not in str(problem)
        assert problem.message.strip()
        assert len(str(problem)) < 700


def loaded_or_said(text: bytes, folder: Path) -> Loaded | None:
    """The build, or nothing where it is Unusable; any other error goes through."""
    (folder / "build.yaml").write_bytes(text)
    try:
        return load_build(folder)
    except Unusable as unusable:
        fault_lines(unusable.problems)
        return None


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(PLACES), VALUES), min_size=1, max_size=4))
def test_values_exchanged(changes: list[tuple[Path_, Any]]) -> None:
    values = copy.deepcopy(WHOLE)
    for path, value in changes:
        inner: Any = values
        try:
            for piece in path[:-1]:
                inner = inner[piece]
            inner[path[-1]] = value
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took the place away
    build, problems = examine(values, {}, "x")
    if build is None or problems:
        fault_lines(problems)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.sampled_from(PLACES), min_size=1, max_size=6), st.sampled_from(["gone", "twice", "misspelt"]))
def test_keys_gone_or_changed(chosen: list[Path_], how: str) -> None:
    values = copy.deepcopy(WHOLE)
    for path in chosen:
        inner: Any = values
        try:
            for piece in path[:-1]:
                inner = inner[piece]
            value = inner.pop(path[-1])
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took the place away
        if how != "gone" and isinstance(inner, dict):
            inner[f"{path[-1]}x"] = value
        if how == "twice" and isinstance(inner, list):
            inner += [value, value]
    build, problems = examine(values, {}, "x")
    if build is None or problems:
        fault_lines(problems)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.integers(0, len(TEXT)), st.integers(0, 6), st.one_of(st.text(max_size=6), SIGNS)),
                min_size=1, max_size=4))
def test_text_spoilt(tmp_path: Path, edits: list[tuple[int, int, str]]) -> None:
    text = TEXT
    for at, removed, added in edits:
        text = text[:at] + added + text[at + removed:]
    loaded_or_said(text.encode("utf-8", "surrogatepass"), tmp_path)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200))
def test_any_bytes(tmp_path: Path, raw: bytes) -> None:
    loaded_or_said(raw, tmp_path)
    loaded_or_said(TEXT.encode()[: len(raw) * 20] + raw, tmp_path)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.sampled_from(PLACES), VALUES), min_size=1, max_size=3))
def test_any_measured_file(tmp_path: Path, changes: list[tuple[Path_, Any]]) -> None:
    measured: Any = {}
    for path, value in changes:
        inner = measured
        for piece in [piece for piece in path[:-1] if isinstance(piece, str)]:
            inner = inner.setdefault(piece, {}) if isinstance(inner.get(piece, {}), dict) else {}
        inner[str(path[-1])] = value
    (tmp_path / "build.yaml").write_text(TEXT)
    (tmp_path / "found.yaml").write_text(yaml.safe_dump(measured))
    try:
        load_build(tmp_path, tmp_path / "found.yaml")
    except Unusable as unusable:
        fault_lines(unusable.problems)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.one_of(st.text(max_size=20), KEYS), VALUES)
def test_any_value_put_in(tmp_path: Path, key: str, value: Any) -> None:
    loaded = loaded_or_said(TEXT.encode(), tmp_path)
    assert loaded is not None
    try:
        with_values(loaded, {key: value})
    except Unusable as unusable:
        fault_lines(unusable.problems)


@pytest.mark.parametrize("place", [path for path in PLACES if not isinstance(path[-1], int)], ids=str)
def test_every_key_in_turn(place: Path_) -> None:
    """Each key once with a map and a list that it cannot hold: it is named, and nothing before it in the path."""
    for wrong in ({"zz": 1}, [[1]]):
        values = copy.deepcopy(WHOLE)
        inner: Any = values
        for piece in place[:-1]:
            inner = inner[piece]
        inner[place[-1]] = wrong
        _, problems = examine(values, {}, "x")
        fault_lines(problems)
        assert any(problem.key.startswith(join_key(place)) for problem in problems)
