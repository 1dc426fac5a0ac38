"""The sessions of a workshop that builds all kits: which step on which kits, when and at which bench."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from dossier.calc.shop.sittings import Job, Sitting, least_sessions, sittings
from dossier.design.machines import attended_minutes, machine_minutes, taken_minutes
from dossier.design.model import Design
from dossier.spec.steps import Step

# Where the spec does not say: from one evening to the next morning.
APART_MIN = 720.0
# Parts that are got so are single things of a kit, which two steps do not have in hand at once.
_SINGLE = frozenset({"make", "print"})


@dataclass(frozen=True, slots=True)
class Slot:
    """One step on some kits at once, all of them from the same minute of the same session. ``machine_min`` is for how
    long the bench is taken after it by a machine that works on by itself; 0 before the last of several sittings."""

    step: Step
    kits: tuple[int, ...]
    start_min: float
    end_min: float
    people: int
    machine_min: float = 0.0


@dataclass(frozen=True, slots=True)
class Session:
    """One session: its number from 1, its slots in order, how many of its people's minutes are used.

    ``light`` is what it must be held by, empty where it does not matter; ``pause_min`` how long after the session
    before it is opened, where that is longer than the workshop's own pause because something dries or a machine works;
    else 0.
    """

    number: int
    slots: tuple[Slot, ...]
    worked_min: float
    light: str
    pause_min: float

    @property
    def busiest(self) -> int:
        """The most people who are at work at once."""
        return max(sum(slot.people for slot in self.slots if slot.start_min <= each.start_min < slot.end_min - 1e-6)
                   for each in self.slots)


@dataclass(frozen=True, slots=True)
class WorkshopPlan:
    """All sessions, ``apart_min`` at least from the end of one to the beginning of the next. ``least`` is how many no
    plan can do without; ``untimed`` are steps that no time is given for."""

    sessions: tuple[Session, ...]
    least: int
    session_min: float
    apart_min: float
    people: int
    kits: int
    untimed: tuple[Step, ...]


def workshop_plan(design: Design) -> WorkshopPlan | None:
    """The sessions for all kits. None where the spec says nothing of a workshop, or no step has a time.

    Raises Unusable where a step's machine time cannot be worked out.
    """
    workshop = design.build.workshop
    timed = [step for step in design.steps if step.minutes]
    if workshop is None or not timed:
        return None
    jobs, kits = tuple(_jobs(design, timed)), design.workshop_kits
    apart = APART_MIN if workshop.apart is None else workshop.apart
    places = {bench.name: bench.places for bench in workshop.benches}
    for step in timed:
        places.setdefault(step.bench, kits * len(timed))
    found, least = _found(jobs, kits, workshop.session, workshop.people, tuple(places.items()), apart)
    lasts = frozenset({(each.job, each.kit): each for each in found}.values())
    sessions, closed = [], None
    for number, grouped in groupby(found, key=lambda each: each.session):
        sat = tuple(grouped)
        pause = 0.0 if closed is None else sat[0].opens_min - closed
        closed = sat[0].opens_min + workshop.session
        sessions.append(_session(number, sat, lasts, timed, jobs, pause if pause > apart + 1e-6 else 0.0))
    return WorkshopPlan(tuple(sessions), least, workshop.session, apart, workshop.people, kits,
                        tuple(step for step in design.steps if not step.minutes))


@lru_cache(maxsize=16)
def _found(jobs: tuple[Job, ...], kits: int, session_min: float, people: int, places: tuple[tuple[str, int], ...],
           apart_min: float) -> tuple[tuple[Sitting, ...], int]:
    return (sittings(jobs, kits, session_min, people, dict(places), apart_min),
            least_sessions(jobs, kits, session_min, people, dict(places)))


def _jobs(design: Design, timed: list[Step]) -> Iterator[Job]:
    at = {step.slug: number for number, step in enumerate(timed)}
    single = {part.ref for part in design.build.parts or () if part.get in _SINGLE}
    for step in timed:
        needs = sorted({at[slug] for slug in _before(step, design.steps, at)})
        yield Job(step.minutes or 0.0, step.people, step.bench, tuple(needs), step.wait_minutes, step.light,
                  taken_minutes(machine_minutes(design, step), attended_minutes(design, step)),
                  frozenset({*step.parts, *step.makes}) & single)


def _before(step: Step, steps: tuple[Step, ...], timed: Mapping[str, int]) -> Iterator[str]:
    """The timed steps that this one waits for: those that it needs, and those that make a part which it uses. Through
    one without a time it waits for what that one waits for."""
    for other in steps[:steps.index(step)]:
        if other.slug in step.needs or set(other.makes) & set(step.parts):
            if other.slug in timed:
                yield other.slug
            else:
                yield from _before(other, steps, timed)


def _session(number: int, sat: tuple[Sitting, ...], lasts: frozenset[Sitting], steps: list[Step],
             jobs: tuple[Job, ...], pause_min: float) -> Session:
    def together(each: Sitting) -> tuple[float, int, float, bool]:
        return each.start_min, each.job, each.end_min, each in lasts

    slots = []
    for (start, job, end, last), same in groupby(sorted(sat, key=together), key=together):
        kits = tuple(sorted(each.kit + 1 for each in same))
        slots.append(Slot(steps[job], kits, start, end, steps[job].people * len(kits),
                          jobs[job].machine_min if last else 0.0))
    light = next((slot.step.light for slot in slots if slot.step.light), "")
    return Session(number + 1, tuple(slots), sum((slot.end_min - slot.start_min) * slot.people for slot in slots),
                   light, pause_min)
