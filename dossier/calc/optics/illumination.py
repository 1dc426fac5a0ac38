"""How much of the mirror's light the 45° diagonal catches for each point of the field, exactly.

Lengths in millimetres. A field point lies in the unfolded focal plane at (x, y): x runs in the plane of the fold and is
positive towards the sky end of the tube, y runs across. Seen from that point the diagonal's edge is a cone; what it
cuts from the mirror's disc is the light. The primary's own shadow is left aside.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

import numpy as np

from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, depth
from dossier.working import formula

Depth = Callable[[Floats], Floats]
_FINE, _COARSE = 1440, 180
_CATCH = ("a ray from the field point Q to the point P of the mirror is caught where it meets the diagonal's plane, "
          "x = z − (f − L), inside its ellipse: (x + δ)² + y² ≤ (a/2)²")


def light_share(diagonal: Diagonal, mirror: Mirror, x: Floats, y: Floats) -> Floats:
    """Share of the full disc's light that the diagonal sends to each field point; x and y of one shape, mm."""
    return _share(diagonal, mirror.aperture_mm, mirror.focal_length_mm, lambda r2: depth(mirror, r2), x, y, _FINE)


def flat_light_share(diagonal: Diagonal, aperture_mm: float, focal_length_mm: float, x: Floats, y: Floats) -> Floats:
    """The same for a primary taken as a flat disc at its vertex, as handbooks do."""
    return _share(diagonal, aperture_mm, focal_length_mm, np.zeros_like, x, y, _FINE)


def _share(diagonal: Diagonal, aperture: float, focal_length: float, height: Depth, x: Floats, y: Floats,
           spokes: int) -> Floats:
    """Polar integral about a point inside both the disc and the diagonal's outline, so that only its corners kink.

    Along a spoke the outline is the larger root of a quadratic once the surface's height is known; the height is then
    put right and the root taken again, which gains more than two digits each time.
    """
    across, along = np.ravel(x)[:, None], np.ravel(y)[:, None]
    spoke = 2 * np.pi * (np.arange(spokes) + 0.5) / spokes
    cos, sin = np.cos(spoke), np.sin(spoke)
    middle_x, middle_y, seen = _middle(diagonal, aperture, focal_length, height, across, along)
    outward = middle_x * cos + middle_y * sin
    rim = -outward + np.sqrt(aperture**2 / 4 - middle_x**2 - middle_y**2 + outward**2)
    reach = rim
    for _ in range(4):
        r2 = (middle_x + reach * cos) ** 2 + (middle_y + reach * sin) ** 2
        fall = height(np.minimum(r2, aperture**2 / 4)) - focal_length
        reach = outline_reach(diagonal, across, along, middle_x - across, middle_y - along, fall, cos, sin)
        reach = np.clip(reach, 0, rim)
    share = np.mean(reach**2, axis=1) / (aperture**2 / 4)
    return np.asarray(np.where(seen[:, 0], share, 0.0)).reshape(np.shape(x))


def outline_reach(diagonal: Diagonal, x: Floats, y: Floats, from_x: Floats, from_y: Floats, fall: Floats, cos: Floats,
             sin: Floats) -> Floats:
    """Length along a spoke from the point (from_x, from_y, fall), counted from Q, to where it leaves the edge cone.

    The ray v from Q is inside the cone where A² + B² ≤ (a/2)² C², with A, B, C linear in v and so in the length. 0
    where the spoke never meets it.
    """
    intercept, offset = diagonal.intercept_mm, diagonal.offset_mm
    a_0, a_1 = (intercept + offset) * from_x - (x + offset) * fall, (intercept + offset) * cos
    b_0 = y * from_x + (intercept - x) * from_y - y * fall
    b_1 = y * cos + (intercept - x) * sin
    half_axis = diagonal.minor_axis_mm / 2
    c_0, c_1 = half_axis * (from_x - fall), half_axis * cos
    square = a_1**2 + b_1**2 - c_1**2
    half = a_0 * a_1 + b_0 * b_1 - c_0 * c_1
    rest = a_0**2 + b_0**2 - c_0**2
    under_root = half**2 - square * rest
    return np.asarray(np.where(under_root >= 0, (-half + np.sqrt(np.abs(under_root))) / square, 0.0))


def _middle(diagonal: Diagonal, aperture: float, focal_length: float, height: Depth, x: Floats,
            y: Floats) -> tuple[Floats, Floats, Floats]:
    """A point well inside both disc and outline, and whether there is one: on the line through the two centres."""
    rim_fall = height(np.full_like(x, aperture**2 / 4)) - focal_length
    steep = rim_fall / (-diagonal.intercept_mm - diagonal.offset_mm)
    centre_x = x + (-diagonal.offset_mm - x) * steep
    centre_y = y + (0 - y) * steep
    away = np.hypot(centre_x, centre_y)
    cos = np.where(away > 0, centre_x / np.where(away > 0, away, 1), 1.0)
    sin = np.where(away > 0, centre_y / np.where(away > 0, away, 1), 0.0)
    ahead = outline_reach(diagonal, x, y, centre_x - x, centre_y - y, rim_fall, cos, sin)
    behind = outline_reach(diagonal, x, y, centre_x - x, centre_y - y, rim_fall, -cos, -sin)
    far, near = np.minimum(aperture / 2, away + ahead), np.maximum(-aperture / 2, away - behind)
    seen = far > near
    place = np.where(seen, (far + near) / 2, 0.0)
    return np.asarray(place * cos), np.asarray(place * sin), np.asarray(seen)


@lru_cache(maxsize=64)
def worst_azimuth(diagonal: Diagonal, mirror: Mirror, radius_mm: float) -> tuple[float, float]:
    """The azimuth of least light at this field radius, degrees from the fold's sky end, and the light there."""
    if radius_mm <= full_radius(diagonal, mirror.aperture_mm, mirror.focal_length_mm, mirror.sagitta_mm):
        return 0.0, 1.0

    def shares(azimuths: Floats, spokes: int) -> Floats:
        return _share(diagonal, mirror.aperture_mm, mirror.focal_length_mm, lambda r2: depth(mirror, r2),
                      radius_mm * np.cos(azimuths), radius_mm * np.sin(azimuths), spokes)

    # The two halves of the field mirror each other across the plane of the fold.
    azimuths = np.linspace(0, math.pi, 17)
    worst = float(azimuths[np.argmin(shares(azimuths, _COARSE))])
    near = np.clip(worst + math.pi / 16 * np.linspace(-1, 1, 9), 0, math.pi)
    darkest = near[np.argsort(shares(near, _COARSE), kind="stable")[:3]]
    light = shares(darkest, _FINE)
    return math.degrees(float(darkest[np.argmin(light)])), float(light.min())


@lru_cache(maxsize=64)
def full_radius(diagonal: Diagonal, aperture_mm: float, focal_length_mm: float, sagitta_mm: float) -> float:
    """Radius of the field that every point of the rim lights in every azimuth, mm; 0 where not even its centre is.

    Each rim point throws the diagonal's outline onto the focal plane. The nearest point of all those outlines to the
    axis is sought on a grid over rim and outline, then on ever finer grids about the best.
    """
    if not _axis_is_full(diagonal, aperture_mm, focal_length_mm, sagitta_mm):
        return 0.0
    best = np.array([0.0, 0.0])
    width = math.pi
    least = math.inf
    for _ in range(6):
        steps = np.linspace(-width, width, 73)
        heights = _thrown(diagonal, aperture_mm, focal_length_mm, sagitta_mm, best[0] + steps[:, None],
                          best[1] + steps[None, :])
        at = np.unravel_index(int(np.argmin(heights)), heights.shape)
        best += steps[list(at)]
        least = float(heights[at])
        width /= 12
    return least


def _thrown(diagonal: Diagonal, aperture: float, focal_length: float, sagitta: float, rim: Floats,
            edge: Floats) -> Floats:
    """Distance from the axis at which the ray from a rim angle past an edge angle meets the focal plane."""
    half_axis, offset = diagonal.minor_axis_mm / 2, diagonal.offset_mm
    edge_x, edge_y = half_axis * np.cos(edge) - offset, half_axis * np.sin(edge)
    edge_z = focal_length - diagonal.intercept_mm + edge_x
    rim_x, rim_y = aperture / 2 * np.cos(rim), aperture / 2 * np.sin(rim)
    stretch = (focal_length - sagitta) / (edge_z - sagitta)
    return np.asarray(np.hypot(rim_x + stretch * (edge_x - rim_x), rim_y + stretch * (edge_y - rim_y)))


def _axis_is_full(diagonal: Diagonal, aperture: float, focal_length: float, sagitta: float) -> bool:
    rim = np.linspace(0, 2 * np.pi, 721)
    x, y, fall = aperture / 2 * np.cos(rim), aperture / 2 * np.sin(rim), sagitta - focal_length
    reach = diagonal.intercept_mm / (x - fall)
    return bool(np.all((x * reach + diagonal.offset_mm) ** 2 + (y * reach) ** 2 <= diagonal.minor_axis_mm**2 / 4))


@formula(title="Fully lit field", source="geometry",
         equation=_CATCH + "; d = 2 min |Q| over all Q that some point of the rim just fails to reach",
         method="Exact, every azimuth, from the mirror's real rim. Search over rim and edge of the diagonal, refined.",
         note="With the offset applied. 0 where not even the centre of the field has the whole mirror's light.",
         unproved="Handbooks print the classical formula, which takes a flat disc across the axis; this is proved "
                  "against traced rays.")
def full_field_mm(
    aperture_mm: float, focal_length_mm: float, sagitta_mm: float, intercept_mm: float, minor_axis_mm: float,
    offset_mm: float,
) -> float:
    """Diameter in the focal plane that the whole primary lights in every azimuth, mm. ValueError where blind."""
    diagonal = Diagonal(minor_axis_mm, intercept_mm, offset_mm)
    _refuse_a_blind_one(diagonal, Mirror(aperture_mm, focal_length_mm))
    return 2 * full_radius(diagonal, aperture_mm, focal_length_mm, sagitta_mm)


@formula(title="Light at the edge of the judged field", source="geometry",
         equation=_CATCH + "; share = area of the P that are caught ÷ area of the mirror's disc, least over azimuths",
         method="Exact outline on the curved mirror, polar quadrature; every azimuth searched.",
         note="The mirror's own central shadow is left aside.",
         unproved="Handbooks print curves for a flat disc; this is proved against traced rays.")
def edge_light(
    aperture_mm: float, focal_length_mm: float, conic: float, intercept_mm: float, minor_axis_mm: float,
    offset_mm: float, judged_field_mm: float,
) -> float:
    """Share of the full disc's light at the edge of the judged field, in the worst azimuth. ValueError where blind."""
    above_zero(judged_field_mm=judged_field_mm)
    diagonal, mirror = Diagonal(minor_axis_mm, intercept_mm, offset_mm), Mirror(aperture_mm, focal_length_mm, conic)
    _refuse_a_blind_one(diagonal, mirror)
    return worst_azimuth(diagonal, mirror, judged_field_mm / 2)[1]


@lru_cache(maxsize=64)
def _refuse_a_blind_one(diagonal: Diagonal, mirror: Mirror) -> None:
    diagonal.station_mm(mirror.focal_length_mm)
    if not light_share(diagonal, mirror, np.zeros(1), np.zeros(1))[0] > 0:
        raise ValueError(f"offset_mm {diagonal.offset_mm:g} puts the diagonal of minor_axis_mm "
                         f"{diagonal.minor_axis_mm:g} outside the cone of light: it catches nothing")
