"""The steps of a build that a new revision asks for once more, those only to be read again, and the checks."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from dossier.revisions.side import Side
from dossier.spec.steps import Check, Step

Reason = Literal["new", "parts", "text", "numbers"]
_LIVE = re.compile(r"\{\{.*?\}\}")
_SPEC = re.compile(r"\bspec\b")
_SIZE = re.compile(r"([+−-]?\d+(?:\.\d+)?)\s*(.*)", re.DOTALL)
Standing = Literal["same", "moved", "within"]


@dataclass(frozen=True, slots=True)
class Again:
    """A step to do again, or to read again, and why: it is new, its parts are in the kit, its text or its numbers have
    changed. ``numbers`` are those that changed: what the number stands by, old and new."""

    slug: str
    number: int
    title: str
    why: tuple[Reason, ...]
    numbers: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class CheckAgain:
    """A check to do again: of a step that is done again, of one that stands on it, or one whose target has moved."""

    slug: str
    number: int
    what: str
    target: str
    tolerance: str


@dataclass(frozen=True, slots=True)
class Repeated:
    """What is done again, what is read again, and what is checked again, each in the order of the steps."""

    steps: tuple[Again, ...]
    read: tuple[Again, ...]
    checks: tuple[CheckAgain, ...]


@dataclass(frozen=True, slots=True)
class Touched:
    """References of parts: ``anew`` are got anew, or there are more of them, or they have gone; ``worked`` are pieces
    of the old telescope that are worked on."""

    anew: frozenset[str]
    worked: frozenset[str] = frozenset()

    def by(self, step: Step, *, sets: bool = False) -> frozenset[str]:
        """What of it a step deals with. A piece that is worked on stays where something ``sets`` round it."""
        own = {*step.parts, *step.makes}
        if sets or step.wait_minutes:
            return frozenset((self.anew & own) | (self.worked & {*step.makes}))
        return frozenset((self.anew | self.worked) & own)


@dataclass(frozen=True, slots=True)
class _Change:
    """How one step differs: whether its parts, its words, a number to work to, or another number did, and which of its
    checks must be done whatever becomes of the step."""

    step: Step
    new: bool
    parts: bool
    typed: bool
    to_work_to: bool
    numbers: tuple[tuple[str, str, str], ...]
    checks: tuple[Check, ...]

    @property
    def again(self) -> bool:
        return self.new or self.parts or self.to_work_to

    @property
    def why(self) -> tuple[Reason, ...]:
        if self.new:
            return ("new",)
        said: tuple[tuple[Reason, bool], ...] = (
            ("parts", self.parts), ("numbers", bool(self.numbers)), ("text", self.typed))
        return tuple(reason for reason, holds in said if holds)


def repeated(old: Side, new: Side, touched: Touched) -> Repeated:
    """What a builder of the old side does, reads and checks again.

    A step is done again where it is new, where a part of it is got anew or worked on, or where a number that it is
    worked to has changed: a key of the spec in its text, or the target of a check by more than its tolerance. Where
    only its words or other numbers have changed it is read again.
    """
    before = {step.slug: step for step in old.design.steps}
    changes = tuple(_change(step, before.get(step.slug), old, new, touched) for step in new.design.steps)
    return Repeated(tuple(_told(change, new) for change in changes if change.again),
                    tuple(_told(change, new) for change in changes if change.why and not change.again),
                    tuple(_checks(changes, touched, new)))


def _told(change: _Change, new: Side) -> Again:
    step = change.step
    return Again(step.slug, step.number, new.text(step.title), change.why, change.numbers)


def _change(step: Step, was: Step | None, old: Side, new: Side, touched: Touched) -> _Change:
    if was is None:
        return _Change(step, True, False, False, False, (), ())
    parts = bool(touched.by(step) | touched.by(was, sets=bool(step.wait_minutes)))
    moved = [(check, standing, numbers) for check in step.checks
             for standing, numbers in [_check(check, was, old, new)] if standing != "same"]
    live = tuple(_live(step, was, old, new))
    to_work_to = any(standing == "moved" for _, standing, _ in moved) or any(_SPEC.search(each) for each, _ in live)
    numbers = dict.fromkeys([*(numbers for _, _, numbers in moved if numbers), *(numbers for _, numbers in live)])
    return _Change(step, False, parts, _typed(step) != _typed(was), to_work_to, tuple(numbers),
                   tuple(check for check, _, _ in moved))


def _typed(step: Step) -> Step:
    """A step without its place in the order, where it stands, and how its planner counts it."""
    return replace(step, number=0, file="", body_line=0, lines={}, bench="", minutes=None, machine="", wait_minutes=0,
                   people=1, parts=(), makes=(), pictures=())


def _check(check: Check, was: Step, old: Side, new: Side) -> tuple[Standing, tuple[str, str, str] | None]:
    """How a check stands to the one of the same words before: a target that is met as it was, one that moved by more
    than its tolerance, or one that what was built may meet: only the check can tell. So of a check that is new."""
    what = new.text(check.what)
    before = next((each for each in was.checks if old.text(each.what) == what), None)
    if before is None:
        return "within", None
    target, aim = old.text(before.target), new.text(check.target)
    allowed, tolerance = old.text(before.tolerance), new.text(check.tolerance)
    first, second = _plain(target), _plain(aim)
    if first == second:
        return ("same", None) if _plain(allowed) == _plain(tolerance) else ("within", (what, allowed, tolerance))
    one, other, most = _size(first), _size(second), _size(_plain(tolerance))
    alike = one and other and most and one[1] == other[1] and one[1].split()[:1] == most[1].split()[:1]
    if one and other and most and alike and abs(one[0] - other[0]) <= most[0]:
        return "within", (what, target, aim)
    return "moved", (what, target, aim)


def _plain(text: str) -> str:
    """A text by its words and numbers alone, whatever its spaces."""
    return " ".join(text.split())


def _size(text: str) -> tuple[float, str] | None:
    found = _SIZE.fullmatch(text)
    return (float(found[1].replace("−", "-")), found[2]) if found else None


def _live(step: Step, was: Step, old: Side, new: Side) -> Iterator[tuple[str, tuple[str, str, str]]]:
    """The expressions that stand in both texts of a step, and that come to something else."""
    both = {*_LIVE.findall(was.body)}
    for each in dict.fromkeys(_LIVE.findall(step.body)):
        first, second = old.text(each), new.text(each)
        if each in both and _plain(first) != _plain(second):
            yield each, ("", first, second)


def _checks(changes: tuple[_Change, ...], touched: Touched, new: Side) -> Iterator[CheckAgain]:
    """The checks of the steps that are done again and of those that stand on one; of the others those whose target has
    moved."""
    known = {change.step.slug: change for change in changes}
    joined = first_joined(new.design.steps)
    standing: set[str] = set()
    for change in changes:
        step = change.step
        if change.again or any(need in known and _carries(known[need], step, standing, touched, joined)
                               for need in step.needs):
            standing.add(step.slug)
        for check in step.checks if step.slug in standing else change.checks:
            yield CheckAgain(step.slug, step.number, new.text(check.what), new.text(check.target),
                             new.text(check.tolerance))


def _carries(before: _Change, step: Step, standing: Collection[str], touched: Touched,
             joined: Mapping[str, str]) -> bool:
    """Whether what was done again in a step bears on one that needs it. A workshop step bears on those that use the
    pieces it makes anew. What was made or glued and is not done again has not moved, so nothing goes on from there, nor
    from a piece that is painted with others; what was set up, aimed or tried has to be looked at again, and what
    follows from it."""
    own = before.step
    if not before.again:
        return own.slug in standing and not own.makes and not own.wait_minutes
    dealt = touched.by(own)
    if own.makes and not dealt - {*own.makes}:
        return bool((dealt or {*own.makes}) & {*step.parts, *step.makes})
    if own.wait_minutes and not before.to_work_to:
        return any(joined.get(ref) == own.slug for ref in dealt)
    return True


def first_joined(steps: Iterable[Step]) -> Mapping[str, str]:
    """For each part the step where it is first joined to others: where it is used and not only made."""
    found: dict[str, str] = {}
    for step in steps:
        for ref in step.parts:
            if ref not in step.makes or step.wait_minutes:
                found.setdefault(ref, step.slug)
    return found


def used_once_more(steps: Sequence[Step], again: tuple[Again, ...], touched: Touched, replaced: Collection[str],
                   consumed: Collection[str], fixed: Collection[str]) -> dict[str, tuple[int, ...]]:
    """References of parts that are not in the kit and that its steps use up, with the numbers of those steps.

    In a step where something sets or dries, what is ``consumed`` (glue, paint) is used wherever the kit has a part in
    it. Where a part that was made is ``replaced``, what was ``fixed`` to the old piece in the first step that joins it
    goes with it, but for what a step that is not done again needs as it is.
    """
    names, joined = {each.slug for each in again}, first_joined(steps)
    kept = {ref for step in steps if step.slug not in names for ref in step.parts}
    found: dict[str, tuple[int, ...]] = {}
    for step in steps:
        dealt = touched.by(step)
        if step.slug not in names or not step.wait_minutes or not dealt:
            continue
        glued = any(joined.get(ref) == step.slug for ref in {*replaced} & dealt)
        lost = {*fixed} - {*step.makes} - kept if glued else set()
        for ref in step.parts:
            if ref in {*consumed} | lost and ref not in touched.anew | touched.worked:
                found[ref] = (*found.get(ref, ()), step.number)
    return found
