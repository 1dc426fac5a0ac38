"""What the packet carries inside it: the build's own files, its results, and the empty file for measured values.

A packet found years later can so be worked out, changed and published again without anything else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from dossier.design import Design
from dossier.views import measured_file
from dossier.views.record import as_json

# Folders and files of a build that are its author's work. Others, such as an editor's, are not carried along.
KEPT = ("build.yaml", "pages", "parts", "images", "measured", "revisions")
BUILD_FILE, RESULTS, MEASURED = "a file of the build", "every result at full precision", "for what a builder measures"
LAID_OVER = "measured values that are laid over the build"
LARGEST_FILE, LARGEST_SUM = 20_000_000, 100_000_000


@dataclass(frozen=True, slots=True)
class Carried:
    """One file: its name in the packet, a path with slashes; its bytes; what it is; how it relates to the packet."""

    name: str
    data: bytes
    what: str
    relation: str


def carried(design: Design) -> tuple[Carried, ...]:
    """Everything that the packet of this design carries, sorted by name."""
    found = {each.name: each for each in (*_build_files(design.loaded.folder), *_laid_over(design), *_made(design))}
    return tuple(found[name] for name in sorted(found))


def left_behind(design: Design) -> tuple[str, ...]:
    """Files of the build that are too large to be carried, by their paths in it."""
    return tuple(name for name, path in _own(design.loaded.folder) if path.stat().st_size > LARGEST_FILE)


def _build_files(folder: Path) -> Iterator[Carried]:
    room = LARGEST_SUM
    for name, path in _own(folder):
        size = path.stat().st_size
        if size <= min(LARGEST_FILE, room):
            room -= size
            yield Carried(name, path.read_bytes(), BUILD_FILE, "Source")


def _own(folder: Path) -> Iterator[tuple[str, Path]]:
    """The author's files in the build's folder, none that a link leads to from outside of it."""
    root = folder.resolve()
    for path in sorted(path for kept in KEPT for path in ((root / kept).rglob("*") if (root / kept).is_dir()
                                                          else [root / kept])):
        parts = path.relative_to(root).parts
        hidden = any(part.startswith(".") or part == "__pycache__" for part in parts)
        if path.is_file() and not hidden and path.resolve().is_relative_to(root):
            yield "/".join(parts), path


def _laid_over(design: Design) -> Iterator[Carried]:
    """The measured file that this packet counts with, wherever it lay."""
    file = next((Path(spot.file) for spot in design.loaded.spots.values() if spot.measured), None)
    if file is not None:
        yield Carried(f"measured/{file.name}", file.read_bytes(), LAID_OVER, "Source")


def _made(design: Design) -> Iterator[Carried]:
    yield Carried("results.json", as_json(design).encode(), RESULTS, "Data")
    yield Carried(measured_file.NAME, measured_file.empty_file(design).encode(), MEASURED, "Supplement")
