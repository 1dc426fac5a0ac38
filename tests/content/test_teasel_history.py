"""Teasel 150 as it was: each revision still works out as it was frozen, has the flaws that its notes tell, and leads to
the next."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack

import pytest

from dossier.design.model import Design
from dossier.revisions.difference import difference
from dossier.revisions.side import Side, side
from dossier.revisions.upgrade import upgrade
from dossier.spec.notes import status
from tests.conftest import TEASEL


@pytest.fixture(scope="module")
def sides() -> Iterator[dict[str, Side]]:
    """The revisions by letter, oldest first."""
    with ExitStack() as opened:
        yield {letter: opened.enter_context(side(TEASEL, letter)) for letter in "ABC"}


def missed(design: Design) -> set[str]:
    return {result.id for result in design.misses}


def test_each_has_the_flaws_that_the_next_mends(sides: dict[str, Side]) -> None:
    first, second, third = (each.design for each in sides.values())
    assert missed(first) - missed(second) == {"cell.pinch_wavefront_rms", "focuser.spare_in"}
    assert missed(second) - missed(third) == {"parts.cost"}
    assert not missed(second) - missed(first)
    assert first.results["frame.pole_length"].number - second.results["frame.pole_length"].number == 8
    assert second.results["cell.spring_rate"].number == 8
    assert third.results["cell.spring_rate"].number == 1.5


def test_the_present_notes_say_so(sides: dict[str, Side]) -> None:
    notes = {note.id: note for note in sides["C"].design.build.notes}
    standing = {name: [status(note, letter) for letter in "ABC"] for name, note in notes.items()}
    assert standing == {
        "N1": ["open", "closed", "closed"], "N2": ["open", "closed", "closed"], "N3": ["open", "open", "closed"],
        "N4": ["open", "open", "closed"], "N5": ["open"] * 3, "N6": ["elsewhere", "elsewhere", "open"]}
    assert notes["N6"].as_built


def test_what_leads_from_one_to_the_next(sides: dict[str, Side]) -> None:
    kit = upgrade(sides["A"], sides["B"])
    assert [(saw.ref, saw.length_mm, saw.pieces, saw.from_mm) for saw in kit.saw] == [("P14", 640, 3, 648)]
    assert [line.ref for line in kit.prints] == ["P32"]
    assert {"P32", "P36"} <= {over.ref for over in kit.left_over}
    assert {"mount-the-mirror", "stand-the-poles"} <= {step.slug for step in kit.steps}
    assert "collimate-by-daylight" in {check.slug for check in kit.checks}
    kit = upgrade(sides["B"], sides["C"])
    assert [(line.ref, line.packs, line.cost) for line in kit.buy] == [("P14", 1, 15.40), ("P35", 1, 3.20)]
    assert [(over.ref, over.pieces) for over in kit.left_over] == [("P14", 3), ("P35", 3), ("P35", 2)]


def test_the_grant_pays_for_the_last(sides: dict[str, Side]) -> None:
    cost = next(each for each in difference(sides["B"], sides["C"]).results if each.id == "parts.cost")
    assert (cost.old_outcome, cost.new_outcome) == ("misses", "close")
