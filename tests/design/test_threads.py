"""Fasteners that the parts list declares: areas, stress, verdicts on both sides, and what is wrong with a wrong one."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from dossier.design import Design
from dossier.design.asides.threads import fasteners, sizes
from dossier.errors import Unusable
from dossier.views.words.threads import tell

Make = Callable[..., Design]


def holding(holds: str, ref: str = "P1") -> str:
    return f"\nparts: [{{ref: {ref}, name: Block, holds: {{{holds}}}}}]\n"


def test_least_area_and_stress(design: Make) -> None:
    """M4 over 8 mm: 7.766 mm² for each millimetre."""
    made = design(holding("thread: M4, engagement: 8 mm, in: petg, load: 40 N"))
    assert made.results["thread.p1.area"].number == pytest.approx(8 * 7.766, rel=1e-4)
    assert made.results["thread.p1.stress"].number == pytest.approx(40 / (8 * 7.766), rel=1e-4)
    assert "thread.p1.strength_share" in made.left_out


@pytest.mark.parametrize(("strength", "outcome", "words"), [
    ("12 MPa", "meets", "hold"), ("1.2 MPa", "misses", "not hold"), ("0.5 MPa", "misses", "not hold")])
def test_verdict_by_the_authors_own_test(design: Make, strength: str, outcome: str, words: str) -> None:
    """40 N on 62.1 mm² are 0.644 MPa; the usual limit is half of what the test piece bore."""
    made = design(holding(f"thread: M4, engagement: 8 mm, in: petg, load: 40 N, strength: {strength}"))
    share = made.results["thread.p1.strength_share"]
    assert share.number == pytest.approx(0.6438 / float(strength.split()[0]), rel=1e-3)
    assert share.goal
    assert share.goal.outcome(share.number) == outcome
    assert f"P1 {'holds' if words == 'hold' else 'does not hold'}" in tell(made)
    row = fasteners(made).rows[0]
    assert ("Does not hold" in row.remark) == (outcome == "misses")
    assert row.name == "P1, M4, thread cut in printed PETG"


def test_without_a_test_there_is_no_verdict(design: Make) -> None:
    made = design(holding("thread: M4, engagement: 8 mm, in: petg, load: 40 N"))
    assert "nobody has given a strength" in tell(made)
    assert "holds" not in tell(made).replace("area that holds", "")
    remark = fasteners(made).rows[0].remark
    assert remark.startswith("No verdict")
    assert "creeps" in remark
    assert "75 °C" in remark


@pytest.mark.parametrize(("material", "said", "unsaid"), [
    ("pla", "a closed car in the sun grows hotter", "Wood"), ("asa", "creeps", "softens"),
    ("birch-ply", "Wood gives", "creeps"), ("aluminium-6061", "No verdict", "creeps")])
def test_cautions_by_material(design: Make, material: str, said: str, unsaid: str) -> None:
    remark = fasteners(design(holding(f"thread: M5, engagement: 8 mm, in: {material}, load: 40 N"))).rows[0].remark
    assert said in remark
    assert unsaid not in remark


def test_insert_and_nut(design: Make) -> None:
    """An insert's wall, 5.6 mm by 8 mm; a nut 7 mm across on a clearance hole of 4.5 mm (ISO 273, ISO 4032)."""
    insert = design(holding("thread: M4, engagement: 8 mm, load: 20 N, how: insert, hole: 5.6 mm"))
    assert insert.results["thread.p1.area"].number == pytest.approx(140.74, abs=0.01)
    nut = design(holding("thread: M4, load: 20 N, how: nut"))
    assert nut.results["thread.p1.area"].number == pytest.approx(26.53, abs=0.01)
    assert "no strength" in fasteners(nut).rows[0].remark
    unsaid = design(holding("thread: M4, engagement: 8 mm, load: 20 N, how: insert"))
    assert "hole" in unsaid.left_out["thread.p1.area"]


def test_table_has_both_conventions_and_the_torque(design: Make) -> None:
    made = design(holding("thread: M4, engagement: 8 mm, in: petg, load: 40 N, strength: 12 MPa"))
    table = fasteners(made)
    numbers = {column.title: entry.value for column, entry in zip(table.columns, table.rows[0].entries, strict=True)}
    assert numbers == pytest.approx({
        "Hole to drill": 3.3, "Engagement in diameters": 2, "Area by the quick rule": 8 * 10.9956,
        "Lets go at": 12 * 8 * 7.766, "Torque that reaches half of it": 0.2 * 6 * 8 * 7.766 * 0.004}, rel=1e-4)
    assert "6g" in table.notes[0]
    assert "0.875" in table.notes[0]
    by_size = sizes(made).rows[0]
    assert [entry.value for entry in by_size.entries] == pytest.approx([3.3, 4.5, 7, 7.766, 10.996], rel=1e-4)


def test_nothing_is_said_where_nothing_holds(design: Make) -> None:
    made = design()
    assert not [name for name in made.results if name.startswith("thread.")]
    assert fasteners(made) is None
    assert sizes(made) is None
    assert tell(made) == ""


def test_references_that_differ_by_a_sign_keep_their_own_results(design: Make) -> None:
    made = design("\nparts:\n- {ref: P.1, name: A, holds: {thread: M4, load: 1 N, how: nut}}\n"
                  "- {ref: P-1, name: B, holds: {thread: M5, load: 1 N, how: nut}}\n")
    assert made.results["thread.p-1.area"].number != made.results["thread.p-1-2.area"].number


@pytest.mark.parametrize(("holds", "message"), [
    ("thread: M7", "parts[0].holds.thread: wants one of M2.5, M3, M4, M5, M6, M8, M10, M12 (got M7)"),
    ("thread: M4, how: nut, hole: 5 mm", "parts[0].holds.hole: is of an insert's hole, but how says nut; remove one"),
    ("thread: M4, strength: 12", "parts[0].holds.strength: needs a unit, such as 12 MPa (got 12)"),
    ("thread: M4, how: glued", "parts[0].holds.how: wants tapped, insert or nut (got glued)"),
    ("thread: M4, in: cheese", "parts[0].holds.in: no material on the shelf is named 'cheese'"),
])
def test_what_is_wrong_is_said(design: Make, holds: str, message: str) -> None:
    with pytest.raises(Unusable) as raised:
        design(holding(holds))
    assert message in "\n".join(str(problem) for problem in raised.value.problems)
