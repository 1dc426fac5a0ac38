"""``dossier issue`` and ``dossier compare`` as their users meet them: words, statuses, streams."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import MISSED, SOUND, run, tree, write

EPOCH = {"SOURCE_DATE_EPOCH": "1772323200"}  # 2026-03-01


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A build issued as A. Copy it to spoil it."""
    folder = write(tmp_path_factory.mktemp("issued") / "reed", SOUND, **{"pages/overview.md": "# Reed\n\nOurs.\n"})
    ended = run("issue", folder, "--note", "First built.", env=EPOCH)
    assert (ended.returncode, ended.stderr) == (0, "")
    assert ended.stdout == f"revision A of 2026-03-01: {folder}/revisions/A.yaml\n"
    return folder


@pytest.fixture
def spoilt(issued: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(issued, tmp_path / issued.name))


def test_a_build_is_at_its_revision_until_something_changes(spoilt: Path) -> None:
    assert run("check", spoilt).stdout.startswith("Sound · A · 2026-03-01\n")
    unchanged = run("issue", spoilt, "--note", "Again.")
    assert (unchanged.returncode, unchanged.stdout) == (1, "")
    assert unchanged.stderr == "nothing has changed since revision A; nothing is issued\n"
    (spoilt / "pages" / "overview.md").write_text("# Reed\n\nOurs, by and by.\n")
    assert run("check", spoilt, env={"SOURCE_DATE_EPOCH": "1777680000"}).stdout.startswith(
        "Sound · draft after A · 2026-05-02\n")


@pytest.mark.parametrize("words", [("check",), ("issue", "--note", "B."), ("compare", "A"), ("publish", "--no-packet")])
def test_a_frozen_file_that_was_changed_is_told(spoilt: Path, words: tuple[str, ...]) -> None:
    frozen = spoilt / "revisions" / "A.yaml"
    frozen.write_text(frozen.read_text().replace("1200 mm", "1201 mm"))
    command, *more = words
    ended = run(command, spoilt, *more, folder=spoilt.parent)
    assert ended.returncode == 2
    assert ended.stderr == ("reed/revisions/A.yaml: does not have the hash that it says: it has been changed since it "
                            "was issued; put it back as it was, from a backup or from version control\n")
    assert not (spoilt.parent / "site").exists()


def test_a_missed_goal_is_issued_only_on_purpose(tmp_path: Path) -> None:
    folder = write(tmp_path / "missed", MISSED)
    refused = run("issue", folder, "--note", "First.")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert refused.stderr.startswith("misses: Fully lit field")
    assert refused.stderr.endswith("nothing is issued; --accept-misses issues it, with these on record\n")
    assert not (folder / "revisions").exists()
    assert run("issue", folder, "--note", "First.", "--accept-misses").returncode == 0
    accepted = (folder / "revisions" / "A.yaml").read_text().partition("accepted_misses:\n")[2]
    assert accepted.startswith('  - {"result": "diagonal.full_field"')


@pytest.mark.parametrize(("page", "words", "said"), [
    ("Wrong {{ diagonal.ofset }}.", (), "did you mean 'diagonal.offset'?"),
    ("", ("--note", " "), "--note: wants a sentence"),
    ("", ("--date", "yesterday"), "'yesterday'"),
])
def test_what_cannot_be_published_is_not_issued(tmp_path: Path, page: str, words: tuple[str, ...], said: str) -> None:
    folder = write(tmp_path / "b", SOUND, **{"pages/optics.md": page or "Sound."})
    before = tree(folder)
    ended = run("issue", folder, "--note", "First.", *words)
    assert ended.returncode == 2
    assert said in ended.stderr
    assert tree(folder) == before


def test_compare_prints_tables_or_data(spoilt: Path) -> None:
    write(spoilt, SOUND.replace("1200", "1210"))
    ended = run("compare", spoilt, "A", "working", env=EPOCH)
    assert (ended.returncode, ended.stderr) == (0, "")
    assert ended.stdout.startswith("Sound · A · 2026-03-01 → Sound · draft after A · 2026-03-01\n\nspec\n"
                                   "  primary.focal_length  1200\u202fmm  →  1210\u202fmm\n")
    data = json.loads(run("compare", spoilt, "A", "--json", env=EPOCH).stdout)
    assert data["spec"] == [{"key": "primary.focal_length", "old": {"words": "1200 mm", "value": 1200, "unit": "mm"},
                             "new": {"words": "1210 mm", "value": 1210, "unit": "mm"}}]
    assert {"results", "parts", "cuts", "notes", "upgrade"} <= set(data)


@pytest.mark.parametrize(("words", "said"), [
    (("B",), "revisions: there is no revision 'B'; issued so far: A"),
    ((), "says what is compared"),
    (("A", "A", "--against", "x"), "leave NEW out"),
    (("--against", "nowhere"), "nowhere"),
])
def test_what_cannot_be_compared(issued: Path, words: tuple[str, ...], said: str) -> None:
    ended = run("compare", issued, *words)
    assert ended.returncode == 2
    assert said in ended.stderr
