"""Builders drawn at random, each as near to the plan as its tolerances say, and what comes of their telescopes.

The draw depends on the seed and on each key's name alone: one tolerance more or less, or another number of processes,
leaves the other builders as they were. What a builder's telescope gives is worked out by whichever executor is handed
in; answers are put together in the order of the draw, so that they do not depend on it.
"""

from __future__ import annotations

import math
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np

from dossier.calc.shares import Floats, variance_share
from dossier.design.alternatives import Asked, asked_of
from dossier.design.explore.as_drawn import focus_moves
from dossier.design.explore.asked import judged_in
from dossier.design.explore.crowd import Built, Job, built
from dossier.design.explore.ground import Ground, NoBuild, centre_of, ground_under
from dossier.design.model import Design
from dossier.design.worksheet import NotSaid
from dossier.errors import Problem, Unusable, did_you_mean
from dossier.expressions import NameProblem
from dossier.spec.ranges import Tolerance, read_tolerance
from dossier.working import NoAnswer, Result

MOST_BUILDERS = 1_000_000
# Of the builders that miss a limit, so many are built again with one tolerance made perfect.
BUILT_AGAIN = 200
_CHUNK = 100
# What a publish has time for.
ON_A_PAGE, AGAIN_ON_A_PAGE = 300, 40
_NUMBER = re.compile(r"[-−]?\d+(\.\d+)?(e[-+]?\d+)?")
QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)


@dataclass(frozen=True, slots=True)
class Spoiler:
    """What one tolerance does to one result: its share of the variance; and of the builders looked at that miss the
    limit, how many would meet it if this one value were as planned."""

    key: str
    variance_share: float
    recovered: int = 0
    of: int = 0

    @property
    def recovered_share(self) -> float:
        """Share of the misses that would be recovered; 0 where there are none."""
        return self.recovered / self.of if self.of else 0.0


@dataclass(frozen=True, slots=True)
class GoalShare:
    """One result over all builders.

    ``planned`` is the plan's, with its goal. ``met`` of ``drawn`` builders meet the goal; it is None for a result
    without one. ``quantiles`` are those of QUANTILES, ``least`` and ``most`` the extremes, over the builders that have
    the result; not numbers where none has. ``spoilers`` begin with the worst.
    """

    planned: Result
    met: int | None
    drawn: int
    quantiles: tuple[float, ...]
    least: float
    most: float
    spoilers: tuple[Spoiler, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """All builders: how many, from which seed, by which tolerances about which ``centres``.

    ``met_all`` meet every goal that the tolerances touch. ``unusable`` counts those whose telescope cannot be built,
    by reason; they meet nothing. ``untouched`` are the goals that no tolerance touches, as planned. ``values`` are all
    answers, builders × results in the order of ``shares``.
    """

    count: int
    seed: int
    tolerances: tuple[Tolerance, ...]
    centres: tuple[float, ...]
    shares: tuple[GoalShare, ...]
    met_all: int
    unusable: Mapping[str, int]
    untouched: tuple[Result, ...]
    values: Floats = field(compare=False, repr=False, default_factory=lambda: np.zeros((0, 0)))


class InPlace(Executor):
    """An executor that does each task where it is asked, at once."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


def draw_builders(ground: Ground, count: int, seed: int = 0, *, show: Sequence[str] = (),
                  executor: Executor | None = None, again: int = BUILT_AGAIN) -> Drawn:
    """Draw so many builders and work out what their telescopes give for ``show``, or where that is empty for the
    results with the author's limits, else with the usual ones.

    Of those that miss a limit, the first ``again`` are built again with each tolerance made perfect in turn.
    ``executor`` does the work: any ``concurrent.futures.Executor``, so also a cluster's; in place where it is None. It
    is handed functions of this package with bytes and lists of numbers, and the answers are the same with any.
    Raises Unusable with every problem.
    """
    tolerances, centres = _tolerances(ground, show)
    drawn_out, moves = focus_moves(ground, tuple(each.key for each in tolerances))
    at_centre = {**dict(zip((each.key for each in tolerances), centres, strict=True)), **drawn_out}
    try:
        wanted = tuple(dict.fromkeys(show)) or judged_in(ground)
        settled = ground.settled(at_centre, wanted)
    except NoBuild as why:
        raise Unusable([ground.loaded.problem("", f"as planned: {why}")]) from None
    planned = {name: result for name, result in settled.results.items() if not isinstance(result.value, tuple)}
    shown = tuple(name for name in planned if name in settled.reached)
    job = Job(ground.loaded, ground.kits, at_centre, shown)
    offsets = draws(tolerances, count, seed)
    team = _Team(job, np.array(list(at_centre.values())), moves, executor or InPlace())
    crowd = team.build(offsets)
    return Drawn(count, seed, tolerances, tuple(centres),
                 tuple(_shares(planned, shown, crowd, offsets, tolerances, team, again)),
                 int(crowd.met.all(axis=1).sum()), _reasons(crowd),
                 tuple(result for name, result in planned.items() if name not in settled.reached), crowd.values)


def builders_of(design: Design) -> Drawn | None:
    """A modest crowd for a page, from the plan; None where the spec has no tolerances. Raises Unusable."""
    planned = design.planned or design
    return _on_a_page(asked_of(planned)) if planned.build.tolerances else None


@lru_cache(maxsize=2)
def _on_a_page(asked: Asked) -> Drawn:
    return draw_builders(ground_under(asked.design), ON_A_PAGE, again=AGAIN_ON_A_PAGE)


def own_executor(count: int) -> Executor:
    """As many processes as there are processors for a crowd that is worth starting them, else in place.

    Processes are started afresh, so that none inherits another's threads.
    """
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    processors = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if processors < 2 or count < 1000:
        return InPlace()
    return ProcessPoolExecutor(processors, mp_context=get_context("spawn"))


def draws(tolerances: Sequence[Tolerance], count: int, seed: int) -> Floats:
    """How far each builder's values lie from the plan, builders × tolerances, each in its own unit.

    A key has a stream of chance of its own, and its first builders are the same however many are drawn.
    """
    columns = []
    for each in tolerances:
        chance = np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, *each.key.encode()])))
        columns.append(each.size / 2 * chance.standard_normal(count) if each.normal
                       else each.size * (2 * chance.random(count) - 1))
    return np.stack(columns, axis=1)


def _tolerances(ground: Ground, show: Sequence[str]) -> tuple[tuple[Tolerance, ...], tuple[float, ...]]:
    """The spec's tolerances and the values that they lie about. Raises Unusable where one lies about nothing."""
    loaded, sheet = ground.loaded, ground.sheet({})
    problems = [Problem("--show", 0, name, f"no result has this name{did_you_mean(name, ground.plan)}")
                for name in show if name not in ground.plan]
    tolerances = tuple(read_tolerance(key, said) for key, said in loaded.build.tolerances.items())
    if not tolerances:
        problems.append(loaded.problem("tolerances", "is not in this spec, and no builder can be drawn without; say "
                                                     "how far each value may lie off, such as {primary.focal_length: "
                                                     "6 mm}"))
    centres = []
    for each in tolerances:
        try:
            centres.append(centre_of(sheet, each.key))
        except (NotSaid, NoAnswer):
            problems.append(loaded.problem(f"tolerances.{each.key}", "has a tolerance and no value to lie about; say "
                                                                     f"{each.key}"))
        except (NameProblem, ValueError, ArithmeticError) as error:
            problems.append(loaded.problem(f"tolerances.{each.key}", str(error)))
    if problems:
        raise Unusable(problems)
    return tolerances, tuple(centres)


@dataclass(frozen=True, slots=True)
class _Crowd:
    """What builders' telescopes give: builders × results; ``met`` is 1 where a goal is met or none is set."""

    values: Floats
    met: Any
    reasons: tuple[str, ...]


class _Team:
    """Whoever works builders out."""

    def __init__(self, job: Job, centres: Floats, moves: Floats, executor: Executor) -> None:
        self.job, self.centres, self.moves, self.executor = job, centres, moves, executor
        self._pickled = job.pickled()

    def build(self, offsets: Floats) -> _Crowd:
        """Builders whose values lie so far from the plan, in their order."""
        rows = (self.centres + offsets @ self.moves).tolist()
        tasks = [self.executor.submit(built, self._pickled, rows[at:at + _CHUNK]) for at in range(0, len(rows), _CHUNK)]
        answers: list[Built] = [answer for task in tasks for answer in task.result()]
        width = len(self.job.shown)
        return _Crowd(np.array([answer.values for answer in answers], dtype=float).reshape(-1, width),
                      np.array([answer.met for answer in answers], dtype=bool).reshape(-1, width),
                      tuple(answer.unusable for answer in answers))


def _shares(planned: Mapping[str, Result], shown: Sequence[str], crowd: _Crowd, offsets: Floats,
            tolerances: Sequence[Tolerance], team: _Team, again: int) -> Iterator[GoalShare]:
    recovered, missed = _recovered(crowd, offsets, tolerances, team, again)
    for at, name in enumerate(shown):
        values = crowd.values[:, at]
        known = np.isfinite(values)
        told = values[known]
        quantiles = tuple(np.quantile(told, QUANTILES).tolist()) if len(told) else (math.nan,) * len(QUANTILES)
        least, most = (float(told.min()), float(told.max())) if len(told) else (math.nan, math.nan)
        spoilers = [Spoiler(each.key, variance_share(offsets[known, column], told), int(recovered[column, at]),
                            int(missed[at])) for column, each in enumerate(tolerances)]
        spoilers.sort(key=lambda each: (-each.recovered, -each.variance_share))
        met = int(crowd.met[:, at].sum()) if planned[name].goal else None
        yield GoalShare(planned[name], met, len(values), quantiles, least, most, tuple(spoilers))


def _recovered(crowd: _Crowd, offsets: Floats, tolerances: Sequence[Tolerance], team: _Team, most: int,
               ) -> tuple[Any, Any]:
    """How many builders that miss a goal would meet it if one tolerance were perfect, tolerances × results; and how
    many that miss each were looked at: the first so many that miss anything."""
    width = crowd.met.shape[1]
    missing = np.flatnonzero(~crowd.met.all(axis=1))[:most]
    looked = ~crowd.met[missing]
    found = np.zeros((len(tolerances), width), dtype=int)
    if len(missing):
        again = np.repeat(offsets[missing][None], len(tolerances), axis=0)
        for column in range(len(tolerances)):
            again[column, :, column] = 0.0
        met = team.build(again.reshape(-1, len(tolerances))).met.reshape(len(tolerances), len(missing), width)
        found = (met & looked).sum(axis=1)
    return found, looked.sum(axis=0)


def _reasons(crowd: _Crowd) -> dict[str, int]:
    """Why telescopes cannot be built, in the words of the first builder who meets each reason; their numbers differ."""
    first: dict[str, str] = {}
    counted: Counter[str] = Counter()
    for reason in filter(None, crowd.reasons):
        alike = _NUMBER.sub("", reason)
        counted[first.setdefault(alike, reason)] += 1
    return dict(sorted(counted.items(), key=lambda each: (-each[1], each[0])))
