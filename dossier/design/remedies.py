"""What would put a missed goal right: one key of the spec changed, everything that follows worked out again."""

from __future__ import annotations

from collections.abc import Callable

from dossier.design.goals import goal_of, limits_on
from dossier.design.model import Remedy
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.spec import geometry
from dossier.spec.model import Build
from dossier.working import Goal, Result

# How far from today's value a change is looked for: beyond the last of these it is another telescope.
STRIDES = (0.01, 0.025, 0.06, 0.15, 0.3, 0.6)
# A remedy is a hint to one part in ten thousand; no maker sets anything nearer.
NEAR_ENOUGH = 1e-4
MOST_TRIES = 20
WORSE_ON_END = 2

Remake = Callable[[dict[str, float]], Worksheet]


def remedies(result: Result, remake: Remake, sheet: Worksheet) -> tuple[Remedy, ...]:
    """The nearest change of each curing key that meets the result's missed goal; keys that cannot cure are left out."""
    goal = result.goal
    if goal is None:
        return ()
    keys = dict.fromkeys(key for limit in limits_on(result.id) for key in limit.cures)
    found = (_remedy(key, goal, result.number, remake, sheet) for key in keys if sheet.says(key))
    return tuple(remedy for remedy in found if remedy is not None)


def _remedy(key: str, goal: Goal, number: float, remake: Remake, sheet: Worksheet) -> Remedy | None:
    try:
        now = sheet.given(key)
    except NotSaid:
        return None
    if isinstance(now.value, tuple) or now.value == 0 or now.origin == "measured":
        return None  # what was measured is as it is

    def spare(factor: float) -> float:
        return _spare(goal, remake({key: start * factor}))

    start = now.value
    short = goal.spare(number)
    edges = (_edge(spare, short, 1), _edge(spare, short, -1))
    possible = (edge for edge in edges if edge and _buildable(sheet.build, key, start * edge))
    best = min(possible, key=lambda factor: abs(factor - 1), default=None)
    return None if best is None else Remedy(key, now.unit, start * best, start)


def _buildable(build: Build, key: str, value: float) -> bool:
    """Whether the build with this number at this key is still one that can stand: no cure by a focuser in the tube."""
    section, _, name = key.rpartition(".")
    part = getattr(build, section, None)
    if part is None:
        return True
    changed = build.model_copy(update={section: part.model_copy(update={name: value})})
    return not any(geometry.faults(changed))


def _edge(spare: Callable[[float], float], short: float, direction: int) -> float | None:
    """The factor nearest to 1 on this side at which the goal, now missed by ``short``, is just met, or None.

    A side on which two strides on end only make it worse is left.
    """
    missing, worse = (1.0, short), 0
    for stride in STRIDES:
        tried = (1 + direction * stride, spare(1 + direction * stride))
        if tried[1] >= 0:
            return _just_met(spare, missing, tried)
        worse = worse + 1 if tried[1] < missing[1] else 0
        if worse == WORSE_ON_END:
            return None
        missing = tried
    return None


def _just_met(spare: Callable[[float], float], missing: tuple[float, float], meeting: tuple[float, float]) -> float:
    """Where between a factor that misses and one that meets the goal is met: false position, at times halving."""
    for attempt in range(MOST_TRIES):
        (low, short), (high, over) = missing, meeting
        if abs(high - low) <= NEAR_ENOUGH:
            break
        share = over / (over - short) if attempt % 3 < 2 and short > float("-inf") else 0.5
        # Never so near an end that the next try moves nothing.
        factor = high + (low - high) * min(max(share, 0.02), 0.98)
        answer = spare(factor)
        missing, meeting = ((factor, answer), meeting) if not answer >= 0 else (missing, (factor, answer))
    return meeting[0]


def _spare(goal: Goal, sheet: Worksheet) -> float:
    """How far a changed build meets the goal; its limit is taken as it stands there, since it may move as well."""
    try:
        result = sheet.result(goal.result)
        again = goal if goal.authors else goal_of(sheet, result)
        return float("-inf") if again is None else again.spare(result.number)
    except (NotSaid, ValueError, ArithmeticError):
        return float("-inf")
