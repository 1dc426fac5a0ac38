"""What changed between two sides, on made-up builds."""

from __future__ import annotations

import shutil
from pathlib import Path

from dossier.spec.load import load_build
from dossier.views.comparison import comparison_text, pair_words
from tests.revisions.conftest import HEAD, Write, compared, issued

PARTS = """\
parts:
  - {ref: P1, name: Mirror, get: buy, price: 60.00, mass: 0.8 kg}
  - {ref: P2, name: Springs, get: buy, quantity: 3, pack: 5, price: 3.20}
  - {ref: P3, name: Old clamp, get: buy, price: 9.00}
goals: [{result: parts.cost, at_most: 75}]
"""


def test_keys_by_name_whatever_their_place(reed: Write) -> None:
    folder = reed(PARTS)
    issued(folder)
    moved = PARTS.replace("  - {ref: P3, name: Old clamp, get: buy, price: 9.00}\n", "").replace(
        "parts:\n", "parts:\n  - {ref: P9, name: New clamp, get: print}\n").replace("price: 60.00", "price: 57.50")
    reed(moved, HEAD.replace("focal_length: 900 mm", "focal_length: 35.5 in").replace("130 mm", "13 cm"))
    with compared(folder, "A") as (found, _):
        readers = load_build(folder).build.readers
        assert {change.key: pair_words(change, readers) for change in found.spec} == {
            "primary.focal_length": ("900\u202fmm", "901.7\u202fmm"),  # the aperture is only written otherwise
            "parts[P9]": ("–", "New clamp"), "parts[P1].price": ("60.00\u202fEUR", "57.50\u202fEUR"),
            "parts[P3]": ("Old clamp", "–")}
        assert [(part.ref, part.kind, part.old_cost, part.new_cost) for part in found.parts] == [
            ("P9", "added", None, None), ("P1", "changed", 60, 57.5), ("P3", "removed", 9, None)]


def test_results_only_where_the_printed_digits_change(reed: Write) -> None:
    folder = reed(PARTS)
    issued(folder)
    reed(PARTS.replace("0.8 kg", "0.80001 kg"))
    with compared(folder, "A") as (found, _):
        assert [change.key for change in found.spec] == ["parts[P1].mass"]
        assert pair_words(found.spec[0], load_build(folder).build.readers) == ("0.8\u202fkg", "0.80001\u202fkg")
        assert found.results == ()
        assert {each.id: (each.old, each.new) for each in found.sums}["parts.mass"] == (0.8, 0.80001)


def test_goals_that_were_moved_across(reed: Write) -> None:
    folder = reed(PARTS.replace("at_most: 75", "at_most: 70"))
    issued(folder)
    reed(PARTS.replace("price: 9.00", "price: 2.00"))
    with compared(folder, "A") as (found, _):
        cost = next(each for each in found.results if each.id == "parts.cost")
        assert (cost.old, cost.new) == (60 + 3.20 + 9, 60 + 3.20 + 2)
        assert (cost.old_outcome, cost.new_outcome, cost.crossed) == ("misses", "meets", True)
        assert all(not each.crossed for each in found.results if each is not cost)


def test_a_goal_that_moves_alone_is_told(reed: Write) -> None:
    folder = reed(PARTS)
    issued(folder)
    reed(PARTS.replace("at_most: 75", "at_most: 72"))
    with compared(folder, "A") as (found, _):
        assert [(each.id, each.old == each.new, each.new_outcome) for each in found.results] == [
            ("parts.cost", True, "misses")]


def test_a_plan_that_somebody_else_made_of_it(reed: Write, tmp_path: Path) -> None:
    folder = reed(PARTS, **{"pages/overview.md": "Ours."})
    fork = Path(shutil.copytree(folder, tmp_path / "rush-150"))
    spec = fork / "build.yaml"
    spec.write_text(spec.read_text().replace("Reed 130", "Rush 150").replace("aperture: 130", "aperture: 150"))
    (fork / "pages" / "overview.md").write_text("Theirs.")
    with compared(folder, "working", against=spec) as (found, kit):
        assert [change.key for change in found.spec] == ["about.name", "primary.aperture"]
        assert [(page.path, page.kind) for page in found.pages] == [("pages/overview.md", "changed")]
        assert (found.old.build, found.new.build) == ("Reed 130", "Rush 150")
        text = comparison_text(found, kit, load_build(spec).build.readers)
    assert text.startswith("Reed 130 · draft · ")
    assert "→ Rush 150 · draft · " in text
    with compared(folder, "working") as (same, nothing):
        assert same.nothing
        assert comparison_text(same, nothing, load_build(folder).build.readers).endswith("nothing has changed\n")


def test_notes_opened_and_closed(reed: Write) -> None:
    flaw = "notes: [{{id: N1, title: Springs are stiff, touches: [A]{closed}}}, {{id: N2, title: Cap is loose{new}}}]\n"
    folder = reed(flaw.format(closed="", new=", touches: [A]"))
    issued(folder, 1)
    reed(flaw.format(closed=", closed_by: B", new=", touches: [B]"))
    issued(folder, 2)
    with compared(folder, "A", "B") as (found, _):
        assert [(note.id, note.old, note.new) for note in found.notes] == [
            ("N1", "open", "closed"), ("N2", "elsewhere", "open")]
