"""The whole light path: front opening, spider, diagonal's shadow, mirror, diagonal, drawtube, focal plane.

Lengths in millimetres. The tube's axis is z, from the primary's vertex towards the sky; the focuser points along +x
and meets the axis at the station f − L. The diagonal lies in the plane x = z − (f − L), its face 1 : √2; the offset
moves it by the same length towards −z (the primary) and −x (away from the focuser). In the focal plane, u is counted
along the tube towards the sky and y across it: light that travels down the tube towards +x is imaged at +u.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from dossier.calc.optics import rays
from dossier.calc.optics.mirror import Floats, Mirror, above_zero, finite
from dossier.calc.optics.rays import Direction, Pose

IN_TRUE: Final = Pose()
ARRIVES: Final = 0
FRONT, SPIDER, SHADOW, PAST_MIRROR, PAST_DIAGONAL, DRAWTUBE = range(1, 7)
LOST_AT = {FRONT: "front opening", SPIDER: "spider", SHADOW: "diagonal's shadow", PAST_MIRROR: "past the mirror",
           PAST_DIAGONAL: "past the diagonal", DRAWTUBE: "drawtube"}


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A flat at 45°: minor axis, intercept, offset; turned about its centre by a tip (about y) and a twist (about z).

    ValueError where it cannot stand between mirror and focus.
    """

    minor_axis_mm: float
    intercept_mm: float
    offset_mm: float = 0.0
    tip_arcmin: float = 0.0
    twist_arcmin: float = 0.0

    def __post_init__(self) -> None:
        above_zero(minor_axis_mm=self.minor_axis_mm, intercept_mm=self.intercept_mm)
        finite(offset_mm=self.offset_mm)

    def centre(self, focal_length_mm: float) -> Floats:
        """Centre of the face (3)."""
        return np.array([-self.offset_mm, 0.0, self.station_mm(focal_length_mm) - self.offset_mm])

    def station_mm(self, focal_length_mm: float) -> float:
        """Where the focuser's axis meets the tube's. ValueError where that lies behind the mirror."""
        if not self.intercept_mm < focal_length_mm:
            raise ValueError(f"intercept_mm {self.intercept_mm:g} must be less than the focal length of "
                             f"{focal_length_mm:g}: the diagonal would stand behind the mirror")
        return focal_length_mm - self.intercept_mm

    @property
    def axes(self) -> tuple[Floats, Floats, Floats]:
        """Unit vectors: along the face's long axis, along its minor axis, and its normal towards the mirror."""
        turn = Pose(tilt_x_arcmin=self.tip_arcmin).matrix
        angle = math.radians(self.twist_arcmin / 60)
        twist = np.array([[math.cos(angle), -math.sin(angle), 0], [math.sin(angle), math.cos(angle), 0], [0, 0, 1]])
        half = math.sqrt(0.5)
        face = np.array([[half, 0, half], [0, 1, 0], [half, 0, -half]])
        long, minor, normal = (twist @ turn @ face.T).T
        return long, minor, normal


@dataclass(frozen=True, slots=True)
class Telescope:
    """What stands in the light's way. Lengths of zero or None leave a part out."""

    mirror: Mirror
    diagonal: Diagonal
    pose: Pose = IN_TRUE
    front_opening_mm: float | None = None
    front_station_mm: float = 0.0
    vanes: int = 0
    vane_thickness_mm: float = 0.0
    bore_mm: float | None = None
    drawtube_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Traced:
    """Where each ray lands in the focal plane, mm, and what stopped it: ``ARRIVES`` or a key of ``LOST_AT``."""

    u: Floats
    y: Floats
    lost: NDArray[np.int8]


def starlight(telescope: Telescope, direction: Direction, count: int, width_mm: float) -> Floats:
    """Starting points (3, count²) of a square of parallel rays that would meet the vertex plane around the axis."""
    half = width_mm / 2
    places = (np.arange(count) + 0.5) / count * width_mm - half
    x, y = (grid.ravel() for grid in np.meshgrid(places, places))
    height = max(telescope.front_station_mm, telescope.mirror.focal_length_mm) + width_mm
    slide = height / direction[2]
    return np.stack([x + slide * direction[0], y + slide * direction[1], np.full(x.size, height)])


def follow(telescope: Telescope, origin: Floats, direction: Floats) -> Traced:
    """Follow rays from anywhere above the telescope to its focal plane.

    ``origin`` and ``direction`` of shape (3, n), directions of unit length with z < 0. A ray keeps the first thing that
    stops it; where it then lands is only what it would have done.
    """
    lost = np.zeros(origin.shape[1], dtype=np.int8)
    _shade_arriving(telescope, origin, direction, lost)
    points, onward = _off_the_mirror(telescope, origin, direction, lost)
    points, onward = _off_the_diagonal(telescope, points, onward, lost)
    station = telescope.diagonal.station_mm(telescope.mirror.focal_length_mm)
    if telescope.bore_mm is not None:
        end = _carried(points, onward, 0, telescope.diagonal.intercept_mm - telescope.drawtube_mm)
        _mark(lost, np.hypot(end[1], end[2] - station) > telescope.bore_mm / 2, DRAWTUBE)
    landed = _carried(points, onward, 0, telescope.diagonal.intercept_mm)
    return Traced(landed[2] - station, landed[1], lost)


def _shade_arriving(telescope: Telescope, origin: Floats, direction: Floats, lost: NDArray[np.int8]) -> None:
    if telescope.front_opening_mm is not None:
        x, y, _ = _carried(origin, direction, 2, telescope.front_station_mm)
        _mark(lost, np.hypot(x, y) > telescope.front_opening_mm / 2, FRONT)
    centre = telescope.diagonal.centre(telescope.mirror.focal_length_mm)
    x, y, _ = _carried(origin, direction, 2, centre[2])
    _mark(lost, np.hypot(x - centre[0], y) < telescope.mirror.obstruction_diameter_mm / 2, SHADOW)
    for turned in 2 * np.pi * np.arange(telescope.vanes) / max(telescope.vanes, 1):
        beside = np.abs(y * np.cos(turned) - x * np.sin(turned)) < telescope.vane_thickness_mm / 2
        _mark(lost, beside & (x * np.cos(turned) + y * np.sin(turned) > 0), SPIDER)


def _off_the_mirror(telescope: Telescope, origin: Floats, direction: Floats,
                    lost: NDArray[np.int8]) -> tuple[Floats, Floats]:
    mirror, turn, shift = telescope.mirror, telescope.pose.matrix, telescope.pose.shift[:, None]
    own = rays.meet(mirror, turn.T @ (origin - shift), turn.T @ direction)
    _mark(lost, ~(np.hypot(own[0], own[1]) <= mirror.aperture_mm / 2), PAST_MIRROR)
    onward = rays.mirrored(turn.T @ direction, rays.normal_at(mirror, own))
    return turn @ own + shift, turn @ onward


def _off_the_diagonal(telescope: Telescope, points: Floats, onward: Floats,
                      lost: NDArray[np.int8]) -> tuple[Floats, Floats]:
    diagonal = telescope.diagonal
    long, minor, normal = diagonal.axes
    centre = diagonal.centre(telescope.mirror.focal_length_mm)[:, None]
    reach = (normal @ (centre - points)) / (normal @ onward)
    hit = points + reach * onward
    inside = (minor @ (hit - centre)) ** 2 + (long @ (hit - centre)) ** 2 / 2 <= (diagonal.minor_axis_mm / 2) ** 2
    _mark(lost, ~inside, PAST_DIAGONAL)
    return hit, rays.mirrored(onward, np.broadcast_to(normal[:, None], onward.shape))


def _carried(points: Floats, direction: Floats, axis: int, plane_mm: float) -> Floats:
    """Points (3, n) where rays cross the plane at which this coordinate has this value."""
    return np.asarray(points + direction * ((plane_mm - points[axis]) / direction[axis]))


def _mark(lost: NDArray[np.int8], stopped: NDArray[np.bool_], by: int) -> None:
    lost[stopped & (lost == ARRIVES)] = by
