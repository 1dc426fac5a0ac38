"""A measured file laid over the spec: values, spots, and problems as good as the spec's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.spec.load import Loaded, Spot, load_build
from tests.spec.conftest import Write

SPEC = """\
readers: {currency: EUR}
eyepieces: [{name: 25 mm, focal_length: 25 mm}, {name: 10 mm, focal_length: 10 mm}]
cell: {points: 6, rings: [50 mm]}
parts:
  - {ref: P1, name: Mirror, mass: 1 kg}
  - {ref: P2, name: Diagonal, mass: 20 g}
"""
Measure = Callable[[str], Loaded]


@pytest.fixture
def measure(write: Write, least: str) -> Measure:
    """Loads the build with this measured file laid over it."""
    folder = write(least + SPEC)

    def measured(text: str) -> Loaded:
        Path("found.yaml").write_text(text)
        return load_build(folder, Path("found.yaml"))

    return measured


def faults(measure: Measure, text: str) -> list[str]:
    """What the program says of this measured file."""
    with pytest.raises(Unusable) as caught:
        measure(text)
    return [str(problem) for problem in caught.value.problems]


def test_found_values_replace_said_ones(measure: Measure) -> None:
    loaded = measure("primary:\n  focal_length: 1187 mm\nspider: {vanes: 4}\ncell: {rings: [48 mm]}\n")
    assert loaded.build.primary.focal_length == 1187.0
    assert loaded.build.primary.aperture == 150.0
    assert loaded.build.spider is not None
    assert loaded.build.spider.vanes == 4
    assert loaded.build.cell is not None
    assert loaded.build.cell.rings == (48.0,)
    assert loaded.spots["primary.focal_length"] == Spot("found.yaml", 2, "1187 mm", measured=True)
    assert loaded.spots["cell.rings[0]"].measured
    assert not loaded.spots["primary.aperture"].measured


def test_items_of_a_list_are_found_by_their_name(measure: Measure) -> None:
    loaded = measure("parts:\n  - {ref: P2, mass: 24 g}\neyepieces: [{name: 10 mm, field_stop: 8 mm}]\n")
    assert [part.mass for part in loaded.build.parts] == [1.0, 0.024]
    assert loaded.build.parts[1].name == "Diagonal"
    assert [piece.field_stop for piece in loaded.build.eyepieces] == [None, 8.0]
    assert loaded.spots["parts[1].mass"] == Spot("found.yaml", 2, "24 g", measured=True)


def test_a_sheet_that_is_not_filled_in_measures_nothing(measure: Measure, write: Write, least: str) -> None:
    loaded = measure("format: 1\nprimary:\n  focal_length:\n  edge_thickness: ~\nparts:\n  - {ref: P1, mass: }\n")
    assert loaded.build == load_build(write(least + SPEC)).build


def test_readings_from_the_bench(measure: Measure) -> None:
    text = "bench: {source: fixed, zones: [30 mm, 50 mm, 70 mm], readings: [0 mm, 0.1 mm, -0.2 mm]}\n"
    bench = measure(text).build.bench
    assert bench is not None
    assert (bench.source, bench.zones, bench.readings) == ("fixed", (30.0, 50.0, 70.0), (0.0, 0.1, -0.2))


@pytest.mark.parametrize(("text", "message"), [
    ("primary: {focal_length: 1187}",
     "found.yaml:1: primary.focal_length: needs a unit, such as 1200 mm (got 1187)"),
    ("\nprimary: {focal_lenght: 1187 mm}",
     "found.yaml:2: primary.focal_lenght: is not a key of primary — did you mean 'focal_length'?"),
    ("primary: {aperture: 150 mm, aperture: 151 mm}", "found.yaml:1: primary.aperture: stands twice, first in line 1"),
    ("diagonal: {minor_axis: 160 mm}",
     "found.yaml:1: diagonal.minor_axis: 160 mm is not less than the aperture, 150 mm: it would shade the whole "
     "mirror"),
    ("parts: [{ref: P12, mass: 1 kg}]",
     "found.yaml:1: parts[0].ref: is not in the spec (got P12) — did you mean 'P2'?"),
    ("parts: [{mass: 1 kg}]", "found.yaml:1: parts[0]: needs ref, which says what was measured"),
    ("parts: [{ref: P1, mass: 1 mm}]",
     "found.yaml:1: parts[0].mass: is a length, wants a mass such as 0.98 kg (got 1 mm)"),
    ("parts: [{ref: P1, mass: 1 kg,\n  price: 3}]",
     "found.yaml:2: parts[0].price: is the plan's to say; a measured file holds what was measured"),
    ("parts: {ref: P1}",
     "found.yaml:1: parts: wants a list, such as [{ref: P1, name: Primary mirror, 150 mm, spherical}] (got a map)"),
    ("goals: [{result: figure.strehl, at_least: 0.1}]",
     "found.yaml:1: goals: is the plan's to say; a measured file holds what was measured"),
    ("", "found.yaml: is empty; `dossier begin` writes a build to start from"),
    ("bench: {zones: [30 mm, 50 mm, 70 mm], readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.source: is required, such as moving"),
    ("bench: {source: moving, readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.zones: is required, such as [30 mm, 50 mm, 70 mm]"),
    ("bench: {source: moving, zones: [30 mm, 50 mm], readings: [0 mm, 1 mm]}",
     "found.yaml:1: bench.zones: wants 3 or more in its list (got 2)"),
    ("bench: {source: moving, zones: [30 mm, 50 mm, 70 mm], readings: [0 mm, 0 mm, 0 mm, 1 mm]}",
     "found.yaml:1: bench.readings: has 4 readings for 3 zones"),
    ("bench: {source: moving, zones: [30 mm, 70 mm, 50 mm], readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.zones[2]: 50 mm does not follow 70 mm; inner zone first"),
    ("bench: {source: moving, zones: [30 mm, 50 mm, 76 mm], readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.zones[2]: 76 mm lies outside the aperture, whose radius is 75 mm"),
    ("bench: {source: moving, zones: [30 mm, 30 mm, 70 mm], readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.zones[1]: 30 mm does not follow 30 mm; inner zone first"),
    ("bench:\n  source: moving\n  zones:\n    - 30 mm\n    - 50 mm\n    - 160 mm\n  readings: [0 mm, 0 mm, 0 mm]\n",
     "found.yaml:6: bench.zones[2]: 160 mm lies outside the aperture, whose radius is 75 mm"),
    ("bench:\n  source: moving\n  zones: [30 mm, 50 mm, 70 mm]\n  readings:\n    - 3.2 mm\n    - 3.3 mm\n    - 34 mm\n",
     "found.yaml:7: bench.readings[2]: 34 mm is 30.7 mm from the middle one of the readings, 3.3 mm; from middle to "
     "rim the knife moves 1.2 mm for a paraboloid of this size, and never more than 7.03 mm: is the unit right, or a "
     "decimal point lost?"),
    ("bench: {source: turning, zones: [30 mm, 50 mm, 70 mm], readings: [0 mm, 0 mm, 0 mm]}",
     "found.yaml:1: bench.source: wants moving or fixed (got turning)"),
    ("bench: {source: moving, zones: [30 mm, 50 mm, 70 mm], readings: [0 mm, 0 mm, soft]}",
     "found.yaml:1: bench.readings[2]: wants a length such as 0.16 mm (got soft)"),
    ("bench: {source: moving, zones: [0 mm, 50 mm, 70 mm], readings: [0 mm, 0, 0 mm]}",
     "found.yaml:1: bench.zones[0]: must be above zero (got 0 mm)"),
])
def test_faults(measure: Measure, text: str, message: str) -> None:
    assert message in faults(measure, text)


def test_faults_of_both_files_come_together(write: Write, least: str) -> None:
    Path("found.yaml").write_text("front: {station: 3}\n")
    with pytest.raises(Unusable) as caught:
        load_build(write(least.replace("150 mm", "150")), Path("found.yaml"))
    assert [problem.file for problem in caught.value.problems] == ["found.yaml", "x/build.yaml"]


def test_a_measured_file_that_is_not_there(write: Write, least: str) -> None:
    with pytest.raises(Unusable, match=r"^lost\.yaml: there is no such file$"):
        load_build(write(least), Path("lost.yaml"))
