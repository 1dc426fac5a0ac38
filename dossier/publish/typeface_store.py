"""The subset typeface, kept from one run to the next: to make it takes as long as a quarter of a small site.

It lies in the user's cache folder (``XDG_CACHE_HOME``, else ``~/.cache``), under a name made from all that decides its
bytes, and carries its own hash. One that is missing, damaged or cannot be written is made again; nothing is lost with
it.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from importlib import metadata
from pathlib import Path

_HASH_BYTES = 32
_MADE_WITH = ("fonttools", "brotli", "font-source-sans-pro")


def folder() -> Path | None:
    """Where they are kept; None where the user has no home."""
    try:
        base = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    except RuntimeError:
        return None
    return Path(base) / "dossier" if Path(base).is_absolute() else None


def kept(what: str, sources: tuple[Path, ...], make: Callable[[], bytes]) -> bytes:
    """The bytes that ``make`` gives, from the store where they are. ``what`` and the files in ``sources`` decide them,
    with the releases of what makes them."""
    store = folder()
    if store is None:
        return make()
    place = store / f"typeface-{_key(what, sources)}"
    found = _read(place)
    if found is None:
        found = make()
        _write(place, found)
    return found


def _key(what: str, sources: tuple[Path, ...]) -> str:
    key = hashlib.sha256(what.encode())
    for package in _MADE_WITH:
        key.update(f"\0{package} {metadata.version(package)}".encode())
    for source in sources:
        key.update(b"\0" + hashlib.sha256(source.read_bytes()).digest())
    return key.hexdigest()


def _read(place: Path) -> bytes | None:
    try:
        whole = place.read_bytes()
    except OSError:
        return None
    digest, data = whole[:_HASH_BYTES], whole[_HASH_BYTES:]
    return data if hashlib.sha256(data).digest() == digest else None


def _write(place: Path, data: bytes) -> None:
    """Whole or not at all: several may publish at once."""
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=place.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(data).digest() + data)
            os.replace(name, place)
        except OSError:
            os.unlink(name)
            raise
    except OSError:
        return
