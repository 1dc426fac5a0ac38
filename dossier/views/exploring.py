"""Builds beside the planned one as rows: for the terminal, as data, and as lists that a spreadsheet opens."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from dossier.design.explore import Axis, Drawn, GoalShare, Point, Setting, Study
from dossier.design.explore.tolerances import QUANTILES
from dossier.notation import Readers, show, show_result
from dossier.notation.given import show_given
from dossier.notation.units import joined, unit_text
from dossier.spec.ranges import Tolerance
from dossier.views.goals import outcome_words
from dossier.views.lists import Cell, List
from dossier.views.shares import bounds, idle_keys, share_words, worst_of
from dossier.working import UNITS, Goal, Result

# After a number: its limit is missed, or met with little to spare.
MISSES, CLOSE = "!", "~"
_MARKS = {"misses": MISSES, "close": CLOSE, "meets": ""}
_LEGEND = f"{MISSES} misses its limit, {CLOSE} meets it with less than a tenth of it to spare"


def study_text(study: Study, readers: Readers) -> str:
    """A study as a table of points, then the limits and what is the same at every point."""
    same = unchanging(study)
    shown = [name for name in study.shown if name not in same] or list(study.shown)
    heads = [(*(axis.key for axis in study.axes), *shown),
             (*(unit_text(axis.unit, readers.currency) for axis in study.axes),
              *(_unit(name, study, readers) for name in shown))]
    rows = [_row(point.settings, point.results, point.missing, study, shown, readers) for point in study.points]
    widths = [max(map(len, column)) for column in zip(*heads, *rows, strict=True)]
    told = [_line(row, widths) for row in heads]
    told += [f"{_line(row[:len(study.axes)], widths)}  cannot be built: {point.unusable}" if point.unusable
             else _line(row, widths) for row, point in zip(rows, study.points, strict=True)]
    return "\n".join([*told, "", *_ends(study, shown, same, readers)]) + "\n"


def _ends(study: Study, shown: Sequence[str], same: Mapping[str, Result], readers: Readers) -> Iterator[str]:
    count, lost = len(study.points), sum(bool(point.unusable) for point in study.points)
    yield f"{count} point{'' if count == 1 else 's'}" + (f", of which {lost} cannot be built" if lost else "")
    if any(result.goal for result in study.planned.values()):
        yield _LEGEND
    for name in shown:
        if name in study.planned:
            result = study.planned[name]
            goal = f"; {goal_words(result.goal, result, readers)}" if result.goal else ""
            yield f"{name} as planned: {_judged(result, readers)}{goal}"
    for name, result in same.items():
        if name not in shown:
            yield f"{name} is the same at every point: {_judged(result, readers)}"


def unchanging(study: Study) -> Mapping[str, Result]:
    """Results that are the same at every point that can be built, as one of them has them; none of a single point."""
    able = [point for point in study.points if not point.unusable]
    found = {}
    for name in study.shown if len(able) > 1 else ():
        have = [point.results.get(name) for point in able]
        first = have[0]
        if first is not None and all(each is not None and each.value == first.value and each.goal == first.goal
                                     for each in have):
            found[name] = first
    return found


def goal_words(goal: Goal, result: Result, readers: Readers) -> str:
    """``at most 350 EUR``."""
    limit = show(goal.limit, result.unit, result_id=result.id, readers=readers)
    return f"{goal.sense.replace('_', ' ')} {limit.plain}"


def setting_words(setting: Setting, axis: Axis, readers: Readers) -> str:
    """A setting's number without its unit, or the choice in words."""
    return setting.words or show_given(float(f"{setting.number:.10g}"), axis.unit, readers).number


def _judged(result: Result, readers: Readers) -> str:
    outcome = f" ({outcome_words(result)})" if result.goal else ""
    return show_result(result, readers).plain + outcome


def _row(settings: Sequence[Setting], results: Mapping[str, Result], missing: Mapping[str, str], study: Study,
         shown: Sequence[str], readers: Readers) -> tuple[str, ...]:
    at = (setting_words(setting, axis, readers) for setting, axis in zip(settings, study.axes, strict=True))
    return (*at, *(_number(results.get(name), readers) for name in shown))


def _number(result: Result | None, readers: Readers) -> str:
    if result is None:
        return "–"
    return f"{show_result(result, readers).number} {mark_of(result)}".rstrip()


def mark_of(result: Result) -> str:
    """The sign after a number that misses its limit or has little to spare; empty for the rest."""
    return _MARKS[result.goal.outcome(result.number)] if result.goal else ""


def _unit(name: str, study: Study, readers: Readers) -> str:
    known = next((point.results[name] for point in study.points if name in point.results), study.planned.get(name))
    return show_result(known, readers).unit if known else ""


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(f"{cell:<{width}}" for cell, width in zip(cells, widths, strict=False)).rstrip()


def study_record(study: Study) -> dict[str, Any]:
    """A study as plain data; numbers at full precision in the unit that the spec and the results have."""
    return {
        "name": study.name, "one_at_a_time": study.alone,
        "axes": [{"key": axis.key, "unit": _plain_unit(axis.unit), "part": axis.part or None,
                  "planned": None if math.isnan(axis.planned) else axis.planned} for axis in study.axes],
        "planned": _results_record(study.planned), "points": [_point_record(point, study) for point in study.points],
    }


def _point_record(point: Point, study: Study) -> dict[str, Any]:
    at = {axis.key: setting.words or setting.number for axis, setting in zip(study.axes, point.settings, strict=True)}
    return {"at": at, "results": _results_record(point.results), "left_out": dict(point.missing),
            "cannot_be_built": point.unusable or None}


def _results_record(results: Mapping[str, Result]) -> dict[str, Any]:
    return {name: {"value": list(result.numbers) if isinstance(result.value, tuple) else _plain(result.value),
                   "unit": UNITS[result.unit].text, "goal": _goal_record(result)} for name, result in results.items()}


def _goal_record(result: Result) -> dict[str, Any] | None:
    if result.goal is None:
        return None
    return {"limit": _plain(result.goal.limit), "sense": result.goal.sense,
            "outcome": result.goal.outcome(result.number)}


def _plain(number: float) -> float | None:
    return number if math.isfinite(number) else None


def _plain_unit(unit: str) -> str:
    return UNITS[unit].text if unit else "1"


def study_list(study: Study, file: str, currency: str | None) -> List:
    """Every point of a study as a row."""
    columns = [_named(axis.key, axis.unit, currency) for axis in study.axes]
    for name in study.shown:
        known = next((each.results[name] for each in study.points if name in each.results), None)
        columns += [_named(name, known.unit if known else "", currency), f"{name} limit"]
    rows = tuple(_list_row(point, study) for point in study.points)
    return List(file, f"{study.name or 'Every point'}: what comes of each.", (*columns, "cannot_be_built"), rows)


def _list_row(point: Point, study: Study) -> tuple[Cell, ...]:
    cells: list[Cell] = [setting.words or setting.number for setting in point.settings]
    for name in study.shown:
        result = point.results.get(name)
        single = result is not None and not isinstance(result.value, tuple)
        cells += [result.number if result and single else None,
                  result.goal.outcome(result.number) if result and single and result.goal else None]
    return (*cells, point.unusable or None)


def _named(name: str, unit: str, currency: str | None) -> str:
    ending = (currency or "") if unit == "money" else unit
    return f"{name}_{ending}" if ending and not name.endswith(f"_{ending}") else name


def drawn_text(drawn: Drawn, readers: Readers) -> str:
    """What share of the builders meets each limit, how the results spread, and which tolerance spoils most."""
    head = [f"{drawn.count} builders drawn, seed {drawn.seed}", ""]
    head += [f"  {each.key} ± {tolerance_words(each, readers)}, about {centre_words(each, centre, readers)}"
             for each, centre in zip(drawn.tolerances, drawn.centres, strict=True)]
    body = [line for share in drawn.shares for line in _share_lines(share, readers)]
    return "\n".join([*head, "", *body, *_drawn_ends(drawn, readers)]) + "\n"


def _share_lines(share: GoalShare, readers: Readers) -> Iterator[str]:
    result = share.planned
    goal = f", {goal_words(result.goal, result, readers)}" if result.goal else ""
    yield f"{result.id}{goal}; as planned {show_result(result, readers).plain}"
    if share.met is not None:
        yield f"  met by     {share_words(share)}"
    yield "  quantiles  " + ", ".join(f"{joined(f'{100 * level:.0f}', '%')} {_quantity(value, result, readers)}"
                                      for level, value in zip(QUANTILES, share.quantiles, strict=True))
    missed = share.met is not None and share.met < share.drawn
    yield f"  {'spoiled by' if missed else 'moved by  '} {worst_of(share)}"
    yield ""


def _quantity(value: float, result: Result, readers: Readers) -> str:
    return show(value, result.unit, result_id=result.id, readers=readers).plain


def _drawn_ends(drawn: Drawn, readers: Readers) -> Iterator[str]:
    if any(share.met is not None for share in drawn.shares):
        yield f"every limit above is met by {share_words(drawn)}"
    if idle := idle_keys(drawn):
        yield f"moves none of these: {', '.join(idle)}"
    for reason, count in drawn.unusable.items():
        yield f"{count} cannot be built and meet{'s' if count == 1 else ''} nothing: {reason}"
    if drawn.untouched:
        names = "; ".join(f"{result.id} {_judged(result, readers)}" for result in drawn.untouched)
        yield f"touched by no tolerance: {names}"


def tolerance_words(tolerance: Tolerance, readers: Readers) -> str:
    """``12 mm, anywhere within``."""
    how = "two standard deviations" if tolerance.normal else "anywhere within"
    return f"{_tolerance(tolerance.size, tolerance.unit, readers)}, {how}"


def centre_words(tolerance: Tolerance, centre: float, readers: Readers) -> str:
    """The value that the builders' values lie about."""
    unit = "degc" if tolerance.unit == "k" else tolerance.unit
    return _tolerance(float(f"{centre:.5g}"), unit, readers)


def _tolerance(size: float, unit: str, readers: Readers) -> str:
    return show_given(size, unit, readers).plain


def drawn_record(drawn: Drawn) -> dict[str, Any]:
    """The builders as plain data, without each one's own values."""
    return {
        "count": drawn.count, "seed": drawn.seed, "met_all": drawn.met_all, "cannot_be_built": dict(drawn.unusable),
        "tolerances": [{"key": each.key, "size": each.size, "unit": _plain_unit(each.unit), "centre": centre,
                        "distribution": "normal, two standard deviations" if each.normal else "uniform within"}
                       for each, centre in zip(drawn.tolerances, drawn.centres, strict=True)],
        "results": {share.planned.id: _share_record(share) for share in drawn.shares},
        "untouched": _results_record({result.id: result for result in drawn.untouched}),
    }


def _share_record(share: GoalShare) -> dict[str, Any]:
    low, high = bounds(share.met, share.drawn) if share.met is not None else (None, None)
    return {
        **_results_record({"planned": share.planned})["planned"], "met": share.met, "drawn": share.drawn,
        "met_share_95": None if share.met is None else [low, high],
        "quantiles": {f"{level:g}": _plain(value) for level, value in zip(QUANTILES, share.quantiles, strict=True)},
        "least": _plain(share.least), "most": _plain(share.most),
        "spoilers": [{"key": each.key, "variance_share": each.variance_share, "recovered": each.recovered,
                      "misses_looked_at": each.of} for each in share.spoilers],
    }


def drawn_list(drawn: Drawn, file: str, currency: str | None) -> List:
    """One row for each result over all builders."""
    columns = ("result", "unit", "limit", "sense", "planned", "met", "drawn", "met_share", "met_share_low_95",
               "met_share_high_95", *(f"quantile_{level:g}" for level in QUANTILES), "least", "most",
               "worst_tolerance", "its_share_of_variance", "misses_it_recovers", "misses_looked_at")
    return List(file, f"What {drawn.count} builders drawn at random reach.", columns,
                tuple(_drawn_row(share, currency) for share in drawn.shares))


def _drawn_row(share: GoalShare, currency: str | None) -> tuple[Cell, ...]:
    result, goal, worst = share.planned, share.planned.goal, share.spoilers[0]
    unit = (currency or "") if result.unit == "money" else UNITS[result.unit].text
    low, high = bounds(share.met, share.drawn) if share.met is not None else (None, None)
    met = None if share.met is None else share.met / share.drawn
    return (result.id, unit, goal.limit if goal else None, goal.sense if goal else None, result.number, share.met,
            share.drawn, met, low, high, *map(_plain, share.quantiles), _plain(share.least), _plain(share.most),
            worst.key, worst.variance_share, worst.recovered, worst.of)
