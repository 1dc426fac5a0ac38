"""Studies: every point is the build that its author would have written, worked out anew."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from dossier.design import work_out
from dossier.design.alternatives import alternatives
from dossier.design.explore import study_asked
from dossier.design.explore.ground import Ground, results_on
from dossier.errors import Unusable
from dossier.spec.load import with_values
from dossier.working import Result
from tests.explore.conftest import PARTS

Make = Callable[..., Ground]
CHANGED = [
    ("primary.focal_length", 1260.0, "1260 mm"), ("primary.edge_thickness", 22.5, "22.5 mm"),
    ("primary.conic", -0.35, -0.35), ("diagonal.minor_axis", 33.0, "33 mm"), ("focuser.height", 49.0, "49 mm"),
    ("frame.length", 655.0, "655 mm"), ("cell.push.spring.rate", 1.7, "1.7 N/mm"), ("cell.rings[0]", 47.0, "47 mm"),
    ("parts[1].price", 31.0, 31.0), ("frame.count", 4, 4), ("eyepieces[1].focal_length", 12.0, "12 mm"),
    ("parts[13].cut.kerf", 3.0, "3 mm"), ("conditions.used_at", -3.0, "-3 degC"), ("mount.pivot", 333.0, "333 mm"),
]


def alike(one: Result, other: Result) -> bool:
    return one.numbers == pytest.approx(other.numbers, rel=1e-12, abs=1e-15) and (
        one.goal is None) == (other.goal is None) and (one.goal is None or other.goal is None or (
            one.goal.outcome(one.number) == other.goal.outcome(other.number)))


@pytest.mark.parametrize(("key", "number", "said"), CHANGED, ids=[key for key, _, _ in CHANGED])
def test_a_number_put_in_gives_what_its_author_would_have_got(demo: Ground, key: str, number: float,
                                                              said: object) -> None:
    written = work_out(with_values(demo.loaded, {key: said})).results
    quick, missing = results_on(demo.sheet({key: number}), demo.plan)
    assert set(quick) == set(written)
    assert [name for name in quick if not alike(quick[name], written[name])] == []
    assert missing


def test_what_no_key_can_change_is_rightly_kept(demo: Ground) -> None:
    keys = {"primary.focal_length": 1200.0, "primary.edge_thickness": 25.0, "cell.push.spring.rate": 1.5,
            "frame.length": 640.0}
    settled = demo.settled(keys, demo.plan).ground
    moved = {key: value * factor for (key, value), factor in zip(keys.items(), (1.03, 0.9, 1.2, 0.98), strict=True)}
    kept, _ = results_on(settled.sheet(moved), demo.plan)
    anew, _ = results_on(demo.sheet(moved), demo.plan)
    assert {name: result.value for name, result in kept.items()} == {
        name: result.value for name, result in anew.items()}
    assert {"print.p8.mass", "print.p32.time"} <= set(settled.known)
    assert not {"cell.mirror_mass", "parts.mass", "frame.sag"} & set(settled.known)


def test_expressions_follow_what_is_varied(ground: Make) -> None:
    """The mirror's mass in the parts list is an expression; thicker glass is heavier by its volume times its density.

    154 mm across, 1 mm thick: 18626.5 mm³; borosilicate 2230 kg/m³: 0.041537 kg.
    """
    study = study_asked(ground(PARTS), ["primary.edge_thickness=25mm,26mm"], [], ["parts.mass"])
    thin, thick = (point.results["parts.mass"].number for point in study.points)
    assert thick - thin == pytest.approx(0.041537, rel=1e-4)


def test_points_run_through_all_values_of_two_keys(ground: Make) -> None:
    study = study_asked(ground(), ["primary.focal_length=1000mm:1200mm:100mm", "primary.aperture=100mm,150mm"], [],
                        ["optics.focal_ratio"])
    assert [(*(each.number for each in point.settings), point.results["optics.focal_ratio"].number)
            for point in study.points] == [(1000, 100, 10.0), (1000, 150, pytest.approx(6.6667, rel=1e-4)),
                                           (1100, 100, 11.0), (1100, 150, pytest.approx(7.3333, rel=1e-4)),
                                           (1200, 100, 12.0), (1200, 150, 8.0)]
    assert study.planned["optics.focal_ratio"].number == 8.0
    assert [axis.planned for axis in study.axes] == [1200, 150]


def test_a_point_that_cannot_be_built_says_why_and_stops_nothing(ground: Make) -> None:
    study = study_asked(ground(), ["primary.aperture=-10mm,140mm,160mm,180mm"], [], ["optics.focal_ratio"])
    too_wide = "primary.blank_diameter 154 mm is less than the clear aperture, "
    assert [point.unusable for point in study.points] == [
        "primary.aperture must be above zero (got -10 mm)", "", f"{too_wide}160 mm", f"{too_wide}180 mm"]
    assert study.points[1].results["optics.focal_ratio"].number == pytest.approx(1200 / 140)


def test_a_result_without_an_answer_is_left_out_with_its_reason(ground: Make) -> None:
    study = study_asked(ground(), ["primary.conic=-1,0"], [], ["frame.sag", "optics.focal_ratio"])
    assert "frame" in study.points[0].missing["frame.sag"]
    assert "optics.focal_ratio" in study.points[0].results


def test_choices_give_what_the_parts_sheet_says_of_them(demo: Ground) -> None:
    design = work_out(demo.loaded)
    study = study_asked(demo, [], ["P1", "P2", "P14"], ["figure.strehl", "parts.cost", "frame.sag"], alone=True)
    told = {(each.ref, each.name): each for each in alternatives(design)}
    for point in study.points[1:]:
        (ref, words), = [(axis.key, setting.words) for axis, setting in zip(study.axes, point.settings, strict=True)
                         if setting.values]
        for name, result in point.results.items():
            assert result.number == pytest.approx(told[ref, words].results[name].number, rel=1e-12)
    assert len(study.points) == 1 + 2 + 2 + 2


def test_choices_that_clash_or_do_not_fit_are_told(ground: Make) -> None:
    study = study_asked(ground(PARTS), [], ["P1", "P2"], ["parts.cost"])
    told = {tuple(each.words for each in point.settings): point for point in study.points}
    assert len(study.points) == 9
    assert told["as planned", "as planned"].results["parts.cost"].number == 50
    assert told["paraboloid", "small"].results["parts.cost"].number == 90 + 12, "what is at hand is bought then"
    assert told["paraboloid", "paraboloid again"].unusable == (
        "P2, paraboloid again, sets primary.conic, and so does another of the choices")
    assert "blank_diameter" in told["too wide", "as planned"].unusable


def test_all_that_is_wrong_is_told_at_once(ground: Make) -> None:
    with pytest.raises(Unusable) as wrong:
        study_asked(ground(PARTS), ["primary.focal_lenght=1mm:2mm:1mm", "primary.aperture", "about.name=a,b"],
                    ["P1", "P1", "P3"], ["figure.strel"])
    assert [str(problem) for problem in wrong.value.problems] == [
        "--choose: P1: is asked for twice", "--choose: P3: is no reference of a part (got P3)",
        "--show: figure.strel: no result has this name — did you mean 'figure.strehl'?",
        "--vary: wants KEY=FROM:TO:STEP, such as primary.focal_length=900mm:1500mm:50mm (got primary.aperture)",
        "--vary: about.name: is no number; name a key that holds one number, or a choice of a part",
        "--vary: primary.focal_lenght: is no key of the spec — did you mean 'primary.focal_length'?"]


def test_too_many_points_are_counted_before_any_is_worked_out(ground: Make) -> None:
    with pytest.raises(Unusable, match=f"makes {601 * 101} points, of which at most 5000 are worked out"):
        study_asked(ground(), ["primary.focal_length=900mm:1500mm:1mm", "primary.aperture=100mm:150mm:0.5mm"], [], [])
