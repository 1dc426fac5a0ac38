"""Values written as expressions: unknown until they are put in, and judged then."""

from __future__ import annotations

import copy
import math
import pickle

import pytest

from dossier.errors import Unusable
from dossier.spec.deferred import Deferred, holds_expression
from dossier.spec.keys import value_at
from dossier.spec.load import with_values
from tests.spec.conftest import Load, Say

MORE = """\
frame: {kind: tube, length: "{{ optics.intercept }} mm", outer_diameter: 190 mm}
cell: {points: 3, rings: ["{{ cell.best }}"], push: {count: "{{ n }}"}}
goals: [{result: a.b, at_least: "{{ c.d }}"}]
parts: [{ref: P1, name: "Tube {{ frame.length }}", quantity: "{{ cut.tube.lengths }}"}]
tolerances: {primary.focal_length: "{{ x.y }}"}
"""


def test_expressions_are_listed_by_key(load: Load, least: str) -> None:
    loaded = load(least + MORE)
    assert loaded.expressions == {
        "frame.length": "{{ optics.intercept }} mm", "cell.rings[0]": "{{ cell.best }}", "cell.push.count": "{{ n }}",
        "goals[0].at_least": "{{ c.d }}", "parts[0].name": "Tube {{ frame.length }}",
        "parts[0].quantity": "{{ cut.tube.lengths }}", "tolerances.primary.focal_length": "{{ x.y }}"}
    deferred = {key for key in loaded.expressions if isinstance(value_at(loaded.build, key), Deferred)}
    assert deferred == set(loaded.expressions) - {"parts[0].name", "tolerances.primary.focal_length"}


def test_a_deferred_value_is_no_number_yet() -> None:
    value = Deferred("{{ a.b }}")
    assert math.isnan(value)
    assert not value > 0
    assert value.expression == "{{ a.b }}"
    for again in (copy.deepcopy(value), pickle.loads(pickle.dumps(value))):
        assert isinstance(again, Deferred)
        assert again.expression == "{{ a.b }}"


def test_values_put_in(load: Load, least: str) -> None:
    loaded = load(least + MORE)
    done = with_values(loaded, {"frame.length": "162.0 mm", "cell.rings[0]": "2 in", "cell.push.count": "3",
                                "goals[0].at_least": "0.8", "parts[0].quantity": "2",
                                "tolerances.primary.focal_length": "6 mm"})
    assert done.build.frame is not None
    assert done.build.frame.length == 162.0
    assert value_at(done.build, "cell.rings[0]") == 50.8
    assert value_at(done.build, "cell.push.count") == 3
    assert value_at(done.build, "tolerances.primary.focal_length") == "6 mm"
    assert set(done.expressions) == {"parts[0].name"}
    assert done.spots == loaded.spots
    assert set(loaded.expressions) > set(done.expressions)


def test_values_put_where_nothing_stood(load: Load, least: str) -> None:
    done = with_values(load(least), {"primary.conic": -0.5, "cell.push.radius": "50 mm", "diagonal.offset": "none"})
    assert (done.build.primary.conic, done.build.diagonal.offset) == (-0.5, "none")
    assert value_at(done.build, "cell.push.radius") == 50.0


@pytest.mark.parametrize(("key", "value", "message"), [
    ("frame.length", "-3 mm", "x/build.yaml:6: frame.length: must be above zero (got -3 mm)"),
    ("diagonal.minor_axis", "160 mm", "x/build.yaml:4: diagonal.minor_axis: 160 mm is not less than the aperture"),
    ("cell.ring", "3 mm", "x/build.yaml:7: cell.ring: is no place in this spec where a value can be put"),
    ("parts[7].mass", "3 kg", "x/build.yaml:9: parts[7].mass: is no place in this spec where a value can be put"),
    ("parts.mass", "3 kg", "x/build.yaml:9: parts.mass: is no place in this spec where a value can be put"),
    ("", "3 kg", "x/build.yaml:1: is no place in this spec where a value can be put"),
])
def test_values_that_do_not_fit(load: Load, least: str, key: str, value: str, message: str) -> None:
    loaded = load(least + MORE)
    with pytest.raises(Unusable) as caught:
        with_values(loaded, {key: value})
    assert str(caught.value).startswith(message)


def test_an_expression_cannot_stand_for_a_word(problems: Say, least: str) -> None:
    said = problems(least + 'mount: {kind: "{{ a.b }}"}\n')
    assert said == ["x/build.yaml:6: mount.kind: wants rocker, altaz or equatorial (got {{ a.b }})"]


@pytest.mark.parametrize("text", ["{{ a", "a }}", "}} {{", "{{ a }} {{"])
def test_braces_pair(text: str) -> None:
    with pytest.raises(ValueError, match="do not pair"):
        holds_expression(text)
