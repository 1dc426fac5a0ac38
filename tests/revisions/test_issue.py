"""What issuing freezes, and how every later change to a frozen file is found."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.revisions import frozen
from dossier.revisions.issue import Missed, Unchanged, issue
from dossier.spec import yaml_tree
from dossier.spec.contents import contents
from dossier.spec.issued import history, list_sums, sealed
from dossier.spec.issued_lines import accepted_misses, note_ids, part_names
from dossier.spec.load import load_build
from tests.revisions.conftest import HEAD, Write, issued

PAGE = "# Reed\n\n  Kept to the sign:\ttabs, ends  \n\n[A plan](images/a%20plan.svg)\n\n\n"
FILES = {"pages/overview.md": PAGE, "pages/steps/01-cell.md": "---\ntitle: Cell\n---\r\nDo it.", "pages/shows.md": "\n",
         "images/a plan.svg": '<svg xmlns="http://www.w3.org/2000/svg"/>', "images/other.svg": "<svg/>"}


@pytest.fixture
def twice(reed: Write) -> Path:
    """A build issued as A and, with another focal length, as B."""
    folder = reed(**FILES)
    assert issued(folder, 1) == "A"
    reed("", HEAD.replace("900 mm", "910 mm"))
    assert issued(folder, 2) == "B"
    return folder


def test_texts_verbatim_and_every_file_that_is_named(twice: Path) -> None:
    first, second = (frozen.read(head) for head in history(twice))
    assert {path: text for path, text in second.texts.items() if path != "build.yaml"} == {
        path: text for path, text in FILES.items() if path.endswith(".md")}
    assert (first.texts["build.yaml"], second.texts["build.yaml"]) == (HEAD, HEAD.replace("900 mm", "910 mm"))
    assert list(second.files) == ["images/a plan.svg"]  # of the two pictures the one that a page names
    assert [path.suffix for path in (twice / "revisions" / "files").iterdir()] == [".svg"]
    assert first.results["optics.focal_ratio"] == frozen.Kept(900 / 130, "1", "Focal ratio", "")


def test_heads_tell_date_note_and_chain(twice: Path) -> None:
    first, second = history(twice)
    assert [(head.letter, head.previous, head.date, head.note) for head in (first, second)] == [
        ("A", "", "2026-03-01", "As it stands."), ("B", "A", "2026-03-02", "As it stands.")]
    assert first.sha256 in second.file.read_text()


@given(st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn", "Zl", "Zp"),
                             include_characters="\t\n\r", exclude_characters="\ufeff")))
def test_any_text_comes_back_to_the_sign(text: str) -> None:
    tree = yaml_tree.read(f"texts:\n  \"a\": {frozen._block(text)}  \"b\": 1\n", "x")
    assert tree.values["texts"] == {"a": text, "b": 1}


def test_sums_in_the_form_of_sha256sum(twice: Path) -> None:
    done = subprocess.run(["sha256sum", "-c", "--strict", "SHA256SUMS"], cwd=twice / "revisions", capture_output=True,
                          check=False)
    assert done.returncode == 0


def _anew(path: Path) -> None:
    """Written again with a hash of its own that is right."""
    path.write_bytes(sealed("Anew", path.read_bytes().split(b"\n", 2)[2].replace(b"900 mm", b"901 mm")))
    list_sums(path.parent)


@pytest.mark.parametrize(("name", "spoil", "said"), [
    ("A.yaml", lambda path: path.write_text(path.read_text().replace("900", "901")), "does not have the hash"),
    ("A.yaml", lambda path: path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n")), "its line ends were changed"),
    ("A.yaml", _anew, "is not the one that B.yaml was issued after"),
    ("A.yaml", lambda path: path.write_text("Mine.\n"), "does not have the hash"),
    ("A.yaml", lambda path: path.write_bytes(sealed("x", b"format: 1\nletter: {\n")), "is not the frozen file"),
    ("A.yaml", Path.unlink, "is missing"),
    ("B.yaml", Path.unlink, "is missing"),
    ("B.yaml", lambda path: shutil.copy(path.with_name("A.yaml"), path), "is not the frozen file of revision B"),
    ("files/", lambda path: path.write_text("<svg/>"), "has been changed since it was frozen"),
    ("files/", Path.unlink, "is missing"),
    ("SHA256SUMS", lambda path: path.write_text("0" * 64 + "  A.yaml\n"), "is not what SHA256SUMS says of it"),
])
def test_what_was_changed_is_told_with_its_file(twice: Path, name: str, spoil: Callable[[Path], object],
                                                said: str) -> None:
    path = twice / "revisions" / name
    spoil(next(path.iterdir()) if path.is_dir() else path)
    with pytest.raises(Unusable) as raised:
        work_out(load_build(twice))
    [problem] = raised.value.problems
    assert name.removesuffix("SHA256SUMS") in problem.file
    assert said in problem.message
    assert problem.message.endswith("; put it back as it was, from a backup or from version control")


@pytest.mark.parametrize(("name", "said"), [
    ("I.yaml", "I, O, Q, S, X and Z are not used as letters; move it out of this folder"),
    ("b.yaml", "its name would be B.yaml; rename it, or move it out of this folder"),
    ("C.yml", "its name would be C.yaml"), ("A copy.yaml", "is no revision that was issued; move it out"),
])
def test_a_file_that_is_taken_for_a_revision_by_people_alone_is_told(twice: Path, name: str, said: str) -> None:
    (twice / "revisions" / name).write_text("Mine.\n")
    with pytest.raises(Unusable) as raised:
        work_out(load_build(twice))
    [problem] = raised.value.problems
    assert problem.file.endswith(f"revisions/{name}")
    assert said in problem.message


def test_a_lost_list_of_sums_is_told_and_can_be_made_anew(twice: Path) -> None:
    home = twice / "revisions"
    before = (home / "SHA256SUMS").read_text()
    (home / "SHA256SUMS").unlink()
    with pytest.raises(Unusable) as raised:
        work_out(load_build(twice))
    [problem] = raised.value.problems
    assert problem.file.endswith("SHA256SUMS")
    assert "it alone proves that revision B is as it was issued" in problem.message
    subprocess.run(["sh", "-c", problem.message.rpartition(": ")[2]], cwd=home, check=True)
    assert work_out(load_build(twice)).revision == "B"
    assert (home / "SHA256SUMS").read_text() == before


def test_the_build_counts_as_changed_by_what_it_uses_alone(twice: Path) -> None:
    assert work_out(load_build(twice)).revision == "B"
    (twice / "images" / "other.svg").write_text("not used")
    assert work_out(load_build(twice)).revision == "B"
    (twice / "images" / "a plan.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" />')
    design = work_out(load_build(twice))
    assert design.revision == "draft after B"
    assert contents(twice / "build.yaml").sha256 != design.issued[-1].contents_sha256


def test_the_date_is_the_authors_then_the_epochs(reed: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1772323200")
    plain, dated = HEAD, HEAD.replace("Reed 130}", "Reed 130, date: 2026-04-05}")
    written = [issue(work_out(load_build(reed(f"# {place}\n", head))), "So.", on=on, accept_misses=True)
               for place, (head, on) in enumerate([(plain, None), (dated, None), (dated, date(2026, 6, 7))])]
    assert [each.date for each in written] == ["2026-03-01", "2026-04-05", "2026-06-07"]
    with pytest.raises(Unusable, match="2026-03-01 is before revision C, which is of 2026-06-07"):
        issue(work_out(load_build(reed("# 9\n"))), "So.", accept_misses=True)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "last spring")
    with pytest.raises(Unusable, match="SOURCE_DATE_EPOCH: wants whole seconds since 1970"):
        work_out(load_build(reed("# 9\n")))


def test_what_it_missed_and_what_its_parts_were_called_can_be_read_alone(reed: Write) -> None:
    goal = "goals: [{result: optics.focal_ratio, at_least: 9, because: We want it slow.}]\n"
    part = ("parts: [{ref: P1, name: 'A \"good\" mirror', get: buy}, "
            "{ref: P2, name: 'Tube for {{ spec.primary.aperture }}', get: buy}]\n")
    folder = reed(f"{goal}{part}notes: [{{id: N1, title: It rattles}}]\n")
    issued(folder)
    (head,) = history(folder)
    assert "Focal ratio" in accepted_misses(head)
    assert len(accepted_misses(head)) == len(work_out(load_build(folder)).misses)
    assert part_names(head) == {"P1": 'A "good" mirror', "P2": ""}
    assert note_ids(head) == {"N1"}


def test_nothing_is_written_where_it_fails(reed: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = reed(**FILES)
    design = work_out(load_build(folder))
    real = os.link

    def breaks(source: Path, target: Path) -> None:
        if target.suffix == ".yaml":
            raise KeyboardInterrupt
        real(source, target)

    monkeypatch.setattr(os, "link", breaks)
    with pytest.raises(KeyboardInterrupt):
        issue(design, "So.", accept_misses=True)
    assert not (folder / "revisions").exists()


def test_a_revision_is_never_written_over(reed: Write) -> None:
    folder = reed()
    design = work_out(load_build(folder))
    issued(folder)
    before = (folder / "revisions" / "A.yaml").read_bytes()
    with pytest.raises(Unusable, match="was issued meanwhile"):
        issue(design, "The same letter once more.", accept_misses=True)
    assert (folder / "revisions" / "A.yaml").read_bytes() == before
    with pytest.raises(Unchanged, match="A"):
        issue(work_out(load_build(folder)), "Nothing new.")


def test_misses_are_refused_and_accepted_on_record(reed: Write) -> None:
    design = work_out(load_build(reed("goals: [{result: optics.focal_ratio, at_most: 5}]\n")))
    with pytest.raises(Missed) as refused:
        issue(design, "So.")
    assert "optics.focal_ratio" in {result.id for result in refused.value.results}
    issue(design, "So.", accept_misses=True)
    assert "optics.focal_ratio" in frozen.read(history(design.loaded.folder)[-1]).accepted
