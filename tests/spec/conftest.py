"""A build folder to spoil, and what the program says of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.spec.load import Loaded, load_build

LEAST = """\
format: 1
about: {name: Least}
primary: {aperture: 150 mm, focal_length: 1200 mm}
diagonal: {minor_axis: 35 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm}
"""

Write = Callable[[str | bytes], Path]
Load = Callable[[str | bytes], Loaded]
Say = Callable[[str | bytes], list[str]]


@pytest.fixture
def write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Write:
    """Writes ``x/build.yaml`` in the working directory and gives the folder as a user would type it."""
    monkeypatch.chdir(tmp_path)

    def written(text: str | bytes) -> Path:
        folder = Path("x")
        folder.mkdir(exist_ok=True)
        (folder / "build.yaml").write_bytes(text.encode() if isinstance(text, str) else text)
        return folder

    return written


@pytest.fixture
def load(write: Write) -> Load:
    """Loads this text as a build."""
    return lambda text: load_build(write(text))


@pytest.fixture
def problems(load: Load) -> Say:
    """Every line that the program says of this text; it must not load."""

    def said(text: str | bytes) -> list[str]:
        with pytest.raises(Unusable) as caught:
            load(text)
        return [str(problem) for problem in caught.value.problems]

    return said


@pytest.fixture
def least() -> str:
    """The smallest spec that loads."""
    return LEAST
