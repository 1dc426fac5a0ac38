"""The sessions of a workshop as a table: when, which step, on which kits, at which bench, by how many."""

from __future__ import annotations

from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.design.workshop import Session, Slot, WorkshopPlan, workshop_plan
from dossier.spec.steps import Step

LIGHT_WORDS = {"daylight": "by daylight", "night": "in the dark"}


def sessions(design: Design) -> Aside | None:
    """Every session of the workshop. None where the spec says nothing of one."""
    plan = workshop_plan(design)
    if plan is None:
        return None
    columns = tuple(AsideColumn(title, text=True) for title in ("From", "To", "Step", "Kits", "Bench", "People"))
    rows = tuple(_row(session, slot, first=number == 0) for session in plan.sessions
                 for number, slot in enumerate(session.slots))
    return Aside("Session by session", "Session", columns, rows, _notes(plan), stacks=True)


def tools(design: Design) -> Aside | None:
    """What lies on which bench in which sessions, a row a step. None where no step in the plan names a tool."""
    plan = workshop_plan(design)
    if plan is None:
        return None
    when: dict[str, list[int]] = {}
    for session in plan.sessions:
        for slot in session.slots:
            when.setdefault(slot.step.slug, []).append(session.number)
    benches = list(dict.fromkeys(step.bench for step in design.steps if step.slug in when and step.bench))
    steps = sorted((step for step in design.steps if step.slug in when and step.tools),
                   key=lambda step: (benches.index(step.bench) if step.bench else len(benches), step.number))
    rows = tuple(AsideRow(_bench(step) if index == 0 or steps[index - 1].bench != step.bench else "", (
        counted(tuple(sorted(set(when[step.slug])))), f"{step.number} {step.title}", "; ".join(step.tools)))
        for index, step in enumerate(steps))
    columns = tuple(AsideColumn(title, text=True) for title in ("Sessions", "Step", "Tools"))
    return Aside("Which tool is on which bench when", "Bench", columns, rows, stacks=True) if rows else None


def _bench(step: Step) -> str:
    return step.bench or "any"


def _row(session: Session, slot: Slot, *, first: bool) -> AsideRow:
    name = f"{session.number}{f', {LIGHT_WORDS[session.light]}' if session.light else ''}"
    return AsideRow(name if first else "", (
        clock(slot.start_min), clock(slot.end_min), f"{slot.step.number} {slot.step.title}", counted(slot.kits),
        _bench(slot.step), str(slot.people)), _machine(slot))


def _machine(slot: Slot) -> str:
    if not slot.machine_min:
        return ""
    hours = slot.machine_min / 60
    taken = f"{hours:.0f}" if hours >= 10 else f"{hours:.1f}"
    return f"Then its machine works on; the place is taken for {taken}\u202fh."


def _notes(plan: WorkshopPlan) -> tuple[str, ...]:
    notes = ["Each row is begun on all its kits at once. The times are for hands that have done it once; a first "
             "evening takes longer."]
    if plan.untimed:
        notes.append("Not planned, because no time is given: " + "; ".join(step.title for step in plan.untimed) + ".")
    return tuple(notes)


def clock(minutes: float) -> str:
    """Minutes from the beginning of a session: 1:05."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}:{rest:02d}"


def counted(kits: tuple[int, ...]) -> str:
    """Numbers of kits in as few signs as may be: 1–3, 5."""
    runs: list[list[int]] = []
    for kit in kits:
        if runs and kit == runs[-1][-1] + 1:
            runs[-1].append(kit)
        else:
            runs.append([kit])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
