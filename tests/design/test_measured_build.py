"""A build that was measured, against its plan. Lengths are worked out by hand; the builds are invented."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
import yaml

from dossier.design import Design, measured, work_out
from dossier.design.asides import measured as asides
from dossier.design.cut_plans import cut_plans
from dossier.design.laid_over import laid_over
from dossier.spec.load import load_build
from dossier.views.asides import aside_table
from dossier.views.measured_file import empty_file
from dossier.views.overview import key_figures
from dossier.views.planned import planned_words
from dossier.views.spoken import Spoken
from dossier.views.terminal import check_text
from dossier.views.words import measured as words

POLES = """\
frame: {kind: poles, material: aluminium-6061, outer_diameter: 20 mm, inner_diameter: 17 mm, length: 900 mm, count: 3,
  circle_radius: 115 mm, lower_fixing: 60 mm}
goals: [{result: optics.focal_ratio, at_least: 7.95}]
parts: [{ref: P1, name: Mirror, mass: 1 kg}]
"""
TRUSS = POLES.replace("kind: poles", "kind: truss").replace("count: 3", "count: 8")


@pytest.fixture
def both(build, tmp_path: Path):
    """A build with this measured file laid over it, and its plan beside it."""

    def made(spec: str, found: str) -> Design:
        folder = build(spec, replace={"height: 50 mm": "height: 30 mm, travel: 30 mm, drawn_out: 20 mm"})
        file = tmp_path / "found.yaml"
        file.write_text(found, "utf-8")
        return laid_over(load_build(folder), load_build(folder, file))

    return made


def test_a_shorter_mirror_wants_shorter_poles(both):
    """1200 mm turn out to be 1189: the focal plane comes down by 11 mm and so must the upper end."""
    worked = both(POLES, "primary: {focal_length: 1189 mm}\n")
    cut = measured.recut(worked)
    assert cut is not None
    assert cut.wanted.number == pytest.approx(889)
    assert cut.change_mm == pytest.approx(-11)
    text = words.change(worked)
    assert "Cut each pole to 889.0\u202fmm instead of 900.0\u202fmm: 11.0\u202fmm shorter" in text
    assert "Focal ratio, {{ optics.focal_ratio }}: misses" in text


def test_poles_that_were_cut_already_are_counted(both):
    """Poles sawn to 905 mm for a mirror of 1203 mm: 2 mm too long."""
    cut = measured.recut(both(POLES, "primary: {focal_length: 1203 mm}\nframe: {length: 905 mm}\n"))
    assert cut is not None
    assert cut.change_mm == pytest.approx(-2)


def test_poles_with_fittings_are_told_both_lengths(both):
    """Bolt to bolt 889 mm, of which tongues take 20 mm at either end."""
    worked = both(POLES.replace("900 mm", "900 mm, end_fittings: 20 mm"), "primary: {focal_length: 1189 mm}\n")
    assert worked.results["frame.sawn_length"].number == pytest.approx(849)
    text = words.change(worked)
    assert "Make each pole, between its fixings, 889.0\u202fmm instead of 900.0\u202fmm" in text
    assert "Its tube is then sawn to 849.0\u202fmm." in text
    assert planned_words(worked.results["frame.sawn_length"], worked) == "planned 860.0\u202fmm"


def test_a_truss_pole_is_the_slanting_side(both):
    worked = both(TRUSS, "primary: {focal_length: 1189 mm}\n")
    cut = measured.recut(worked)
    chord = 2 * 115 * math.sin(math.pi / 8)
    height = math.sqrt(900**2 - chord**2) - 11
    assert cut is not None
    assert worked.build.frame.length == round(cut.wanted.number, 1), "sawn to the tenth"
    assert cut.wanted.number == pytest.approx(math.hypot(height, chord))


def test_nothing_to_cut(both):
    worked = both(POLES, "parts: [{ref: P1, mass: 1.1 kg}]\n")
    assert measured.recut(worked) is None
    assert "Nothing has to be cut differently" in words.change(worked)


def test_planned_and_found_stand_side_by_side(both):
    worked = both(POLES, "primary: {focal_length: 1189 mm}\nparts: [{ref: P1, mass: 1.1 kg}]\n")
    assert [(each.key, each.planned.value, each.found.value) for each in measured.found(worked)] == [
        ("primary.focal_length", 1200, 1189), ("parts[0].mass", 1, 1.1)]
    table = aside_table(asides.results(worked), worked).table
    rows = {row.heading: [cell.text for cell in row.cells] for row in table.rows}
    assert rows["Station of the focuser, mm"] == ["1050.0", "1039.0"]
    assert all(len(set(cells)) > 1 for cells in rows.values()), "a row that reads the same says nothing"


def test_a_plan_alone_says_nothing_of_measuring(design):
    worked = design(POLES)
    assert measured.found(worked) == measured.moved(worked) == ()
    assert words.change(worked) == ""


@pytest.mark.parametrize("folder", ["dossier/starter", "content/teasel-150"])
def test_the_empty_file_can_be_filled_in(folder: str, tmp_path: Path):
    """As it comes it says nothing; with every value of the plan put in, it gives the plan."""
    root = Path(__file__).parents[2] / folder
    plan = work_out(load_build(root))
    text = empty_file(plan)
    assert yaml.safe_load(text) is None
    lines = [line.removeprefix("# ").replace(":   # planned: ", ": ").replace("\u202f", " ").replace("−", "-")
             for line in text.splitlines()[3:] if "bench" not in line and "source:" not in line
             and "zones" not in line and "readings" not in line and "Knife" not in line and line != "#"]
    lines = _as_worked_out(lines, plan)
    file = tmp_path / "measured.yaml"
    file.write_text("\n".join(lines) + "\n", "utf-8")
    filled = work_out(load_build(root, file))
    for name, result in plan.results.items():
        # Values are printed to seven figures; an arm of a millimetre is what is left of two stations of hundreds.
        assert filled.results[name].value == pytest.approx(result.value, rel=2e-6, abs=2e-5), name


def _as_worked_out(lines: list[str], plan: Design) -> list[str]:
    """What the plan works out is printed rounded as a result is; here it is typed in as worked out."""
    numbers = {part.ref: part.mass for place, part in enumerate(plan.build.parts)
               if "{{" in getattr(plan.loaded.spots.get(f"parts[{place}].mass"), "said", "")}
    refs = [line.partition("ref: ")[2] if "ref: " in line else "" for line in lines]
    return [f"{line.partition('mass:')[0]}mass: {numbers[refs[at - 1]]!r} kg"
            if "mass:" in line and refs[at - 1] in numbers else line for at, line in enumerate(lines)]


def test_a_text_that_names_a_moved_number_says_what_was_planned_beside_it(both):
    """In the author's prose; the program's own words compare for themselves."""
    worked = both(POLES, "primary: {focal_length: 1189 mm}\n")
    spoken = Spoken(worked)
    told = spoken.of_text("At f/{{ optics.focal_ratio }} the pole of {{ frame.pole_length }}, {{ spec.frame.count }} "
                          "of them, for {{ spec.primary.focal_length }}", "a.md", 1)
    shown = re.sub("<[^>]*>", "", told)
    assert shown == ("At f/7.93 (planned 8) the pole of 889.0\u202fmm (planned 900.0\u202fmm), 3 of them, "
                     "for 1189\u202fmm (planned 1200\u202fmm)")
    with spoken.alone():
        assert "planned" not in spoken.of_text("At f/{{ optics.focal_ratio }}", "a.md", 1)


def test_key_figures_of_the_first_sheet_say_what_was_planned(both):
    figures = {figure.label: figure.planned for figure in key_figures(both(POLES, "primary: {aperture: 148 mm}\n"))}
    assert figures["Aperture"] == "planned 150\u202fmm"
    assert figures["Focal length"] == ""


CUT = POLES.replace("name: Mirror, mass: 1 kg}", """name: Mirror, mass: 1 kg}, {ref: P2, name: Poles, group: frame,
  cut: {from: tube, stock_length: 2000 mm, pieces: [{length: "{{ frame.pole_length }}", quantity: 2}]}},
  {ref: P3, name: Ring, mass: 0.3 kg, station: 980 mm}""").replace(
    "goals:", "front: {opening: 176 mm, station: 1150 mm}\ntolerances: {frame.length: 1 mm}\ngoals:")


def test_what_is_not_cut_yet_follows_the_mirror_everywhere(both):
    """Cut plan, fixings and front: 11 mm less, and what is on the upper end stays on it."""
    worked = both(CUT, "primary: {focal_length: 1189 mm}\n")
    assert [piece.length_mm for length in cut_plans(worked)[0].lengths for piece in length.pieces] == [889, 889]
    assert worked.results["frame.upper_fixing"].number == pytest.approx(949)
    assert worked.build.front.station == pytest.approx(1139)
    assert worked.build.parts[2].station == pytest.approx(969)
    plan, now = worked.planned.results, worked.results
    assert now["frame.front_beyond_focuser"].number == pytest.approx(plan["frame.front_beyond_focuser"].number)
    assert now["frame.upper_mass"].number == pytest.approx(plan["frame.upper_mass"].number)
    assert [each.key for each in measured.found(worked)] == ["primary.focal_length"], "the rest was not measured"
    text = words.change(worked)
    assert "Cut plan, lists, drawings and steps of this dossier have this length already." in text


@pytest.mark.parametrize(("found", "said", "unsaid"), [
    ("frame: {length: 880 mm}", ["20.0\u202fmm too short", "Make new ones of 900.0\u202fmm, or pack them out by "
                                 "20.0\u202fmm", "10.0\u202fmm of travel are missing"], ["Cut each", "longer"]),
    ("frame: {length: 893 mm}", ["7.0\u202fmm too short", "Nothing has to be made again.", "7.0\u202fmm farther out, "
                                 "and 3.0\u202fmm of travel are left", "Or make new ones"], ["Cut each"]),
    ("frame: {length: 899.2 mm}", ["0.8\u202fmm too short", "within the 1.0\u202fmm", "Nothing has to be cut.",
                                   "9.2\u202fmm of travel are left"], ["Cut each", "new ones"]),
    ("frame: {length: 925 mm}", ["25.0\u202fmm too long", "Saw them to 900.0\u202fmm, 25.0\u202fmm off.",
                                 "5.0\u202fmm of travel are missing"], ["new ones", "925.0\u202fmm:"]),
    ("frame: {length: 910 mm}", ["10.0\u202fmm too long", "Nothing has to be cut.", "10.0\u202fmm farther in, and "
                                 "10.0\u202fmm of travel are left", "Or saw them to 900.0\u202fmm"], ["new ones"]),
    ("primary: {focal_length: 1200.3 mm}", ["Cut the poles to 900.0\u202fmm, as planned", "0.3\u202fmm is within the "
                                            "1.0\u202fmm", "9.7\u202fmm of travel are left"], ["instead of"]),
    ("{primary: {focal_length: 1189 mm}, frame: {length: 901 mm}}", [
        "The poles are 901.0\u202fmm long, and this mirror wants 889.0\u202fmm: 12.0\u202fmm too long"],
     ["instead of"]),
])
def test_members_that_are_made_are_told_what_is_left(both, found: str, said: list[str], unsaid: list[str]):
    """The focuser of the fixture stands 20 mm out of 30."""
    text = words.change(both(CUT, f"{found}\n"))
    for each in said:
        assert each in text
    for each in unsaid:
        assert each not in text


def test_check_prints_what_must_be_cut(both):
    told = check_text(both(CUT, "primary: {focal_length: 1189 mm}\n"))
    assert "measured: " in told
    assert "Cut each pole to 889.0\u202fmm instead of 900.0\u202fmm: 11.0\u202fmm shorter." in told
    assert "{{" not in told
    assert "**" not in told


def test_no_remedy_changes_what_was_measured(both):
    worked = both(CUT, "primary: {focal_length: 1189 mm}\n")
    keys = {remedy.key for found in worked.remedies.values() for remedy in found}
    assert "primary.aperture" in keys
    assert "primary.focal_length" not in keys
    assert "primary.focal_length" in {remedy.key for found in work_out(
        both(CUT.replace("7.95", "8.05"), "primary: {edge_thickness: 25 mm}\n").planned.loaded
    ).remedies.values() for remedy in found}


def test_masses_to_be_measured_are_rounded_as_results_are(both):
    """Grams for what a kitchen balance weighs; an expression's many digits are none of a balance's."""
    spec = CUT.replace("mass: 0.3 kg", 'mass: "{{ spec.parts[0].mass.value * 0.08997896 }} kg"')
    worked = both(spec, "primary: {aperture: 150 mm}\n")
    assert "mass:   # planned: 90\u202fg" in empty_file(worked.planned)
    made = (make(worked.planned) for make in asides.SHEETS)
    tables = {each.title: aside_table(each, worked.planned).table for each in made if each}
    rows = tables["Parts, on the scales"].rows
    assert [(row.heading, row.cells[0].text) for row in rows][-1] == ("P3 Ring, g", "90")
    assert all(table.columns[1].to_write for table in tables.values())
    assert next(iter(tables)) == "Mirror"
