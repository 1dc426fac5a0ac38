"""Small builds for the tests of the working: the least spec there is, with what a test adds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.design import Design, work_out
from dossier.spec.load import load_build

LEAST = """\
format: 1
about: {name: Trial}
primary: {aperture: 150 mm, focal_length: 1200 mm}
diagonal: {minor_axis: 35 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm}
"""

Make = Callable[..., Path]


@pytest.fixture
def build(tmp_path: Path) -> Make:
    """Write a build folder: the least spec, with replacements, more YAML, and files by their path."""

    def make(*more: str, replace: dict[str, str] | None = None, files: dict[str, str] | None = None) -> Path:
        text = LEAST
        for old, new in (replace or {}).items():
            assert old in text
            text = text.replace(old, new)
        (tmp_path / "build.yaml").write_text(text + "\n".join(more), "utf-8")
        for name, content in (files or {}).items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(content, "utf-8")
        return tmp_path

    return make


@pytest.fixture
def design(build: Make) -> Callable[..., Design]:
    """The same, worked out."""

    def make(*more: str, kits: int | None = None, **how: dict[str, str]) -> Design:
        return work_out(load_build(build(*more, **how)), kits=kits)

    return make
