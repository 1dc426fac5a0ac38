"""Key paths: ``primary.aperture``, ``parts[0].mass``, ``cell.rings[1]``, ``tolerances.primary.conic``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from dossier.errors import did_you_mean
from dossier.spec.entries import ByKey, Entry, Quantity, Section, Several, ShelfOrMap, WordOr
from dossier.spec.model import Build
from dossier.spec.quantities import shorten

Pieces = tuple[str | int, ...]
_PIECE = re.compile(r"([^.\[\]]+)((?:\[\d{1,6}\])*)")


@dataclass(frozen=True, slots=True)
class Known:
    """A key of a model: the attribute behind it, what may stand there, and the model of what is nested in it."""

    key: str
    attribute: str
    entry: Entry | Section
    required: bool
    model: type[BaseModel] | None
    many: bool


@cache
def known_keys(model: type[BaseModel]) -> Mapping[str, Known]:
    """The keys of one section, in the model's order."""
    found: dict[str, Known] = {}
    for attribute, info in model.model_fields.items():
        entry = next(item for item in info.metadata if isinstance(item, (Entry, Section)))
        nested, many = (entry.model, False) if isinstance(entry, ShelfOrMap) else _nested(info.annotation)
        key = info.alias or attribute
        found[key] = Known(key, attribute, entry, info.is_required(), nested, many)
    return found


def split_key(key: str) -> Pieces:
    """A key path in its pieces: names, and places in lists from 0. KeyError where it has no such form."""
    pieces: list[str | int] = []
    for word in key.split("."):
        match = _PIECE.fullmatch(word)
        if not match:
            raise KeyError(f"{shorten(key)} is no key of the spec")
        pieces += [match[1], *map(int, re.findall(r"\d+", match[2]))]
    return tuple(pieces)


def join_key(pieces: Pieces) -> str:
    """The pieces as one key path."""
    path = ""
    for piece in pieces:
        path += f"[{piece}]" if isinstance(piece, int) else f".{piece}" if path else piece
    return path


@lru_cache(maxsize=4096)
def find(key: str) -> Known:
    """What the spec knows of a key path. KeyError, with the nearest known key, where it knows nothing."""
    return _found(split_key(key), key)[-1]


@lru_cache(maxsize=4096)
def nesting(key: str) -> Pieces:
    """The pieces of a known key path as they are nested in the file: a key that names a key is one piece.

    KeyError as ``find``.
    """
    pieces = split_key(key)
    names = _named_at(pieces, key)
    return pieces if names == len(pieces) else (*pieces[:names], join_key(pieces[names:]))


def unit_of_key(key: str) -> str:
    """The unit (a key of working.UNITS) that the value of a key path is kept in; empty for what has none."""
    return unit_of_entry(find(key).entry)


def unit_of_entry(entry: Entry | Section) -> str:
    """The unit that a value of this kind is kept in."""
    if isinstance(entry, Quantity):
        return entry.unit
    if isinstance(entry, Several):
        return unit_of_entry(entry.of)
    return unit_of_entry(entry.other) if isinstance(entry, WordOr) else ""


def value_at(build: Build, key: str) -> Any:
    """The value at a key path, or None where nothing stands there. KeyError where the spec knows no such key."""
    value: Any = build
    for piece in nesting(key):
        if isinstance(piece, int):
            value = value[piece] if isinstance(value, tuple) and piece < len(value) else None
        elif isinstance(value, BaseModel):
            value = getattr(value, known_keys(type(value))[piece].attribute, None)
        else:
            value = value.get(piece) if isinstance(value, dict) else None
    return value


@cache
def all_keys() -> tuple[str, ...]:
    """Every key path that the spec knows, lists with empty brackets: ``parts[].mass``."""
    return tuple(_keys_of(Build, ""))


def homes(word: str) -> list[str]:
    """The sections that have a key of this name."""
    parted = (key.replace("[]", "").rpartition(".") for key in all_keys())
    return [section for section, _, name in parted if name == word]


def _keys_of(model: type[BaseModel], path: str) -> Iterator[str]:
    for known in known_keys(model).values():
        here = f"{path}.{known.key}" if path else known.key
        here += "[]" if known.many or isinstance(known.entry, Several) else ""
        yield here
        if known.model:
            yield from _keys_of(known.model, here)


def _found(pieces: Pieces, key: str) -> list[Known]:
    """What is known of each name on the way down a path."""
    model: type[BaseModel] | None = Build
    found: list[Known] = []
    for at, piece in enumerate(pieces):
        if isinstance(piece, int):
            if not (found and _is_list(found[-1].entry, found[-1].many)):
                raise KeyError(f"{shorten(key)} is not a list")
            continue
        if found and isinstance(found[-1].entry, ByKey):
            return [*found, *_found(pieces[at:], key)]
        if model is None or piece not in known_keys(model):
            near = did_you_mean(key, [known.replace("[]", "") for known in all_keys()])
            raise KeyError(f"{shorten(key)} is no key of the spec{near}")
        found.append(known_keys(model)[piece])
        model = found[-1].model
    return found


def _named_at(pieces: Pieces, key: str) -> int:
    """How many pieces stand before the key that a section such as ``tolerances`` names; all where none does.

    KeyError as ``find``.
    """
    _found(pieces, key)
    for at in range(1, len(pieces)):
        if isinstance(pieces[at - 1], str) and isinstance(_found(pieces[:at], key)[-1].entry, ByKey):
            return at
    return len(pieces)


def _is_list(entry: Entry | Section, many: bool) -> bool:
    return many or isinstance(entry, Several) or (isinstance(entry, WordOr) and isinstance(entry.other, Several))


def _nested(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """The model inside an annotation, and whether it is a list of them."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    many = get_origin(annotation) is tuple
    for inner in get_args(annotation):
        model, deeper = _nested(inner)
        if model:
            return model, many or deeper
    return None, False
