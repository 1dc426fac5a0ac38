"""A publish that is stopped at any moment leaves the earlier site or the new one, whole, and nothing in between."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.conftest import PROJECT
from tests.safety.conftest import SPEC, Make

DELAYS_MS = (0.0, 1.0, 2.5, 5.0, 10.0)


def start(build: Path, out: Path) -> subprocess.Popen[bytes]:
    """A publish of this build in a process of its own, with a date that stays."""
    environment = {**os.environ, "PYTHONPATH": str(PROJECT), "SOURCE_DATE_EPOCH": "1700000000"}
    return subprocess.Popen([sys.executable, "-m", "dossier", "publish", str(build), "--out", str(out), "--no-packet"],
                            cwd=PROJECT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def finished(process: subprocess.Popen[bytes]) -> int:
    """The status of a process that has ended, its pipes closed."""
    process.communicate()
    return process.returncode


def site(out: Path) -> dict[str, bytes]:
    """Every file of the published site."""
    folder = out / "gift"
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def build(make: Make) -> Path:
    return make(SPEC, **{f"pages/page-{number}.md": f"Page {number}.\n" for number in range(40)})


def test_a_kill_while_it_writes_leaves_a_whole_site(build: Path, make: Make, tmp_path: Path) -> None:
    """Killed as soon as the first file is being written, and a little later each time."""
    out = tmp_path / "out"
    assert finished(start(build, out)) == 0
    earlier = site(out)
    make(SPEC.replace("1200 mm", "1300 mm"))
    elsewhere = tmp_path / "elsewhere"
    assert finished(start(build, elsewhere)) == 0
    newer = site(elsewhere)
    assert earlier != newer
    in_time = 0
    for delay in DELAYS_MS:
        running = start(build, out)
        while running.poll() is None and not (out / ".gift.new").exists():
            pass
        time.sleep(delay / 1000)
        running.send_signal(signal.SIGKILL)
        in_time += finished(running) == -signal.SIGKILL
        assert site(out) in (earlier, newer), f"killed {delay} ms after it began to write"
    assert in_time, "every kill came too late to show anything"
    assert finished(start(build, out)) == 0
    assert site(out) == newer
    assert [path.name for path in out.iterdir()] == ["gift"], "what the kills left is cleared away"


def test_ctrl_c_leaves_the_earlier_site_and_nothing_else(build: Path, make: Make, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert finished(start(build, out)) == 0
    earlier = site(out)
    make(SPEC.replace("1200 mm", "1300 mm"))
    for wait in (0.15, 0.4):
        running = start(build, out)
        time.sleep(wait)
        running.send_signal(signal.SIGINT)
        _, said = running.communicate()
        assert running.returncode in (130, -signal.SIGINT)
        assert running.returncode == -signal.SIGINT or b"Traceback" not in said
        assert site(out) == earlier
        assert [path.name for path in out.iterdir()] == ["gift"]
