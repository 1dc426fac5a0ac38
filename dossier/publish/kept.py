"""What is published already and has not changed since, so that it need not be worked out again.

A wrong answer here would be worse than none. So the key is made from everything that a page can depend on: every byte
below the build's folder, the measured file, the theme, the options, the day, the program's own files, and the releases
of what it uses; and what was written is taken again only if every byte of it still is what was written.
"""

from __future__ import annotations

import hashlib
import json
import os
import platform
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import lru_cache
from importlib import metadata
from pathlib import Path
from typing import Any

RECORD = ".made.json"
_PACKAGE = Path(__file__).parent.parent
_NAME = re.compile(r"[A-Za-z0-9._-]+")
_NEVER_READ = frozenset({"__pycache__", ".git", ".hg", ".svn"})
_UNNAMED = ("pydyf", "tinycss2", "cssselect2", "pyphen")  # what the packet's engine uses itself


@dataclass(frozen=True, slots=True)
class Made:
    """What was written under a key: the SHA-256 of each file by its name, what was remarked, and what an index of
    builds says of it, as plain data."""

    key: str
    files: Mapping[str, str]
    remarks: tuple[str, ...] = ()
    line: Mapping[str, Any] = field(default_factory=dict)

    def as_bytes(self) -> bytes:
        """The record as the text of its file."""
        whole = {"key": self.key, "remarks": self.remarks, "line": self.line, "files": dict(sorted(self.files.items()))}
        return (json.dumps(whole, ensure_ascii=False, indent=1) + "\n").encode()


def key_of(kind: str, folders: Iterable[Path], files: Iterable[Path], options: Mapping[str, object]) -> str:
    """One hash for all that decides what is written: what it is, the bytes of these folders and files, the options,
    and the program."""
    found = hashlib.sha256(f"{kind}\0{program()}\0{json.dumps(options, sort_keys=True, default=str)}\0".encode())
    for folder in folders:
        for name, path in _below(folder):
            found.update(f"{name}\0{_sum(path)}\0".encode())
        found.update(b"\1")
    for file in files:
        found.update(f"{file.name}\0{_sum(file)}\0".encode())
    return found.hexdigest()


def day() -> str:
    """The day that a draft is dated by: that of ``SOURCE_DATE_EPOCH``, else today's."""
    return os.environ.get("SOURCE_DATE_EPOCH") or datetime.now(UTC).date().isoformat()


def still_there(folder: Path, key: str, mark: str) -> Made | None:
    """What was written into this folder under this key, where nothing of it is missing, changed or added to. ``mark``
    is the file that may lie beside it."""
    made = _read(folder / RECORD)
    if made is None or made.key != key:
        return None
    found = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if not path.is_dir()}
    if found.keys() - {RECORD, mark} != made.files.keys() or any(path.is_symlink() for path in found.values()):
        return None
    return made if all(_sum(found[name]) == sum_ for name, sum_ in made.files.items()) else None


def sums(files: Mapping[str, bytes], copies: Mapping[str, Path]) -> dict[str, str]:
    """The SHA-256 of what is about to be written, by name."""
    made = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    return {**{name: _sum(path) for name, path in copies.items()}, **made}


@lru_cache(maxsize=1)
def program() -> str:
    """One hash for this program: its files, and the releases of Python and of the packages it is set up with."""
    found = hashlib.sha256(f"{platform.python_version()}\0{platform.platform()}\0".encode())
    for name, path in _below(_PACKAGE):
        if path.suffix != ".pyc":
            found.update(f"{name}\0{_sum(path)}\0".encode())
    for package in sorted({*_required(), *_UNNAMED}):
        found.update(f"{package} {_release(package)}\0".encode())
    return found.hexdigest()


def _required() -> Iterator[str]:
    """The names of the packages that this one asks for, its tests' left out."""
    try:
        wanted = metadata.requires("dossier") or ()
    except metadata.PackageNotFoundError:
        wanted = ()
    for line in wanted:
        if "extra ==" not in line and (name := _NAME.match(line)):
            yield name[0]


def _release(package: str) -> str:
    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        return ""


def _read(file: Path) -> Made | None:
    try:
        said = json.loads(file.read_text("utf-8"))
        return Made(said["key"], dict(said["files"]), tuple(said["remarks"]), said["line"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _below(folder: Path) -> Iterator[tuple[str, Path]]:
    """Every file below a folder by its path there, in order."""
    for place, inner, names in os.walk(folder, followlinks=True):
        inner[:] = sorted(name for name in inner if name not in _NEVER_READ)
        yield from ((path.relative_to(folder).as_posix(), path) for name in sorted(names)
                    if (path := Path(place, name)).is_file())


def _sum(path: Path) -> str:
    with path.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()
