"""Ways of light that the mirrors are not meant for, and what a builder sees down the drawtube. Lengths in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from dossier.calc.optics import sight, straylight
from dossier.calc.optics.fold import Diagonal, Telescope
from dossier.calc.optics.mirror import Floats
from dossier.calc.optics.rays import Pose
from dossier.calc.optics.straylight import Opening, Sight
from dossier.design.pictures.light import Light, diagonal_of, light_of

if TYPE_CHECKING:
    from dossier.design.model import Design

MARK_MM = 10.0
# How far out of true the second and third views are, arcminutes: enough to be seen, as a fresh assembly may be.
PRIMARY_OUT_ARCMIN, DIAGONAL_OUT_ARCMIN = 30.0, 60.0


@dataclass(frozen=True, slots=True)
class StraySights:
    """The worst lines of sight from the judged field to anything but the mirror, and what shuts each.

    ``front`` is None where the sky end's station is not known, ``front_beyond_mm`` its distance beyond the focuser's
    axis; a drawtube stopped down below ``least_bore_mm`` costs light. ``shroud_mm`` is how far above the plane of the
    primary's rim a frame must be closed, or a tube's inside black, at ``wall_mm`` from the axis; both are None where no
    frame is given. ``across`` is drawn on the primary's side of the focuser, ``front`` on the other.
    """

    across: Sight
    front: Sight | None
    rim: Sight
    shield_half_mm: float
    ring_mm: float
    closed_tube: bool
    front_beyond_mm: float | None
    least_bore_mm: float
    wall_mm: float | None
    shroud_mm: float | None


@dataclass(frozen=True, slots=True)
class View:
    """Outlines seen from the focuser's axis at the focal plane, as tangents from it: along the tube, across."""

    state: str
    outlines: Mapping[str, Floats]


@dataclass(frozen=True, slots=True)
class SightView:
    """The view down the drawtube of the telescope in true, of one with its primary and one with its diagonal out.

    ``tolerance_arcmin`` is the tilt of the primary that costs 0.05 of Strehl ratio, None where no tilt does.
    """

    light: Light
    mark_mm: float
    primary_out_arcmin: float
    diagonal_out_arcmin: float
    tolerance_arcmin: float | None
    views: tuple[View, View, View]


def stray_sights(design: Design) -> StraySights | None:
    """What the judged field sees besides the mirror. None where bore or drawtube are not given."""
    opening = _opening(design)
    if opening is None:
        return None
    light, build = light_of(design), design.build
    front = build.front.station if build.front else None
    frame, fold = build.frame, design.results["focuser.station"].number
    closed = frame is not None and frame.kind == "tube"
    across, out, rim = straylight.sights(light.mirror, diagonal_of(design), opening, fold if front is None else front,
                                         closed)
    wall, top = design.results.get("stray.frame_radius"), design.results.get(
        "stray.wall_top" if closed else "stray.shroud_top")
    # The way past the diagonal is the same on both sides of the focuser's axis.
    lower = replace(across, corners=tuple((x, 2 * fold - z) for x, z in across.corners))
    return StraySights(lower, None if front is None else out, rim, across.shut_by_mm, rim.shut_by_mm, closed,
                       None if front is None else front - fold, design.results["focuser.least_bore"].number,
                       wall.number if wall else None,
                       max(0.0, top.number - light.mirror.sagitta_mm) if top else None)


def sight_views(design: Design) -> SightView | None:
    """The marks by which mirrors are set. None where bore or drawtube are not given."""
    opening = _opening(design)
    if opening is None:
        return None
    tolerance = design.results.get("collimation.tilt_tolerance")
    return _views(light_of(design), diagonal_of(design), opening, tolerance.number if tolerance else None)


@lru_cache(maxsize=4)
def _views(light: Light, diagonal: Diagonal, opening: Opening, tolerance: float | None) -> SightView:
    tipped = Diagonal(diagonal.minor_axis_mm, diagonal.intercept_mm, diagonal.offset_mm, DIAGONAL_OUT_ARCMIN)
    tilted = Pose(tilt_y_arcmin=PRIMARY_OUT_ARCMIN)
    in_true, primary, other = (
        View(state, sight.outlines(Telescope(light.mirror, flat, pose, bore_mm=opening.bore_mm,
                                             drawtube_mm=opening.drawtube_mm), MARK_MM))
        for state, flat, pose in (("true", diagonal, Pose()), ("primary", diagonal, tilted),
                                  ("diagonal", tipped, Pose())))
    return SightView(light, MARK_MM, PRIMARY_OUT_ARCMIN, DIAGONAL_OUT_ARCMIN, tolerance, (in_true, primary, other))


def _opening(design: Design) -> Opening | None:
    focuser = design.build.focuser
    if focuser.bore is None or focuser.drawtube is None:
        return None
    return Opening(focuser.bore, focuser.drawtube, design.results["field.judged"].number, focuser.mounting_radius)
