"""A build that was measured, against its plan. Lengths are worked out by hand; the builds are invented."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from dossier.design import Design, measured, work_out
from dossier.design.asides import measured as asides
from dossier.spec.load import load_build
from dossier.views import planned
from dossier.views.asides import aside_table
from dossier.views.measured_file import empty_file
from dossier.views.overview import key_figures
from dossier.views.spoken import Spoken
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
        folder = build(spec)
        file = tmp_path / "found.yaml"
        file.write_text(found, "utf-8")
        return replace(work_out(load_build(folder, file)), planned=work_out(load_build(folder)))

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
    assert worked.results["frame.sawn_length"].number == 860
    text = words.change(worked)
    assert "Make each pole, between its fixings, 889.0\u202fmm instead of 900.0\u202fmm" in text
    assert "Its tube is then sawn to 849.0\u202fmm." in text
    assert planned.wanted_words("frame.sawn_length", worked) == "this mirror wants 849.0\u202fmm"


def test_a_truss_pole_is_the_slanting_side(both):
    cut = measured.recut(both(TRUSS, "primary: {focal_length: 1189 mm}\n"))
    chord = 2 * 115 * math.sin(math.pi / 8)
    height = math.sqrt(900**2 - chord**2) - 11
    assert cut is not None
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
    file = tmp_path / "measured.yaml"
    file.write_text("\n".join(lines) + "\n", "utf-8")
    filled = work_out(load_build(root, file))
    for name, result in plan.results.items():
        # Values are printed to seven figures; an arm of a millimetre is what is left of two stations of hundreds.
        assert filled.results[name].value == pytest.approx(result.value, rel=2e-6, abs=2e-5), name


def test_a_text_that_names_a_moved_number_says_what_was_planned_beside_it(both):
    """In the author's prose; the program's own words compare for themselves."""
    worked = both(POLES, "primary: {focal_length: 1189 mm}\n")
    spoken = Spoken(worked)
    told = spoken.of_text("At f/{{ optics.focal_ratio }} the pole of {{ frame.pole_length }}, {{ spec.frame.count }} "
                          "of them, for {{ spec.primary.focal_length }}", "a.md", 1)
    shown = re.sub("<[^>]*>", "", told)
    assert shown == ("At f/7.93 (planned 8) the pole of 900.0\u202fmm (this mirror wants 889.0\u202fmm), 3 of them, "
                     "for 1189\u202fmm (planned 1200\u202fmm)")
    with spoken.alone():
        assert "planned" not in spoken.of_text("At f/{{ optics.focal_ratio }}", "a.md", 1)


def test_key_figures_of_the_first_sheet_say_what_was_planned(both):
    figures = {figure.label: figure.planned for figure in key_figures(both(POLES, "primary: {aperture: 148 mm}\n"))}
    assert figures["Aperture"] == "planned 150\u202fmm"
    assert figures["Focal length"] == ""
