"""``dossier publish``: what it writes, what it leaves alone, what it says, and to whom."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import BROKEN, MISSED, SOUND, environment, lines, run, tree, write
from tests.conftest import PROJECT

POINT_MM = 25.4 / 72
QUICK = "--no-packet"


def test_writes_a_folder_named_for_the_build(sound: Path) -> None:
    ended = run("publish", "sound", QUICK, folder=sound.parent)
    assert ended.returncode == 0
    assert lines(ended.stdout) == ["site/sound"]
    written = tree(sound.parent / "site" / "sound")
    assert {"index.html", "safety.html", "working.html", "results.json", "build.yaml"} <= set(written)
    assert "packet.pdf" not in written
    assert written["build.yaml"] == SOUND.encode()


def test_says_nothing_in_a_pipe_but_where_it_wrote(sound: Path, tmp_path: Path) -> None:
    ended = run("publish", sound, "--out", tmp_path / "out", QUICK)
    assert ended.stderr == ""
    assert ended.stdout == f"{tmp_path}/out/sound\n"


# A bare machine may have no terminals to give: the program is told that its error stream is one.
AS_ON_A_TERMINAL = """
import io, sys
class Terminal(io.TextIOWrapper):
    def isatty(self): return True
sys.stderr = Terminal(sys.stderr.buffer, "utf-8", write_through=True)
sys.argv = sys.argv[1:]
from dossier.cli import main
main()
"""


def test_shows_each_stage_on_a_terminal(sound: Path, tmp_path: Path) -> None:
    words = ["dossier", "publish", str(sound), "--out", str(tmp_path / "out"), "--paper", "Letter"]
    done = subprocess.run([sys.executable, "-c", AS_ON_A_TERMINAL, *words], cwd=PROJECT, env=environment(),
                          capture_output=True, check=False)
    shown, stdout = done.stderr, done.stdout
    assert done.returncode == 0
    stages = [stage for stage in re.split(r"\r(?:\x1b\[K)?", shown.decode()) if stage]
    assert stages[0] == "working out sound …"
    assert any("packet" in stage for stage in stages)
    assert len(stages) == len(set(stages)) >= 4
    assert shown.endswith(b"\r\x1b[K"), "the last stage is wiped away"
    assert stdout.decode() == f"{tmp_path}/out/sound\n"
    first = PdfReader(tmp_path / "out" / "sound" / "packet.pdf").pages[0].mediabox
    size_mm = (float(first.width) * POINT_MM, float(first.height) * POINT_MM)
    assert size_mm == pytest.approx((215.9, 279.4), abs=0.1), "the paper that was asked for"


def test_missed_goals_are_published_and_no_error(tmp_path: Path) -> None:
    ended = run("publish", write(tmp_path / "missed", MISSED), "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 0
    assert "misses by" in (tmp_path / "out" / "missed" / "index.html").read_text("utf-8")


def test_an_unusable_spec_leaves_everything_as_it_was(tmp_path: Path) -> None:
    out, build = tmp_path / "out", write(tmp_path / "mine", SOUND)
    assert run("publish", build, "--out", out, QUICK).returncode == 0
    before = tree(out)
    write(build, BROKEN)
    ended = run("publish", build, "--out", out, QUICK)
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert lines(ended.stderr) == [f"{build}/build.yaml:3: primary.aperture: needs a unit, such as 150 mm (got 150)"]
    assert tree(out) == before


def test_an_unusable_spec_makes_no_folder(broken: Path, tmp_path: Path) -> None:
    assert run("publish", broken, "--out", tmp_path / "out").returncode == 2
    assert not (tmp_path / "out").exists()


def test_a_fault_of_the_prose_writes_nothing_either(sound: Path, tmp_path: Path) -> None:
    write(sound, SOUND, **{"pages/overview.md": "One.\n\nIt shows {{ optics.focal_ration }}.\n"})
    ended = run("publish", sound, "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 2
    assert ended.stderr.startswith(f"{sound}/pages/overview.md:3: ")
    assert "did you mean 'optics.focal_ratio'?" in ended.stderr
    assert not (tmp_path / "out").exists()


def test_no_prose_is_lost(sound: Path, tmp_path: Path) -> None:
    """Nor where the build has no parts, no steps and no frame for its page to be about."""
    names = ("overview", "safety", "optics", "structure", "parts", "steps", "downloads", "mine", "library", "results")
    write(sound, SOUND, **{f"pages/{name}.md": f"The author's words on {name}.\n" for name in names})
    assert run("publish", sound, "--out", tmp_path / "out", QUICK).returncode == 0
    for name in names:
        page = tmp_path / "out" / "sound" / f"{'index' if name == 'overview' else name}.html"
        assert re.search(f"The author.{{1,6}}s words on {name}\\.", page.read_text("utf-8")), name


def test_prose_that_has_no_place_is_said(sound: Path, tmp_path: Path) -> None:
    names = ("working", "symbols", "sources", "spec", "index", "overview")
    write(sound, SOUND, **{f"pages/{name}.md": "A word of the author's own.\n" for name in names})
    ended = run("publish", sound, "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 2
    lost = re.findall(r"pages/(\w+)\.md:1: would be lost", ended.stderr)
    assert sorted(lost) == ["overview", "sources", "spec", "symbols", "working"]


def test_several_builds_get_an_index(tmp_path: Path) -> None:
    one, two = write(tmp_path / "one", SOUND), write(tmp_path / "two", MISSED.replace("Sound", "Second"))
    ended = run("publish", one, two, "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 0
    assert lines(ended.stdout)[:2] == [f"{tmp_path}/out/one", f"{tmp_path}/out/two"]
    index = (tmp_path / "out" / "index.html").read_text("utf-8")
    for address, name in (("one/index.html", "Sound"), ("two/index.html", "Second")):
        assert re.search(rf'<a [^>]*href="{address}"[^>]*>[^<]*{name}', index)
        assert (tmp_path / "out" / address).is_file()


def test_a_folder_of_builds_is_a_library(tmp_path: Path) -> None:
    for name in ("one", "two"):
        write(tmp_path / "content" / name, SOUND)
    (tmp_path / "content" / "notes").mkdir()
    assert run("publish", "content", QUICK, folder=tmp_path).returncode == 0
    assert {path.name for path in (tmp_path / "site").iterdir()} >= {"one", "two", "index.html"}


def test_one_unusable_build_among_several_writes_none(tmp_path: Path) -> None:
    one, two = write(tmp_path / "one", SOUND), write(tmp_path / "two", BROKEN)
    assert run("publish", one, two, "--out", tmp_path / "out", QUICK).returncode == 2
    assert not (tmp_path / "out").exists()


def test_two_builds_of_one_name_are_refused(tmp_path: Path) -> None:
    one, two = write(tmp_path / "a" / "same", SOUND), write(tmp_path / "b" / "same", SOUND)
    ended = run("publish", one, two, "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 2
    assert "'same'" in ended.stderr
    assert not (tmp_path / "out").exists()


def test_a_theme_by_its_path(sound: Path, tmp_path: Path) -> None:
    theme = tmp_path / "mine"
    theme.mkdir()
    (theme / "own.css").write_text("body { letter-spacing: 3px }\n")
    (theme / "theme.yaml").write_text("title: Mine\nextends: drawing-office\nstylesheets: [own.css]\n")
    ended = run("publish", sound, "--out", tmp_path / "out", "--theme", theme, QUICK)
    assert ended.returncode == 0, ended.stderr
    styles = [text for name, text in tree(tmp_path / "out" / "sound").items() if name.endswith(".css")]
    assert any(b"letter-spacing: 3px" in text for text in styles)


def test_an_unknown_theme_is_said(sound: Path, tmp_path: Path) -> None:
    ended = run("publish", sound, "--out", tmp_path / "out", "--theme", "drawing-ofice")
    assert ended.returncode == 2
    assert "did you mean 'drawing-office'?" in ended.stderr
    assert not (tmp_path / "out").exists()


def test_a_place_that_cannot_be_written_to_is_said(sound: Path, tmp_path: Path) -> None:
    """Root may write into any folder, but not below a file, and not where the system makes the files itself."""
    (tmp_path / "file").write_text("kept")
    for out in (tmp_path / "file", tmp_path / "file" / "below", Path("/proc/site")):
        ended = run("publish", sound, "--out", out, QUICK)
        assert ended.returncode == 2, out
        assert str(out) in ended.stderr
    assert (tmp_path / "file").read_text() == "kept"


def test_a_folder_of_somebody_else_is_not_replaced(sound: Path, tmp_path: Path) -> None:
    mine = tmp_path / "out" / "sound"
    mine.mkdir(parents=True)
    (mine / "thesis.txt").write_text("ten years of work")
    ended = run("publish", sound, "--out", tmp_path / "out", QUICK)
    assert ended.returncode == 2
    assert "--out" in ended.stderr
    assert tree(mine) == {"thesis.txt": b"ten years of work"}
