"""What is said of how evenly the field is lit: in the middle, and at the edge of every eyepiece's field."""

from __future__ import annotations

from dossier.design import Design, pictures
from dossier.notation import show
from dossier.spec.defaults import slug
from dossier.working import Goal, Result

_JUDGED = "diagonal.edge_light"
# Common practice, no source: the trade's usual limit of 0.70 of the light is this loss.
_NOTICED_MAG = 0.4
_NOTHING_MAG = 0.0015


def light(design: Design) -> str:
    """Whether every eyepiece's field stop is lit at least to the limit, and what to change where one is not."""
    pieces = [(piece.name, design.results[row]) for piece in design.build.eyepieces or ()
              if (row := f"eyepiece.{slug(piece.name)}.edge_light") in design.results]
    told = [_middle(design), _eyepieces(design, pieces) if pieces else _edge(design)]
    return "\n\n".join(filter(None, told))


def _middle(design: Design) -> str:
    if design.results["diagonal.full_field"].number > 0:
        return ("Out to {{ diagonal.full_field }} across, every point of the field gets the light of the whole mirror. "
                "Beyond that it falls off.")
    return ("**Not even the middle of the field gets the light of the whole mirror.** The axial cone needs a diagonal "
            "of {{ diagonal.least_minor_axis }}, and this one is {{ spec.diagonal.minor_axis }}: the telescope works "
            "as a smaller one would.")


def _limit(design: Design, result: Result) -> Goal | None:
    """The author's own limit on this eyepiece, else what is asked of the judged field's edge."""
    judged = design.results[_JUDGED].goal
    return result.goal or (judged if judged and judged.sense == "at_least" else None)


def _eyepieces(design: Design, pieces: list[tuple[str, Result]]) -> str:
    dark = [(name, result, limit) for name, result in pieces
            if (limit := _limit(design, result)) and limit.outcome(result.number) == "misses"]
    if not dark:
        limit = _limit(design, pieces[0][1])
        floor = f" to at least {show(limit.limit, '').plain} of the light of the whole mirror" if limit else ""
        return f"**Every eyepiece’s field is lit to its edge{floor}.** {_list(pieces)}"
    names = "; ".join(f"{name}, {_live(name)} where {show(limit.limit, '').plain} is asked"
                      for name, _, limit in dark)
    return f"**Too dark at the edge: {names}.** {_list(pieces)} {_cure(design)}"


def _list(pieces: list[tuple[str, Result]]) -> str:
    """The eyepieces that lose light at the edge, with what they lose; those that lose none in one clause."""
    full = [f"the {name}" for name, result in pieces if result.number > 0.9995]
    losing = [f"{name} keeps {_live(name)}, {_lost(result.number)}" for name, result in pieces
              if f"the {name}" not in full]
    whole = f"{_and(full)} {'has' if len(full) == 1 else 'have'} all of it." if full else ""
    return " ".join(filter(None, [f"At its edge the {'; the '.join(losing)}." if losing else "", _capital(whole)]))


def _edge(design: Design) -> str:
    result = design.results[_JUDGED]
    missed = result.goal and result.goal.outcome(result.number) == "misses"
    verdict = f"**That is too little.** {_cure(design)}" if missed else ""
    return f"At the edge of the judged field {{{{ {_JUDGED} }}}} of it is left, {_lost(result.number)}. {verdict}"


def _cure(design: Design) -> str:
    wider = "a diagonal wider than {{ spec.diagonal.minor_axis }}"
    return (f"What would light it better: {wider}, a focuser that stands lower, so that the focal plane lies less than "
            "{{ optics.intercept }} from the axis, or an eyepiece with a narrower field.")


def _lost(share: float) -> str:
    if share <= 0:
        return "that is dark"
    lost = pictures.magnitudes_lost(share)
    if lost < _NOTHING_MAG:
        return "next to nothing lost"
    seen = "which the eye does not notice" if lost < _NOTICED_MAG else "which begins to be seen"
    return f"a loss of {show(lost, 'mag').plain}, {seen}"


def _live(name: str) -> str:
    return f"{{{{ eyepiece['{slug(name)}'].edge_light }}}}"


def _and(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
