"""A goal in words: whether it is met, by how much, and what would put a miss right."""

from __future__ import annotations

import math

from dossier.design import Design, Remedy
from dossier.notation import show_limit
from dossier.notation.digits import Digits, written
from dossier.notation.given import show_given
from dossier.notation.units import joined
from dossier.working import Result

_NAMES = frozenset({"Airy", "Rayleigh", "Strehl"})
_TWO_FIGURES = Digits(figures=2, trim=True, powers=False)


def outcome_words(result: Result) -> str:
    """``meets, 12 % to spare``, ``close, 3 % to spare`` or ``misses by 8 %``; empty for a result without a goal."""
    if result.goal is None:
        return ""
    outcome, spare = result.goal.outcome(result.number), result.goal.spare(result.number)
    if math.isnan(spare):
        return "misses: there is no number"
    if outcome == "misses":
        return f"misses by {_share(spare, result.goal.limit)}"
    return f"{outcome}, {_share(spare, result.goal.limit)} to spare" if spare else f"{outcome}, nothing to spare"


def limit_words(result: Result, design: Design) -> str:
    """``at most 350 EUR``; empty for a result without a goal."""
    if result.goal is None:
        return ""
    limit = show_limit(result, design.build.readers)
    return f"{result.goal.sense.replace('_', ' ')} {limit.plain}"


def remedy_words(remedy: Remedy, design: Design) -> str:
    """What would put a missed goal right, in a sentence."""
    readers = design.build.readers
    value = show_given(float(f"{remedy.value:.4g}"), remedy.unit, readers).plain
    now = show_given(remedy.now, remedy.unit, readers).plain
    return f"It would be met with {key_words(remedy.key)} at about {value} instead of {now}."


def sentence(text: str) -> str:
    """A remark as a sentence: with a capital and a full stop."""
    said = text.strip()
    return f"{said[0].upper()}{said[1:].rstrip('.')}." if said else ""


def within(title: str) -> str:
    """A title as it stands within a sentence: no capital, but where it is a name or all capitals."""
    name = title.split(" ")[0] in _NAMES or not title[1:2].islower()
    return title if name else f"{title[:1].lower()}{title[1:]}"


def key_words(key: str) -> str:
    """A key of the spec in words: ``primary.focal_length`` is the primary's focal length."""
    owner, _, what = key.rpartition(".")
    said = what.replace("_", " ")
    place = owner.replace("_", " ").replace(".", " ").replace("[", " ").replace("]", "")
    return f"the {place}’s {said}" if owner else f"the {said}"


def _share(spare: float, limit: float) -> str:
    if not limit:
        return joined(written(abs(spare), _TWO_FIGURES).plain, "")
    return joined(written(abs(spare / limit) * 100, _TWO_FIGURES).plain, "%")
