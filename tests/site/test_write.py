"""All or nothing: what is published is replaced whole or stays as it was."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.publish import write

OLD = {"index.html": b"old", "assets/a.css": b"old style"}
NEW = {"index.html": b"new", "drawings/b.svg": b"new drawing"}


def held(folder: Path) -> dict[str, bytes]:
    """Every file in a folder but the mark."""
    files = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    files.pop(write.MARK, None)
    return files


def test_a_folder_is_written_and_then_replaced_whole(tmp_path: Path) -> None:
    assert held(write.put(tmp_path / "out", "a", OLD)) == OLD
    assert held(write.put(tmp_path / "out", "a", NEW)) == NEW
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["a"]


def test_the_two_renames_do_where_folders_cannot_be_exchanged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(write, "_exchange", lambda one, other: False)
    write.put(tmp_path, "a", OLD)
    assert held(write.put(tmp_path, "a", NEW)) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


@pytest.mark.parametrize("broken", ["_fill", "_swap"])
def test_a_failure_leaves_the_earlier_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str) -> None:
    write.put(tmp_path, "a", OLD)
    whole = getattr(write, broken)

    def fails(*paths: object) -> None:
        if broken == "_fill":
            whole(*paths)
        raise OSError("the disk is full")

    monkeypatch.setattr(write, broken, fails)
    with pytest.raises(OSError, match="disk is full"):
        write.put(tmp_path, "a", NEW)
    assert held(tmp_path / "a") == OLD
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_a_failure_between_the_renames_puts_the_earlier_folder_back(tmp_path: Path,
                                                                    monkeypatch: pytest.MonkeyPatch) -> None:
    write.put(tmp_path, "a", OLD)

    def half(fresh: Path, target: Path, old: Path) -> None:
        target.rename(old)
        raise KeyboardInterrupt

    monkeypatch.setattr(write, "_swap", half)
    with pytest.raises(KeyboardInterrupt):
        write.put(tmp_path, "a", NEW)
    assert held(tmp_path / "a") == OLD


@pytest.mark.parametrize("when", ["_fill", "_swap", "_remove"])
def test_a_kill_leaves_a_whole_folder_and_the_next_run_clears_up(tmp_path: Path, when: str) -> None:
    """Killed while it writes, between the two renames, and while it clears away the earlier folder."""
    write.put(tmp_path, "a", OLD)
    script = textwrap.dedent(f"""
        import sys, time
        from pathlib import Path
        from dossier.publish import write
        whole = write.{when}
        def stuck(*paths):
            if {when!r} == "_swap":
                paths[1].rename(paths[2])
            elif {when!r} == "_fill":
                whole(*paths)
            elif not any(paths[0].glob("*")):
                return
            else:
                next(path for path in paths[0].rglob("*") if path.is_file() and path.name != write.MARK).unlink()
            print("now", flush=True)
            time.sleep(60)
        write.{when} = stuck
        write.put(Path(sys.argv[1]), "a", {NEW!r})
    """)
    with subprocess.Popen([sys.executable, "-c", script, str(tmp_path)], stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == "now\n"
        running.send_signal(signal.SIGKILL)
    if when == "_fill":
        assert held(tmp_path / "a") == OLD
    if when == "_remove":
        assert held(tmp_path / "a") == NEW
    assert held(write.put(tmp_path, "a", NEW)) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_after_a_kill_between_the_renames_a_run_that_fails_still_puts_the_earlier_folder_back(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write.put(tmp_path, "a", OLD)
    (tmp_path / "a").rename(tmp_path / ".a.old")
    monkeypatch.setattr(write, "_fill", lambda *paths: (_ for _ in ()).throw(OSError("no")))
    with pytest.raises(OSError, match="no"):
        write.put(tmp_path, "a", NEW)
    assert held(tmp_path / "a") == OLD


@pytest.mark.parametrize("stranger", ["in it", "beside", "all", "file", "link", "new"])
def test_what_was_not_written_here_is_left_alone(tmp_path: Path, stranger: str) -> None:
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "mine.txt").write_text("mine")
    kept = out / "a" / "mine.txt"
    if stranger == "in it":
        write.put(out, "a", OLD)
        kept.write_text("mine")
    elif stranger == "beside":
        write.put(out, "a", OLD)
        (out / "a" / "inner").symlink_to(elsewhere)
        kept = elsewhere / "mine.txt"
    elif stranger == "all":
        (out / "a").mkdir(parents=True)
        kept.write_text("mine")
    elif stranger == "file":
        out.mkdir()
        kept = out / "a"
        kept.write_text("mine")
    elif stranger == "link":
        out.mkdir()
        (out / "a").symlink_to(elsewhere)
        kept = elsewhere / "mine.txt"
    else:
        (out / ".a.new").mkdir(parents=True)
        kept = out / ".a.new" / "mine.txt"
        kept.write_text("mine")
    with pytest.raises(Unusable, match="not"):
        write.put(out, "a", NEW)
    assert kept.read_text() == "mine"


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    assert held(write.put(tmp_path, "a", NEW)) == NEW


def test_copies_are_copied(tmp_path: Path) -> None:
    source = tmp_path / "x.stl"
    source.write_bytes(b"solid")
    written = write.put(tmp_path / "out", "a", NEW, {"files/parts/x.stl": source})
    assert held(written) == {**NEW, "files/parts/x.stl": b"solid"}


def test_two_runs_wait_for_each_other(tmp_path: Path) -> None:
    script = textwrap.dedent("""
        import sys
        from pathlib import Path
        from dossier.publish import write
        for round in range(20):
            write.put(Path(sys.argv[1]), "a", {f"{sys.argv[2]}-{n}.html": b"x" for n in range(20)})
    """)
    runs = [subprocess.Popen([sys.executable, "-c", script, str(tmp_path), name]) for name in ("one", "two")]
    assert [run.wait(60) for run in runs] == [0, 0]
    assert len({name.partition("-")[0] for name in held(tmp_path / "a")}) == 1
    assert len(held(tmp_path / "a")) == 20


def test_there_is_no_moment_without_a_site(tmp_path: Path) -> None:
    """Where the system exchanges two folders in one step, a reader finds one or the other at any time."""
    write.put(tmp_path, "a", {"index.html": b"0"})
    if not write._exchange(tmp_path / "a", tmp_path / "a"):
        pytest.skip("this file system cannot exchange two folders; the two renames are tested above")
    script = textwrap.dedent("""
        import sys
        from pathlib import Path
        from dossier.publish import write
        for round in range(60):
            write.put(Path(sys.argv[1]), "a", {"index.html": b"0"})
    """)
    with subprocess.Popen([sys.executable, "-c", script, str(tmp_path)]) as running:
        seen = 0
        while running.poll() is None:
            os.stat(tmp_path / "a")
            seen += 1
            time.sleep(0.0005)
    assert running.returncode == 0
    assert seen > 5


def test_a_build_that_cannot_be_published_leaves_its_site(small: Path, publish: Callable[..., Path]) -> None:
    site = publish(small)
    before = held(site)
    (small / "pages" / "notes.md").write_text("{{ optics.nothing }}\n")
    with pytest.raises(Unusable):
        publish(small)
    assert held(site) == before
    assert [path.name for path in site.parent.iterdir()] == [site.name]


def test_the_build_itself_is_never_written_over(small: Path, publish: Callable[..., Path]) -> None:
    with pytest.raises(Unusable, match="not written by dossier"):
        publish(small, small.parent)
    assert (small / "build.yaml").is_file()
