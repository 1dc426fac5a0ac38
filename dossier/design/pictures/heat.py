"""The mirror as it cools: how far its mean temperature is from the air's, hour by hour, each way it may cool."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc import thermal
from dossier.calc.optics.mirror import Floats
from dossier.design.asides.heat import warmer_k, ways

if TYPE_CHECKING:
    from dossier.design.model import Design

_POINTS, _LONGEST_H, _BEYOND = 121, 14.0, 1.12
# The source of the mirror's seeing has measured no warmer mirror.
SEEING_HOLDS_TO_K = 10.0


@dataclass(frozen=True, slots=True)
class CoolingWay:
    """One way to cool: its key and name, the mean difference from the air at each time, when it has settled."""

    key: str
    name: str
    left_k: Floats
    settles_h: float


@dataclass(frozen=True, slots=True)
class CoolingCurves:
    """All ways over the same hours; ``lumped_k`` takes the glass as even throughout, as planned."""

    start_k: float
    warmer: bool
    within_k: float
    hours: Floats
    ways: tuple[CoolingWay, ...]
    lumped_k: Floats

    def left_after(self, hours: float) -> float:
        """What is left of the difference as planned, K."""
        return float(np.interp(hours, self.hours, self.ways[0].left_k))


def cooling(design: Design) -> CoolingCurves | None:
    """None where no time was worked out, or where the mirror starts as near to the air as it has to come."""
    known = ways(design)
    if not known:
        return None
    within = design.results["thermal.settling_time"].inputs["within_k"].value
    start = warmer_k(design)
    if isinstance(within, tuple) or abs(start) <= within:
        return None
    settled = tuple(way.settles().number / 60 for way in known)
    constant = design.results["thermal.time_constant"].number / 60
    return _curves(start, within, tuple((way.key, way.name, way.glass) for way in known), settled, constant)


@lru_cache(maxsize=8)
def _curves(start: float, within: float, known: tuple[tuple[str, str, tuple[float, ...]], ...],
            settled: tuple[float, ...], constant_h: float) -> CoolingCurves:
    hours = np.linspace(0, min(_LONGEST_H, _BEYOND * max(settled)), _POINTS)
    found = tuple(CoolingWay(key, name, thermal.cooling_curve(thermal.slab(*glass), abs(start), 60 * hours)[0], settles)
                  for (key, name, glass), settles in zip(known, settled, strict=True))
    return CoolingCurves(abs(start), start > 0, within, hours, found, abs(start) * np.exp(-hours / constant_h))


def kelvin_of(blur_arcsec: float) -> float:
    """How much warmer than the air a mirror is that blurs so much, K."""
    return thermal.warmth_for_blur_k(blur_arcsec)
