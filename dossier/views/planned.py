"""What the plan says, beside what was measured and to be measured."""

from __future__ import annotations

from dossier.design import Design
from dossier.notation import Shown, show, show_result
from dossier.notation.given import show_given
from dossier.spec.keys import unit_of_key, value_at
from dossier.working import Given, Result


def planned_words(result: Result, design: Design) -> str:
    """What the plan gives where measured values give something that reads differently."""
    before = design.planned.results.get(result.id) if design.planned else None
    if before is None:
        return ""
    shown, now = (show_result(each, design.build.readers).plain for each in (before, result))
    return f"planned {shown}" if shown != now else ""


def planned_of_key(key: str, design: Design) -> str:
    """The same for a number of the spec, by its key."""
    before, now = (value_at(each.build, key) if each else None for each in (design.planned, design))
    if not isinstance(before, float) or not isinstance(now, float) or before == now:
        return ""
    return f"planned {show_given(before, unit_of_key(key), design.build.readers).plain}"


def given_words(given: Given, design: Design) -> Shown:
    """A number of the spec as its author said it; one that an expression gives with the digits of a result. TypeError
    for a list."""
    if isinstance(given.value, tuple):
        raise TypeError(f"{given.key} is a list")
    readers = design.build.readers
    if "{{" in given.said:
        return show(given.value, given.unit, readers=readers)
    return show_given(given.value, given.unit, readers)
