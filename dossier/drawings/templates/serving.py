"""Which parts of the list a template is for: their references, how many are needed, and of what they are."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.drawings.figures.shown_parts import shown
from dossier.drawings.templates.model import Served
from dossier.drawings.templates.wording import length, trimmed

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs, Part

_NO_THICKNESS: Mapping[DrawnAs, float | None] = MappingProxyType({})


def served(design: Design, *things: DrawnAs, thick: Mapping[DrawnAs, float | None] = _NO_THICKNESS,
           ) -> tuple[Served, ...]:
    """The parts that are drawn as these things, in this order; ``thick`` has the thickness of a thing in mm where the
    spec says it."""
    return tuple(_served(design, part, thick.get(thing)) for thing in things for part in shown(design, thing))


def _served(design: Design, part: Part, thickness_mm: float | None) -> Served:
    words = [part.name.rstrip(".")]
    made_of = _material(design, part)
    if any(word.isalpha() and word.lower() not in part.name.lower() for word in made_of.split()):
        words.append(f"of {made_of}")
    if thickness_mm and f"{trimmed(thickness_mm)} mm" not in part.name:
        words.append(f"{length(design, thickness_mm)} thick")
    return Served(part.ref, ", ".join(words), part.quantity)


def _material(design: Design, part: Part) -> str:
    """What it is printed from or cut from, as far as the spec says."""
    if part.print and part.print.material:
        return shelf.materials()[part.print.material].name
    if part.cut:
        return part.cut.from_
    frame = design.build.frame
    if part.drawn_as == "frame" and frame and frame.material:
        return shelf.materials()[frame.material].name if isinstance(frame.material, str) else frame.material.name or ""
    return ""
