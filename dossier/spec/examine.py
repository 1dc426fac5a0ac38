"""Plain values examined against the whole spec: a Build, and every problem there is."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from dossier.errors import Problem
from dossier.spec import consistency, geometry, keys, messages, nested
from dossier.spec.entries import Choice, Entry, Limit, Quantity, Text, Whole, WordOr
from dossier.spec.messages import Spots
from dossier.spec.model import Build

_ROUNDS = 6
_UNKNOWN = "{{ unknown }}"


def examine(values: dict[str, Any], spots: Spots, file: str) -> tuple[Build | None, list[Problem]]:
    """The values as a Build where they make one, and all problems.

    Values with faults are examined further with each fault taken out, so that one wrong unit does not hide that the
    diagonal is wider than the mirror.
    """
    try:
        build = Build.model_validate(values)
    except ValidationError as error:
        found = list(messages.problems(error, spots, file))
        rest = _without_faults(values, error)
        more = list(_beyond_fields(rest, spots, file)) if rest else []
        known = {problem.key for problem in found}
        return None, [*found, *(problem for problem in more if problem.key not in known)]
    return build, list(_beyond_fields(build, spots, file))


def _beyond_fields(build: Build, spots: Spots, file: str) -> Iterator[Problem]:
    for key, message in (*consistency.faults(build), *geometry.faults(build)):
        yield messages.problem(key, message, spots, file)


def _without_faults(values: dict[str, Any], error: ValidationError) -> Build | None:
    values = copy.deepcopy(values)
    for round_ in range(_ROUNDS):
        for place, fault in enumerate(error.errors(include_url=False)):
            _take_out(values, messages.path_of(fault), fault, round_ * 10_000 + place)
        try:
            return Build.model_validate(values)
        except ValidationError as again:
            error = again
    return None


def _take_out(values: dict[str, Any], path: keys.Pieces, fault: Any, number: int) -> None:
    """Replace what is wrong by something that says nothing: an unknown number, an unused name, an absent section."""
    try:
        known = keys.find(keys.join_key(path)) if fault["type"] != "extra_forbidden" else None
        if known is None:
            nested.remove(values, path)
        elif (known.model and not known.many and known.required) or (isinstance(path[-1], int) and known.model):
            nested.put(values, path, {})
        elif not known.required:
            nested.remove(values, path) if not _takes_unknown(known.entry) else nested.put(values, path, _UNKNOWN)
        else:
            stand_in = _stand_in(known.entry, fault["input"], number)
            nested.remove(values, path[:-1]) if stand_in is None else nested.put(values, path, stand_in)
    except (KeyError, IndexError, TypeError):
        return


def _takes_unknown(entry: object) -> bool:
    return isinstance(entry, (Quantity, Whole, Limit)) or (isinstance(entry, WordOr) and _takes_unknown(entry.other))


def _stand_in(entry: object, said: object, number: int) -> object:
    if _takes_unknown(entry):
        return _UNKNOWN
    if isinstance(entry, Choice) and isinstance(said, str):
        return entry.nearest(said) or None
    if isinstance(entry, Text):
        return next((text for text in (f"x{number}", f"x.x{number}") if _reads(entry, text)), None)
    return None


def _reads(entry: Entry, text: str) -> bool:
    try:
        entry.read(text)
    except ValueError:
        return False
    return True
