"""Rays: from the sky by way of the mirror to any plane, exactly, whole bundles at a time.

Lengths in millimetres, angles in degrees or, for a mirror out of true, arcminutes. Light comes down −z. A star off the
axis by an angle in the x–z plane sends rays along (sin, 0, −cos) and is imaged at +x. Bundles are worked through in
blocks that stay in the processor's cache; there is no loop over single rays.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from dossier.calc.optics.mirror import Floats, Mirror, depth, root

Direction = tuple[float, float, float]
_BLOCK = 8192


@dataclass(frozen=True, slots=True)
class Pose:
    """A mirror out of true: turned about its vertex, then shifted.

    ``tilt_x_arcmin`` turns the axis towards +x, ``tilt_y_arcmin`` towards +y. Shifts in mm.
    """

    tilt_x_arcmin: float = 0.0
    tilt_y_arcmin: float = 0.0
    shift_x_mm: float = 0.0
    shift_y_mm: float = 0.0
    shift_z_mm: float = 0.0

    @property
    def matrix(self) -> Floats:
        """Columns are the mirror's own x, y and z directions, seen from the tube."""
        across, along = (math.radians(tilt / 60) for tilt in (self.tilt_x_arcmin, self.tilt_y_arcmin))
        cos_x, sin_x, cos_y, sin_y = math.cos(across), math.sin(across), math.cos(along), math.sin(along)
        about_y = np.array([[cos_x, 0, sin_x], [0, 1, 0], [-sin_x, 0, cos_x]])
        about_x = np.array([[1, 0, 0], [0, cos_y, sin_y], [0, -sin_y, cos_y]])
        return np.asarray(about_y @ about_x)

    @property
    def shift(self) -> Floats:
        return np.array([self.shift_x_mm, self.shift_y_mm, self.shift_z_mm])


def star_direction(angle_deg: float, azimuth_deg: float = 0.0) -> Direction:
    """Direction of travel of a star's light, from an angle off the axis at an azimuth counted from +x towards +y."""
    angle, azimuth = math.radians(angle_deg), math.radians(azimuth_deg)
    return math.sin(angle) * math.cos(azimuth), math.sin(angle) * math.sin(azimuth), -math.cos(angle)


def at_plane(mirror: Mirror, x: Floats, y: Floats, direction: Direction, plane_mm: float) -> tuple[Floats, Floats]:
    """Where parallel rays that meet the mirror at (x, y), arrays of one shape, cross the plane z = ``plane_mm``.

    Shapes in and out alike, mm. The rays are those that meet the surface there: they are not shaded by anything.
    """
    flat_x, flat_y = np.ravel(x), np.ravel(y)
    out = np.empty((2, flat_x.size))
    room = np.empty((6, min(_BLOCK, max(flat_x.size, 1))))
    for start in range(0, flat_x.size, _BLOCK):
        part = slice(start, start + _BLOCK)
        _block_at_plane(mirror, flat_x[part], flat_y[part], direction, plane_mm, out[:, part], room)
    return out[0].reshape(np.shape(x)), out[1].reshape(np.shape(y))


def _block_at_plane(mirror: Mirror, x: Floats, y: Floats, direction: Direction, plane_mm: float, out: Floats,
                    room: Floats) -> None:
    """One block, written into ``out``. Lengths are taken in vertex radii; ``room`` is scratch space.

    The surface's inward normal is (−x, −y, s)/R with s = √(1 − (1+K)r²/R²), of squared length 1 − K r²/R². With
    g = 2 (d·N)/|N|² the reflected ray is d − gN.
    """
    across, along, down = direction
    curvature = 1 / mirror.radius_mm
    near, up, gain, first, second, reach = room[:, :x.size]
    np.multiply(x, x, out=near)
    np.multiply(y, y, out=first)
    near += first
    near *= curvature * curvature                   # (r/R)²
    np.multiply(near, -(1 + mirror.conic), out=up)
    up += 1
    np.sqrt(up, out=up)                             # s
    np.multiply(x, -across * curvature, out=gain)
    if along:
        np.multiply(y, -along * curvature, out=first)
        gain += first
    np.multiply(up, down, out=first)
    gain += first                                   # d·N
    np.multiply(near, -mirror.conic / 2, out=first)
    first += 0.5
    gain /= first                                   # g
    np.multiply(gain, up, out=second)
    np.subtract(down, second, out=second)           # the reflected ray's z
    up += 1
    near /= up
    np.subtract(plane_mm * curvature, near, out=reach)
    reach /= second                                 # length to the plane, in vertex radii
    gain *= reach
    gain += 1                                       # x' = x (1 + g t) + t l
    np.multiply(x, gain, out=out[0])
    np.multiply(y, gain, out=out[1])
    reach *= mirror.radius_mm
    if across:
        np.multiply(reach, across, out=first)
        out[0] += first
    if along:
        np.multiply(reach, along, out=first)
        out[1] += first


def reflected(mirror: Mirror, x: Floats, y: Floats, direction: Direction) -> tuple[Floats, Floats]:
    """Points on the mirror and directions after reflection, each of shape (3, …), for parallel rays that meet it."""
    r2 = x**2 + y**2
    points = np.stack([x, y, depth(mirror, r2)])
    normal = np.stack([-x / mirror.radius_mm, -y / mirror.radius_mm, root(mirror, r2)])
    arriving = np.broadcast_to(np.reshape(direction, (3,) + (1,) * np.ndim(x)), points.shape)
    return points, mirrored(arriving, normal)


def mirrored(direction: Floats, normal: Floats) -> Floats:
    """Directions (3, …) after reflection at surfaces with these normals, which need not be of unit length."""
    along = np.sum(direction * normal, axis=0) / np.sum(normal * normal, axis=0)
    return np.asarray(direction - 2 * along * normal)


def meet(mirror: Mirror, origin: Floats, direction: Floats) -> Floats:
    """Where rays from anywhere, heading down, meet the surface: points (3, n). NaN where they pass it by.

    ``origin`` and ``direction`` of shape (3, n). Each ray is first carried to the vertex plane; from there the nearer
    root of x² + y² + (1 + K) z² = 2Rz is the mirror, written so that no digits are lost.
    """
    start = origin - direction * (origin[2] / direction[2])
    bulge = 1 + mirror.conic
    square = direction[0] ** 2 + direction[1] ** 2 + bulge * direction[2] ** 2
    half = start[0] * direction[0] + start[1] * direction[1] - mirror.radius_mm * direction[2]
    height = start[0] ** 2 + start[1] ** 2
    under_root = half**2 - square * height
    reach = -height / (half + np.sqrt(np.where(under_root < 0, np.nan, under_root)))
    return np.asarray(start + reach * direction)


def normal_at(mirror: Mirror, points: Floats) -> Floats:
    """Normals (3, n) that point to the sky, at points of the surface; not of unit length."""
    return np.stack([-points[0], -points[1], mirror.radius_mm - (1 + mirror.conic) * points[2]])


def posed_at_plane(
    mirror: Mirror, pose: Pose, x: Floats, y: Floats, direction: Direction, plane_mm: float,
) -> tuple[Floats, Floats]:
    """Like ``at_plane`` for a mirror out of true: x and y are on the mirror itself, the plane stays with the tube."""
    turn = pose.matrix
    arriving = turn.T @ np.array(direction)
    own_points, own_directions = reflected(mirror, np.ravel(x), np.ravel(y), tuple(arriving.tolist()))
    points, directions = turn @ own_points + pose.shift[:, None], turn @ own_directions
    reach = (plane_mm - points[2]) / directions[2]
    landed = points + reach * directions
    return landed[0].reshape(np.shape(x)), landed[1].reshape(np.shape(y))


def posed_path_mm(mirror: Mirror, pose: Pose, x: Floats, y: Floats, direction: Direction, focus: Floats) -> Floats:
    """Path from a star's plane wave by way of the mirror at its own (x, y) to the point ``focus`` (3), mm."""
    flat = np.stack([np.ravel(x), np.ravel(y), np.ravel(depth(mirror, x**2 + y**2))])
    points = pose.matrix @ flat + pose.shift[:, None]
    path = np.array(direction) @ points + np.sqrt(np.sum((focus[:, None] - points) ** 2, axis=0))
    return np.asarray(path).reshape(np.shape(x))
