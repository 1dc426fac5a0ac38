"""What a step's sheet and the index of steps say, told of small invented builds."""

from __future__ import annotations

import pytest

from dossier.publish.book import Book
from dossier.publish.packet_sheets import packet_of
from dossier.publish.themes import load_theme
from dossier.views.packet_steps import step_sheet
from dossier.views.steps import step_view, steps_view

POLES = """\
frame: {kind: poles, material: aluminium-6061, outer_diameter: 20 mm, inner_diameter: 17 mm, length: 900 mm, count: 3,
        circle_radius: 115 mm}
parts:
  - {ref: P1, name: Pole, get: make, instead: [{name: carbon tube, set: {frame.material: carbon}}]}
"""
SAW = "---\ntitle: Saw\nparts: [P1]\ntools: [hacksaw]\n---\nSaw. Whoever chose the carbon tube cuts it wet.\n"


@pytest.fixture(scope="module")
def theme():
    return load_theme()


@pytest.fixture
def shown(design, theme):
    """The book of a build, and one step's view."""
    def make(spec: str, files: dict[str, str], number: int = 0):
        book = Book(design(spec, files=files), theme)
        step = book.design.steps[number]
        return book, step, step_view(book.design, step, book.page(f"step-{step.slug}.html"), (), book.spoken, ())

    return make


def test_a_caution_on_another_choice_is_told_in_short_beside_the_step(shown):
    """The safety sheet has it in full; the step says what can happen, and where the rest stands."""
    book, step, view = shown(POLES, {"pages/steps/01-saw.md": SAW})
    assert "carbon-dust" in book.design.cautions
    assert [each.topic for each in view.of_other_choices] == ["carbon-dust"]
    assert "carbon-dust" not in [each.topic for each in view.cautions]
    paper = step_sheet(step, view, book.bodies[step.slug])
    assert "Cutting carbon fibre" in [each.title for each in paper.cautions]


@pytest.mark.parametrize(("spec", "step"), [
    (POLES.replace("aluminium-6061", "carbon"), SAW), (POLES, SAW.replace("tools:", "cautions: [carbon-dust]\ntools:")),
    (POLES.replace(", instead: [{name: carbon tube, set: {frame.material: carbon}}]", ""), SAW),
])
def test_it_stands_in_full_where_the_build_may_hold_it_or_the_step_names_it(shown, spec, step):
    """Also where nothing says what the tube is made of but the words of the step."""
    _, _, view = shown(spec, {"pages/steps/01-saw.md": step})
    assert not view.of_other_choices
    assert "carbon-dust" in [each.topic for each in view.cautions]


def test_hours_by_the_clock_are_not_hours_of_hands(shown):
    alone = {"pages/steps/01-saw.md": "---\ntitle: Saw\ntime: 60 min\n---\nSaw.\n"}
    book, _, _ = shown("", alone)
    assert steps_view(book.design, book.page("steps.html"), ()).hands == ""
    files = {**alone, "pages/steps/02-lift.md": "---\ntitle: Lift\ntime: 30 min\npeople: 2\n---\nLift.\n"}
    book, _, _ = shown("", files)
    view = steps_view(book.design, book.page("steps.html"), ())
    assert (view.time, view.hands) == ("1\u202fh 30\u202fmin", "2\u202fh")


def test_a_machine_that_is_not_left_alone_works_in_stretches(shown):
    club = ("workshop: {session: 2 h, people: 2, benches: [{name: printer, attended: 16 h}]}\n"
            "parts: [{ref: P1, name: Plate, get: print}]\n")
    files = {"pages/steps/01-print.md": "---\ntitle: Print\nbench: printer\ntime: 1 h\nmachine: TIME\n---\nPrint.\n"}
    told = {time: shown(club, {name: text.replace("TIME", time) for name, text in files.items()})[2].machine
            for time in ("2614 min", "90 min")}
    assert told == {"2614 min": "about 44\u202fh, at most 16\u202fh of each day while somebody looks after it",
                    "90 min": "about 1\u202fh 30\u202fmin"}


@pytest.mark.parametrize(("club", "rows"), [
    ("", 4), ("workshop: {session: 2 h, people: 12}\n", 6), ("workshop: {session: 2 h, people: 5}\n", 3),
])
def test_all_who_work_can_sign(design, theme, club, rows):
    safety = packet_of(Book(design(club), theme), "A4", ()).safety
    assert [len(row) for row in safety.signatures] == [6] * rows


def test_what_is_written_down_stands_two_in_a_row(shown):
    files = {"pages/steps/01-saw.md": '---\ntitle: Saw\nrecord: ["Length", "Width", "Date"]\n---\nSaw.\n'}
    book, step, view = shown("", files)
    assert step_sheet(step, view, book.bodies[step.slug]).to_write == (("Length", "Width"), ("Date", ""))
