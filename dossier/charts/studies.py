"""A study as plots: a result against one key as lines, against two as contours with the misses hatched."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dossier.charts.framing import chart, height_of, said
from dossier.charts.labels import Label
from dossier.charts.plot import HATCH, Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.charts.scales import axis, room_about
from dossier.design.explore import Point, Study
from dossier.design.explore.points import AS_PLANNED
from dossier.design.pictures.studies import Run, StudyMap, spare_of, study_map, study_runs, value_of
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


def _shown(value: float, result: Result, readers: Readers) -> str:
    return show(value, result.unit, result_id=result.id, readers=readers).plain


def _limit_words(result: Result, readers: Readers) -> str:
    goal = result.goal
    return f"{goal.sense.replace('_', ' ')} {_shown(goal.limit, result, readers)}" if goal else ""


# ---- one key: lines

def _lines(study: Study, result_id: str, key: str, readers: Readers, palette: Palette, form: Form) -> Rendered:
    medium, width = MEDIA[form]
    varied, result = study.varied[0], _known(study, result_id)
    runs = study_runs(study, result_id)
    levels = [value for run in runs for value in run.y.tolist()]
    limits = _one_limit(study, result_id)
    low, high = room_about(min(levels + limits), max(levels + limits))
    numbers = [setting.number for setting in varied.settings]
    x_axis = axis(min(numbers), max(numbers), varied.unit, key_title(varied.key),
                  8 if form == "wide" else 4, readers)
    drawn = Plot(medium, width, height_of(form, _HEIGHT["lines"]), x_axis,
                 axis(low, high, result.unit, result.title, 6, readers, result_id=result_id))
    if limits and result.goal:
        drawn.limit(limits[0], "below" if result.goal.sense == "at_least" else "above",
                    Words(_limit_words(result, readers)))
    names = list(dict.fromkeys(run.name for run in runs))
    labelled: set[str] = set()
    for at, run in enumerate(runs):
        label = run.name if len(names) > 1 and run.name not in labelled else ""
        labelled.add(run.name)
        pen = _PENS[names.index(run.name) % len(_PENS)]
        drawn.curve(Curve(f"{run.name or result_id} {at}", run.x, run.y, pen, label))
    planned = study.planned.get(result_id)
    if planned is not None and min(numbers) <= varied.planned <= max(numbers):
        drawn.mark("planned", varied.planned, planned.number, Words(AS_PLANNED), on=f"{names[0] or result_id} 0")
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


def _lines_alt(study: Study, result_id: str, runs: Sequence[Run], readers: Readers) -> str:
    result, varied = _known(study, result_id), study.varied[0]
    told = []
    for run in runs[:4]:
        ends = [f"{_shown(float(run.y[at]), result, readers)} at "
                f"{show(float(run.x[at]), varied.unit, readers=readers).plain}" for at in (0, -1)]
        told.append((f"{run.name}: " if run.name else "") + f"from {ends[0]} to {ends[1]}")
    missed = sum(spare_of(point, result_id) < 0 for point in study.points)
    goal = f" {missed} of {len(study.points)} points miss the limit, {_limit_words(result, readers)}." if (
        result.goal) else ""
    return f"{said(result.title)} against {key_title(varied.key)}: {'; '.join(told)}.{goal}"


# ---- two keys: contours

def _contours(study: Study, result_id: str, key: str, readers: Readers, palette: Palette, form: Form) -> Rendered:
    medium, width = MEDIA[form]
    across, up = study.varied
    found, result = study_map(study, result_id), _known(study, result_id)
    (left, right), (low, high) = ((float(ends[0]), float(ends[-1])) for ends in (found.x, found.y))
    drawn = Plot(medium, width, height_of(form, _HEIGHT["contours"]),
                 axis(left, right, across.unit, key_title(across.key), 7 if form == "wide" else 4,
                      readers),
                 axis(low, high, up.unit, key_title(up.key), 7, readers))
    drawn.contours = True
    drawn.shapes[:0] = [*_no_build(drawn, found), *_misses(drawn, found)]
    if found.lost:
        _label_no_build(drawn, found)
    for pen, name, label, lines in _levels(found, result, readers):
        for at, line in enumerate(lines):
            drawn.curve(Curve(f"{name} {at}", line.x, line.y, pen, label if at == 0 else ""))
    if left <= across.planned <= right and low <= up.planned <= high:
        drawn.mark("planned", across.planned, up.planned, Words(AS_PLANNED), on="")
    title = f"{result.title} over {key_title(across.key).replace(',', '’s', 1)} and " \
            f"{key_title(up.key).replace(',', '’s', 1)}"
    return chart(drawn, key, title, _contour_caption(title, result, found, readers),
                 _contour_alt(study, result_id, found, readers), form, palette)


def _levels(found: StudyMap, result: Result, readers: Readers) -> Iterator[tuple[Pen, str, str, tuple[Run, ...]]]:
    """Lines of equal value, thin, and where the limit is just met, wide; each with its name and its label."""
    edge, limit = found.edge(), result.goal.limit if result.goal else math.nan
    low, high = found.ends
    ticks = axis(low, high, result.unit, "", _LEVELS, readers, result_id=result.id)
    for level, text in ticks.ticks:
        lines = found.level(level)
        if lines and not (edge and abs(level - limit) < 0.3 * (high - low) / _LEVELS):
            yield Pen(THIN), f"level {level:.6g}", joined(text, ticks.title), lines
    if edge:
        yield Pen(OUTLINE), "limit", _limit_words(result, readers), edge


def _misses(drawn: Plot, found: StudyMap) -> list[Shape]:
    """Hatching over all that misses its limit."""
    field = drawn.field
    outline = ((field.left, field.top), (field.right, field.top), (field.right, field.bottom),
               (field.left, field.bottom))
    lines = [(drawn.at(*a), drawn.at(*b)) for start, end in hatching(outline, _WIDE_HATCH * drawn.medium.lettering)
             for a, b in found.missed_along(_data(drawn, start), _data(drawn, end), _FINE)]
    return [Segments(tuple(lines), Pen(THIN, "faint"), {"forbidden": "misses"})] if lines else []


def _data(drawn: Plot, point: tuple[float, float]) -> tuple[float, float]:
    """What a place in the drawing stands for."""
    field = drawn.field
    across = (point[0] - field.left) / (field.right - field.left)
    up = (field.bottom - point[1]) / (field.bottom - field.top)
    return (drawn.x.low + across * (drawn.x.high - drawn.x.low), drawn.y.low + up * (drawn.y.high - drawn.y.low))


def _no_build(drawn: Plot, found: StudyMap) -> Iterator[Shape]:
    """Cells with a corner that cannot be built, tinted."""
    for (left, low), (right, high) in found.lost_cells():
        corners = (drawn.at(left, low), drawn.at(right, low), drawn.at(right, high), drawn.at(left, high))
        yield Polyline(corners, None, Wash("glass", 0.6), closed=True, data={"shade": "no build"})


def _label_no_build(drawn: Plot, found: StudyMap) -> None:
    middles = tuple(drawn.at((left + right) / 2, (low + high) / 2) for (left, low), (right, high) in found.lost_cells())
    drawn.labels.wait(Label((Words("cannot be built"),), ("no build",), middles, leader=False))


def _contour_caption(title: str, result: Result, found: StudyMap, readers: Readers) -> str:
    pieces = [f"{said(title)}, as lines of equal value."]
    if found.missed:
        pieces.append(f"Hatched: the limit, {_limit_words(result, readers)}, is missed.")
    elif result.goal:
        pieces.append(f"The limit, {_limit_words(result, readers)}, is met everywhere here.")
    if found.lost:
        pieces.append("Tinted: no such telescope can be built, or it has no such number.")
    return " ".join(pieces)


def _contour_alt(study: Study, result_id: str, found: StudyMap, readers: Readers) -> str:
    result = _known(study, result_id)
    known = [(value, point) for point in study.points if not math.isnan(value := value_of(point, result_id))]
    ends = []
    for word, (value, point) in (("least", min(known, key=lambda each: each[0])),
                                 ("greatest", max(known, key=lambda each: each[0]))):
        at = " and ".join(show(setting.number, each.unit, readers=readers).plain
                          for setting, each in zip(point.settings, study.axes, strict=True))
        ends.append(f"{word} {_shown(value, result, readers)} at {at}")
    goal = f" {found.missed} of {len(study.points)} points miss the limit, {_limit_words(result, readers)}." if (
        result.goal) else ""
    none = f" {found.lost} points have no such number." if found.lost else ""
    return f"{said(result.title)}: {', '.join(ends)}.{goal}{none}"

