"""Lettering in more than one line."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from dossier.drawings.lettering import width_of


def wrapped(words: str, width: float, size: float) -> Iterator[str]:
    """Words broken into lines of at most this width at a type size; a word that is longer has a line of its own."""
    line = ""
    for word in words.split(" "):
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size) > width:
            yield line
            line = word
        else:
            line = longer
    yield line


@lru_cache(maxsize=2048)
def fitting(words: str, width: float, size: float, most: int) -> tuple[str, ...]:
    """Words in at most so many lines of this width; three points tell that there is more. The same cells of tables are
    filled again and again while an arrangement is looked for."""
    lines = list(wrapped(words, width, size))
    kept = lines[:most]
    if len(lines) > most:
        kept[-1] += "…"
    return tuple(_cut(line, width, size) for line in kept)


def _cut(line: str, width: float, size: float) -> str:
    if width_of(line, size) <= width:
        return line
    line = line.rstrip("…")
    while line and width_of(f"{line}…", size) > width:
        line = line[:-1]
    return f"{line.rstrip(' ,;:')}…"
