"""What a tester sees on the mirror at the centre of curvature: Ronchi bands and knife-edge shadows.

Pictures are square arrays of brightness 0…1, the mirror filling them, NaN outside it and in the shadow of the diagonal
where one is given. Lengths in millimetres; ``position_mm`` is counted from the vertex's centre of curvature, positive
away from the mirror. Rays only: bands finer than diffraction allows are shown as if it were not there.
"""

from __future__ import annotations

import numpy as np

from dossier.calc.optics import rays
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, depth, finite, root


def ronchi(mirror: Mirror, lines_per_mm: float, position_mm: float, pixels: int = 256) -> Floats:
    """Ronchi bands, the grating lit through its own lines. Shape (pixels, pixels).

    Light from every line comes back through every line, so the brightness is the grating's own correlation: a triangle
    in the place where the ray from the middle of the grating comes back to it.
    """
    above_zero(lines_per_mm=lines_per_mm)
    landed = returned(mirror, position_mm, position_mm, pixels)[0]
    phase = np.mod(landed * lines_per_mm, 1.0)
    return np.asarray(np.abs(1 - 2 * phase))


def knife_edge(mirror: Mirror, position_mm: float, slit_mm: float, source_moves: bool = True,
               pixels: int = 256) -> Floats:
    """Shadows as a knife, cutting in from one side at this position, has reached the middle. Shape (pixels, pixels).

    A slit of this width softens the shadows: where half its image passes the knife the zone is half bright.
    """
    above_zero(slit_mm=slit_mm)
    landed = returned(mirror, position_mm if source_moves else 0.0, position_mm, pixels)[0]
    return np.asarray(np.clip(0.5 + landed / slit_mm, 0, 1))


def returned(mirror: Mirror, source_mm: float, knife_mm: float, pixels: int) -> tuple[Floats, Floats]:
    """Where light from the axis at one place, off each pixel of the mirror, crosses the plane at another, mm, exactly.

    Places from the vertex's centre of curvature. NaN off the mirror.
    """
    finite(source_mm=source_mm, knife_mm=knife_mm)
    x, y = pixel_places(mirror, pixels)
    r2 = x**2 + y**2
    used = (r2 <= mirror.aperture_mm**2 / 4) & (r2 >= mirror.obstruction_diameter_mm**2 / 4)
    x, y = np.where(used, x, np.nan), np.where(used, y, np.nan)
    r2 = x**2 + y**2
    points = np.stack([x, y, depth(mirror, r2)])
    normal = np.stack([-x, -y, mirror.radius_mm * root(mirror, r2)])
    arriving = points - np.array([0.0, 0.0, mirror.radius_mm + source_mm])[:, None, None]
    onward = rays.mirrored(arriving, normal)
    reach = (mirror.radius_mm + knife_mm - points[2]) / onward[2]
    landed = points + reach * onward
    return landed[0], landed[1]


def pixel_places(mirror: Mirror, pixels: int) -> tuple[Floats, Floats]:
    """x to the right and y upwards of the middle of every pixel of a square that the mirror fills, mm."""
    places = ((np.arange(pixels) + 0.5) / pixels - 0.5) * mirror.aperture_mm
    x, y = np.meshgrid(places, -places)
    return x, y
