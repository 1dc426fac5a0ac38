"""A build with other numbers in it, made at the speed of a random draw.

``load.with_values`` reads a build again from texts, as its author would write them. Here the numbers are put in as they
are, at full precision, and only what a number can do wrong is looked at: its own bounds, and the geometry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from pydantic import BaseModel

from dossier.errors import Problem, Unusable
from dossier.spec import geometry, keys
from dossier.spec.entries import Quantity, Whole, check_range
from dossier.spec.load import Loaded
from dossier.spec.ranges import number_entry
from dossier.working import UNITS


def with_numbers(loaded: Loaded, numbers: Mapping[str, float]) -> Loaded:
    """The same build with these numbers at these keys, each in the unit that its key is kept in.

    Readings of a mirror are left out where the primary is another one. Raises Unusable where a number is none that its
    key can have, or the build cannot stand.
    """
    build = loaded.build
    found: list[Problem] = []
    for key, number in numbers.items():
        try:
            build = _put(build, keys.nesting(key), _checked(key, number))
        except (ValueError, LookupError) as error:
            found.append(loaded.problem(key, str(error.args[0])))
    if build.bench is not None and any(key.startswith("primary.") for key in numbers):
        build = build.model_copy(update={"bench": None})
    if not found:
        found = [loaded.problem(key, message) for key, message in geometry.faults(build)]
    if found:
        raise Unusable(found)
    return replace(loaded, build=build)


def _checked(key: str, number: float) -> float:
    entry = number_entry(key)
    if isinstance(entry, Whole):
        whole = entry.read(number)
        return int(whole)
    if isinstance(entry, Quantity):
        unit = "" if entry.unit in {"", "money"} else f" {UNITS[entry.unit].text}"
        check_range(number, f"{number:.6g}{unit}", entry)
    return number


def _put(inside: Any, pieces: keys.Pieces, number: float) -> Any:
    """A copy of a section, or of a list, with the number at the end of this path. KeyError where it leads nowhere."""
    if not pieces:
        return number
    piece, rest = pieces[0], pieces[1:]
    if isinstance(inside, tuple) and isinstance(piece, int) and piece < len(inside):
        return (*inside[:piece], _put(inside[piece], rest, number), *inside[piece + 1:])
    if isinstance(inside, BaseModel) and isinstance(piece, str):
        name = keys.known_keys(type(inside))[piece].attribute
        within = getattr(inside, name)
        if within is not None or not rest:
            return inside.model_copy(update={name: _put(within, rest, number)})
    raise KeyError("stands in a section that the spec does not have")

