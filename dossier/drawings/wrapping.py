"""Lettering in more than one line."""

from __future__ import annotations

from collections.abc import Iterator

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
