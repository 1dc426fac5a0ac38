"""The sessions of a workshop that builds all kits: which step on which kits, when and at which bench."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from dossier.calc.shop.sittings import Job, Sitting, least_sessions, sittings
from dossier.design.model import Design
from dossier.spec.steps import Step

# Where the spec does not say: from one evening to the next morning.
APART_MIN = 720.0


@dataclass(frozen=True, slots=True)
class Slot:
    """One step on some kits at once, all of them from the same minute of the same session."""

    step: Step
    kits: tuple[int, ...]
    start_min: float
    end_min: float
    people: int


@dataclass(frozen=True, slots=True)
class Session:
    """One session: its number from 1, its slots in order, how many of its people's minutes are used.

    ``light`` is what it must be held by, empty where it does not matter; ``pause_min`` how long after the session
    before it is opened, where that is longer than the workshop's own pause because something dries; else 0.
    """

    number: int
    slots: tuple[Slot, ...]
    worked_min: float
    light: str
    pause_min: float


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
    """The sessions for all kits. None where the spec says nothing of a workshop, or no step has a time."""
    workshop = design.build.workshop
    timed = [step for step in design.steps if step.minutes]
    if workshop is None or not timed:
        return None
    at = {step.slug: number for number, step in enumerate(timed)}
    jobs = [Job(step.minutes or 0.0, step.people, step.bench, tuple(at[need] for need in step.needs if need in at),
                step.wait_minutes, step.light) for step in timed]
    places = {bench.name: bench.places for bench in workshop.benches}
    for step in timed:
        places.setdefault(step.bench, design.kits * len(timed))
    apart = APART_MIN if workshop.apart is None else workshop.apart
    found = sittings(jobs, design.kits, workshop.session, workshop.people, places, apart)
    sessions, closed = [], None
    for number, grouped in groupby(found, key=lambda each: each.session):
        sat = tuple(grouped)
        pause = 0.0 if closed is None else sat[0].opens_min - closed
        closed = sat[0].opens_min + workshop.session
        sessions.append(_session(number, sat, timed, pause if pause > apart + 1e-6 else 0.0))
    benches = {bench.name: bench.places for bench in workshop.benches}
    return WorkshopPlan(tuple(sessions), least_sessions(jobs, design.kits, workshop.session, workshop.people, benches),
                        workshop.session, apart, workshop.people, design.kits,
                        tuple(step for step in design.steps if not step.minutes))


def _session(number: int, sat: tuple[Sitting, ...], steps: list[Step], pause_min: float) -> Session:
    def together(each: Sitting) -> tuple[float, int, float]:
        return each.start_min, each.job, each.end_min

    slots = []
    for (start, job, end), same in groupby(sorted(sat, key=together), key=together):
        kits = tuple(sorted(each.kit + 1 for each in same))
        slots.append(Slot(steps[job], kits, start, end, steps[job].people * len(kits)))
    light = next((slot.step.light for slot in slots if slot.step.light), "")
    return Session(number + 1, tuple(slots), sum((slot.end_min - slot.start_min) * slot.people for slot in slots),
                   light, pause_min)
