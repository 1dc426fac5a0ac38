"""The workshop's sessions, told of a small invented club."""

from __future__ import annotations

import pytest

from dossier.design import work_out
from dossier.design.asides.workshop import clock, counted, sessions
from dossier.design.workshop import workshop_plan
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.words import workshop as words

CLUB = """\
workshop: {session: 2 h, people: 4, benches: [{name: saw, places: 1}]}
parts:
  - {ref: P1, name: Pole, get: make}
  - {ref: P2, name: Glass, get: have}
"""
SAW = "---\ntitle: Saw\nparts: [P1]\nmakes: [P1]\nbench: saw\ntime: 60 min\n---\nSaw.\n"
GLUE = "---\ntitle: Glue\nparts: [P1, P2]\nneeds: [saw]\ntime: 30 min\npeople: 2\n---\nGlue.\n"
STEPS = {"pages/steps/01-saw.md": SAW, "pages/steps/02-glue.md": GLUE}


def test_three_kits_at_one_saw(design):
    plan = workshop_plan(design(CLUB, files=STEPS, kits=3))
    told = [[(slot.step.slug, slot.kits, slot.start_min, slot.people) for slot in session.slots]
            for session in plan.sessions]
    assert told == [[("saw", (1,), 0, 1), ("saw", (2,), 60, 1), ("glue", (1,), 60, 2)],
                    [("saw", (3,), 0, 1), ("glue", (2,), 0, 2), ("glue", (3,), 60, 2)]]
    assert plan.least == len(plan.sessions) == 2


def test_it_says_how_many_and_whether_fewer_would_do(design):
    text = words.sessions(design(CLUB, files=STEPS, kits=3))
    assert "2 sessions of 2\u202fh with 4 people at a time finish 3 kits" in text
    assert "No plan can do with fewer sessions" in text


def test_glue_dries_between_sessions_and_stars_are_looked_at_in_the_dark(design):
    files = {"pages/steps/01-glue.md": "---\ntitle: Glue\ntime: 30 min\nwait: 24 h\nwhen: daylight\n---\nGlue.\n",
             "pages/steps/02-look.md": "---\ntitle: Look\ntime: 30 min\nneeds: [glue]\nwhen: night\n---\nLook.\n"}
    worked = design(CLUB, files=files)
    rows = sessions(worked).rows
    assert [row.name for row in rows] == ["1, by daylight", "2, in the dark"]
    text = words.sessions(worked)
    # Glued at 0:30 of a session of two hours: 22 h 30 min are left when it is over.
    assert "Session 2 is held 22\u202fh 30\u202fmin after session 1 at the earliest" in text
    assert "In the dark: session 2." in text
    assert "No plan can do with fewer sessions" in text
    weekly = words.sessions(design(CLUB.replace("people: 4", "people: 4, apart: 160 h"), files=files))
    assert "at the earliest" not in weekly
    assert "160\u202fh or more" in weekly


def test_what_is_lent_is_looked_over_for_what_it_has(design):
    bare = words.lending(design(CLUB))
    assert "clip" not in bare
    assert "finder" not in bare
    assert "Batteries" not in bare
    assert "on its feet" not in bare
    assert "The front is covered and stays so in daylight." in bare
    full = words.lending(design(
        CLUB + "  - {ref: P3, name: Red-dot finder, get: buy}\n  - {ref: P4, name: 'Lid, grey board', get: make}\n"
        "cell: {clips: {count: 3, radius: 74 mm}}\n"))
    assert "The lid is on, the finder is capped, and both stay so in daylight." in full
    assert "No clip presses on the mirror" in full
    assert "Batteries are out" in full


def test_no_workshop_no_plan(design):
    worked = design("parts: [{ref: P1, name: Pole}, {ref: P2, name: Glass}]", files=STEPS)
    assert workshop_plan(worked) is None
    assert words.sessions(worked) == words.lending(worked) == ""


@pytest.mark.parametrize(("old", "new", "said"), [
    ("bench: saw", "bench: lathe", "no bench 'lathe'"), ("people: 2", "people: 5", "the workshop has 4"),
    ("makes: [P1]", "makes: [P9]", "no part 'P9'"),
])
def test_a_step_that_the_workshop_cannot_do(build, old, new, said):
    files = {name: text.replace(old, new) for name, text in STEPS.items()}
    with pytest.raises(Unusable, match="pages/steps") as caught:
        work_out(load_build(build(CLUB, files=files)))
    assert said in str(caught.value)


def test_a_part_used_before_it_is_made(build):
    early = "---\ntitle: Fit\nparts: [P1]\n---\nFit.\n"
    with pytest.raises(Unusable) as caught:
        work_out(load_build(build(CLUB, files={"pages/steps/00-fit.md": early, **STEPS})))
    (problem,) = caught.value.problems
    assert "'P1' is made later, in step 2" in problem.message
    assert problem.line == 3


def test_clock_and_kits_are_short():
    assert clock(65) == "1:05"
    assert counted((1, 2, 3, 5, 7, 8)) == "1–3, 5, 7–8"
