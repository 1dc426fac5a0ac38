"""What changed in a spec, key by key. Items of a list are told apart by what they are called, not by their place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from dossier.notation.given import show_given
from dossier.revisions.side import Side
from dossier.spec.deferred import OPENS
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.quantities import parse
from dossier.working import Value

_CALLED = ("ref", "id", "name", "result")
_SENSES = {"at_least": "at least", "at_most": "at most"}


@dataclass(frozen=True, slots=True)
class Said:
    """A value of the spec: its author's words, and the number in ``unit`` (a key of working.UNITS) where it is one."""

    words: str
    value: Value | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class SpecChange:
    """A key with what it was and what it is; None where it was not, or is no longer, said. An item of a list is named
    by its reference, ID or name: ``parts[P9].price``."""

    key: str
    old: Said | None
    new: Said | None


@dataclass(frozen=True, slots=True)
class _Leaf:
    """``key`` is the place in its own spec, where an item has its number."""

    key: str
    value: object


def spec_changes(old: Side, new: Side) -> tuple[SpecChange, ...]:
    """Every key that does not say the same in both, in the order of the newer spec; another way of writing the same
    number is no change, nor is an expression that stands in both and comes to something else. An item that is only in
    one is one change. Expressions are told by what they come to."""
    before, after = dict(_leaves(old.said.raw, "", "")), dict(_leaves(new.said.raw, "", ""))
    names = _whole_items(before, after)
    found = []
    for name in dict.fromkeys([*after, *before]):
        if any(_within(name, item) and name != item for item in names):
            continue
        leaves = before.get(name), after.get(name)
        changed = SpecChange(name, _said(old, leaves[0]), _said(new, leaves[1]))
        if not (_alike(changed) or _same_expression(*leaves)):
            found.append(changed)
    return tuple(found)


def _whole_items(before: Mapping[str, _Leaf], after: Mapping[str, _Leaf]) -> tuple[str, ...]:
    """The items of lists that only one of the two has."""
    return tuple(name for name in {*before} ^ {*after} if name.endswith("]"))


def _within(name: str, item: str) -> bool:
    return name == item or name.startswith((f"{item}.", f"{item}["))


def _leaves(value: Any, named: str, key: str) -> Iterator[tuple[str, _Leaf]]:
    """Every value by its name. A map in a list has a leaf of its own as well, which says only that it is there."""
    if isinstance(value, dict):
        for inner, nested in value.items():
            yield from _leaves(nested, f"{named}.{inner}" if named else inner, f"{key}.{inner}" if key else inner)
    elif isinstance(value, list) and value and all(isinstance(item, dict) for item in value):
        for place, (item, called) in enumerate(zip(value, _called(value), strict=True)):
            yield f"{named}[{called}]", _Leaf(f"{key}[{place}]", item)
            yield from _leaves(item, f"{named}[{called}]", f"{key}[{place}]")
    else:
        yield named, _Leaf(key, value)


def _called(items: list[dict[str, Any]]) -> list[str]:
    """What the items of a list go by: the first key that names them all, each differently; else their place."""
    for key in _CALLED:
        names = [str(item[key]) for item in items if item.get(key) is not None]
        if len(names) == len(items):
            if key == "result":  # two goals may stand on one result
                names = [f"{name} {'at_most' if 'at_most' in item else 'at_least'}"
                         for name, item in zip(names, items, strict=True)]
            if len(set(names)) == len(items):
                return names
    return [str(place) for place in range(1, len(items) + 1)]


def _same_expression(old: _Leaf | None, new: _Leaf | None) -> bool:
    return bool(old and new and isinstance(old.value, str) and OPENS in old.value and old.value == new.value)


def _said(side: Side, leaf: _Leaf | None) -> Said | None:
    if leaf is None:
        return None
    if isinstance(leaf.value, dict):  # an item as a whole goes by its name
        return Said(_item(side, leaf.key, leaf.value))
    words = side.text(", ".join(map(str, leaf.value)) if isinstance(leaf.value, list)
                      else side.said.spots[leaf.key].said)
    try:
        value, unit = value_at(side.design.build, leaf.key), unit_of_key(leaf.key)
    except KeyError:
        return Said(words)
    if isinstance(value, (str, bool)) or not isinstance(value, (int, float, tuple)):
        return Said(words)
    if isinstance(value, tuple):
        numbers = tuple(item for item in value if isinstance(item, (int, float)))
        return Said(words, numbers, unit) if len(numbers) == len(value) else Said(words)
    return Said(words, float(value), unit)


def _item(side: Side, key: str, item: Mapping[str, Any]) -> str:
    """What an item of a list is called; a goal by its limit, and what has no name by what it says."""
    for sense, words in _SENSES.items():
        if sense in item and "result" in item:
            return f"{words} {_limit(side, key, sense)}"
    if named := item.get("name") or item.get("title"):
        return side.text(str(named))
    return ", ".join(f"{inner} {side.text(str(value))}" for inner, value in item.items()
                     if not isinstance(value, (dict, list)))


def _limit(side: Side, key: str, sense: str) -> str:
    """A goal's limit in the unit of its result."""
    said, name = (value_at(side.design.build, f"{key}.{inner}") for inner in (sense, "result"))
    result = side.design.results.get(str(name))
    if result is None or said is None:
        return side.text(str(said))
    try:
        limit = parse(said, result.unit) if isinstance(said, str) else float(said)
    except ValueError:  # told with the goals
        return side.text(str(said))
    return show_given(limit, result.unit, side.design.build.readers).plain


def _alike(change: SpecChange) -> bool:
    old, new = change.old, change.new
    if old is None or new is None:
        return old is new
    if change.key.endswith("]"):
        return True  # there in both; what is in it is told key by key
    if old.value is not None and new.value is not None and old.unit == new.unit:
        return old.value == new.value
    return old.words == new.words
