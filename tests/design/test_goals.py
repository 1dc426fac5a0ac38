"""Goals and what would put a miss right. The limits tried here are invented; the trade's own have tests of theirs."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.results import verdict
from dossier.working import Goal


@pytest.mark.parametrize(("value", "outcome"), [(0.80, "close"), (0.87, "close"), (0.89, "meets"), (0.79, "misses"),
                                                (math.nan, "misses")])
def test_close_is_met_with_less_than_a_tenth_of_the_limit_to_spare(value, outcome):
    assert Goal("x", "at_least", 0.80, "").outcome(value) == outcome


def test_at_most_counts_the_other_way():
    goal = Goal("x", "at_most", 350, "")
    assert [goal.outcome(value) for value in (300, 340, 350, 351)] == ["meets", "close", "close", "misses"]


def test_the_authors_goal_takes_the_place_of_the_trades(design):
    usual = design().results["optics.obstruction"].goal
    own = design("goals: [{result: optics.obstruction, at_most: 0.2, because: planets}]").results["optics.obstruction"]
    assert usual is not None
    assert not usual.authors
    assert own.goal is not None
    assert (own.goal.limit, own.goal.authors, own.goal.outcome(own.number)) == (0.2, True, "misses")


def test_a_limit_may_be_said_in_any_unit_of_its_kind(design):
    goal = design("goals: [{result: optics.intercept, at_most: 6 in}]").results["optics.intercept"].goal
    assert goal is not None
    assert goal.limit == pytest.approx(152.4)


@pytest.mark.parametrize(("goal", "wanted"), [
    ("{result: optics.focal_ration, at_least: 5}", "did you mean 'optics.focal_ratio'"),
    ("{result: optics.intercept, at_most: 3 kg}", "is a mass"),
])
def test_a_goal_that_cannot_be_judged_is_an_error_with_its_line(build, goal, wanted):
    with pytest.raises(Unusable) as caught:
        work_out(load_build(build(f"goals: [{goal}]")))
    (problem,) = caught.value.problems
    assert problem.line == 6
    assert wanted in problem.message


def test_a_goal_on_what_the_spec_leaves_open_waits(design):
    worked = design("goals: [{result: optics.throughput, at_least: 0.7}]")
    (unmet,) = worked.unmet
    assert unmet.goal.result == "optics.throughput"
    assert "primary.reflectivity" in unmet.missing


def test_a_sphere_that_misses_its_limit_is_told_the_focal_length_that_meets_it(design):
    worked = design(replace={"1200 mm}": "1200 mm, conic: 0}"})
    ratio = worked.results["optics.focal_ratio"]
    assert ratio.goal is not None
    assert ratio.goal.outcome(ratio.number) == "misses"
    (cure,) = [remedy for remedy in worked.remedies["optics.focal_ratio"] if remedy.key == "primary.focal_length"]
    mended = design(replace={"1200 mm}": f"{cure.value} mm, conic: 0}}"}).results["optics.focal_ratio"]
    assert mended.goal is not None
    assert mended.goal.spare(mended.number) == pytest.approx(0, abs=1e-6)


def test_of_two_usual_limits_the_one_in_danger_is_shown(design):
    pupils = "eyepieces: [{name: wide, focal_length: 40 mm, apparent_field: 50 deg}, " \
             "{name: short, focal_length: 3 mm, apparent_field: 50 deg}]"
    worked = design(pupils, "conditions: {eye_pupil: 4 mm}")
    senses = {name: worked.results[f"eyepiece.{name}.exit_pupil"].goal.sense for name in ("wide", "short")}
    assert senses == {"wide": "at_most", "short": "at_least"}


def test_no_remedy_is_a_telescope_that_cannot_stand(design):
    """A focuser moved into its own tube would light the field's edge, but it is no cure."""
    tube = "frame: {kind: tube, outer_diameter: 190 mm, inner_diameter: 180 mm, length: 1100 mm}"
    worked = design(tube, "field: {judged: 30 mm}", replace={"35 mm": "24 mm"})
    light = worked.results["diagonal.edge_light"]
    assert light.goal is not None
    assert light.goal.outcome(light.number) == "misses"
    cures = {remedy.key: remedy.value for remedy in worked.remedies["diagonal.edge_light"]}
    assert "diagonal.minor_axis" in cures
    assert cures.get("focuser.mounting_radius", 100) >= 90


@pytest.mark.parametrize(("limits", "said"), [
    ([2.0], "The one limit is met."),
    ([9.9], "The one limit is met, with little to spare."),
    ([2.0, 9.9], "Both limits are met, one of them with little to spare."),
    ([9.9, 9.9], "Both limits are met, with little to spare."),
    ([2.0, 9.9, 9.9], "All 3 limits are met, 2 of them with little to spare."),
    ([2.0, 11.0, 9.9], "1 of 3 limits is missed: opening."),
])
def test_how_many_limits_are_met_is_a_sentence(design, limits, said):
    """A result of 10 against these as the least that it should be, but for 9.9, which is close to it."""
    made = design()
    any_result = next(iter(made.results.values()))
    results = [replace(any_result, value=10.0, title="Opening", goal=Goal(any_result.id, "at_least", limit, ""))
               for limit in limits]
    assert verdict(results, made) == said
