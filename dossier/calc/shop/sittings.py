"""A workshop's sessions: who does what at which bench, so that many kits are built side by side.

Times in minutes. A job is one build step on one kit. Each takes its people and a place at its bench for its time, after
the jobs on the same kit that it needs, and after what glue or paint of theirs takes to dry. Jobs on one kit that do not
need one another may go on at once, at two benches or at one, unless both hold the same thing. A job longer than a
session is done in as many equal sittings as it takes; one that is not is done in one. A machine works on by itself when
the hands of a job have done, also between sessions: until then its place is taken and what needs the job waits. A
session is held by daylight or by night where a job in it asks for either.
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
    ``daylight`` or ``night``; empty where it does not matter. For ``machine_min`` after its last sitting the place at
    its bench is taken and the job not done, though nobody need be there. Jobs that have one of ``holds`` in common
    are not done on one kit at the same time.
    """

    minutes: float
    people: int = 1
    bench: str = ""
    needs: tuple[int, ...] = ()
    wait_min: float = 0.0
    light: str = ""
    machine_min: float = 0.0
    holds: frozenset[str] = frozenset()


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

    Between the end of a session and the next one's opening lie ``apart_min`` at least, and as much more as glue or a
    machine wants where nothing else is left to do. Whoever is free takes the first job that can be begun and ended
    before the session does. Which is the first is settled in three ways: the earliest step, the first kit, what most
    hangs on; the plan of fewest sessions is taken, of those the soonest done. This is quick and fair, and not proved
    to be the least number of sessions; ``least_sessions`` bounds it. Raises ValueError where a job wants more people
    than there are, or a bench that has no place.
    """
    _check(jobs, kits, session_min, people, places)
    after = _hanging_on(jobs)
    turns = ([(number, kit) for number in range(len(jobs)) for kit in range(kits)],
             [(number, kit) for kit in range(kits) for number in range(len(jobs))],
             [(number, kit) for number in sorted(range(len(jobs)), key=lambda each: (-after[each], each))
              for kit in range(kits)])
    plans = [_taken_in_turn(turn, jobs, session_min, people, places, apart_min) for turn in turns]
    return min(plans, key=lambda plan: (plan[-1].session, plan[-1].opens_min, max(
        each.end_min for each in plan if each.session == plan[-1].session)) if plan else (0, 0.0, 0.0))


def _hanging_on(jobs: Sequence[Job]) -> list[float]:
    """Minutes of each job and of the longest chain of jobs after it, with what works and dries meanwhile."""
    after = [0.0] * len(jobs)
    for number in range(len(jobs) - 1, -1, -1):
        after[number] += jobs[number].minutes + _alone(jobs[number])
        for need in jobs[number].needs:
            after[need] = max(after[need], after[number])
    return after


def _alone(job: Job) -> float:
    """Minutes from the end of a job's last sitting until what needs it can be begun."""
    return job.machine_min + job.wait_min


def _taken_in_turn(turn: Sequence[tuple[int, int]], jobs: Sequence[Job], session_min: float, people: int,
                   places: Mapping[str, int], apart_min: float) -> tuple[Sitting, ...]:
    plan = _Plan(jobs, session_min, people, places, {each: _sittings_of(jobs[each[0]], session_min) for each in turn})
    done: list[Sitting] = []
    opens = 0.0
    while plan.left:
        opens = max(opens, min(begins for number, kit in plan.left
                               if (begins := plan.begins(number, kit)) is not None))
        done += plan.session(done[-1].session + 1 if done else 0, opens)
        opens += session_min + apart_min
    return tuple(done)


def _sittings_of(job: Job, session_min: float) -> int:
    return max(1, math.ceil(job.minutes / session_min - _EDGE))


@dataclass(slots=True)
class _Plan:
    """What is ``left`` to do, in the order in which it is taken, how many sittings of each job on each kit; when what
    is done was ``ended``, and until when ``machines`` work on at each bench, from the first session's opening."""

    jobs: Sequence[Job]
    length: float
    people: int
    places: Mapping[str, int]
    left: dict[tuple[int, int], int]
    ended: dict[tuple[int, int], float] = field(default_factory=dict)
    machines: dict[str, list[float]] = field(default_factory=dict)

    def begins(self, number: int, kit: int) -> float | None:
        """From when on this job can be begun on this kit, as far as what it needs and the machines at its bench go;
        None while something that it needs is to be done."""
        job = self.jobs[number]
        if any((need, kit) in self.left for need in job.needs):
            return None
        ready = max((self.ended[need, kit] + self.jobs[need].wait_min for need in job.needs), default=0.0)
        taken = [until for until in self.machines.get(job.bench, ()) if until > ready + _EDGE]
        spare = self.places[job.bench] - len(taken) if taken else 1
        return ready if spare > 0 else sorted(taken)[-spare]

    def session(self, session: int, opens: float) -> list[Sitting]:
        """One session: sittings are begun whenever somebody is free, something has dried or a machine has done."""
        now, light = 0.0, ""
        running: list[tuple[float, int, int]] = []
        sat: list[Sitting] = []
        while True:
            later = math.inf
            for number, kit in tuple(self.left):
                job, begins = self.jobs[number], self.begins(number, kit)
                end = now + job.minutes / _sittings_of(job, self.length)
                if begins is None or end > self.length + _EDGE or (light and job.light and light != job.light):
                    continue
                if begins > opens + now + _EDGE:
                    later = min(later, begins - opens)
                elif self._is_free(running, number, kit, opens + now):
                    heapq.heappush(running, (end, number, kit))
                    sat.append(Sitting(number, kit, session, now, end, opens))
                    light = light or job.light
            if running and running[0][0] <= later:
                now, number, kit = heapq.heappop(running)
                self._end(number, kit, opens + now)
            elif later <= self.length:
                now = later
            else:
                return sat

    def _is_free(self, running: Sequence[tuple[float, int, int]], number: int, kit: int, when: float) -> bool:
        """Whether hands, bench and all that the job holds are free, and the job itself is not being done."""
        job, at_work = self.jobs[number], [self.jobs[other] for _, other, _ in running]
        if any(other_kit == kit and (other == number or self.jobs[other].holds & job.holds)
               for _, other, other_kit in running):
            return False
        taken = sum(other.bench == job.bench for other in at_work) + sum(
            until > when + _EDGE for until in self.machines.get(job.bench, ()))
        return (sum(other.people for other in at_work) + job.people <= self.people
                and (not job.bench or taken < self.places[job.bench]))

    def _end(self, number: int, kit: int, when: float) -> None:
        job = self.jobs[number]
        self.left[number, kit] -= 1
        if not self.left[number, kit]:
            del self.left[number, kit]
            self.ended[number, kit] = when + job.machine_min
            if job.machine_min and job.bench:
                self.machines.setdefault(job.bench, []).append(when + job.machine_min)


def least_sessions(jobs: Sequence[Job], kits: int, session_min: float, people: int, places: Mapping[str, int]) -> int:
    """Sessions that no plan can do without: by all hands, by the hands for each light, by each bench and the machines
    at it, and by the longest chain on one kit, with what works on or dries in it and what is done in the dark."""
    def share(work: float, hands: int) -> int:
        return math.ceil(work * kits / (hands * session_min) - _EDGE)

    lights = {job.light for job in jobs if job.light}
    by_light = sum(share(sum(job.minutes * job.people for job in jobs if job.light == light), people)
                   for light in lights)
    benches = [share(sum(job.minutes for job in jobs if job.bench == bench), count)
               for bench, count in places.items() if count]
    machines = [_behind_machines(jobs, kits, session_min, bench, count) for bench, count in places.items() if count]
    hands = share(sum(job.minutes * job.people for job in jobs), people)
    return max(1, hands, by_light, *benches, *machines, _longest_chain(jobs, session_min))


def _behind_machines(jobs: Sequence[Job], kits: int, session_min: float, bench: str, places: int) -> int:
    """Sessions for a bench's jobs whose machines take their place for the rest of the session in which their hands have
    done, because not even the shortest sitting fits in behind them. A place sees at most one such in a session; before
    the first and after the last of them comes what their kits need besides."""
    lasts = {number: job.minutes / _sittings_of(job, session_min)
             for number, job in enumerate(jobs) if job.bench == bench}
    blocking = [number for number, last in lasts.items() if jobs[number].machine_min
                and last + jobs[number].machine_min + min(lasts.values()) > session_min + _EDGE]
    if not blocking:
        return 1
    stands = _stands(jobs, session_min)
    before = min(stands[number][0] for number in blocking) - 1
    after = min(_sessions_after(jobs, session_min, number, lasts[number]) for number in blocking)
    return before + math.ceil(kits * len(blocking) / places) + after


def _sessions_after(jobs: Sequence[Job], session_min: float, number: int, last_min: float) -> int:
    """Further sessions that what needs this job takes on the same kit, where its last sitting begins a session."""
    stands: dict[int, _Stand] = {number: (1, last_min, jobs[number].light)}
    for other, job in enumerate(jobs):
        before = [_dried(stands[need], _alone(jobs[need])) for need in job.needs if need in stands]
        if before:
            stands[other] = max(_done(stand, job, session_min) for stand in before)
    return max(stand[0] for stand in stands.values()) - 1


# Where a kit stands at the earliest: sessions begun, minutes into the last, the light of that session.
_Stand = tuple[int, float, str]


def _longest_chain(jobs: Sequence[Job], session_min: float) -> int:
    """Sessions that one kit takes with all hands and benches free. To be earlier at one job is never to be later at
    the next, so that each job begins as early as its chain lets it."""
    return max((stand[0] for stand in _stands(jobs, session_min)), default=1)


def _stands(jobs: Sequence[Job], session_min: float) -> list[_Stand]:
    """Where a kit stands after each job, at the earliest."""
    stands: list[_Stand] = []
    for job in jobs:
        before = [_dried(stands[need], _alone(jobs[need])) for need in job.needs]
        stands.append(max((_done(stand, job, session_min) for stand in before), default=_done((1, 0.0, ""), job,
                                                                                             session_min)))
    return stands


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
        if not (job.machine_min >= 0 and math.isfinite(job.machine_min)):
            raise ValueError(f"the machine of job {number + 1} wants a time of zero or above (got {job.machine_min:g})")
        if any(not 0 <= need < number for need in job.needs):
            raise ValueError(f"job {number + 1} needs one that does not come before it")
