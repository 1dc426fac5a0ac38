"""What plots of a study are made of: unbroken lines against one key, a grid over two with where its limit is missed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from dossier.calc.optics.mirror import Floats
from dossier.design.explore import Axis, Point, Study
from dossier.design.pictures.contours import Point as Place
from dossier.design.pictures.contours import below_along, grid_lines


@dataclass(frozen=True, slots=True)
class Run:
    """An unbroken piece of a line: the choices of parts it is for, in words; places along the key, rising; values."""

    name: str
    x: Floats
    y: Floats


@dataclass(frozen=True, slots=True)
class StudyMap:
    """A result over two keys. ``x`` and ``y`` rise; ``values`` and ``spare`` are y × x, not numbers where there is no
    such build; ``spare`` is what is left to the limit, negative where it is missed, infinite where none is set."""

    x: Floats
    y: Floats
    values: Floats
    spare: Floats

    @property
    def missed(self) -> int:
        """How many points miss their limit."""
        return int((self.spare < 0).sum())

    @property
    def lost(self) -> int:
        """How many points have no value."""
        return int(np.isnan(self.values).sum())

    @property
    def ends(self) -> tuple[float, float]:
        """The least value and the greatest."""
        return float(np.nanmin(self.values)), float(np.nanmax(self.values))

    @property
    def limited(self) -> bool:
        """Whether a limit is set at every point."""
        return bool(np.isfinite(self.spare).any() and not np.isinf(self.spare).any())

    def level(self, height: float) -> tuple[Run, ...]:
        """Lines along which the result has this value, the longest first."""
        return _as_runs(grid_lines(self.x, self.y, self.values, height))

    def edge(self) -> tuple[Run, ...]:
        """Lines along which the limit is just met."""
        return _as_runs(grid_lines(self.x, self.y, self.spare, 0.0)) if self.limited else ()

    def missed_along(self, start: Place, end: Place, step: float) -> tuple[tuple[Place, Place], ...]:
        """The pieces of a straight line along which the limit is missed; looked at in steps of a share of it."""
        return below_along(self.x, self.y, self.spare, start, end, step) if self.missed else ()

    def lost_cells(self) -> tuple[tuple[Place, Place], ...]:
        """Cells with a corner that has no value, each by its lower and its upper corner."""
        lost = np.isnan(self.values)
        cells = lost[:-1, :-1] | lost[:-1, 1:] | lost[1:, :-1] | lost[1:, 1:]
        return tuple(((float(self.x[column]), float(self.y[row])), (float(self.x[column + 1]), float(self.y[row + 1])))
                     for row, column in np.argwhere(cells))


def value_of(point: Point, result_id: str) -> float:
    """A result of a point; not a number where it has none."""
    return point.results[result_id].number if result_id in point.results else math.nan


def spare_of(point: Point, result_id: str) -> float:
    """How far a result stands on the right side of its limit; infinite where none is set."""
    result = point.results.get(result_id)
    if result is None:
        return math.nan
    return result.goal.spare(result.number) if result.goal else math.inf


def study_map(study: Study, result_id: str) -> StudyMap:
    """A result over the two keys of a study."""
    across, up = (_numbers(axis) for axis in study.varied)
    in_order = np.ix_(np.argsort(up), np.argsort(across))

    def grid(values: Iterator[float]) -> Floats:
        return np.array(list(values)).reshape(len(across), len(up)).T[in_order]

    return StudyMap(np.sort(across), np.sort(up), grid(value_of(point, result_id) for point in study.points),
                    grid(spare_of(point, result_id) for point in study.points))


def study_runs(study: Study, result_id: str) -> tuple[Run, ...]:
    """A result against the one key of a study, a line for each combination of choices, broken where it has no value."""
    varied = next(at for at, axis in enumerate(study.axes) if not axis.part)
    lines: dict[str, list[Place]] = {}
    for point in study.points:
        chosen = "; ".join(each.words for each in point.settings if each.words)
        lines.setdefault(chosen, []).append((point.settings[varied].number, value_of(point, result_id)))
    return tuple(run for name, places in lines.items() for run in _unbroken(name, sorted(places)))


def _unbroken(name: str, places: list[Place]) -> Iterator[Run]:
    piece: list[Place] = []
    for place in (*places, (math.nan, math.nan)):
        if not math.isnan(place[1]):
            piece.append(place)
        elif piece:
            yield _run(name, piece)
            piece = []


def _numbers(axis: Axis) -> Floats:
    return np.array([setting.number for setting in axis.settings])


def _as_runs(lines: tuple[tuple[Place, ...], ...]) -> tuple[Run, ...]:
    return tuple(_run("", line) for line in sorted(lines, key=len, reverse=True))


def _run(name: str, places: list[Place] | tuple[Place, ...]) -> Run:
    return Run(name, np.array([x for x, _ in places]), np.array([y for _, y in places]))
