"""A workshop's sessions: who does what at which bench, so that many kits are built side by side.

Times in minutes. A job is one build step on one kit. Each takes its people and a place at its bench for its time, after
the jobs on the same kit that it needs, and after what glue or paint of theirs takes to dry. A job longer than a session
is done in as many equal sittings as it takes; one that is not is done in one. A session is held by daylight or by
night where a job in it asks for either.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

_EDGE = 1e-9


@dataclass(frozen=True, slots=True)
class Job:
    """One build step on one kit. ``needs`` are numbers of earlier jobs; a bench without a name has room for all.

    ``wait_min`` must pass after it before what needs it is begun. ``light`` is what it is done by, such as
    ``daylight`` or ``night``; empty where it does not matter.
    """

    minutes: float
    people: int = 1
    bench: str = ""
    needs: tuple[int, ...] = ()
    wait_min: float = 0.0
    light: str = ""


@dataclass(frozen=True, slots=True)
class Sitting:
    """A job, or a part of it, on one kit: both counted from 0; in which session, from when to when. ``opens_min`` is
    when the session is opened, counted from the first one's opening."""

    job: int
    kit: int
    session: int
    start_min: float
    end_min: float
    opens_min: float = 0.0


def sittings(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int],
             apart_min: float = 0.0) -> tuple[Sitting, ...]:
    """All jobs on all kits, packed into sessions of this length in the order in which they begin.

    Between the end of a session and the next one's opening lie ``apart_min`` at least, and as much more as glue wants
    where nothing else is left to do. Whoever is free takes the earliest job that can be begun and ended before the
    session does, the first kit before the second. This is quick and fair, and not proved to be the least number of
    sessions; ``least_sessions`` bounds it. Raises ValueError where a job wants more people than there are, or a bench
    that has no place.
    """
    _check(jobs, kits, session_min, people, places)
    plan = _Plan(jobs, session_min, people, places, {
        (number, kit): _sittings_of(job, session_min) for number, job in enumerate(jobs) for kit in range(kits)})
    done: list[Sitting] = []
    opens = 0.0
    while plan.left:
        opens = max(opens, min(ready for number, kit in plan.left
                               if (ready := plan.ready(number, kit)) is not None))
        done += plan.session(done[-1].session + 1 if done else 0, opens)
        opens += session_min + apart_min
    return tuple(done)


def _sittings_of(job: Job, session_min: float) -> int:
    return max(1, math.ceil(job.minutes / session_min - _EDGE))


@dataclass(slots=True)
class _Plan:
    """What is ``left`` to do, how many sittings of each job on each kit; when what is done was ``ended``, from the
    first session's opening."""

    jobs: Sequence[Job]
    length: float
    people: int
    places: Mapping[str, int]
    left: dict[tuple[int, int], int]
    ended: dict[tuple[int, int], float] = field(default_factory=dict)

    def ready(self, number: int, kit: int) -> float | None:
        """From when on this job can be begun on this kit; None while something that it needs is to be done."""
        needs = self.jobs[number].needs
        if any((need, kit) in self.left for need in needs):
            return None
        return max((self.ended[need, kit] + self.jobs[need].wait_min for need in needs), default=0.0)

    def session(self, session: int, opens: float) -> list[Sitting]:
        """One session: sittings are begun whenever somebody is free, or something has dried."""
        now, light = 0.0, ""
        running: list[tuple[float, int, int]] = []
        sat: list[Sitting] = []
        while True:
            dries = math.inf
            for number, kit in sorted(self.left):
                job, ready = self.jobs[number], self.ready(number, kit)
                end = now + job.minutes / _sittings_of(job, self.length)
                if ready is None or end > self.length + _EDGE or (light and job.light and light != job.light):
                    continue
                if ready > opens + now + _EDGE:
                    dries = min(dries, ready - opens)
                elif self._is_free(running, job, kit):
                    heapq.heappush(running, (end, number, kit))
                    sat.append(Sitting(number, kit, session, now, end, opens))
                    light = light or job.light
            if running and running[0][0] <= dries:
                now, number, kit = heapq.heappop(running)
                self._end(number, kit, opens + now)
            elif dries <= self.length:
                now = dries
            else:
                return sat

    def _is_free(self, running: Sequence[tuple[float, int, int]], job: Job, kit: int) -> bool:
        """Whether kit, hands and bench are free."""
        at_work = [self.jobs[other] for _, other, _ in running]
        return (all(other_kit != kit for _, _, other_kit in running)
                and sum(other.people for other in at_work) + job.people <= self.people
                and (not job.bench or sum(other.bench == job.bench for other in at_work) < self.places[job.bench]))

    def _end(self, number: int, kit: int, when: float) -> None:
        self.left[number, kit] -= 1
        if not self.left[number, kit]:
            del self.left[number, kit]
            self.ended[number, kit] = when


def least_sessions(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int]) -> int:
    """Sessions that no plan can do without: by all hands, by the hands for each light, by each bench, and by the
    longest chain on one kit, with what has to dry in it and what is done in the dark."""
    def share(work: float, hands: int) -> int:
        return math.ceil(work * kits / (hands * session_min) - _EDGE)

    lights = {job.light for job in jobs if job.light}
    by_light = sum(share(sum(job.minutes * job.people for job in jobs if job.light == light), people)
                   for light in lights)
    benches = [share(sum(job.minutes for job in jobs if job.bench == bench), count)
               for bench, count in places.items() if count]
    hands = share(sum(job.minutes * job.people for job in jobs), people)
    return max(1, hands, by_light, *benches, _longest_chain(jobs, session_min))


# Where a kit stands at the earliest: sessions begun, minutes into the last, the light of that session.
_Stand = tuple[int, float, str]


def _longest_chain(jobs: Sequence[Job], session_min: float) -> int:
    """Sessions that one kit takes with all hands and benches free. To be earlier at one job is never to be later at
    the next, so that each job begins as early as its chain lets it."""
    stands: list[_Stand] = []
    for job in jobs:
        before = [_dried(stands[need], jobs[need].wait_min) for need in job.needs]
        stands.append(max((_done(stand, job, session_min) for stand in before), default=_done((1, 0.0, ""), job,
                                                                                             session_min)))
    return max((stand[0] for stand in stands), default=1)


def _dried(stand: _Stand, wait_min: float) -> _Stand:
    return stand[0], stand[1] + wait_min, stand[2]


def _done(stand: _Stand, job: Job, session_min: float) -> _Stand:
    session, now, light = stand
    count = _sittings_of(job, session_min)
    for _ in range(count):
        if now + job.minutes / count > session_min + _EDGE or (light and job.light and light != job.light):
            session, now, light = session + 1, 0.0, ""
        now, light = now + job.minutes / count, light or job.light
    return session, now, light


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
