"""What the models found wrong, as Problems with a place and plain words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError

from dossier.errors import Problem, did_you_mean
from dossier.spec import keys, yaml_tree
from dossier.spec.entries import KEY_TAG, MAP_TAG, Entry, ItemsWrong, Section, Several
from dossier.spec.model import Build
from dossier.spec.quantities import shorten


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a key stands and what was written there; ``measured`` where a builder's measured file says it."""

    file: str
    line: int
    said: str
    measured: bool = False


Spots = Mapping[str, Spot]


def problem(key: str, message: str, spots: Spots, file: str) -> Problem:
    """A Problem at a key's line, or at the nearest line above it that is known."""
    place, section = spots.get(key), key
    while place is None and section:
        section = section[: max(section.rfind("."), section.rfind("["), 0)]
        place = spots.get(section)
    where = (place.file, place.line) if place else (file, 1)
    return Problem(*where, yaml_tree.shown_key(key), " ".join(message.split()))


def problems(error: ValidationError, spots: Spots, file: str) -> Iterator[Problem]:
    """Every fault of a validation."""
    for fault in error.errors(include_url=False):
        path = path_of(fault)
        cause = fault.get("ctx", {}).get("error")
        if isinstance(cause, ItemsWrong):
            for place, message in cause.items:
                yield problem(keys.join_key((*path, place)), message, spots, file)
        else:
            yield problem(keys.join_key(path), _message(fault, path, cause), spots, file)


def path_of(fault: Any) -> keys.Pieces:
    """Where a fault lies, without the tags of alternatives."""
    return tuple(piece for piece in fault["loc"] if piece not in {KEY_TAG, MAP_TAG})


def section_of(path: keys.Pieces) -> type[BaseModel] | None:
    """The model that a path leads to, where it leads to one."""
    names = keys.join_key(path)
    try:
        return keys.find(names).model if names else Build
    except KeyError:
        return None


def _message(fault: Any, path: keys.Pieces, cause: object) -> str:
    kind = fault["type"]
    if kind == "missing":
        return f"is required, such as {_sample(path)}"
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind == "value_error":
        return str(cause)
    wanted = "a list" if kind == "tuple_type" else "a map of keys"
    return f"wants {wanted}, such as {_sample(path)} (got {shorten(fault['input'])})"


def _unknown(path: keys.Pieces) -> str:
    section, word = keys.join_key(path[:-1]), str(path[-1])
    model = section_of(path[:-1])
    siblings = list(keys.known_keys(model)) if model else []
    where = f"is not a key of {section}" if section else "is not a key of the spec"
    elsewhere = [home for home in keys.homes(word.rpartition(".")[2]) if home != section]
    if elsewhere:
        homes = [home or "the top of the spec" for home in dict.fromkeys(elsewhere)]
        return f"{where}; it belongs under {' or '.join(homes[:3])}"
    near = did_you_mean(word, siblings)
    wanted = f", which has {', '.join(siblings)}" if section and not near and 0 < len(siblings) <= 12 else ""
    return f"{where}{wanted}{near}"


def _sample(path: keys.Pieces) -> str:
    known = keys.find(keys.join_key(path))
    one = _of_model(known.model) if known.model else _written(known.entry)
    is_item = bool(path) and isinstance(path[-1], int)
    return f"[{one}]" if known.many and not is_item else one


def _of_model(model: type[BaseModel]) -> str:
    fields = keys.known_keys(model)
    wanted = [known for known in fields.values() if known.required] or list(fields.values())[:1]
    return "{" + ", ".join(f"{known.key}: {_of_known(known)}" for known in wanted) + "}"


def _of_known(known: keys.Known) -> str:
    if known.model and isinstance(known.entry, Section):
        return f"[{_of_model(known.model)}]" if known.many else _of_model(known.model)
    return _written(known.entry)


def _written(entry: Entry | Section) -> str:
    if isinstance(entry, Several):
        return f"[{', '.join(map(str, entry.example))}]"
    if isinstance(entry.example, dict):
        return "{" + ", ".join(f"{key}: {value}" for key, value in entry.example.items()) + "}"
    return str(entry.example)
