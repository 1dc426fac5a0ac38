"""What a build consists of: its spec, its pages, and every other file that one of them names."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from dossier.errors import Problem, Unusable
from dossier.spec import text_file

SPEC = "build.yaml"
FOLDER = "revisions"
_PAGES = ("pages", "pages/steps")


@dataclass(frozen=True)
class Contents:
    """A build's files by their path below its folder: ``texts`` are the spec and the pages with their bytes, ``files``
    where all others lie that these name."""

    texts: Mapping[str, bytes]
    files: Mapping[str, Path]

    @cached_property
    def sums(self) -> Mapping[str, str]:
        """The SHA-256 of every text and file, by path."""
        found = {path: sha256(raw) for path, raw in self.texts.items()}
        return found | {path: sum_of(file) for path, file in self.files.items()}

    @property
    def sha256(self) -> str:
        """One hash for all of it, names and bytes."""
        return sha256("".join(f"{found}  {path}\n" for path, found in sorted(self.sums.items())).encode())


def contents(file: Path) -> Contents:
    """The contents of the build with this spec file. Raises Unusable where a text cannot be read.

    A file counts as used where the spec or a page has its name in it, a link's way of writing it included. That takes
    in one too many rather than one too few.
    """
    folder = file.parent
    texts = {SPEC: text_file.read(file)[1], **dict(_pages(folder))}
    return Contents(texts, {path: where for path, where in _others(folder, "", os.path.realpath(folder))
                            if _named(Path(path).name, texts)})


def sha256(raw: bytes) -> str:
    """The SHA-256 of some bytes, as 64 signs."""
    return hashlib.sha256(raw).hexdigest()


def sum_of(file: Path) -> str:
    """The SHA-256 of a file. Raises Unusable where it cannot be read."""
    try:
        with open(file, "rb") as opened:
            return hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError as error:
        raise Unusable([Problem(text_file.shown(file), 0, "", f"cannot be read: {error.strerror}")]) from None


def _pages(folder: Path) -> Iterator[tuple[str, bytes]]:
    root = os.path.realpath(folder)
    for inner in _PAGES:
        for entry in _entries(folder / inner):
            if entry.name.endswith(".md") and _is_file(entry, root):
                yield f"{inner}/{entry.name}", text_file.read(Path(entry.path))[1]


def _others(folder: Path, below: str, root: str) -> Iterator[tuple[str, Path]]:
    """Every other file below the folder that is neither hidden nor a link out of it, nor one of the revisions."""
    for entry in _entries(folder):
        path = f"{below}{entry.name}"
        if entry.name[0] == "." or path in (SPEC, FOLDER):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _others(Path(entry.path), f"{path}/", root)
        elif not (path.endswith(".md") and below.rstrip("/") in _PAGES) and _is_file(entry, root):
            yield path, Path(entry.path)


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return sorted(entries, key=lambda entry: entry.name)
    except OSError:
        return []


def _is_file(entry: os.DirEntry[str], root: str) -> bool:
    """Whether this is a file that lies below the root; a link is followed to see."""
    if entry.is_file(follow_symlinks=False):
        return True
    return entry.is_file() and os.path.realpath(entry.path).startswith(root + os.sep)


def _named(name: str, texts: Mapping[str, bytes]) -> bool:
    from urllib.parse import quote  # not wanted by a build without revisions, and check has no time for it

    ways = {name.encode(), quote(name).encode(), _escaped(name).encode()}
    return any(way in text for way in ways for text in texts.values())


def _escaped(name: str) -> str:
    """As a name stands in HTML. The library that does it for any text takes longer to load than all of this."""
    for sign, way in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#x27;")):
        name = name.replace(sign, way)
    return name
