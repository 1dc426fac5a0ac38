"""A wheel built from the project carries all that the program needs, and publishes outside the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.conftest import PROJECT, TEASEL

CONSTRAINTS = PROJECT / ".ci" / "constraints.txt"


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built with the packages at hand: no network is needed for it."""
    folder = tmp_path_factory.mktemp("wheel")
    _run(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation",
         "--disable-pip-version-check", "-w", str(folder), str(PROJECT))
    (found,) = folder.glob("dossier-*.whl")
    return found


def _run(*words: str, folder: Path = PROJECT, home: Path | None = None) -> str:
    """Run outside the checkout's reach: no variable leads Python back to it."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    if home:
        environment["HOME"] = str(home)
    done = subprocess.run(words, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def _files(folder: Path) -> set[str]:
    return {path.relative_to(PROJECT).as_posix() for path in folder.rglob("*")
            if path.is_file() and "__pycache__" not in path.parts}


def test_the_wheel_carries_every_file(wheel: Path) -> None:
    inside = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    themes = {f"dossier/{name}" for name in _files(PROJECT / "themes")}
    assert inside == (_files(PROJECT / "dossier") | themes) - {"dossier/setup.sh"}
    for needed in ("dossier/shelf/cautions.yaml", "dossier/shelf/symbols.yaml", "dossier/starter/build.yaml"):
        assert needed in inside
    assert any(name.startswith("dossier/themes/") and name.endswith("theme.yaml") for name in inside)


@pytest.mark.long
def test_an_installed_wheel_publishes_outside_the_checkout(wheel: Path, tmp_path: Path) -> None:
    """Needs the package index, or pip's cache of it: the pinned packages are installed into a new environment."""
    _run(sys.executable, "-m", "venv", str(tmp_path / "env"))
    python = tmp_path / "env" / "bin" / "python"
    _run(str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-c", str(CONSTRAINTS),
         str(wheel))
    away = tmp_path / "away"
    away.mkdir()
    where = _run(str(python), "-c", "import dossier; print(dossier.__file__)", folder=away)
    assert where.startswith(str(tmp_path / "env"))

    dossier = str(tmp_path / "env" / "bin" / "dossier")
    _run(dossier, "begin", "first", folder=away, home=away)
    _run(dossier, "publish", "first", folder=away, home=away)
    _run(dossier, "publish", str(TEASEL), folder=away, home=away)
    for build in ("first", TEASEL.name):
        page = (away / "site" / build / "index.html").read_text()
        assert "</html>" in page
        assert len(PdfReader(away / "site" / build / "packet.pdf").pages) > 3
