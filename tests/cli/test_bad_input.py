"""No traceback for anything that a user may give the door: one line a problem, status 2, and no file harmed."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import DOSSIER, SOUND, environment, lines, run, write
from tests.conftest import PROJECT, TEASEL

NOISE = random.Random(1905).randbytes(4000)
UNREADABLE: dict[str, bytes] = {
    "empty": b"", "noise": NOISE, "picture": b"\x89PNG\r\n\x1a\n" + NOISE, "zeros": bytes(2000),
    "mark": b"\xef\xbb\xbf" + SOUND.encode(), "utf-16": SOUND.encode("utf-16"),
    "latin-1": "name: Plössl".encode("latin-1"), "list": b"- 1\n- 2\n", "word": b"telescope\n",
    "tabs": b"format: 1\nprimary:\n\taperture: 150 mm\n", "open": b"a: {b: [c\n",
    "deep": b"a: " + b"[" * 500 + b"]" * 500,
    "two documents": SOUND.encode() + b"---\n" + SOUND.encode(), "tag": b"a: !!python/object/apply:os.system [id]\n",
    "twice": SOUND.encode() + b"format: 1\n", "long line": b"a: " + b"x" * 900_000,
}


@pytest.mark.parametrize("name", UNREADABLE)
def test_a_spec_that_is_none(tmp_path: Path, name: str) -> None:
    ended = run("check", write(tmp_path / "x", UNREADABLE[name]))
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert lines(ended.stderr)
    assert all(line.startswith(f"{tmp_path}/x/build.yaml:") for line in lines(ended.stderr))
    assert len(ended.stderr) < 3000


@pytest.mark.parametrize("command", [("check",), ("publish", "--no-packet"), ("explain",), ("check", "--json")])
def test_a_path_where_nothing_is(tmp_path: Path, command: tuple[str, ...]) -> None:
    more = ["optics.focal_ratio"] if command[0] == "explain" else []
    ended = run(command[0], tmp_path / "nowhere", *more, *command[1:], folder=tmp_path, env={"HOME": str(tmp_path)})
    assert ended.returncode == 2
    assert "nowhere" in ended.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_folder_without_a_spec(tmp_path: Path) -> None:
    (tmp_path / "x").mkdir()
    ended = run("check", tmp_path / "x")
    assert ended.returncode == 2
    assert "has no build.yaml" in ended.stderr
    (tmp_path / "x" / "built.yaml").write_text(SOUND)
    assert "did you mean 'built.yaml'?" in run("check", tmp_path / "x").stderr


@pytest.mark.parametrize("odd", ["/dev/null", "/dev/zero", "/proc/self/mem", "", "\udcff\udcfe", "x" * 300, "a\nb"])
def test_paths_that_are_no_build(odd: str) -> None:
    ended = run("check", odd)
    assert ended.returncode == 2
    assert lines(ended.stderr)


def test_a_pipe_in_place_of_the_spec(tmp_path: Path) -> None:
    """It would be waited on for ever."""
    (tmp_path / "x").mkdir()
    os.mkfifo(tmp_path / "x" / "build.yaml")
    assert "is not an ordinary file" in run("check", tmp_path / "x").stderr


def test_a_link_that_leads_round(tmp_path: Path) -> None:
    (tmp_path / "x").symlink_to(tmp_path / "x")
    assert run("check", tmp_path / "x").returncode == 2


@pytest.mark.parametrize("seed", range(8))
def test_a_spec_with_bytes_gone_wrong(tmp_path: Path, seed: int) -> None:
    """Whatever has become of it, there is an answer: it still works out, or it is said what does not."""
    chance = random.Random(seed)
    spec = bytearray((TEASEL / "build.yaml").read_bytes())
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(spec))
        how = chance.choice(("change", "drop", "repeat"))
        if how == "change":
            spec[at] = chance.choice(b"\x00\t\n :{}[]'\"#&*!|>-0123456789eE.\xff")
        elif how == "drop":
            del spec[at:at + chance.randint(1, 40)]
        else:
            spec[at:at] = spec[at:at + chance.randint(1, 200)]
    ended = run("check", write(tmp_path / "x", bytes(spec)))
    assert ended.returncode in (0, 1, 2)
    assert (ended.returncode == 2) == bool(ended.stderr)


@pytest.mark.parametrize("words", [["check"], ["check", "--json"], ["explain", "figure.strehl"]], ids=" ".join)
def test_a_reader_that_has_seen_enough(words: list[str]) -> None:
    """As ``dossier check … | head -1``, where head is gone before the first line, so that it cannot come too late."""
    command = [*DOSSIER, words[0], str(TEASEL), *words[1:]]
    inside, outside = os.pipe()
    writer = subprocess.Popen(command, cwd=PROJECT, env=environment(), stdout=outside, stderr=subprocess.PIPE)
    os.close(outside)
    os.close(inside)
    assert writer.stderr
    said = writer.stderr.read()
    writer.stderr.close()
    assert writer.wait() == 141
    assert said == b""


def test_a_full_disc_is_said() -> None:
    with open("/dev/full", "wb") as full:
        ended = subprocess.run([*DOSSIER, "check", str(TEASEL)], cwd=PROJECT, env=environment(), stdout=full,
                               stderr=subprocess.PIPE, text=True, check=False)
    assert ended.returncode == 2
    assert ended.stderr == "No space left on device\n"


def test_a_fault_of_the_program_is_owned_up_to_in_a_line(sound: Path) -> None:
    """Its status is none of those that tell something of the build; ``-X dev`` shows a contributor where."""
    code = ("import sys, dossier.design as design\n"
            "def broken(*_, **__): raise KeyError('no such thing')\n"
            "design.work_out = broken\n"
            f"sys.argv = ['dossier', 'check', {str(sound)!r}]\n"
            "from dossier.cli import main; main()")
    quiet, loud = (subprocess.run([sys.executable, *flags, "-c", code], cwd=PROJECT, env=environment(),
                                  capture_output=True, text=True, check=False) for flags in ([], ["-X", "dev"]))
    assert quiet.returncode == 70
    assert "a fault of this program, not of the build: KeyError: 'no such thing'" in quiet.stderr
    assert "Traceback" not in quiet.stderr
    assert "in broken" in loud.stderr
