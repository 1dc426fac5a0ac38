"""Parts that no build step names: a builder would have them left on the bench."""

from __future__ import annotations

from dossier.design.model import Design
from dossier.spec.model_parts import Part


def unused_parts(design: Design) -> tuple[Part, ...]:
    """The parts that no step uses or makes, in the order of the list; none where there are no steps."""
    named = {ref for step in design.steps for ref in (*step.parts, *step.makes)}
    return tuple(part for part in design.build.parts if design.steps and part.ref not in named)
