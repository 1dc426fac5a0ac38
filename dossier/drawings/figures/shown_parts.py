"""Which parts of the list a drawing shows: those that the author says are drawn as this or that.

Where nobody says, only what the numbers prove is named: a part that is cut to the length of the frame's members, as
many pieces as the frame has members; and the part whose mass is the primary's.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model import Build
    from dossier.spec.model_parts import DrawnAs, Part


def shown(design: Design, thing: DrawnAs) -> tuple[Part, ...]:
    """The parts drawn as this thing, in the order of the list."""
    said = tuple(part for part in design.build.parts if part.drawn_as == thing)
    if said:
        return said
    unsaid = [part for part in design.build.parts if part.drawn_as is None]
    proved = {"frame": _is_frame, "primary": _is_primary}.get(thing)
    found = tuple(part for part in unsaid if proved(part, design)) if proved else ()
    return found if len(found) == 1 else ()


def refs(design: Design, thing: DrawnAs) -> tuple[str, ...]:
    """Their references."""
    return tuple(part.ref for part in shown(design, thing))


def steps_with(design: Design, ref: str) -> tuple[int, ...]:
    """The numbers of the build steps that fit a part, not those that make it alone; none where no step names it."""
    return tuple(step.number for step in design.steps if ref in step.parts and ref not in step.makes)


def _is_frame(part: Part, design: Design) -> bool:
    frame = design.build.frame
    if frame is None or frame.length is None or part.cut is None:
        return False
    tube = design.results.get("frame.sawn_length")
    length = frame.length if tube is None else tube.number
    alike = [piece for piece in part.cut.pieces if math.isclose(piece.length, length, abs_tol=1e-6)]
    return len(alike) == len(part.cut.pieces) and sum(piece.quantity for piece in alike) == _members(design.build)


def _members(build: Build) -> int:
    return (build.frame.count or 1) if build.frame and build.frame.kind != "tube" else 1


def _is_primary(part: Part, design: Design) -> bool:
    mass = design.results.get("cell.mirror_mass")
    return part.quantity == 1 and part.mass is not None and mass is not None and part.mass == mass.number
