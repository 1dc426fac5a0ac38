"""What the page and the terminal say of a change: values rather than expressions, what a number is of, and nothing that
did not change."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.revisions.difference import difference
from dossier.revisions.side import side, standing
from dossier.revisions.upgrade import upgrade
from dossier.spec.load import load_build
from dossier.views.comparison import comparison_text
from dossier.views.history import ChangeTable, change_tables, kit_words
from tests.conftest import TEASEL
from tests.revisions.conftest import HEAD, Write, compared, issued

Tables = tuple[ChangeTable, ...]


def tables(folder: Path, old: str, new: str = "working") -> Tables:
    """What the page of a change tells in tables."""
    with side(folder, old) as before, side(folder, new) as after:
        changed, needed = change_tables(difference(before, after), upgrade(before, after), before.design, after.design)
        return *changed, *needed


def rows(found: Tables, key: str) -> list[tuple[str, ...]]:
    return [tuple(map(str, row)) for table in found if table.key == key for row in table.rows]


@pytest.fixture(scope="module", params=["teasel-150 A B", "teasel-150 B C", "alder-250 A B",
                                        "alder-250 B C", "bramble-76 A B"])
def demo(request: pytest.FixtureRequest) -> Tables:
    build, old, new = request.param.split()
    return tables(TEASEL.with_name(build), old, new)


def test_no_expression_stands_in_any_row_of_the_demos(demo: Tables) -> None:
    assert {table.key for table in demo}
    said = [str(cell) for table in demo for row in table.rows for cell in row]
    assert not [cell for cell in said if "{{" in cell or "not worked out" in cell]


def test_no_step_of_the_demos_is_done_again_for_its_words_alone(demo: Tables) -> None:
    again, read = rows(demo, "steps"), rows(demo, "read")
    assert not {row[0] for row in again} & {row[0] for row in read}
    assert not [row for row in read if "its parts change" in row[1]]
    assert not [row for row in again if row[1] == "its text has changed"]


PARTS = """\
eyepieces: [{name: 20 mm Kellner, focal_length: 20 mm, apparent_field: 45 deg},
            {name: 9 mm Plössl, focal_length: 9 mm, apparent_field: 50 deg}]
parts:
  - {ref: P1, name: Mirror, get: buy, price: 60.00, priced_on: 2026-01-01}
  - {ref: P2, name: Cap, get: make, station: "{{ spec.primary.focal_length.value - 5 }} mm"}
  - {ref: P3, name: Clamp, get: buy, price: 9.00, priced_on: 2026-01-01}
"""


def test_a_page_tells_what_changed_and_folds_what_was_only_looked_up(reed: Write) -> None:
    folder = reed(PARTS)
    issued(folder)
    later = PARTS.replace("2026-01-01", "2026-02-01").replace("price: 9.00", "price: 8.50, quantity: 2")
    later = later.replace("value - 5", "value - 7")
    reed(f"{later}goals: [{{result: optics.limiting_magnitude, at_least: 11, because: so}}]\n",
         HEAD.replace("travel: 30 mm", "travel: 30 mm, drawn_out: 12 mm"))
    view = tables(folder, "A")
    parts = rows(view, "parts")
    assert [row[:2] for row in parts] == [
        ("P2 Cap", "station 895\u202fmm → 893\u202fmm"),
        ("P3 Clamp", "price 9.00\u202fEUR → 8.50\u202fEUR; quantity – → 2"), ("2 parts", "prices looked up again")]
    spec = {row[0]: row[1:] for row in rows(view, "spec")}
    assert spec["parts[P2].station"] == ("895\u202fmm", "893\u202fmm")
    assert spec["goals[optics.limiting_magnitude at_least]"] == ("–", "at least 11\u202fmag")
    assert not [key for key in spec if "priced_on" in key]
    focus = [row[0] for row in (*rows(view, "results"), *rows(view, "goals")) if "Drawtube in focus" in row[0]]
    assert len(set(focus)) == len(focus) == 6
    assert {"Drawtube in focus, 20 mm Kellner", "Drawtube in focus, 9 mm Plössl"} < {*focus}


def test_sums_that_stay_are_not_printed(reed: Write) -> None:
    folder = reed(PARTS)
    issued(folder)
    reed(PARTS, HEAD.replace("height: 50 mm", "height: 40 mm"))
    with compared(folder, "A") as (found, kit):
        text = comparison_text(found, kit, load_build(folder).build.readers)
    assert "parts.cost" not in text


def test_a_known_issue_of_other_revisions_is_said_so(reed: Write) -> None:
    note = "notes: [{id: N1, title: Loose, touches: [%s]}]\n"
    folder = reed(note % "A")
    issued(folder, 1)
    reed(note % "B")
    with compared(folder, "A") as (found, kit):
        text = comparison_text(found, kit, load_build(folder).build.readers)
    assert "N1 Loose  not in A  →  open" in text


def test_what_the_money_leaves_out_stands_on_the_page(reed: Write) -> None:
    folder = reed()
    issued(folder)
    reed("parts:\n  - {ref: P1, name: Side, get: make}\n  - {ref: P2, name: Clip, get: print}\n")
    with compared(folder, "A") as (found, kit):
        readers = load_build(folder).build.readers
        assert list(kit_words(kit, found, readers))[1:] == [
            "Not counted: wood and other stock for what is made and plastic for what is printed, which a plan buys for "
            "the whole telescope; see what is left of yours."]
        priced = replace(kit, prints=tuple(replace(line, mass_kg=0.2, cost=3.4) for line in kit.prints), make=())
        assert list(kit_words(priced, found, readers))[1:] == [
            "Not counted: the plastic to print with, 0.20\u202fkg, for 3.40\u202fEUR of its spool."]


def test_a_frozen_revision_is_no_plan_to_compare_with(reed: Write) -> None:
    folder = reed()
    issued(folder)
    with pytest.raises(Unusable) as raised:
        standing(folder / "revisions" / "A.yaml")
    [problem] = raised.value.problems
    assert f"is a frozen revision, no build.yaml; name its letter, as in: dossier compare {folder} A" == problem.message


def test_a_letter_in_small_and_the_word_for_the_present_are_suggested(reed: Write) -> None:
    folder = reed()
    issued(folder)
    for letter, near in (("a", "'A'"), ("workin", "'working'")):
        with pytest.raises(Unusable, match=f"issued so far: A; 'working' names the build as it stands — did you mean "
                                           f"{near}"), compared(folder, letter):
            pass
