"""Ranges and tolerances as they are said, and what is wrong with those that are none."""

from __future__ import annotations

import re

import pytest

from dossier.spec.ranges import read_range, read_tolerance


@pytest.mark.parametrize(("key", "said", "values"), [
    ("primary.focal_length", "900mm:1100mm:50mm", (900, 950, 1000, 1050, 1100)),
    ("primary.focal_length", "36 in : 40 in : 2 in", (914.4, 965.2, 1016)),
    ("primary.focal_length", "1 m:1.1 m:4 cm", (1000, 1040, 1080)),
    ("primary.conic", "-1:-0.8:0.1", (-1, -0.9, -0.8)),
    ("primary.reflectivity", "0.1:0.7:0.1", (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7)),
    ("diagonal.minor_axis", "35 mm, 25 mm, 1 1/4 in", (35, 25, 31.75)),
    ("conditions.used_at", "-5 degC:5 degC:5 K", (-5, 0, 5)),
    ("cell.points", "3, 9", (3, 9)), ("cell.rings[0]", "20 mm:30 mm:10 mm", (20, 30)),
])
def test_values_of_a_range(key: str, said: str, values: tuple[float, ...]) -> None:
    assert read_range(key, said).values == pytest.approx(values, rel=1e-12)


@pytest.mark.parametrize(("key", "said", "wrong"), [
    ("primary.focal_lenght", "1:2:1", "is no key of the spec — did you mean 'primary.focal_length'?"),
    ("about.name", "a:b:c", "is no number; name a key that holds one number, or a choice of a part"),
    ("primary.focal_length", "900 mm", "wants FROM:TO:STEP such as 900mm:1500mm:50mm, or values with commas between "
                                       "(got 900 mm)"),
    ("primary.focal_length", "900:1500:50", "needs a unit, such as 150 mm (got 900)"),
    ("primary.focal_length", "900mm:1500mm", "wants FROM:TO:STEP such as 900mm:1500mm:50mm, or values with commas "
                                             "between (got 900mm:1500mm)"),
    ("primary.focal_length", "1500mm:900mm:50mm", "must run from the smaller to the larger value (got "
                                                  "1500mm:900mm:50mm)"),
    ("primary.focal_length", "900mm:1500mm:0mm", "needs a step above zero (got 900mm:1500mm:0mm)"),
    ("primary.focal_length", "1mm:1km:0.01mm", "has 99999901 values, of which at most 10000 can be worked out (got "
                                               "1mm:1km:0.01mm)"),
    ("primary.focal_length", "900mm:1500kg:50mm", "is a mass, wants a length such as 150 mm (got 1500kg)"),
    ("primary.focal_length", "25 mm, 25 mm", "names a value twice (got 25 mm, 25 mm)"),
    ("primary.conic", 3, "wants FROM:TO:STEP such as -1:0:0.1, or values with commas between (got 3)"),
])
def test_what_is_no_range(key: str, said: object, wrong: str) -> None:
    with pytest.raises(ValueError, match=re.escape(wrong)):
        read_range(key, said)


@pytest.mark.parametrize(("said", "size", "normal", "deviation"), [
    ("6 mm", 6, False, 6 / 3**0.5), ("6 mm uniform", 6, False, 6 / 3**0.5), ("6 mm, normal", 6, True, 3),
    ("1/4 in Normal", 6.35, True, 3.175),
])
def test_tolerances(said: str, size: float, normal: bool, deviation: float) -> None:
    """The deviation of a uniform spread within ±a is a/√3; two deviations of a normal one are its tolerance."""
    found = read_tolerance("primary.focal_length", said)
    assert (found.size, found.normal) == (size, normal)
    assert found.deviation == pytest.approx(deviation)


@pytest.mark.parametrize(("key", "said", "wrong"), [
    ("cell.points", "1", "has no tolerance"), ("primary.conic", "-0.1", "must not be negative"),
    ("primary.focal_length", "6", "needs a unit"), ("primary.focal_length", "6 mm triangular", "mm triangular"),
])
def test_what_is_no_tolerance(key: str, said: str, wrong: str) -> None:
    with pytest.raises(ValueError, match=wrong):
        read_tolerance(key, said)
