"""Goals: the author's own, and the trade's usual limits where the author sets none."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from dossier import shelf
from dossier.design.buying import named, unpriced_for
from dossier.design.model import Unmet
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.errors import Problem, Unusable, did_you_mean
from dossier.shelf import Limit
from dossier.spec.keys import value_at
from dossier.spec.model_about import Goal as AuthorsGoal
from dossier.spec.quantities import parse
from dossier.working import Given, Goal, NoAnswer, Result, Sense, converted


def with_goals(sheet: Worksheet, results: Mapping[str, Result], left_out: Mapping[str, str],
               ) -> tuple[dict[str, Result], tuple[Unmet, ...]]:
    """The results with their goals attached, and the goals that stand on results not worked out.

    Raises Unusable where a goal names a result that does not exist.
    """
    own = _authors(sheet, results)
    waiting = tuple(_open(sheet, results, own))
    judged = {name: replace(result, goal=_tightest(own[name], result) if name in own else goal_of(sheet, result))
              for name, result in results.items()}
    waiting += tuple(Unmet(goal, left_out.get(name, "")) for name, goals in own.items() if name not in results
                     for goal in goals)
    return judged, waiting


def _open(sheet: Worksheet, results: Mapping[str, Result], own: dict[str, list[Goal]]) -> Iterator[Unmet]:
    """The goals on sums of prices that cannot be judged while some are missing, taken from ``own``: a sum can only grow
    with them, so that what it exceeds already stays exceeded, and all else is open."""
    for name in [name for name in own if name.startswith("parts.") and name in results]:
        missing = unpriced_for(sheet.build, name)
        number = results[name].number
        undecided = [goal for goal in own[name] if missing and (goal.sense == "at_most") == (goal.spare(number) >= 0)]
        if not undecided:
            continue
        known = f"{number:.2f} {sheet.build.readers.currency or ''}".strip()
        yield from (Unmet(goal, f"{named(missing)} to buy without a price; {name} is at least {known}")
                    for goal in undecided)
        own[name] = [goal for goal in own[name] if goal not in undecided]
        if not own[name]:
            del own[name]


def _authors(sheet: Worksheet, results: Mapping[str, Result]) -> dict[str, list[Goal]]:
    found: dict[str, list[Goal]] = {}
    problems: list[Problem] = []
    for index, goal in enumerate(sheet.build.goals or ()):
        key = f"goals[{index}]"
        spot = sheet.loaded.spots[f"{key}.result"]
        if goal.result not in sheet.plan:
            hint = did_you_mean(goal.result, sheet.plan)
            problems.append(Problem(spot.file, spot.line, f"{key}.result", f"no result is named {goal.result!r}{hint}"))
            continue
        try:
            found.setdefault(goal.result, []).append(_goal(goal, results.get(goal.result)))
        except ValueError as error:
            sense, _ = _sense(goal)
            place = sheet.loaded.spots[f"{key}.{sense}"]
            problems.append(Problem(place.file, place.line, f"{key}.{sense}", str(error)))
    if problems:
        raise Unusable(problems)
    return found


def _sense(goal: AuthorsGoal) -> tuple[Sense, str | float]:
    if goal.at_least is not None:
        return "at_least", goal.at_least
    return "at_most", goal.at_most if goal.at_most is not None else math.nan


def _goal(goal: AuthorsGoal, result: Result | None) -> Goal:
    """The author's goal in the result's own unit. ValueError where its limit is of another dimension.

    The unit of a result that was not worked out is not known: then the limit is not a number, and nothing is judged.
    """
    sense, said = _sense(goal)
    unit = result.unit if result else None
    limit = said if not isinstance(said, str) else math.nan if unit is None else parse(said, unit)
    return Goal(goal.result, sense, limit, goal.because or "", authors=True)


def goal_of(sheet: Worksheet, result: Result) -> Goal | None:
    """The trade's usual limit on this result in this build, if there is one; of several, the one nearest to a miss."""
    return _tightest(list(_usual(sheet, result)), result)


def _tightest(goals: list[Goal], result: Result) -> Goal | None:
    return min(goals, key=lambda goal: _strained(goal, result.number), default=None)


def _strained(goal: Goal, value: float) -> float:
    spare = goal.spare(value)
    return spare / abs(goal.limit) if goal.limit else spare


def _usual(sheet: Worksheet, result: Result) -> Iterator[Goal]:
    for limit in limits_on(result.id):
        if isinstance(result.value, tuple) or not _applies(sheet, limit):
            continue
        try:
            value = _limit_value(sheet, limit, result)
        except (NotSaid, NoAnswer):
            continue
        yield Goal(result.id, limit.sense, value, limit.because, authors=False, source=limit.source)


def limits_on(result_id: str) -> Iterable[Limit]:
    """The trade's limits on this result; a limit may name a pattern such as ``eyepiece.*.exit_pupil``."""
    exact, globs = _limits_by_name()
    return (limit for limit in (*exact.get(result_id, ()), *globs) if limit.speaks_of(result_id))


@lru_cache(maxsize=1)
def _limits_by_name() -> tuple[Mapping[str, Sequence[Limit]], Sequence[Limit]]:
    """The limits on one result by its name, and those on a pattern of results."""
    exact: dict[str, list[Limit]] = {}
    for limit in shelf.limits():
        exact.setdefault(limit.result, []).append(limit)
    return exact, [limit for limit in shelf.limits() if "*" in limit.result]


def _applies(sheet: Worksheet, limit: Limit) -> bool:
    return all(value_at(sheet.build, key) == wanted for key, wanted in limit.when.items())


def _limit_value(sheet: Worksheet, limit: Limit, result: Result) -> float:
    entry: Given | Result
    if limit.key:
        entry = sheet.given(limit.key)
    elif limit.other:
        entry = sheet.result(limit.other)
    else:
        return float("nan") if limit.number is None else limit.number * limit.times
    number = converted(entry, f"limit_{result.unit}" if result.unit else "limit")
    return float(number) * limit.times if not isinstance(number, tuple) else float("nan")
