"""Build steps: their front matter, and every problem of theirs at its line."""

from __future__ import annotations

import pytest

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.steps import steps_view

PARTS = "parts: [{ref: P1, name: Glass, group: optics, get: have}, {ref: P2, name: Carbon pole, group: f, get: make}]"
GOOD = """---
title: Saw the poles
parts: [P2]
tools: [hacksaw]
time: 1.5 h
people: 2
checks: [{what: length, target: "{{ optics.intercept }}", tolerance: ± 0.5 mm}]
---
Saw.
"""


def test_a_step_is_read_with_its_lines(design):
    (step,) = design(PARTS, files={"pages/steps/03-saw-the-poles.md": GOOD}).steps
    assert (step.slug, step.number, step.minutes, step.people) == ("saw-the-poles", 1, 90, 2)
    assert step.lines["time"] == 5
    assert (step.body, step.body_line) == ("Saw.\n", 9)


def test_tools_in_a_line_are_told_apart_though_one_holds_a_comma(design):
    made = design(PARTS, files={"pages/steps/03-saw.md": GOOD.replace("[hacksaw]", "['drill, 5.5 mm', hacksaw]")})
    assert steps_view(made, None, ()).steps[0].tools == "drill, 5.5 mm; hacksaw"


@pytest.mark.parametrize(("old", "new", "line", "wanted"), [
    ("[P2]", "[P7]", 3, "there is no part 'P7'"),
    ("tools:", "tool:", 4, "did you mean 'tools'"),
    ("1.5 h", "90", 5, "such as 45 min"),
    ("1.5 h", "90 mm", 5, "is a length"),
    ("people: 2", "wait: a day", 6, "wants a time"),
    ("people: 2", "when: dusk", 6, "wants daylight or night (got 'dusk')"),
    ("people: 2", "people: 1.5", 6, "whole number of people"),
    ("people: 2", "needs: [later]", 6, "is no step"),
    ("people: 2", "cautions: [lazer]", 6, "did you mean 'laser'"),
    ("people: 2", "title: Again", 6, "twice"),
    ("---\nSaw", "Saw", 1, "no end"),
])
def test_a_bad_step_is_an_error_at_its_line(build, old, new, line, wanted):
    folder = build(PARTS, files={"pages/steps/01-saw.md": GOOD.replace(old, new, 1)})
    with pytest.raises(Unusable) as caught:
        work_out(load_build(folder))
    assert any(problem.line == line and wanted in problem.message for problem in caught.value.problems), \
        caught.value.problems


def test_all_problems_of_all_steps_come_at_once(build):
    folder = build(PARTS, files={"pages/steps/01-a.md": GOOD.replace("P2", "P8"),
                                 "pages/steps/02-b.md": GOOD.replace("P2", "P9")})
    with pytest.raises(Unusable) as caught:
        work_out(load_build(folder))
    assert len(caught.value.problems) == 2


def test_cautions_follow_what_a_build_contains_and_cannot_be_switched_off(design):
    assert {"sun", "fire"} <= set(design().cautions)
    assert "carbon-dust" not in design().cautions
    assert "carbon-dust" in design(PARTS).cautions


def test_a_part_that_no_step_names_is_told(design):
    from dossier.views.terminal import check_text

    assert "in no step" not in check_text(design(PARTS)), "without steps there is nothing to be left out of"
    worked = design(PARTS, files={"pages/steps/01-saw.md": GOOD})
    assert "in no step: P1 Glass\n" in check_text(worked)
    assert "in no step: P2" not in check_text(worked)
