"""Builds as a stranger might send them, and what becomes of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.publish import Options, publish_all

SPEC = """\
format: 1
about: {name: Gift, authors: [Somebody]}
primary: {aperture: 150 mm, focal_length: 1200 mm}
diagonal: {minor_axis: 35 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm}
"""
# What lies outside the build's folder and must not be found in anything that is published or said.
SECRET = "the-kettle-of-brass-7719"

Make = Callable[..., Path]
Publish = Callable[[Path], Path]
Refused = Callable[[Path], list[str]]


def quiet(_: str) -> None:
    """These tests do not look at the progress."""


def published(build: Path, out: Path, *, packet: bool = False) -> Path:
    """The folder that this build is published to."""
    return publish_all((build,), out, Options(no_packet=not packet), quiet, quiet)[0]


def tried(build: Path, out: Path) -> tuple[Path | None, str]:
    """Where this build is published to and nothing, or None and what is said of it."""
    try:
        return published(build, out), ""
    except Unusable as error:
        return None, str(error)


def everything_in(folder: Path) -> bytes:
    """All bytes and names of all files in a folder."""
    return b"\n".join(bytes(path) + b"\n" + path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file())


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """Writes a build: its spec, and files by their path below its folder. A secret lies outside."""
    (tmp_path / "secret.txt").write_text(SECRET)
    (tmp_path / "secret.md").write_text(f"---\ntitle: {SECRET}\n---\n\n{SECRET}\n")
    (tmp_path / "secret.png").write_bytes(b"\x89PNG\r\n\x1a\n" + SECRET.encode())

    def made(spec: str = SPEC, **files: str | bytes) -> Path:
        build = tmp_path / "gifts" / "gift"
        build.mkdir(parents=True, exist_ok=True)
        for name, text in {"build.yaml": spec, **files}.items():
            path = build / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return build

    return made


@pytest.fixture
def publish(tmp_path: Path) -> Publish:
    """Publishes a build below the test's own folder."""
    return lambda build: published(build, tmp_path / "out")


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    """What is said of a build that must not be published; nothing may have been written, and no secret be told."""
    def said(build: Path) -> list[str]:
        with pytest.raises(Unusable) as caught:
            published(build, tmp_path / "out")
        assert not (tmp_path / "out").exists()
        assert SECRET not in str(caught.value)
        return [str(problem) for problem in caught.value.problems]

    return said
