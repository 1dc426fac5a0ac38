"""The slots of a focusing mask as outlines to be cut. Lengths in millimetres from the middle, x to the right and y up.

The straight slots fill the right half and run level; the tilted ones fill the two quarters of the left half. No slot
reaches into the disc that the diagonal shades anyway, which ties the bars together in the middle. Every slot is a
rectangle: it ends square where its whole width still fits, so that nothing has to be cut to a point.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

Point = tuple[float, float]
Span = tuple[float, float]
# A shorter opening passes hardly any light and is a nuisance to cut: its least length, in its own widths.
LEAST_LENGTH = 1.5


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

    def along(self, tilt: float, level: float) -> Span:
        """From where to where a line of this tilt, so far from the middle, lies above each line and within the outer
        radius; from behind to before where it does not."""
        reach = math.sqrt(max(self.outer**2 - level**2, 0.0))
        first, last = -reach, reach
        for (nx, ny), distance in self.sides:
            across = nx * math.cos(tilt) + ny * math.sin(tilt)
            bound = distance - level * (ny * math.cos(tilt) - nx * math.sin(tilt))
            if abs(across) < 1e-12:
                if bound > 0:
                    return 0.0, 0.0
            elif across > 0:
                first = max(first, bound / across)
            else:
                last = min(last, bound / across)
        return first, last

    def pieces(self, tilt: float, low: float, high: float) -> Iterator[Span]:
        """The rectangles between two levels that lie in the field: one, or one to either side of the inner disc. The
        field without that disc is convex, so what fits at both levels fits between them."""
        spans = [self.along(tilt, level) for level in (low, high)]
        first, last = max(span[0] for span in spans), min(span[1] for span in spans)
        nearest = max(0.0, low, -high)
        if nearest >= self.inner:
            yield first, last
            return
        hole = math.sqrt(self.inner**2 - nearest**2)
        yield first, min(last, -hole)
        yield max(first, hole), last


def focusing_slots(aperture_mm: float, hub_mm: float, pitch_mm: float, tilt_deg: float) -> tuple[Slot, ...]:
    """All slots of a mask for this clear aperture; nothing is cut within the diameter ``hub_mm``.

    Slot and bar each take half the pitch; between the sets stands a bar at least as wide, and no opening is shorter
    than ``LEAST_LENGTH`` times its width. ValueError unless the pitch is above zero and the hub lies within the
    aperture.
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
    for number in range(-reach, reach + 1):
        low, high = (number - 0.25) * pitch, (number + 0.25) * pitch
        for first, last in field.pieces(tilt, low, high):
            if last - first >= LEAST_LENGTH * (high - low):
                yield _outline(((first, low), (last, low), (last, high), (first, high)), tilt)


def _outline(corners: tuple[Point, ...], tilt: float) -> tuple[Point, ...]:
    """Corners given along and across a slot, on the mask."""
    cos, sin = math.cos(tilt), math.sin(tilt)
    return tuple((along * cos - level * sin, along * sin + level * cos) for along, level in corners)
