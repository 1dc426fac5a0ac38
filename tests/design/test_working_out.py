"""The order of the working: defaults, what is left out, live numbers, loops."""

from __future__ import annotations

import pytest

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.questions import QUESTIONS, grouped
from dossier.views.tables import by_row, in_rows


def test_the_least_spec_is_worked_out_as_far_as_it_goes(design):
    worked = design()
    assert worked.results["optics.focal_ratio"].value == 8
    assert worked.results["optics.intercept"].value == 150
    assert "optics.throughput" not in worked.results
    assert "primary.reflectivity" in worked.left_out["optics.throughput"]
    assert "parts.cost" not in worked.results
    assert "mount.load_share" not in worked.results


@pytest.mark.parametrize(("focuser", "drawn_out"), [
    ("", 0), (", travel: 30 mm", 15), (", travel: 30 mm, drawn_out: 12 mm", 12)])
def test_drawn_out_is_what_is_said_else_half_the_travel_else_nothing(design, focuser, drawn_out):
    worked = design(replace={"height: 50 mm": f"height: 50 mm{focuser}"})
    assert worked.results["focuser.drawn_out"].value == drawn_out
    assert worked.results["optics.intercept"].value == 150 + drawn_out


@pytest.mark.parametrize(("more", "judged"), [
    ("", 12), ("eyepieces: [{name: a, focal_length: 20 mm, apparent_field: 50 deg, field_stop: 17 mm},"
               " {name: b, focal_length: 25 mm, apparent_field: 50 deg, field_stop: 21 mm}]", 21),
    ("field: {judged: 24 mm}", 24)])
def test_the_judged_field_is_what_is_said_else_the_widest_stop_else_12_mm(design, more, judged):
    assert design(more).results["field.judged"].value == judged


@pytest.mark.parametrize(("offset", "expected"), [(", offset: none", 0), (", offset: 1.5 mm", 1.5)])
def test_an_offset_is_applied_as_it_is_said(design, offset, expected):
    worked = design(replace={"35 mm": f"35 mm{offset}"})
    assert worked.results["diagonal.offset"].value == expected
    assert worked.results["diagonal.station"].value == pytest.approx(1050 - expected)


def test_the_true_field_comes_from_the_stop_where_one_is_given(design):
    worked = design("eyepieces: [{name: stopped, focal_length: 25 mm, apparent_field: 50 deg, field_stop: 21.2 mm},"
                    " {name: open, focal_length: 25 mm, apparent_field: 50 deg}]")
    assert worked.results["eyepiece.open.true_field"].value == pytest.approx(50 / 48)
    assert "field_stop_mm" in worked.results["eyepiece.stopped.true_field"].inputs


def test_every_eyepiece_is_told_what_10_mm_either_way_leaves(design):
    worked = design("eyepieces: [{name: deep, focal_length: 25 mm, apparent_field: 50 deg, stop_shift: 4 mm}]",
                    replace={"height: 50 mm": "height: 50 mm, travel: 30 mm, drawn_out: 12 mm"})
    value = {name.rpartition(".")[2]: result.value for name, result in worked.results.items() if ".deep." in name}
    assert (value["focus_position"], value["spare_in"], value["spare_out"]) == (16, 16, 14)
    assert (value["spare_in_if_nearer"], value["spare_out_if_farther"]) == (6, 4)


def test_a_table_has_a_row_for_each_case_and_no_column_more(design):
    """What a focus elsewhere changes stands below each eyepiece: nine columns would fit no page."""
    question = next(each for each in QUESTIONS if each.key == "focus")
    worked = design("eyepieces: [{name: deep, focal_length: 9 mm, apparent_field: 50 deg},"
                    " {name: other, focal_length: 20 mm, apparent_field: 50 deg}]",
                    replace={"height: 50 mm}": "height: 50 mm, travel: 30 mm, drawn_out: 15 mm}"})
    group = next(each for each in grouped(worked) if each.question is question)
    table = by_row([each for each in group.results if in_rows(each.id, question)], worked, question)
    assert [column.title for column in table.columns] == [
        "Drawtube in focus", "Travel to spare inwards", "Travel to spare outwards"]
    assert [(row.heading, row.case, [cell.text for cell in row.cells]) for row in table.rows[:3]] == [
        ("deep", "", ["15.0", "15.0", "15.0"]), ("deep", "focus 10 mm nearer", ["5.0", "5.0", "25.0"]),
        ("deep", "focus 10 mm farther", ["25.0", "25.0", "5.0"])]
    assert len(table.rows) == 6


def test_a_truss_stands_lower_than_its_poles_are_long(design):
    worked = design("frame: {kind: truss, count: 8, length: 1150 mm, circle_radius: 160 mm,"
                    " upper_circle_radius: 160 mm, outer_diameter: 25 mm, inner_diameter: 22 mm, lower_fixing: 40 mm}")
    # Nodes at (160, 0°) and (160, 45°): 122.46 mm apart across the axis; Pythagoras on 1150 mm.
    assert worked.results["frame.chord"].value == pytest.approx(122.46, abs=0.005)
    assert worked.results["frame.upper_fixing"].value == pytest.approx(1183.46, abs=0.005)


def test_a_spec_may_use_its_own_results(design):
    worked = design("parts: [{ref: P1, name: 'Pole of {{ frame.pole_length }}', group: frame, get: make,",
                    " mass: '{{ cell.mirror_mass }}', station: '{{ diagonal.station }}'}]",
                    "frame: {kind: poles, count: 3, length: 900 mm, circle_radius: 115 mm, outer_diameter: 20 mm,"
                    " inner_diameter: 17 mm}",
                    replace={"1200 mm}": "1200 mm, blank_diameter: 152 mm, edge_thickness: 25 mm,"
                                           " glass: borosilicate}"})
    assert worked.build.parts[0].station == worked.results["diagonal.station"].value
    assert worked.build.parts[0].mass == worked.results["cell.mirror_mass"].value
    assert worked.results["balance.station"].value == pytest.approx(worked.results["diagonal.station"].value)


def test_a_spec_reckons_with_its_own_numbers(design):
    worked = design("spider: {vanes: 3, vane_thickness: 1 mm, station: 1000 mm}",
                    "parts: [{ref: P1, name: '{{ spec.about.name }} rod', mass: 1 kg,"
                    " station: '{{ spec.spider.station.value - 11 }} mm'}]")
    assert worked.build.parts[0].station == 989


@pytest.mark.parametrize(("text", "wanted"), [
    ("{{ spec.primary }}", "'spec.primary' is a group of numbers, not one"),
    ("{{ optics.focal_ratio * 2 }}", "take a result's .value"),
    ("{{ optics.intercept - 2 }} mm", "take the bare number, its .value"),
    ("{{ optics.intercept.value }}", "needs a unit"),
    ("{{ diagonal.offset }}", "depends on itself: diagonal.offset → spec.diagonal.minor_axis → diagonal.offset"),
    ("{{ diagonal.ofset }}", "did you mean 'diagonal.offset'"),
    ("{{ optics.throughput }}", "needs primary.reflectivity"),
    ("{{ 9**9**9 }}", "'**' is for plain numbers only"),
    ("{{ ().__class__ }}", "no expression may"),
    ("{{ diagonal }}", "is a group of numbers"),
    ("{{ self }}", "neither a number nor a text"),
    ("{{ [1, 2] }}", "neither a number nor a text"),
])
def test_an_expression_that_cannot_be_worked_out_names_its_line(build, text, wanted):
    with pytest.raises(Unusable) as caught:
        work_out(load_build(build(replace={"35 mm": f'"{text}"'})))
    (problem,) = caught.value.problems
    assert problem.line == 4
    assert problem.key == "diagonal.minor_axis"
    assert wanted in problem.message


def test_measured_values_take_the_place_of_the_spec_and_say_so(build, tmp_path):
    folder = build()
    measured = tmp_path / "measured.yaml"
    measured.write_text("primary: {focal_length: 1212 mm}\n", "utf-8")
    worked = work_out(load_build(folder, measured))
    ratio = worked.results["optics.focal_ratio"]
    assert ratio.value == pytest.approx(8.08)
    assert ratio.inputs["focal_length_mm"].origin == "measured"


def test_changing_a_key_works_out_only_what_is_asked(build):
    from dossier.design import worksheet

    sheet = worksheet(load_build(build()), changes={"primary.focal_length": 1500.0})
    assert sheet.result("optics.focal_ratio").value == 10
    assert set(sheet._done) == {"optics.focal_ratio"}
