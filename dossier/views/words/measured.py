"""What measured values mean for the rest of a build: what to cut differently, and which limits they cross."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.design import Design, measured
from dossier.design.measured import Recut
from dossier.notation import show
from dossier.views.goals import outcome_words

# A focal plane that moves less than this is where it was planned, mm.
_THERE = 0.05


def change(design: Design) -> str:
    """What must change for what was found, and the limits that are met or missed now and were not before."""
    if design.planned is None:
        return ""
    told = [_length(design), _crossed(design)]
    return "\n\n".join(filter(None, told)) or ("Nothing has to be cut differently, and no limit is crossed by what was "
                                               "measured.")


def sheet(design: Design) -> str:
    """How what was measured comes back into the dossier."""
    return ("Write down what is found before anything is cut by it. The same values, typed into a copy of "
            "`measured.yaml` from the downloads sheet and handed to the program with `--measured`, are laid over the "
            "plan: every number of this dossier is then worked out for this one telescope, with the planned one beside "
            "it.")


@dataclass(frozen=True, slots=True)
class _Said:
    """The lengths of a recut as they are written."""

    wanted: str
    now: str
    by: str
    moved: str
    allowed: str
    sawn: str
    out: str
    left: str


def _length(design: Design) -> str:
    found = measured.recut(design)
    if found is None:
        return ""
    said = _said(found, design)
    if found.made:
        return _made(found, said)
    place = (f"The focal plane stands {said.moved} {'nearer to' if found.focus_moved_mm < 0 else 'farther from'} the "
             "mirror than planned. " if abs(found.focus_moved_mm) >= _THERE else "")
    return place + (_to_cut(found, said, design) if found.needed else _as_planned(found, said))


def _said(found: Recut, design: Design) -> _Said:
    readers = design.build.readers

    def length(value: float) -> str:
        return show(value, "mm", readers=readers).plain

    return _Said(length(found.wanted.number), length(found.now_mm), length(abs(found.change_mm)),
                 length(abs(found.focus_moved_mm)), length(found.allowed_mm),
                 length(found.wanted.number - 2 * found.end_fittings_mm) if found.end_fittings_mm else "",
                 length(abs(found.drawn_out_mm)),
                 length(abs(found.left_mm)) if found.left_mm is not None else "")


def _to_cut(found: Recut, said: _Said, design: Design) -> str:
    """Members that are not made yet, and must be made to another length than planned."""
    begin = ("Cut the tube to" if found.kind == "tube"
             else "Make each pole, between its fixings," if said.sawn else "Cut each pole to")
    saw = f" Its tube is then sawn to {said.sawn}." if said.sawn else ""
    way = "shorter" if found.change_mm < 0 else "longer"
    then = ("Cut plan, lists, drawings and steps of this dossier have this length already. " if design.fitted else
            "With the rest of the plan as it is, no such telescope can be worked out: cut plan, lists, drawings and "
            "steps of this dossier still have the planned length. ")
    return (f"**{begin} {said.wanted} instead of {said.now}: {said.by} {way}.**{saw} Everything above moves with it: "
            f"focuser, diagonal and front keep their places to one another. {then}Once it is cut, type what it "
            "measures under `frame`, `length` of the measured file.")


def _as_planned(found: Recut, said: _Said) -> str:
    """Members that are not made yet, and may be made as planned."""
    members = "the tube" if found.kind == "tube" else "the poles"
    return (f"**Cut {members} to {said.now}, as planned**: {said.by} is within the {said.allowed} that "
            f"{'its' if found.kind == 'tube' else 'their'} length may be off. {_focuser(found, said)}")


def _made(found: Recut, said: _Said) -> str:
    """Members that are made: too long or too short for this mirror, by little or by much."""
    tube = found.kind == "tube"
    way = "short" if found.change_mm > 0 else "long"
    told = (f"{'The tube is' if tube else 'The poles are'} {said.now} long, and this mirror wants {said.wanted}: "
            f"{said.by} too {way}")
    if not found.needed:
        return (f"{told}, which is within the {said.allowed} that {'its' if tube else 'their'} length may be off. "
                f"**Nothing has to be cut.** {_focuser(found, said)}")
    mend = (_to_saw if found.change_mm < 0 else _to_lengthen)("it" if tube else "them", said)
    if found.left_mm is not None and found.left_mm >= 0:
        done = "cut" if way == "long" else "made again"
        return f"{told}. **Nothing has to be {done}.** {_focuser(found, said)} Or {mend}."
    return f"{told}. **{mend[:1].upper()}{mend[1:]}.** {_focuser(found, said)}"


def _to_saw(them: str, said: _Said) -> str:
    return (f"shorten {them} to {said.wanted} between fixings, the tubes sawn to {said.sawn}" if said.sawn
            else f"saw {them} to {said.wanted}, {said.by} off")


def _to_lengthen(them: str, said: _Said) -> str:
    tubes = f", tubes of {said.sawn}" if said.sawn else ""
    new = "a new one" if them == "it" else "new ones"
    return f"make {new} of {said.wanted}{tubes}, or pack {them} out by {said.by}"


def _focuser(found: Recut, said: _Said) -> str:
    """How the focuser takes up what is not sawn, and what travel it then has left, or lacks."""
    stands = f"{said.out} farther {'out' if found.drawn_out_mm > 0 else 'in'}"
    if found.left_mm is None:
        return f"The focuser then stands {stands}."
    if found.left_mm < 0:
        return f"The focuser cannot take it up: it would have to stand {stands}, and {said.left} of travel are missing."
    return f"The focuser takes it up: it stands {stands}, and {said.left} of travel are left that way."


def _crossed(design: Design) -> str:
    planned = design.planned
    if planned is None:
        return ""
    lines = []
    for name, now in design.results.items():
        before = planned.results.get(name)
        if now.goal is None or before is None or before.goal is None:
            continue
        old, new = before.goal.outcome(before.number), now.goal.outcome(now.number)
        if old != new:
            words, planned_words = outcome_words(now), outcome_words(before)
            lines.append(f"* {now.title}, {{{{ {name} }}}}: {words} (as planned: {planned_words}).")
    return "\n".join(("These limits stand differently now:", "", *lines)) if lines else ""
