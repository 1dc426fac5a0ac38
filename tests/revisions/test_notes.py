"""Notes: what they may name, how one stands in each revision, and where a reader meets it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.themes import load_theme
from dossier.spec.load import load_build
from dossier.spec.model_about import Note
from dossier.spec.notes import status
from tests.revisions.conftest import Write, issued

STEP = "---\ntitle: Make the cell\nparts: [P1]\n---\n\nMake it.\n"
PARTS = "parts:\n  - {ref: P1, name: Springs, get: buy}\n  - {ref: P2, name: Cap, get: make}\n"


@pytest.mark.parametrize(("touches", "closed_by", "expected"), [
    # as of A, B, C, the draft after B, the draft after C
    (("A", "B"), "C", "open open closed closed closed"),
    (("A", "B"), None, "open open open open open"),
    (("A",), "C", "open open closed closed closed"),
    (("A", "C"), None, "open elsewhere open open open"),
    (("B",), "C", "elsewhere open closed closed closed"),
    (("C",), None, "elsewhere elsewhere open open open"),
    ((), None, "open open open open open"),
    ((), "B", "open closed closed closed closed"),
    (("C",), "D", "elsewhere elsewhere open open closed"),
])
def test_how_a_note_stands(touches: tuple[str, ...], closed_by: str | None, expected: str) -> None:
    note = Note(id="N1", title="A flaw", touches=touches, **{"closed_by": closed_by} if closed_by else {})
    found = [status(note, revision) for revision in ("A", "B", "C", "draft after B", "draft after C")]
    assert found == expected.split()


@pytest.mark.parametrize(("note", "said"), [
    ("parts: [P3]", "parts[0]: is no reference of a part (got P3)"),
    ("parts: [P3], closed_by: A", "parts[0]: is no reference of a part (got P3)"),
    ("steps: [01-cel]", "steps[0]: is no build step (got 01-cel) — did you mean 'cell'?"),
    ("touches: [B]", "touches[0]: was not issued: the next will be A (got B)"),
    ("touches: [I]", "touches[0]: is no revision letter: I, O, Q, S, X and Z are not used (got I)"),
    ("touches: [A], closed_by: A", "closed_by: comes before a revision that has the flaw (got A)"),
])
def test_what_a_note_names_must_be_there(reed: Write, note: str, said: str) -> None:
    folder = reed(f"{PARTS}notes: [{{id: N1, title: A flaw, {note}}}]\n", **{"pages/steps/01-cell.md": STEP})
    with pytest.raises(Unusable) as raised:
        work_out(load_build(folder))
    assert f"notes[0].{said}" in str(raised.value)


def test_a_closed_note_may_name_what_its_revisions_had(reed: Write) -> None:
    folder = reed(PARTS, **{"pages/steps/01-cell.md": STEP})
    issued(folder)
    (folder / "pages" / "steps" / "01-cell.md").rename(folder / "pages" / "steps" / "01-mirror-cell.md")
    note = "notes: [{id: N1, title: A flaw, touches: [A], parts: [P2], steps: [cell], closed_by: B}]\n"
    reed(PARTS.replace("  - {ref: P2, name: Cap, get: make}\n", "") + note)
    assert work_out(load_build(folder)).revision == "draft after A"


@pytest.fixture
def pages(reed: Write) -> dict[str, str]:
    """The pages of a build at revision A with an open note on a part and a step, and one closed."""
    folder = reed(PARTS + """\
frame: {kind: tube, outer_diameter: 160 mm, inner_diameter: 156 mm, length: 900 mm, material: aluminium-6061}
notes:
  - {id: N1, title: "The springs rattle at {{ optics.focal_ratio }}", text: They are loose., touches: [A], parts: [P1],
     steps: [01-cell], workaround: Felt between them., planned: Longer springs., as_built: Mine has four.}
  - {id: N2, title: The cap is loose, parts: [P2], closed_by: A}
""", **{"pages/steps/01-cell.md": STEP})
    issued(folder)
    site = Site(Book(work_out(load_build(folder)), load_theme("drawing-office")))
    return {name: data.decode() for name, data in site.files().items() if name.endswith(".html")}


def test_a_note_stands_on_its_sheet_and_where_it_matters(pages: dict[str, str]) -> None:
    own = pages["known-issues.html"]
    assert own.index("What is wrong with this revision?") < own.index("The springs rattle") \
        < own.index("What has been put right?") < own.index("The cap is loose")
    for said in ("They are loose.", "Longer springs.", "Mine has four.",
                 "Revision A, and those that follow; open in revision A",
                 "Every revision before A; closed by revision A", "As drawn, not as the author’s own was built"):
        assert said in own
    for page in ("index.html", "structure.html", "parts.html", "step-cell.html"):
        met = re.findall(r'class="issue-word" href="([^"]*)">Known issue: ([^<]*)</a> Meanwhile: ([^<]*)', pages[page])
        assert met == [("known-issues.html#note-N1", "The springs rattle at 6.92.", "Felt between them. ")], page


def test_a_build_without_notes_has_no_such_sheet(reed: Write) -> None:
    files = Site(Book(work_out(load_build(reed())), load_theme("drawing-office"))).files()
    assert "known-issues.html" not in files


def test_the_packet_has_them_too(reed: Write) -> None:
    from dossier.publish.packet_sheets import packet_of

    folder: Path = reed(PARTS + "notes: [{id: N1, title: They rattle, parts: [P1], steps: [cell]}]\n",
                        **{"pages/steps/01-cell.md": STEP})
    packet = packet_of(Book(work_out(load_build(folder)), load_theme("drawing-office")), "A4", ())
    assert packet.known_issues
    assert [line.title for line in packet.contents if "issues" in line.title] == ["Known issues"]
    assert packet.steps
    assert packet.parts
    places = (packet.steps.steps[0].step.issues, packet.parts.list.groups[0].rows[0].issues)
    assert all([issue.name for issue in found] == ["They rattle"] for found in places)
