"""``dossier`` as its users meet it: a process with words, a status and two streams."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest

from tests.conftest import PROJECT, TEASEL

DOSSIER = (sys.executable, "-m", "dossier")
Ended = subprocess.CompletedProcess[str]
Run = Callable[..., Ended]

# All goals met, the trade's too: a paraboloid with a generous diagonal.
SOUND = """\
format: 1
about: {name: Sound}
primary: {aperture: 150 mm, focal_length: 1200 mm}
diagonal: {minor_axis: 38 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm, travel: 30 mm}
"""
MISSED = SOUND + "goals: [{result: diagonal.full_field, at_least: 200 mm}]\n"
BROKEN = SOUND.replace("150 mm", "150")


def environment(extra: Mapping[str, str] | None = None) -> dict[str, str]:
    """The environment without what would lead Python elsewhere, and with the project to be found from any folder."""
    return {**os.environ, "PYTHONPATH": str(PROJECT), **(extra or {})}


def run(*words: str | Path, folder: Path = PROJECT, env: Mapping[str, str] | None = None) -> Ended:
    """``dossier`` with these words. Whatever it was given, no user may see a traceback."""
    ended = subprocess.run([*DOSSIER, *map(str, words)], cwd=folder, env=environment(env), capture_output=True,
                           text=True, timeout=120, check=False)
    assert "Traceback" not in ended.stderr + ended.stdout, ended.stderr
    return ended


def write(folder: Path, spec: str | bytes, **files: str) -> Path:
    """A build with this spec, and with files by their path below its folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "build.yaml").write_bytes(spec if isinstance(spec, bytes) else spec.encode())
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*"))
            if path.is_file()}


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    """A small build whose goals are all met."""
    return write(tmp_path / "sound", SOUND)


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """A small build whose aperture lacks its unit, on line 3."""
    return write(tmp_path / "broken", BROKEN)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's folder, copied to where a test may spoil it only after copying it again."""
    return Path(shutil.copytree(TEASEL, tmp_path_factory.mktemp("demo") / TEASEL.name))


def lines(text: str) -> Sequence[str]:
    """The lines of a stream that are not empty."""
    return [line for line in text.splitlines() if line.strip()]
