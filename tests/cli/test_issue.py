"""``dossier issue``: a build frozen under a letter, whole or not at all, and every later change to it told."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.cli.conftest import MISSED, SOUND, run, tree, write

EPOCH = {"SOURCE_DATE_EPOCH": "1772323200"}  # 2026-03-01


@pytest.fixture(scope="module")
def twice(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A build with a page and a drawing, issued as A and, with another focal length, as B. Copy it to spoil it."""
    folder = write(tmp_path_factory.mktemp("issued") / "reed", SOUND, **{
        "pages/overview.md": "# Reed\n\n  Kept to the sign:\ttabs, ends  \n\n[A plan](images/plan.svg)\n\n\n",
        "images/plan.svg": '<svg xmlns="http://www.w3.org/2000/svg"/>', "images/other.svg": "<svg/>"})
    assert run("issue", folder, "--note", "First built.", env=EPOCH).returncode == 0
    write(folder, SOUND.replace("1200", "1210"))
    assert run("issue", folder, "--note", "Longer.", "--date", "2026-05-02").returncode == 0
    return folder


@pytest.fixture
def spoilt(twice: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(twice, tmp_path / twice.name))


def test_the_next_letter_with_its_date_and_what_was_used(twice: Path) -> None:
    """Of the pictures only the one that a page names is frozen with it."""
    revisions = twice / "revisions"
    names = sorted(tree(revisions))
    assert [name for name in names if not name.startswith("files/")] == ["A.yaml", "B.yaml", "SHA256SUMS"]
    assert [name.rpartition(".")[2] for name in names if name.startswith("files/")] == ["svg"]
    first, second = ((revisions / f"{letter}.yaml").read_text() for letter in "AB")
    assert 'date: "2026-03-01"\nnote: "First built."\nprevious: {}\n' in first
    assert 'date: "2026-05-02"' in second
    assert '"letter": "A", "sha256": "' in second
    assert "1200 mm" in first
    assert "1210 mm" in second


def test_sums_in_the_form_of_sha256sum(twice: Path) -> None:
    done = subprocess.run(["sha256sum", "-c", "--strict", "SHA256SUMS"], cwd=twice / "revisions", capture_output=True)
    assert done.returncode == 0


def test_a_build_is_at_its_last_revision_until_something_changes(spoilt: Path) -> None:
    assert run("check", spoilt).stdout.startswith("Sound · B · 2026-05-02\n")
    unchanged = run("issue", spoilt, "--note", "Again.")
    assert (unchanged.returncode, unchanged.stdout) == (1, "")
    assert "nothing has changed since revision B" in unchanged.stderr
    for name in ("pages/overview.md", "images/plan.svg"):
        kept = (spoilt / name).read_text()
        (spoilt / name).write_text(kept + " ")
        assert run("check", spoilt, env=EPOCH).stdout.startswith("Sound · draft after B · 2026-03-01\n")
        (spoilt / name).write_text(kept)
    (spoilt / "images" / "other.svg").write_text("not used")
    assert run("check", spoilt).stdout.startswith("Sound · B · ")


@pytest.mark.parametrize("command", ["check", "publish", "issue"])
def test_a_frozen_file_that_was_changed_is_told(spoilt: Path, command: str) -> None:
    frozen = spoilt / "revisions" / "A.yaml"
    frozen.write_text(frozen.read_text().replace("1200 mm", "1201 mm"))
    more = {"issue": ("--note", "Third."), "publish": ("--no-packet", "--out", str(spoilt.parent / "out"))}
    ended = run(command, spoilt, *more.get(command, ()))
    assert ended.returncode == 2
    assert "revisions/A.yaml: does not have the hash that it says" in ended.stderr
    assert "put it back as it was" in ended.stderr
    assert not (spoilt.parent / "out" / spoilt.name).exists()


def test_one_written_anew_with_a_right_hash_breaks_the_chain(spoilt: Path) -> None:
    from dossier.spec.issued import sealed

    frozen = spoilt / "revisions" / "A.yaml"
    body = frozen.read_bytes().split(b"\n", 2)[2].replace(b"1200 mm", b"1201 mm")
    frozen.write_bytes(sealed("Anew", body))
    (spoilt / "revisions" / "SHA256SUMS").unlink()
    assert "A.yaml: is not the one that B.yaml was issued after" in run("check", spoilt).stderr


@pytest.mark.parametrize("name", ["A.yaml", "B.yaml", "files"])
def test_a_missing_file_is_told(spoilt: Path, name: str) -> None:
    path = spoilt / "revisions" / name
    gone = next(path.iterdir()) if path.is_dir() else path
    gone.unlink()
    ended = run("check", spoilt)
    assert ended.returncode == 2
    assert f"{gone.name}: is missing" in ended.stderr


def test_a_copy_that_was_changed_is_told(spoilt: Path) -> None:
    copy = next((spoilt / "revisions" / "files").iterdir())
    copy.write_text("<svg/>")
    assert f"{copy.name}: has been changed since it was frozen" in run("check", spoilt).stderr


def test_a_missed_goal_is_issued_only_on_purpose(tmp_path: Path) -> None:
    folder = write(tmp_path / "missed", MISSED)
    refused = run("issue", folder, "--note", "First.")
    assert refused.returncode == 2
    assert "misses: " in refused.stderr
    assert "--accept-misses" in refused.stderr
    assert not (folder / "revisions").exists()
    assert run("issue", folder, "--note", "First.", "--accept-misses").returncode == 0
    accepted = (folder / "revisions" / "A.yaml").read_text().partition("accepted_misses:\n")[2]
    assert accepted.startswith('  - {"result": "diagonal.full_field"')


@pytest.mark.parametrize(("spec", "page", "words", "said"), [
    (SOUND, "Wrong {{ diagonal.ofset }}.", (), "did you mean 'diagonal.offset'?"),
    (SOUND.replace("150 mm", "150"), "", (), "needs a unit"),
    (SOUND, "", ("--note", " "), "--note: wants a sentence"),
    (SOUND, "", ("--date", "yesterday"), "'yesterday'"),
])
def test_what_cannot_be_published_is_not_issued(tmp_path: Path, spec: str, page: str, words: tuple[str, ...],
                                                said: str) -> None:
    folder = write(tmp_path / "b", spec, **{"pages/optics.md": page or "Sound."})
    before = tree(folder)
    ended = run("issue", folder, "--note", "First.", *words)
    assert ended.returncode == 2
    assert said in ended.stderr
    assert tree(folder) == before


def test_no_date_before_the_last(spoilt: Path) -> None:
    write(spoilt, SOUND.replace("1200", "1220"))
    ended = run("issue", spoilt, "--note", "Third.", env=EPOCH)
    assert ended.returncode == 2
    assert "2026-03-01 is before revision B, which is of 2026-05-02" in ended.stderr
