"""What a workshop's leader needs in sentences: how many sessions, and what to look over before a telescope is lent."""

from __future__ import annotations

from dossier.design import Design
from dossier.design.workshop import workshop_plan
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
    if plan.least == count:
        return told + "No plan can do with fewer sessions."
    return told + f"This plan was found by taking turns; none can do with fewer than {plan.least}."


def lending(design: Design) -> str:
    """What is looked over before a club's telescope goes out and when it comes back."""
    if design.build.workshop is None:
        return ""
    results, lines = design.results, list(_OUT)
    if "parts.mass" in results:
        lines.append("The borrower has lifted it once. Everything together weighs {{ parts.mass }}.")
    if "collimation.tilt_tolerance" in results:
        lines.append("It is in line: the mirror may lean by {{ collimation.tilt_tolerance }} before it is seen.")
    named = [piece.name for piece in design.build.eyepieces]
    if named:
        lines.append(f"The eyepieces are there and capped: {', '.join(named)}.")
    return "\n".join((_BEFORE, "", *(f"* {line}" for line in lines), "", _AFTER, "", *(f"* {line}" for line in _BACK)))


_BEFORE = "Before it goes out, together with whoever borrows it:"
_OUT = (
    "The borrower has read the safety sheet and signed it, above all what it says of the Sun.",
    "The lid is on, the finder is capped, and both stay so in daylight.",
    "No screw, knob or nut is loose; no edge is sharp; nothing rattles.",
    "The mirror sits loose between its clips, and nobody tightens them.",
    "It stands without rocking on its feet and stays where it is let go.",
)
_AFTER = "When it comes back, before it is put away:"
_BACK = (
    "It is dry. A damp telescope stands open in a warm room, lid off, out of any sunlight, until it is.",
    "Dust on the mirror stays there; finger marks are noted and left to whoever washes mirrors.",
    "What was lost, broken or tightened is written down with the date and a name.",
    "Batteries are out, or charged and stored as their maker says.",
)


def _number(count: int, what: str) -> str:
    return f"One {what}" if count == 1 else f"{count} {what}s"


def _people(count: int) -> str:
    return "one person" if count == 1 else f"{count} people"
