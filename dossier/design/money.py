"""Where the money goes: the cost of each group of the parts list by its name."""

from __future__ import annotations

from dossier.design.model import Design
from dossier.spec.defaults import slug
from dossier.working import Result


def group_costs(design: Design) -> tuple[tuple[str, Result], ...]:
    """Each group that costs anything with what it costs in one kit, the dearest first."""
    names = dict.fromkeys(part.group for part in design.build.parts if part.group)
    known = [(name, design.results[f"parts.group_cost.{slug(name)}"]) for name in names
             if f"parts.group_cost.{slug(name)}" in design.results]
    return tuple(sorted(((name, cost) for name, cost in known if cost.number > 0), key=lambda each: -each[1].number))
