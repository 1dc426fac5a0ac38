"""A study as plots: a result against one key as lines, against two as contours with the misses hatched."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from dossier.charts.framing import chart, height_of, said
from dossier.charts.labels import Label
from dossier.charts.plot import HATCH, Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.charts.scales import axis, room_about
from dossier.design.explore import Axis as Varied
from dossier.design.explore import Point, Study
from dossier.design.explore.points import AS_PLANNED
from dossier.design.pictures import Floats
from dossier.design.pictures.contours import below_along, grid_lines
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    THIN,
    Pen,
    Polyline,
    Segments,
    Shape,
    Wash,
    Words,
    hatching,
)
from dossier.notation import Readers, show
from dossier.notation.units import joined
from dossier.working import Result

_HEIGHT = {"lines": 0.36, "contours": 0.52}
_PENS = (Pen(OUTLINE), Pen(HIDDEN), Pen(CENTRE), Pen(THIN))
_LEVELS = 7
# Hatching over a whole region stands twice as wide as in a strip, so that the lines under it can be read.
_WIDE_HATCH = 2 * HATCH
_FINE = 1 / 240


def pictured(study: Study) -> tuple[str, ...]:
    """The results of a study that a plot can be made of: single numbers that differ from point to point."""
    keys, parts = len(study.varied), len(study.axes) - len(study.varied)
    if study.alone or keys not in (1, 2) or (keys == 2 and parts) or any(len(each.settings) < 2
                                                                         for each in study.varied):
        return ()
    return tuple(name for name in study.shown if _differs(name, study.points))


def plot(study: Study, result_id: str, key: str, readers: Readers, palette: Palette, form: Form) -> Rendered:
    """One result of a study that ``pictured`` names. ``key`` begins the names in the SVG."""
    made = _contours if len(study.varied) == 2 else _lines
    return made(study, result_id, key, readers, palette, form)


def key_title(key: str) -> str:
    """A key as the title of an axis: ``primary.focal_length`` is the primary’s focal length."""
    owner, _, what = key.rpartition(".")
    words = what.replace("_", " ")
    return f"{owner.rpartition('.')[2].replace('_', ' ')}, {words}" if owner else words


def _differs(name: str, points: Sequence[Point]) -> bool:
    values = {result.value for point in points if (result := point.results.get(name)) is not None}
    return len(values) > 1 and not any(isinstance(value, tuple) for value in values)


def _known(study: Study, result_id: str) -> Result:
    return next(point.results[result_id] for point in study.points if result_id in point.results)


def _value(point: Point, result_id: str) -> float:
    return point.results[result_id].number if result_id in point.results else math.nan


def _spare(point: Point, result_id: str) -> float:
    """How far a result stands on the right side of its limit; infinite where none is set."""
    result = point.results.get(result_id)
    if result is None:
        return math.nan
    return result.goal.spare(result.number) if result.goal else math.inf


def _shown(value: float, result: Result, readers: Readers) -> str:
    return show(value, result.unit, result_id=result.id, readers=readers).plain


def _limit_words(result: Result, readers: Readers) -> str:
    goal = result.goal
    return f"{goal.sense.replace('_', ' ')} {_shown(goal.limit, result, readers)}" if goal else ""


def _numbers(varied: Varied) -> Floats:
    return np.array([setting.number for setting in varied.settings])


# ---- one key: lines

def _lines(study: Study, result_id: str, key: str, readers: Readers, palette: Palette, form: Form) -> Rendered:
    medium, width = MEDIA[form]
    varied, result = study.varied[0], _known(study, result_id)
    runs = _runs(study, result_id)
    levels = [value for _, x, y in runs for value in y.tolist()]
    limits = _one_limit(study, result_id)
    low, high = room_about(min(levels + limits), max(levels + limits))
    numbers = _numbers(varied)
    x_axis = axis(float(numbers.min()), float(numbers.max()), varied.unit, key_title(varied.key),
                  8 if form == "wide" else 4, readers)
    drawn = Plot(medium, width, height_of(form, _HEIGHT["lines"]), x_axis,
                 axis(low, high, result.unit, result.title, 6, readers, result_id=result_id))
    if limits and result.goal:
        drawn.limit(limits[0], "below" if result.goal.sense == "at_least" else "above",
                    Words(_limit_words(result, readers)))
    names = list(dict.fromkeys(name for name, _, _ in runs))
    labelled: set[str] = set()
    for at, (name, x, y) in enumerate(runs):
        label = name if len(names) > 1 and name not in labelled else ""
        labelled.add(name)
        drawn.curve(Curve(f"{name or result_id} {at}", x, y, _PENS[names.index(name) % len(_PENS)], label))
    planned = study.planned.get(result_id)
    if planned is not None and numbers.min() <= varied.planned <= numbers.max():
        on = next((f"{name or result_id} {at}" for at, (name, _, _) in enumerate(runs)), "")
        drawn.mark("planned", varied.planned, planned.number, Words(AS_PLANNED), on=on)
    title = f"{result.title} against {key_title(varied.key).replace(',', '’s', 1)}"
    alt = _lines_alt(study, result_id, runs, readers)
    return chart(drawn, key, title, f"{said(title)}.{_limit_caption(limits, result)}", alt, form, palette)


def _limit_caption(limits: Sequence[float], result: Result) -> str:
    return " The limit’s forbidden side is hatched." if limits and result.goal else ""


def _one_limit(study: Study, result_id: str) -> list[float]:
    """The limit, where it is the same at every point."""
    goals = {result.goal.limit for point in study.points
             if (result := point.results.get(result_id)) is not None and result.goal}
    return list(goals) if len(goals) == 1 else []


def _runs(study: Study, result_id: str) -> list[tuple[str, Floats, Floats]]:
    """Unbroken pieces of each line: the choices it is for in words, its places, its values."""
    found: list[tuple[str, Floats, Floats]] = []
    varied = next(at for at, each in enumerate(study.axes) if not each.part)
    lines: dict[str, list[tuple[float, float]]] = {}
    for point in study.points:
        chosen = "; ".join(each.words for each in point.settings if each.words)
        lines.setdefault(chosen, []).append((point.settings[varied].number, _value(point, result_id)))
    for name, places in lines.items():
        piece: list[tuple[float, float]] = []
        for place in (*sorted(places), (math.nan, math.nan)):
            if not math.isnan(place[1]):
                piece.append(place)
            elif piece:
                found.append((name, np.array([x for x, _ in piece]), np.array([y for _, y in piece])))
                piece = []
    return found


def _lines_alt(study: Study, result_id: str, runs: Sequence[tuple[str, Floats, Floats]], readers: Readers) -> str:
    result, varied = _known(study, result_id), study.varied[0]
    told = []
    for name, x, y in runs[:4]:
        ends = [f"{_shown(float(y[at]), result, readers)} at {show(float(x[at]), varied.unit, readers=readers).plain}"
                for at in (0, -1)]
        told.append((f"{name}: " if name else "") + f"from {ends[0]} to {ends[1]}")
    missed = sum(_spare(point, result_id) < 0 for point in study.points)
    goal = f" {missed} of {len(study.points)} points miss the limit, {_limit_words(result, readers)}." if (
        result.goal) else ""
    return f"{said(result.title)} against {key_title(varied.key)}: {'; '.join(told)}.{goal}"


# ---- two keys: contours

def _contours(study: Study, result_id: str, key: str, readers: Readers, palette: Palette, form: Form) -> Rendered:
    medium, width = MEDIA[form]
    across, up = study.varied
    x, y = _numbers(across), _numbers(up)
    order_x, order_y = np.argsort(x), np.argsort(y)
    values = _grid(study, [_value(point, result_id) for point in study.points])[np.ix_(order_y, order_x)]
    spare = _grid(study, [_spare(point, result_id) for point in study.points])[np.ix_(order_y, order_x)]
    x, y, result = x[order_x], y[order_y], _known(study, result_id)
    drawn = Plot(medium, width, height_of(form, _HEIGHT["contours"]),
                 axis(float(x[0]), float(x[-1]), across.unit, key_title(across.key), 7 if form == "wide" else 4,
                      readers),
                 axis(float(y[0]), float(y[-1]), up.unit, key_title(up.key), 7, readers))
    drawn.contours = True
    drawn.shapes[:0] = [*_no_build(drawn, x, y, values), *_misses(drawn, x, y, spare)]
    if np.isnan(values).any():
        _label_no_build(drawn, x, y, values)
    for pen, name, label, lines in _levels(x, y, values, spare, result, readers):
        for at, line in enumerate(sorted(lines, key=len, reverse=True)):
            drawn.curve(Curve(f"{name} {at}", np.array([px for px, _ in line]), np.array([py for _, py in line]), pen,
                              label if at == 0 else ""))
    if x[0] <= across.planned <= x[-1] and y[0] <= up.planned <= y[-1]:
        drawn.mark("planned", across.planned, up.planned, Words(AS_PLANNED), on="")
    title = f"{result.title} over {key_title(across.key).replace(',', '’s', 1)} and " \
            f"{key_title(up.key).replace(',', '’s', 1)}"
    missed, lost = int((spare < 0).sum()), int(np.isnan(values).sum())
    return chart(drawn, key, title, _contour_caption(title, result, missed, lost, readers),
                 _contour_alt(study, result_id, missed, lost, readers), form, palette)


def _grid(study: Study, values: Sequence[float]) -> Floats:
    """Values of the points as rows of the second key and columns of the first."""
    return np.array(values).reshape(*(len(each.settings) for each in study.varied)).T


def _levels(x: Floats, y: Floats, values: Floats, spare: Floats, result: Result, readers: Readers,
            ) -> Iterator[tuple[Pen, str, str, tuple[tuple[tuple[float, float], ...], ...]]]:
    """Lines of equal value, thin, and where the limit is just met, wide; each with its name and its label."""
    edge = grid_lines(x, y, spare, 0.0) if np.isfinite(spare).any() and not np.isinf(spare).any() else ()
    limit = result.goal.limit if result.goal else math.nan
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    step = (high - low) / _LEVELS
    ticks = axis(low, high, result.unit, "", _LEVELS, readers, result_id=result.id)
    unit = ticks.title
    for level, text in ticks.ticks:
        lines = grid_lines(x, y, values, level)
        if lines and not (edge and abs(level - limit) < 0.3 * step):
            yield Pen(THIN), f"level {level:.6g}", joined(text, unit), lines
    if edge:
        yield Pen(OUTLINE), "limit", _limit_words(result, readers), edge


def _misses(drawn: Plot, x: Floats, y: Floats, spare: Floats) -> list[Shape]:
    """Hatching over all that misses its limit."""
    if not (spare < 0).any():
        return []
    field = drawn.field
    outline = ((field.left, field.top), (field.right, field.top), (field.right, field.bottom),
               (field.left, field.bottom))
    lines = []
    for start, end in hatching(outline, _WIDE_HATCH * drawn.medium.lettering):
        ends = (_data(drawn, start), _data(drawn, end))
        lines += [(drawn.at(*a), drawn.at(*b)) for a, b in below_along(x, y, spare, *ends, _FINE)]
    return [Segments(tuple(lines), Pen(THIN, "faint"), {"forbidden": "misses"})] if lines else []


def _data(drawn: Plot, point: tuple[float, float]) -> tuple[float, float]:
    """What a place in the drawing stands for."""
    field = drawn.field
    across = (point[0] - field.left) / (field.right - field.left)
    up = (field.bottom - point[1]) / (field.bottom - field.top)
    return (drawn.x.low + across * (drawn.x.high - drawn.x.low), drawn.y.low + up * (drawn.y.high - drawn.y.low))


def _no_build(drawn: Plot, x: Floats, y: Floats, values: Floats) -> Iterator[Shape]:
    """Cells with a corner that cannot be built, tinted."""
    for column, row in _lost_cells(values):
        corners = (drawn.at(x[column], y[row]), drawn.at(x[column + 1], y[row]),
                   drawn.at(x[column + 1], y[row + 1]), drawn.at(x[column], y[row + 1]))
        yield Polyline(corners, None, Wash("glass", 0.6), closed=True, data={"shade": "no build"})


def _lost_cells(values: Floats) -> list[tuple[int, int]]:
    lost = np.isnan(values)
    cells = lost[:-1, :-1] | lost[:-1, 1:] | lost[1:, :-1] | lost[1:, 1:]
    return [(int(column), int(row)) for row, column in np.argwhere(cells)]


def _label_no_build(drawn: Plot, x: Floats, y: Floats, values: Floats) -> None:
    middles = tuple(drawn.at((x[column] + x[column + 1]) / 2, (y[row] + y[row + 1]) / 2)
                    for column, row in _lost_cells(values))
    drawn.labels.wait(Label((Words("cannot be built"),), ("no build",), middles, leader=False))


def _contour_caption(title: str, result: Result, missed: int, lost: int, readers: Readers) -> str:
    pieces = [f"{said(title)}, as lines of equal value."]
    if missed:
        pieces.append(f"Hatched: the limit, {_limit_words(result, readers)}, is missed.")
    elif result.goal:
        pieces.append(f"The limit, {_limit_words(result, readers)}, is met everywhere here.")
    if lost:
        pieces.append("Tinted: no such telescope can be built, or it has no such number.")
    return " ".join(pieces)


def _contour_alt(study: Study, result_id: str, missed: int, lost: int, readers: Readers) -> str:
    result = _known(study, result_id)
    known = [(value, point) for point in study.points if not math.isnan(value := _value(point, result_id))]
    ends = []
    for word, (value, point) in (("least", min(known, key=lambda each: each[0])),
                                 ("greatest", max(known, key=lambda each: each[0]))):
        at = " and ".join(show(setting.number, each.unit, readers=readers).plain
                          for setting, each in zip(point.settings, study.axes, strict=True))
        ends.append(f"{word} {_shown(value, result, readers)} at {at}")
    goal = f" {missed} of {len(study.points)} points miss the limit, {_limit_words(result, readers)}." if (
        result.goal) else ""
    none = f" {lost} points have no such number." if lost else ""
    return f"{said(result.title)}: {', '.join(ends)}.{goal}{none}"

