"""What a workshop's leader needs in sentences: how many sessions, and what to look over before a telescope is lent."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from dossier.design import Design
from dossier.design.asides.mount import has_finder
from dossier.design.shopping import workshop_costs
from dossier.design.workshop import Slot, WorkshopPlan, workshop_plan
from dossier.notation import show_result
from dossier.notation.durations import duration, roughly


def sessions(design: Design) -> str:
    """How many sessions all kits take, and why not fewer."""
    plan = workshop_plan(design)
    if plan is None:
        return ""
    when = " ".join((*_machines(plan), *_when(plan)))
    return "\n\n".join(filter(None, (" ".join((*_how_many(plan), *_how_long(plan))), when, _cost(design))))


def _cost(design: Design) -> str:
    """What all kits cost when they are bought for together, beside one alone."""
    found = workshop_costs(design)
    if found is None:
        return ""
    together, each = (show_result(result, design.build.readers).plain for result in found)
    return (f"Bought for together, {design.workshop_kits} kits cost {together}, {each} each; one alone costs "
            "{{ parts.cost }}. The parts sheet has a shopping list for one kit and one for all; as files they are "
            "among the [downloads](downloads.html).")


def _how_many(plan: WorkshopPlan) -> Iterator[str]:
    count, kits = len(plan.sessions), "one kit" if plan.kits == 1 else f"{plan.kits} kits"
    busiest = max(session.busiest for session in plan.sessions)
    yield f"{_number(count, 'session')} of {duration(plan.session_min)} finish {kits}."
    if busiest == plan.people:
        yield f"Where most is done, all {plan.people} people that the workshop has are busy at once."
    else:
        busy = "is" if busiest == 1 else "are"
        yield f"Never more than {_people(busiest)} of the workshop’s {plan.people} {busy} busy at once."
    yield "No plan can do with fewer sessions." if plan.least == count else (
        f"This plan was found by taking turns; none can do with fewer than {plan.least}.")


def _how_long(plan: WorkshopPlan) -> Iterator[str]:
    """By the clock, and in hours of all people together: a step for two takes two of these in an hour."""
    worked = sum(session.worked_min for session in plan.sessions)
    there = len(plan.sessions) * plan.session_min
    each = f", {duration(worked / plan.kits)} for each kit" if plan.kits > 1 else ""
    yield (f"By the clock the sessions last {duration(there)}. In hours of all people together, in which one hour of a "
           f"step for two counts as two, the steps take {duration(worked)}{each}; the rest goes into waiting for a "
           "bench, for glue and for one another.")


def _machines(plan: WorkshopPlan) -> Iterator[str]:
    """What works on between the sessions, and how long it keeps its bench from the next kit."""
    alone = {slot.step.slug: slot for session in plan.sessions for slot in session.slots if slot.machine_min}
    for slot in alone.values():
        step = slot.step
        yield (f"After the hands of step {step.number} have done, its machine works on, and its place at the "
               f"{step.bench} bench is free again {roughly(slot.machine_min)} later; what needs that step waits as "
               f"long{', and so does the next kit' if plan.kits > 1 else ''}.")


def _when(plan: WorkshopPlan) -> Iterator[str]:
    """How far apart the sessions are, and which are held in the dark."""
    slots = [slot for session in plan.sessions for slot in session.slots]
    dries, works = (any(each(slot) for slot in slots) for each in (_dries, _works))
    meanwhile = " and ".join(filter(None, ("glue and paint dry" if dries else "", "machines work on" if works else "")))
    if meanwhile and len(plan.sessions) > 1:
        yield f"From the end of a session to the next {duration(plan.apart_min)} or more go by, in which {meanwhile}."
    for session in plan.sessions:
        if session.pause_min:
            yield (f"Session {session.number} is held {duration(session.pause_min)} after session "
                   f"{session.number - 1} at the earliest: until then something dries, or a machine works, without "
                   "which nothing goes on.")
    dark = [str(session.number) for session in plan.sessions if session.light == "night"]
    if dark:
        yield f"In the dark: session {dark[0]}." if len(dark) == 1 else f"In the dark: sessions {', '.join(dark)}."


def _dries(slot: Slot) -> bool:
    return slot.step.wait_minutes > 0


def _works(slot: Slot) -> bool:
    return slot.machine_min > 0


def lending(design: Design) -> str:
    """What is looked over before a club's telescope goes out and when it comes back: of what this one has."""
    if design.build.workshop is None:
        return ""
    out, back = _items(_out(design)), _items(_back(design))
    return f"Before it goes out, together with whoever borrows it:\n\n{out}\n\n{_AFTER}\n\n{back}"


_AFTER = "When it comes back, before it is put away:"
# Above this, guidance on manual handling wants a second look for many people, even close to the body and at the height
# of the knuckles. Common practice.
_ALONE_KG = 16.0
_LID = re.compile(r"\b(lid|dust cap|cover)\b", re.IGNORECASE)
_BATTERY = re.compile(r"\b(batter(y|ies)|(button|coin|lithium) cells?|power (bank|tank)|red[- ]dot)\b", re.IGNORECASE)


def _items(lines: Iterable[str]) -> str:
    return "\n".join(f"* {line}" for line in lines)


def _out(design: Design) -> Iterator[str]:
    build, results = design.build, design.results
    yield "The borrower has read the safety sheet and signed it, above all what it says of the Sun."
    front = "The lid is on" if _has(design, _LID) else "The front is covered"
    yield (f"{front}, the finder is capped, and both stay so in daylight." if has_finder(design)
           else f"{front} and stays so in daylight.")
    yield "No screw, knob or nut is loose; no edge is sharp; nothing rattles."
    if build.cell and build.cell.clips:
        yield "No clip presses on the mirror, and nobody tightens one."
    yield (f"It stands without rocking{' on its feet' if build.mount and build.mount.feet else ''} and stays where it "
           "is let go.")
    yield from _lifted(design)
    if "collimation.tilt_tolerance" in results:
        yield "It is in line: the mirror may lean by {{ collimation.tilt_tolerance }} before it is seen."
    own = [piece.name for piece in build.eyepieces or () if not piece.shared]
    shared = [piece.name for piece in build.eyepieces or () if piece.shared]
    if own:
        yield f"The eyepieces are there and capped: {', '.join(own)}."
    if shared:
        yield f"Shared with other telescopes, on this list only where it goes out too: {', '.join(shared)}."


def _lifted(design: Design) -> Iterator[str]:
    """Whether whoever carries it can: load by load, and by two people where one is too heavy for many."""
    loads = [name for name in ("mount.load", "mount.base_mass") if name in design.results]
    if len(loads) == 2:
        told = ("The borrower has lifted each load once, as it will be carried: the telescope weighs {{ mount.load }}, "
                "what it stands on {{ mount.base_mass }}.")
    elif "parts.mass" in design.results:
        loads = ["parts.mass"]
        told = ("The borrower has lifted each load once, as it will be carried; everything together weighs "
                "{{ parts.mass }}.")
    else:
        return
    if max(design.results[name].number for name in loads) > _ALONE_KG:
        limit = "16\u202fkg" if design.build.readers.units == "metric" else "35\u202flb"
        told += f" A load of more than {limit} is lifted by two, and the second of them is there too."
    yield told


def _back(design: Design) -> Iterator[str]:
    yield "It is dry. A damp telescope stands open in a warm room, uncovered, out of any sunlight, until it is."
    yield "Dust on the mirror stays there; finger marks are noted and left to whoever washes mirrors."
    yield "What was lost, broken or tightened is written down with the date and a name."
    if _has(design, _BATTERY):
        yield "Batteries are out, or charged and stored as their maker says."


def _has(design: Design, word: re.Pattern[str]) -> bool:
    return any(word.search(part.name) for part in design.build.parts)


def _number(count: int, what: str) -> str:
    return f"One {what}" if count == 1 else f"{count} {what}s"


def _people(count: int) -> str:
    return "one person" if count == 1 else f"{count} people"
