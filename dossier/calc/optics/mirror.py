"""The primary mirror as a surface: a conic of revolution with a clear aperture and a shadow in its middle.

Lengths in millimetres. The vertex is the origin, z runs along the optical axis towards the sky, light comes down −z.
The stop is the clear aperture, so that pupil coordinates are x and y of the point where a ray meets the surface.
``r2`` is x² + y². ``focus_mm`` is a distance from the paraxial focus, positive towards the sky.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
# A telescope's primary lies near the paraboloid, conic −1. Farther off than this a conic is a slip of the pen.
LEAST_CONIC, MOST_CONIC = -6.0, 4.0


@dataclass(frozen=True, slots=True)
class Mirror:
    """Clear aperture, paraxial focal length (half the vertex radius), conic, diameter of the central shadow.

    ValueError where no such mirror can be, naming the value and why.
    """

    aperture_mm: float
    focal_length_mm: float
    conic: float = -1.0
    obstruction_diameter_mm: float = 0.0

    def __post_init__(self) -> None:
        above_zero(aperture_mm=self.aperture_mm, focal_length_mm=self.focal_length_mm)
        if not LEAST_CONIC <= self.conic <= MOST_CONIC:
            raise ValueError(f"conic {self.conic:g} is no telescope mirror's: a paraboloid has -1, a sphere 0, "
                             f"and from {LEAST_CONIC:g} to {MOST_CONIC:g} is taken")
        if not 0 <= self.obstruction_diameter_mm < self.aperture_mm:
            raise ValueError(f"obstruction_diameter_mm {self.obstruction_diameter_mm:g} must lie between 0 and "
                             f"the aperture of {self.aperture_mm:g}: nothing else lets light through")
        self._refuse_a_bowl()

    def _refuse_a_bowl(self) -> None:
        """A rim at 45° or more throws its light sideways or down."""
        rim = self.aperture_mm / 2
        under_root = 1 - (1 + self.conic) * (rim / self.radius_mm) ** 2
        if not under_root > 0 or not rim < self.radius_mm * math.sqrt(under_root):
            raise ValueError(f"aperture_mm {self.aperture_mm:g} is too deep for a vertex radius of "
                             f"{self.radius_mm:g} mm: the mirror's rim would stand steeper than 45°")

    @property
    def radius_mm(self) -> float:
        """Radius of curvature at the vertex."""
        return 2 * self.focal_length_mm

    @property
    def focal_ratio(self) -> float:
        return self.focal_length_mm / self.aperture_mm

    @property
    def obstruction(self) -> float:
        """Shadow ÷ aperture, by diameter."""
        return self.obstruction_diameter_mm / self.aperture_mm

    @property
    def sagitta_mm(self) -> float:
        """Depth of the curve at the edge of the clear aperture."""
        return float(depth(self, self.aperture_mm**2 / 4))

    def unobstructed(self) -> Mirror:
        """The same surface with nothing in front of it."""
        return Mirror(self.aperture_mm, self.focal_length_mm, self.conic)

    def perfect(self) -> Mirror:
        """A paraboloid of the same size and shadow: on its axis it leaves no aberration at all."""
        return Mirror(self.aperture_mm, self.focal_length_mm, -1.0, self.obstruction_diameter_mm)


def above_zero(**values: float) -> None:
    """ValueError for the first of these that is not a finite number above zero."""
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{name} must be above zero, not {value:g}")


def finite(**values: float) -> None:
    """ValueError for the first of these that is not a finite number."""
    for name, value in values.items():
        if not math.isfinite(value):
            raise ValueError(f"{name} must be a number, not {value:g}")


def root(mirror: Mirror, r2: Floats | float) -> Floats:
    """√(1 − (1 + K) r²/R²), the term on which the conic's depth and slope hang: 1 for a paraboloid."""
    return np.asarray(np.sqrt(1 - (1 + mirror.conic) / mirror.radius_mm**2 * r2))


def depth(mirror: Mirror, r2: Floats | float) -> Floats:
    """Height z of the surface above its vertex, mm; r2 in mm²."""
    return np.asarray(r2 / (mirror.radius_mm * (1 + root(mirror, r2))))


def slope(mirror: Mirror, r2: Floats | float) -> Floats:
    """dz/dr of the surface."""
    return np.asarray(np.sqrt(r2) / (mirror.radius_mm * root(mirror, r2)))
