"""What the plan says beside what was measured, and what a length must become for it."""

from __future__ import annotations

from dossier.design import Design, measured
from dossier.notation import show, show_result
from dossier.notation.given import show_given
from dossier.spec.keys import unit_of_key, value_at
from dossier.working import Result

_MEMBERS = frozenset({"frame.pole_length", "frame.tube_length", "frame.sawn_length", "frame.length"})


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


def wanted_words(name: str, design: Design) -> str:
    """How long a pole or tube must be for what was measured, where a text names its length."""
    found = measured.recut(design) if name in _MEMBERS else None
    if found is None:
        return ""
    fittings = 2 * found.end_fittings_mm if name == "frame.sawn_length" else 0.0
    return f"this mirror wants {show(found.wanted.number - fittings, 'mm', readers=design.build.readers).plain}"
