"""How long a machine works on by itself after a step, and how long its place is taken for it."""

from __future__ import annotations

import math
import re

from dossier.design.model import Design
from dossier.design.resolve import spoken_name
from dossier.errors import Problem, Unusable
from dossier.expressions import NameProblem, Number, render
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.steps import Step, minutes_of

_DAY_MIN = 1440.0
_BARE = re.compile(r"\{\{ *([\w.]+) *\}\}")


def machine_minutes(design: Design, step: Step) -> float:
    """For how long a machine works on by itself after this step on one kit; 0 where none does. Raises Unusable."""
    if not step.machine:
        return 0.0
    bare = _BARE.fullmatch(step.machine)
    # Which numbers the spec says is looked up only where a text may name one.
    said = {} if bare and bare[1] in design.results else {
        spoken_name(key): key for key in design.loaded.spots
        if isinstance(value_at(design.build, key), (int, float))}

    def ask(name: str) -> Number:
        if name in design.results:
            result = design.results[name]
            return Number(name, result.value, f"{result.number!r} {result.unit}")
        if name not in said:
            raise NameProblem(f"{name!r} is not worked out: {design.left_out[name]}")
        value = value_at(design.build, said[name])
        return Number(name, value, f"{value!r} {unit_of_key(said[name])}")

    try:
        minutes = minutes_of(render(step.machine, {*design.results, *design.left_out, *said}, ask))
        if minutes > 0:
            return minutes
        message = f"wants a time above zero (got {step.machine!r})"
    except (NameProblem, ValueError) as problem:
        message = str(problem)
    raise Unusable([Problem(step.file, step.lines.get("machine", 1), "machine", message)])


def attended_minutes(design: Design, step: Step) -> float | None:
    """How long of each day somebody looks after the machine at this step's bench; None for day and night."""
    workshop = design.build.workshop
    benches = workshop.benches if workshop else ()
    return next((bench.attended for bench in benches if bench.name == step.bench), None)


def taken_minutes(machine_min: float, attended_min: float | None) -> float:
    """For how long a machine's place is taken that may work only so long of each day, from whatever hour on: between
    the stretches, and before the first, it stands still."""
    if not machine_min or attended_min is None:
        return machine_min
    return machine_min + math.ceil(machine_min / attended_min - 1e-9) * (_DAY_MIN - attended_min)
