"""What measured values mean for the rest of a build: what to cut differently, and which limits they cross."""

from __future__ import annotations

from dossier.design import Design, measured
from dossier.notation import show
from dossier.views.goals import outcome_words

_BOLTED = ("Make each pole, between its fixings,", "the poles", "are")
_MEMBERS = {"poles": ("Cut each pole to", "the poles", "are"), "truss": ("Cut each pole to", "the poles", "are"),
            "tube": ("Cut the tube to", "the tube", "is")}


def change(design: Design) -> str:
    """What must change for what was found, and the limits that are met or missed now and were not before."""
    if design.planned is None:
        return ""
    told = [_cut(design), _crossed(design)]
    return "\n\n".join(filter(None, told)) or ("Nothing has to be cut differently, and no limit is crossed by what was "
                                               "measured.")


def sheet(design: Design) -> str:
    """How what was measured comes back into the dossier."""
    return ("Write down what is found before anything is cut by it. The same values, typed into a copy of "
            "`measured.yaml` from the downloads sheet and handed to the program with `--measured`, are laid over the "
            "plan: every number of this dossier is then worked out for this one telescope, with the planned one beside "
            "it.")


def _cut(design: Design) -> str:
    found = measured.recut(design)
    if found is None:
        return ""
    readers = design.build.readers
    wanted, now, by, moved = (show(value, "mm", readers=readers).plain for value in (
        found.wanted.number, found.now_mm, abs(found.change_mm), abs(found.focus_moved_mm)))
    tube = found.wanted.number - 2 * found.end_fittings_mm
    begin, members, verb = _BOLTED if found.end_fittings_mm else _MEMBERS[found.kind]
    saw = f" Its tube is then sawn to {show(tube, 'mm', readers=readers).plain}." if found.end_fittings_mm else ""
    way = "shorter" if found.change_mm < 0 else "longer"
    nearer = "nearer to the mirror" if found.focus_moved_mm < 0 else "farther from the mirror"
    place = (f"The focal plane stands {moved} {nearer} than planned. " if abs(found.focus_moved_mm) >= 0.05
             else "The focal plane is where it was planned. ")
    measured_too = f", and {members} {verb} {now} long" if found.now_mm != found.planned_mm else ""
    return (f"{place}**{begin} {wanted} instead of {now}: {by} {way}**{measured_too}.{saw} Everything above moves "
            "with it: focuser, diagonal and front keep their places to one another. Once it is cut, type what it "
            "measures under `frame`, `length` of the measured file: cut plan, lists and steps then have it too.")


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
