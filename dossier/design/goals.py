"""Goals: the author's own, and the trade's usual limits where the author sets none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from dossier import shelf
from dossier.design.model import Unmet
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.errors import Problem, Unusable, did_you_mean
from dossier.shelf import Limit
from dossier.spec.keys import value_at
from dossier.spec.quantities import parse
from dossier.working import Goal, Result, converted


def with_goals(sheet: Worksheet, results: Mapping[str, Result], left_out: Mapping[str, str],
               not_yet: frozenset[str]) -> tuple[dict[str, Result], tuple[Unmet, ...]]:
    """The results with their goals attached, and the goals that stand on results not worked out.

    Raises Unusable where a goal names a result that does not exist.
    """
    own = _authors(sheet, results, not_yet)
    judged = {name: replace(result, goal=own.get(name) or goal_of(sheet, result)) for name, result in results.items()}
    waiting = tuple(Unmet(goal, left_out.get(name, "")) for name, goal in own.items() if name not in results)
    return judged, waiting


def _authors(sheet: Worksheet, results: Mapping[str, Result], not_yet: frozenset[str]) -> dict[str, Goal]:
    found: dict[str, Goal] = {}
    problems: list[Problem] = []
    for index, goal in enumerate(sheet.build.goals or ()):
        key = f"goals[{index}]"
        spot = sheet.loaded.spots[f"{key}.result"]
        if goal.result not in not_yet.union(sheet.plan):
            hint = did_you_mean(goal.result, not_yet.union(sheet.plan))
            problems.append(Problem(spot.file, spot.line, f"{key}.result", f"no result is named {goal.result!r}{hint}"))
            continue
        sense = "at_least" if goal.at_least is not None else "at_most"
        said = goal.at_least if goal.at_least is not None else goal.at_most
        unit = results[goal.result].unit if goal.result in results else ""
        try:
            limit = parse(said, unit) if isinstance(said, str) else float(said)
        except ValueError as error:
            place = sheet.loaded.spots[f"{key}.{sense}"]
            problems.append(Problem(place.file, place.line, f"{key}.{sense}", str(error)))
            continue
        found[goal.result] = Goal(goal.result, sense, limit, goal.because or "", authors=True)
    if problems:
        raise Unusable(problems)
    return found


def goal_of(sheet: Worksheet, result: Result) -> Goal | None:
    """The trade's usual limit on this result in this build, if there is one."""
    for limit in limits_on(result.id):
        if isinstance(result.value, tuple) or not _applies(sheet, limit):
            continue
        try:
            value = _limit_value(sheet, limit, result)
        except NotSaid:
            continue
        return Goal(result.id, limit.sense, value, limit.because, authors=False, source=limit.source)
    return None


def limits_on(result_id: str) -> Iterable[Limit]:
    """The trade's limits on this result; a limit may name a pattern such as ``eyepiece.*.exit_pupil``."""
    return (limit for limit in shelf.limits() if limit.speaks_of(result_id))


def _applies(sheet: Worksheet, limit: Limit) -> bool:
    return all(value_at(sheet.build, key) == wanted for key, wanted in limit.when.items())


def _limit_value(sheet: Worksheet, limit: Limit, result: Result) -> float:
    if limit.key:
        entry = sheet.given(limit.key)
    elif limit.other:
        entry = sheet.result(limit.other)
    else:
        return float("nan") if limit.number is None else limit.number * limit.times
    number = converted(entry, f"limit_{result.unit}" if result.unit else "limit")
    return float(number) * limit.times if not isinstance(number, tuple) else float("nan")
