"""Many builds of one plan, worked out one after the other: what a worker process does.

A job is pickled once and unpickled once in each process; a task is a list of numbers, and so is its answer.
"""

from __future__ import annotations

import math
import pickle
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from dossier.design.explore.ground import Ground, NoBuild, ground_of, results_on
from dossier.spec.load import Loaded
from dossier.working import Result


@dataclass(frozen=True, slots=True)
class Job:
    """A plan, the keys whose values differ from builder to builder with the values they lie about, and the results that
    are wanted."""

    loaded: Loaded
    kits: int
    centres: Mapping[str, float]
    shown: tuple[str, ...]

    def pickled(self) -> bytes:
        """The job as bytes, which any process of this program can take up."""
        return pickle.dumps(self, protocol=5)


@dataclass(frozen=True, slots=True)
class Built:
    """One builder's telescope: a value for each result, not a number where there is none; whether its goal is met,
    true where none is set; and why there is no such telescope, if there is none."""

    values: tuple[float, ...]
    met: tuple[bool, ...]
    unusable: str = ""


def built(job: bytes, rows: Sequence[Sequence[float]]) -> list[Built]:
    """What each row of values, in the order of the job's centres, gives."""
    wanted, ground = _taken_up(job)
    return [_built(wanted, ground, row) for row in rows]


@lru_cache(maxsize=2)
def _taken_up(job: bytes) -> tuple[Job, Ground]:
    wanted: Job = pickle.loads(job)  # our own bytes, from the process that asks
    return wanted, ground_of(wanted.loaded, wanted.kits).settled(wanted.centres, wanted.shown).ground


def _built(job: Job, ground: Ground, row: Sequence[float]) -> Built:
    try:
        results, _ = results_on(ground.sheet(dict(zip(job.centres, row, strict=True))), job.shown)
    except NoBuild as why:
        return Built((math.nan,) * len(job.shown), (False,) * len(job.shown), str(why))
    found = [results.get(name) for name in job.shown]
    return Built(tuple(_number(each) for each in found), tuple(_met(each) for each in found))


def _number(result: Result | None) -> float:
    return math.nan if result is None or isinstance(result.value, tuple) else result.value


def _met(result: Result | None) -> bool:
    """A result that is not there meets nothing."""
    return result is not None and (result.goal is None or result.goal.outcome(result.number) != "misses")

