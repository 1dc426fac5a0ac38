"""A build folder to spoil, and what the program says of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.spec.load import Loaded, load_build
from dossier.spec.meshes import MeshFault, Solid, solid

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
ReadMesh = Callable[[str, bytes], Solid]


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


@pytest.fixture
def read(tmp_path: Path) -> ReadMesh:
    """Reads these bytes as a mesh file of this name."""

    def run(name: str, data: bytes) -> Solid:
        (tmp_path / name).write_bytes(data)
        return solid(tmp_path / name)

    return run


@pytest.fixture
def refused(read: ReadMesh) -> Callable[[str, bytes], str]:
    """What is said of a mesh file that cannot be used: one short phrase that follows its name."""

    def run(name: str, data: bytes) -> str:
        with pytest.raises(MeshFault) as raised:
            read(name, data)
        said = str(raised.value)
        assert len(said) < 160
        assert not said.endswith(".")
        return said

    return run
