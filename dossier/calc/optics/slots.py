"""The slots of a focusing mask as outlines to be cut. Lengths in millimetres from the middle, x to the right and y up.

The straight slots fill the right half and run level; the tilted ones fill the two quarters of the left half. No slot
reaches into the disc that the diagonal shades anyway, which ties the bars together in the middle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Span = tuple[float, float]
# How finely the ends of a slot follow the rim: pieces for its width.
_PIECES = 12


@dataclass(frozen=True, slots=True)
class Slot:
    """One opening: the set it belongs to, by its tilt in degrees, and its closed outline."""

    tilt_deg: float
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class _Field:
    """Where a set of slots lies: within two radii and above each line, given by its inward normal and its distance."""

    outer: float
    inner: float
    sides: tuple[tuple[Point, float], ...]

    def along(self, tilt: float, level: float) -> Span | None:
        """From where to where a line of this tilt, so far from the middle, lies in the field; its longest piece."""
        reach = math.sqrt(max(self.outer**2 - level**2, 0.0))
        first, last = -reach, reach
        for (nx, ny), distance in self.sides:
            across = nx * math.cos(tilt) + ny * math.sin(tilt)
            bound = distance - level * (ny * math.cos(tilt) - nx * math.sin(tilt))
            if abs(across) < 1e-12:
                if bound > 0:
                    return None
            elif across > 0:
                first = max(first, bound / across)
            else:
                last = min(last, bound / across)
        hole = math.sqrt(max(self.inner**2 - level**2, 0.0))
        pieces = ((first, min(last, -hole)), (max(first, hole), last)) if hole else ((first, last),)
        longest = max(pieces, key=lambda piece: piece[1] - piece[0])
        return longest if longest[1] > longest[0] else None

    def corners(self, tilt: float) -> Iterator[float]:
        """The levels at which the end of a slot changes from one edge of the field to another."""
        for (nx, ny), distance in self.sides:
            for radius in (self.outer, self.inner):
                if radius > abs(distance):
                    half = math.sqrt(radius**2 - distance**2)
                    for side in (-half, half):
                        x, y = nx * distance - ny * side, ny * distance + nx * side
                        yield y * math.cos(tilt) - x * math.sin(tilt)
        yield from (self.inner, -self.inner)


def focusing_slots(aperture_mm: float, hub_mm: float, pitch_mm: float, tilt_deg: float) -> tuple[Slot, ...]:
    """All slots of a mask for this clear aperture; nothing is cut within the diameter ``hub_mm``.

    Slot and bar each take half the pitch; between the sets stands a bar as wide. ValueError unless the pitch is above
    zero and the hub lies within the aperture.
    """
    if not (pitch_mm > 0 and 0 <= hub_mm < aperture_mm):
        raise ValueError(f"no slots of pitch {pitch_mm:g} between {hub_mm:g} and {aperture_mm:g} mm")
    half = pitch_mm / 4
    outer, inner = aperture_mm / 2, hub_mm / 2
    right, upper, lower = ((1.0, 0.0), half), ((0.0, 1.0), half), ((0.0, -1.0), half)
    left = ((-1.0, 0.0), half)
    sets = ((0.0, (right,)), (tilt_deg, (left, upper)), (-tilt_deg, (left, lower)))
    return tuple(Slot(tilt, outline) for tilt, sides in sets
                 for outline in _set(_Field(outer, inner, sides), math.radians(tilt), pitch_mm))


def _set(field: _Field, tilt: float, pitch: float) -> Iterator[tuple[Point, ...]]:
    """The slots of one set: one of them lies across the middle of the mask, as all sets must be in step."""
    reach = math.ceil(field.outer / pitch) + 1
    corners = sorted(field.corners(tilt))
    for number in range(-reach, reach + 1):
        low, high = (number - 0.25) * pitch, (number + 0.25) * pitch
        levels = sorted({*(low + (high - low) * piece / _PIECES for piece in range(_PIECES + 1)),
                         *(level for level in corners if low < level < high)})
        for run in _runs([(level, field.along(tilt, level)) for level in levels]):
            if max(last - first for _, first, last in run) > pitch / 2 and len(run) > 1:
                yield _outline(run, tilt)


def _runs(spans: list[tuple[float, Span | None]]) -> Iterator[list[tuple[float, float, float]]]:
    """Neighbouring levels whose spans overlap, as (level, first, last)."""
    known = [(level, *span) for level, span in spans if span is not None]
    if not known:
        return
    run = [known[0]]
    for before, here in pairwise(known):
        if here[1] < before[2] and here[2] > before[1]:
            run.append(here)
        else:
            yield run
            run = [here]
    yield run


def _outline(run: list[tuple[float, float, float]], tilt: float) -> tuple[Point, ...]:
    around = [(last, level) for level, _, last in run] + [(first, level) for level, first, _ in reversed(run)]
    cos, sin = math.cos(tilt), math.sin(tilt)
    points = [(along * cos - level * sin, along * sin + level * cos) for along, level in around]
    return tuple(point for before, point in pairwise((points[-1], *points)) if math.dist(before, point) > 1e-6)
