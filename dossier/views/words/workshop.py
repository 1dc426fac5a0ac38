"""What a workshop's leader needs in sentences: how many sessions, and what to look over before a telescope is lent."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from dossier.design import Design
from dossier.design.asides.mount import has_finder
from dossier.design.workshop import WorkshopPlan, workshop_plan
from dossier.notation import duration


def sessions(design: Design) -> str:
    """How many sessions all kits take, and why not fewer."""
    plan = workshop_plan(design)
    if plan is None:
        return ""
    count, kits = len(plan.sessions), "one kit" if plan.kits == 1 else f"{plan.kits} kits"
    worked = sum(session.worked_min for session in plan.sessions) / 60
    there = count * plan.people * plan.session_min / 60
    told = (f"{_number(count, 'session')} of {duration(plan.session_min)} with {_people(plan.people)} at a time finish "
            f"{kits}. The steps take {worked:.0f}\u202fh of work; whoever is there for all sessions together is there "
            f"for {there:.0f}\u202fh, and the rest goes into waiting for a bench, for glue and for one another. ")
    told += "No plan can do with fewer sessions." if plan.least == count else (
        f"This plan was found by taking turns; none can do with fewer than {plan.least}.")
    return " ".join((told, *_when(plan)))


def _when(plan: WorkshopPlan) -> Iterator[str]:
    """How far apart the sessions are, and which are held in the dark."""
    if any(slot.step.wait_minutes for session in plan.sessions for slot in session.slots):
        yield (f"From the end of a session to the next {duration(plan.apart_min)} or more go by, in which glue and "
               "paint dry.")
    for session in plan.sessions:
        if session.pause_min:
            yield (f"Session {session.number} is held {duration(session.pause_min)} after session "
                   f"{session.number - 1} at the earliest: until then something dries without which nothing goes on.")
    dark = [str(session.number) for session in plan.sessions if session.light == "night"]
    if dark:
        yield f"In the dark: session {dark[0]}." if len(dark) == 1 else f"In the dark: sessions {', '.join(dark)}."


def lending(design: Design) -> str:
    """What is looked over before a club's telescope goes out and when it comes back: of what this one has."""
    if design.build.workshop is None:
        return ""
    out, back = _items(_out(design)), _items(_back(design))
    return f"Before it goes out, together with whoever borrows it:\n\n{out}\n\n{_AFTER}\n\n{back}"


_AFTER = "When it comes back, before it is put away:"
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
    if "parts.mass" in results:
        yield "The borrower has lifted it once. Everything together weighs {{ parts.mass }}."
    if "collimation.tilt_tolerance" in results:
        yield "It is in line: the mirror may lean by {{ collimation.tilt_tolerance }} before it is seen."
    if build.eyepieces:
        yield f"The eyepieces are there and capped: {', '.join(piece.name for piece in build.eyepieces)}."


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
