"""Made-up builds, small enough to be worked out in a moment, and how they are issued."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import date
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.revisions.difference import Difference, difference
from dossier.revisions.issue import issue
from dossier.revisions.side import side, standing
from dossier.revisions.upgrade import Kit, upgrade
from dossier.spec.load import load_build

HEAD = """\
format: 1
about: {name: Reed 130}
readers: {units: metric, currency: EUR}
primary: {aperture: 130 mm, focal_length: 900 mm, conic: -1}
diagonal: {minor_axis: 36 mm}
focuser: {mounting_radius: 90 mm, height: 50 mm, travel: 30 mm}
"""
Write = Callable[..., Path]


@pytest.fixture
def reed(tmp_path: Path) -> Write:
    """Writes the build: more of its spec, and files by their path."""
    def write(more: str = "", head: str = HEAD, **files: str) -> Path:
        folder = tmp_path / "reed-130"
        for name, text in {"build.yaml": head + more, **files}.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        return folder

    return write


def issued(folder: Path, day: int = 1) -> str:
    """Issue a build as it stands; its letter."""
    written = issue(work_out(load_build(folder)), "As it stands.", on=date(2026, 3, day), accept_misses=True)
    return written.letter


@contextmanager
def compared(folder: Path, old: str, new: str = "working", against: Path | None = None,
             ) -> Iterator[tuple[Difference, Kit]]:
    """What changed from the one side to the other, and the upgrade kit."""
    with ExitStack() as opened:
        before = opened.enter_context(side(folder, old))
        after = standing(against) if against else opened.enter_context(side(folder, new))
        yield difference(before, after), upgrade(before, after)
