"""How the frame bends at the horizon: the curve of its members, and where its parts stand."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

import numpy as np

from dossier.calc.optics.mirror import Floats
from dossier.working import converted

if TYPE_CHECKING:
    from dossier.design.model import Design

_G = 9.80665
_POINTS = 49


@dataclass(frozen=True, slots=True)
class BentFrame:
    """A frame at the horizon. Lengths in mm; heights are across the axis, shifts downwards.

    ``along`` and ``down`` are the curve of one member from its lower fixing, ``along`` from 0 to ``height``; of a truss
    its poles stay straight and the curve is the ring's way. ``lower`` and ``upper`` are the radii of the members'
    circles. ``beyond`` is from the upper fixing to the sky end; ``below`` from the mirror's face to the lower fixing,
    None where the spec does not say it.
    """

    kind: Literal["tube", "poles", "truss"]
    along: Floats
    down: Floats
    sag: float
    tilt_rad: float
    height: float
    lower: float
    upper: float
    beyond: float
    below: float | None
    mirror: float
    count: int


def bent_frame(design: Design) -> BentFrame | None:
    """The bent frame of this design; None where its sag could not be worked out."""
    frame, results = design.build.frame, design.results
    if frame is None or "frame.sag" not in results or "frame.tilt" not in results:
        return None
    heights = {"tube": "frame.tube_length", "poles": "frame.pole_length", "truss": "frame.height"}
    height = results[heights[frame.kind]].number
    lower = (frame.outer_diameter or 0.0) / 2 if frame.kind == "tube" else (frame.circle_radius or 0.0)
    upper = frame.upper_circle_radius or lower if frame.kind == "truss" else lower
    front = design.build.front.station if design.build.front else None
    fixing = results["frame.upper_fixing"].number if "frame.upper_fixing" in results else None
    beyond = max(0.0, front - fixing) if front is not None and fixing is not None else 0.0
    sag, tilt = results["frame.sag"].number, results["frame.tilt"].number * math.pi / 10800
    curve = _curve(sag, tilt, height, _load(design) if frame.kind != "truss" else None)
    return BentFrame(frame.kind, curve[0], curve[1], sag, tilt, height, lower, upper, beyond, frame.lower_fixing,
                     design.build.primary.aperture / 2, frame.count or 0)


def _load(design: Design) -> tuple[float, float]:
    """Weight of one member for each mm, N/mm, and its bending stiffness EI, N mm²."""
    inputs = design.results["frame.sag"].inputs
    own = {name: value for name, entry in inputs.items() if not isinstance(value := converted(entry, name), tuple)}
    member = "tube" if "tube_mass_kg" in own else "pole"
    return (_G * own[f"{member}_mass_kg"] / own[f"{member}_length_mm"],
            1000 * own["youngs_modulus_gpa"] * own[f"{member}_second_moment_mm4"])


@lru_cache(maxsize=32)
def _curve(sag: float, tilt: float, height: float, load: tuple[float, float] | None) -> tuple[Floats, Floats]:
    """A beam held below whose upper end is shifted and turned, plus what its own weight adds between two fixed ends.

    A truss's poles stay straight: then the way is a straight line.
    """
    along = np.linspace(0.0, height, _POINTS)
    if load is None:
        return along, sag * along / height
    share = along / height
    ends = sag * (3 * share**2 - 2 * share**3) + tilt * height * (share**3 - share**2)
    weight, stiff = load
    return along, ends + weight * along**2 * (height - along) ** 2 / (24 * stiff)
