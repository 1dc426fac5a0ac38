"""Points on the pupil and the share of its area that each stands for.

Gauss nodes are laid in r², where equal steps are equal areas: a few rings give the mean of any smooth function over
the annulus to many digits, and no ring is favoured. Hexagonal or equally spaced rings would bias an RMS by percents.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dossier.calc.optics.mirror import Floats, Mirror

_NODES_A_PANEL = 16


@dataclass(frozen=True, slots=True)
class Points:
    """Points of the pupil, mm, and weights that sum to 1. All of one length."""

    x: Floats
    y: Floats
    weight: Floats

    @property
    def r2(self) -> Floats:
        return np.asarray(self.x**2 + self.y**2)

    def mean(self, values: Floats) -> float:
        return float(self.weight @ values)


@lru_cache(maxsize=64)
def panels(count: int) -> tuple[Floats, Floats]:
    """Composite Gauss–Legendre nodes on 0…1 and their weights, which sum to 1: ``count`` panels of sixteen nodes."""
    nodes, weights = np.polynomial.legendre.leggauss(_NODES_A_PANEL)
    starts = np.arange(count)[:, None]
    places = ((nodes + 1) / 2 + starts) / count
    return _frozen(places.ravel()), _frozen(np.tile(weights / (2 * count), count))


@lru_cache(maxsize=64)
def rings(mirror: Mirror, count: int = 1) -> tuple[Floats, Floats]:
    """r² of the rings of the annulus, mm², and their weights, which sum to 1. ``count`` panels of sixteen rings."""
    places, weights = panels(count)
    inner, outer = mirror.obstruction_diameter_mm**2 / 4, mirror.aperture_mm**2 / 4
    return _frozen(inner + (outer - inner) * places), weights


@lru_cache(maxsize=32)
def annulus(mirror: Mirror, ring_panels: int = 1, spokes: int = 48) -> Points:
    """Rings crossed with equally spaced spokes: exact in angle up to ``spokes`` harmonics."""
    r2, weights = rings(mirror, ring_panels)
    angles = 2 * np.pi * (np.arange(spokes) + 0.5) / spokes
    radii = np.sqrt(r2)[:, None]
    return Points(_frozen((radii * np.cos(angles)).ravel()), _frozen((radii * np.sin(angles)).ravel()),
                  _frozen(np.repeat(weights / spokes, spokes)))


def panels_for(waves: float) -> int:
    """Panels that follow a phase which runs through this many waves across the pupil: eight nodes a wave and more."""
    return 1 + int(abs(waves) // 2)


def _frozen(values: Floats) -> Floats:
    """Remembered arrays are shared, so nobody may write into them."""
    values.flags.writeable = False
    return values
