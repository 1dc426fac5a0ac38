"""The workshop's sessions, told of a small invented club."""

from __future__ import annotations

import pytest

from dossier.design import work_out
from dossier.design.asides.workshop import clock, counted, sessions, tools
from dossier.design.workshop import workshop_plan
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.lists import lists
from dossier.views.proofread import proofread
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
    assert "2 sessions of 2\u202fh finish 3 kits." in text
    assert "Never more than 3 people of the workshop’s 4 are busy at once." in text
    # An hour of one at the saw and half an hour of two at the glue, three times; the sessions last two hours each.
    assert "By the clock the sessions last 4\u202fh." in text
    assert "the steps take 6\u202fh, 2\u202fh for each kit" in text
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


PRINTED = CLUB.replace("{name: saw, places: 1}", "{name: saw, places: 1}, {name: printer, places: 1}").replace(
    "P1, name: Pole, get: make", "P1, name: Pole, get: make, quantity: 3")
PRINT = ("---\ntitle: Print\nparts: [P1]\nbench: printer\ntime: 30 min\nmachine: MACHINE\n---\nPrint.\n")
FIT = "---\ntitle: Fit\nneeds: [print]\ntime: 30 min\n---\nFit.\n"


def printing(machine: str) -> dict[str, str]:
    return {"pages/steps/01-print.md": PRINT.replace("MACHINE", machine), "pages/steps/02-fit.md": FIT}


def test_a_machine_works_on_between_sessions_and_kits_queue_for_it(design):
    """20 h at the printer, 12 h between sessions of 2 h: ready for the next kit in the third session, not the second,
    which is therefore held when the first kit's parts are ready: 20:30 on, 18:30 after the end of the first."""
    plan = workshop_plan(design(PRINTED, files=printing("20 h"), kits=2))
    told = [[(slot.step.slug, slot.kits, slot.start_min, slot.machine_min) for slot in session.slots]
            for session in plan.sessions]
    assert told == [[("print", (1,), 0, 1200)], [("print", (2,), 0, 1200), ("fit", (1,), 0, 0)], [("fit", (2,), 0, 0)]]
    assert [session.pause_min for session in plan.sessions] == [0, 1110, 1110]
    assert plan.least == 3


def test_a_machine_that_is_looked_after_by_day_takes_longer(design):
    """20 h at 16 h a day are two stretches; whatever hour it is begun, two nights of 8 h lie before or between them."""
    watched = PRINTED.replace("{name: printer, places: 1}", "{name: printer, places: 1, attended: 16 h}")
    plan = workshop_plan(design(watched, files=printing("20 h")))
    assert plan.sessions[0].slots[0].machine_min == 60 * (20 + 2 * 8)


def test_a_machine_time_may_be_a_live_number(design):
    plan = workshop_plan(design(PRINTED, files=printing('"{{ 2 * spec.workshop.session.value }} min"')))
    assert plan.sessions[0].slots[0].machine_min == 240
    plain = words.sessions(design(PRINTED, files=printing('"{{ spec.workshop.session }}"')))
    assert "its place at the printer bench is free again 2\u202fh later" in plain


@pytest.mark.parametrize(("machine", "said"), [
    ("20", "wants a time with its unit"), ("-2 h", "wants a time"), ('"{{ parts.print_tim }}"', "there is no"),
    ('"{{ spec.primary.aperture }}"', "min"),
])
def test_a_machine_time_that_is_none_is_reported_with_its_line(build, machine, said):
    with pytest.raises(Unusable) as caught:
        proofread(work_out(load_build(build(PRINTED, files=printing(machine)))))
    (problem,) = caught.value.problems
    assert (problem.file.rpartition("/")[2], problem.line, problem.key) == ("01-print.md", 6, "machine")
    assert said in problem.message


def test_a_machine_stands_at_a_bench(build):
    files = {name: text.replace("bench: printer\n", "") for name, text in printing("2 h").items()}
    with pytest.raises(Unusable, match="the bench that the machine stands at"):
        work_out(load_build(build(PRINTED, files=files)))


def test_two_benches_at_once_on_one_kit_but_not_with_one_thing(design):
    """Sawing and drilling two things goes on at once; what is done to one thing follows, and what uses a thing waits
    until it is made though it names no need."""
    files = {"pages/steps/01-saw.md": SAW,
             "pages/steps/02-drill.md": "---\ntitle: Drill\nparts: [P3]\ntime: 60 min\n---\nDrill.\n",
             "pages/steps/03-sand.md": "---\ntitle: Sand\nparts: [P3]\ntime: 30 min\n---\nSand.\n",
             "pages/steps/04-glue.md": "---\ntitle: Glue\nparts: [P1]\ntime: 30 min\n---\nGlue.\n"}
    (session,) = workshop_plan(design(CLUB + "  - {ref: P3, name: Board, get: make}\n", files=files)).sessions
    assert [(slot.step.slug, slot.start_min, slot.end_min) for slot in session.slots] == [
        ("saw", 0, 60), ("drill", 0, 60), ("sand", 60, 90), ("glue", 60, 90)]
    assert session.busiest == 2


def test_the_workshop_s_own_number_of_kits_is_planned_and_shopped_for(design):
    """The results stay those of one kit; whoever runs the program has the last word, also where he says one."""
    three = ("readers: {currency: EUR}\n" + CLUB.replace("people: 4", "people: 4, kits: 3")
             + "  - {ref: P3, name: Screw, get: buy, price: 2.0}\n")
    said, one = design(three, files=STEPS), design(three, files=STEPS, kits=1)
    assert (workshop_plan(said).kits, said.kits, said.results["parts.cost"].value) == (3, 1, 2.0)
    assert (workshop_plan(one).kits, one.kits) == (1, 1)
    assert "3 kits cost 6.00\u202fEUR, 2.00\u202fEUR each; one alone costs" in words.sessions(said)
    assert "cost" not in words.sessions(one)
    shopping = {each.name: each for each in lists(said) if "shopping" in each.name}
    assert list(shopping) == ["lists/shopping.csv", "lists/shopping-3-kits.csv"], "one builder buys for himself"
    alone, together = shopping.values()
    assert "for one kit" in alone.what
    assert [row[3:8] for row in alone.rows] == [(1, 1, 1, 2.0, 2.0)]
    assert "for 3 kits" in together.what
    assert [row[3:8] for row in together.rows] == [(3, 1, 3, 2.0, 6.0)]
    assert [each.name for each in lists(one) if "shopping" in each.name] == ["lists/shopping.csv"]


def test_tools_stand_with_bench_and_sessions(design):
    files = {"pages/steps/01-saw.md": SAW.replace("time:", "tools: [hacksaw, file]\ntime:"),
             "pages/steps/02-glue.md": GLUE.replace("time:", "tools: [clamps]\ntime:")}
    rows = tools(design(CLUB, files=files, kits=3)).rows
    assert [(row.name, row.entries) for row in rows] == [
        ("saw", ("1–2", "1 Saw", "hacksaw; file")), ("any", ("1–2", "2 Glue", "clamps"))]
    assert tools(design(CLUB, files=STEPS)) is None


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


def test_loads_are_lifted_as_they_are_carried_and_heavy_ones_by_two(design):
    light = CLUB + "  - {ref: P3, name: Tube, mass: 7 kg}\n  - {ref: P4, name: Rocker, group: mount, mass: 9 kg}\n"
    told = words.lending(design(light))
    assert "the telescope weighs {{ mount.load }}, what it stands on {{ mount.base_mass }}" in told
    assert "by two" not in told
    assert "A load of more than 16\u202fkg is lifted by two" in words.lending(design(light.replace("7 kg", "17 kg")))
    assert "35\u202flb" in words.lending(design(light.replace("7 kg", "17 kg"), "readers: {units: inch}"))


def test_what_telescopes_share_does_not_go_out_with_each(design):
    pieces = "eyepieces: [{name: 25 mm, focal_length: 25 mm}, {name: 6 mm, focal_length: 6 mm, shared: true}]\n"
    told = words.lending(design(pieces + CLUB))
    assert "The eyepieces are there and capped: 25 mm." in told
    assert "Shared with other telescopes, on this list only where it goes out too: 6 mm." in told


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
