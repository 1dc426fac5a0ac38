"""A workshop's sessions: who does what at which bench, so that many kits are built side by side.

Times in minutes. A job is one build step on one kit. Each takes its people and a place at its bench for its time, after
the jobs on the same kit that it needs. A job longer than a session is done in as many equal sittings as it takes.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Job:
    """One build step on one kit. ``needs`` are numbers of earlier jobs; a bench without a name has room for all."""

    minutes: float
    people: int = 1
    bench: str = ""
    needs: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Sitting:
    """A job, or a part of it, on one kit: both counted from 0; in which session, from when to when."""

    job: int
    kit: int
    session: int
    start_min: float
    end_min: float


def sittings(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int],
             ) -> tuple[Sitting, ...]:
    """All jobs on all kits, packed into sessions of this length in the order in which they begin.

    Whoever is free takes the earliest job that can be begun and ended before the session does, the first kit before
    the second. This is quick and fair, and not proved to be the least number of sessions; ``least_sessions`` bounds it.
    Raises ValueError where a job wants more people than there are, or a bench that has no place.
    """
    _check(jobs, kits, session_min, people, places)
    parts = [max(1, math.ceil(job.minutes / session_min - 1e-9)) for job in jobs]
    left = {(number, kit): parts[number] for number in range(len(jobs)) for kit in range(kits)}
    done: list[Sitting] = []
    session = 0
    while left:
        before = len(done)
        done += _session(jobs, parts, left, session, session_min, people, places)
        if len(done) == before:
            raise ValueError("the steps need one another in a circle")
        session += 1
    return tuple(done)


def _session(jobs: Sequence[Job], parts: Sequence[int], left: dict[tuple[int, int], int], session: int, length: float,
             people: int, places: Mapping[str, int]) -> list[Sitting]:
    """One session: sittings are begun whenever somebody is free; ``left`` is told what has been done."""
    now = 0.0
    running: list[tuple[float, int, int]] = []
    sat: list[Sitting] = []
    while True:
        for number, kit in sorted(left):
            end = now + jobs[number].minutes / parts[number]
            if end <= length + 1e-9 and _can_begin(jobs, left, running, number, kit, people, places):
                heapq.heappush(running, (end, number, kit))
                sat.append(Sitting(number, kit, session, now, end))
        if not running:
            return sat
        now, number, kit = heapq.heappop(running)
        left[number, kit] -= 1
        if not left[number, kit]:
            del left[number, kit]


def _can_begin(jobs: Sequence[Job], left: Mapping[tuple[int, int], int], running: Sequence[tuple[float, int, int]],
               number: int, kit: int, people: int, places: Mapping[str, int]) -> bool:
    """Whether this job on this kit can be begun now: what it needs is done, kit, hands and bench are free."""
    job, at_work = jobs[number], [jobs[other] for _, other, _ in running]
    return (all((need, kit) not in left for need in job.needs)
            and all(other_kit != kit for _, _, other_kit in running)
            and sum(other.people for other in at_work) + job.people <= people
            and (not job.bench or sum(other.bench == job.bench for other in at_work) < places[job.bench]))


def least_sessions(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int]) -> int:
    """Sessions that no plan can do without: by all hands, by each bench, and by the longest chain on one kit."""
    hands = sum(job.minutes * job.people for job in jobs) * kits / (people * session_min)
    benches = [sum(job.minutes for job in jobs if job.bench == bench) * kits / (count * session_min)
               for bench, count in places.items() if count]
    chain: list[float] = []
    for job in jobs:
        chain.append(job.minutes + max((chain[need] for need in job.needs), default=0.0))
    return max(1, math.ceil(max([hands, *benches, max(chain, default=0.0) / session_min]) - 1e-9))


def _check(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int]) -> None:
    if not (kits >= 1 and people >= 1 and session_min > 0 and math.isfinite(session_min)):
        raise ValueError("a workshop wants at least one kit, one person and some time")
    for number, job in enumerate(jobs):
        if job.people > people:
            raise ValueError(f"job {number + 1} wants {job.people} people, and there are {people}")
        if job.bench and places.get(job.bench, 0) < 1:
            raise ValueError(f"there is no place at the bench {job.bench!r}")
        if not (job.minutes > 0 and math.isfinite(job.minutes)):
            raise ValueError(f"job {number + 1} wants a time above zero (got {job.minutes:g} min)")
        if any(not 0 <= need < number for need in job.needs):
            raise ValueError(f"job {number + 1} needs one that does not come before it")
