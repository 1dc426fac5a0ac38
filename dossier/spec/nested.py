"""Values nested in maps and lists, reached by the pieces of a key path."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

Pieces = tuple[str | int, ...]


def put(values: Any, pieces: Pieces, value: object) -> None:
    """Put a value at a path, making the maps that are missing on the way.

    KeyError or IndexError where the path leads nowhere.
    """
    inner, last = _last(values, pieces)
    if type(inner) is not (list if isinstance(last, int) else dict):
        raise KeyError(last)
    inner[last] = value


def remove(values: Any, pieces: Pieces) -> None:
    """Remove the key at the end of a path, if it is there. KeyError or IndexError as ``put``."""
    inner, last = _last(values, pieces)
    if isinstance(inner, dict):
        inner.pop(last, None)


def _last(values: Any, pieces: Pieces) -> tuple[Any, Any]:
    for piece, following in pairwise(pieces):
        values = _inner(values, piece, following)
    return values, pieces[-1]


def _inner(values: Any, piece: str | int, following: str | int) -> Any:
    if isinstance(values, list) and isinstance(piece, int):
        return values[piece]
    if isinstance(values, dict) and isinstance(piece, str):
        if isinstance(following, str) and not isinstance(values.get(piece), (dict, list)):
            values[piece] = {}
        if piece in values:
            return values[piece]
    raise KeyError(piece)


def texts(values: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every text in the values, with its key path."""
    if isinstance(values, str):
        yield path, values
    elif isinstance(values, dict):
        for key, value in values.items():
            yield from texts(value, f"{path}.{key}" if path else key)
    elif isinstance(values, list):
        for place, value in enumerate(values):
            yield from texts(value, f"{path}[{place}]")
