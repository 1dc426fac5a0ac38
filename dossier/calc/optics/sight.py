"""What a builder sees down the drawtube: the outlines by which mirrors are set, to scale.

The eye is on the focuser's axis at the focal plane. Outlines are given as tangents of the angle from that axis, shape
(2, n): first along the tube, positive towards the sky, then across it. Lengths in millimetres.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from dossier.calc.optics import rays
from dossier.calc.optics.fold import Telescope
from dossier.calc.optics.mirror import Floats, depth

OUTLINES: Final = ("drawtube", "diagonal", "primary", "centre_mark", "shadow", "drawtube_again")
_POINTS = 181


def outlines(telescope: Telescope, mark_diameter_mm: float = 10.0) -> dict[str, Floats]:
    """Every outline, by the names of ``OUTLINES``, for a telescope as set: its pose, its diagonal's tip and twist.

    drawtube        the drawtube's inner end
    diagonal        the edge of the diagonal's face
    primary         the rim of the primary's clear aperture, seen in the diagonal
    centre_mark     a ring of this diameter on the primary's middle, seen in the diagonal
    shadow          the diagonal itself, seen in the primary, seen in the diagonal
    drawtube_again  the drawtube's end, seen by way of diagonal, primary and diagonal
    ValueError where the telescope has no drawtube.
    """
    if telescope.bore_mm is None:
        raise ValueError("bore_mm is missing: without a drawtube there is nothing to look down")
    turned = np.linspace(0, 2 * np.pi, _POINTS)
    ring = np.stack([np.cos(turned), np.sin(turned), np.zeros(_POINTS)])
    eye = np.array([telescope.diagonal.intercept_mm, 0.0, _station(telescope)])
    virtual_eye = _in_the_diagonal(telescope, eye[:, None])[:, 0]
    end = np.array([[0.0], [0.0], [_station(telescope)]]) + _drawtube_end(telescope, ring)
    edge = _diagonal_edge(telescope, turned)
    rim = _on_the_mirror(telescope, ring * telescope.mirror.aperture_mm / 2)
    mark = _on_the_mirror(telescope, ring * mark_diameter_mm / 2)
    return {
        "drawtube": _seen(telescope, eye, end),
        "diagonal": _seen(telescope, eye, edge),
        "primary": _seen(telescope, eye, _in_the_diagonal(telescope, rim)),
        "centre_mark": _seen(telescope, eye, _in_the_diagonal(telescope, mark)),
        "shadow": _in_the_primary(telescope, eye, virtual_eye, edge),
        "drawtube_again": _in_the_primary(telescope, eye, virtual_eye, _in_the_diagonal(telescope, end)),
    }


def _station(telescope: Telescope) -> float:
    return telescope.diagonal.station_mm(telescope.mirror.focal_length_mm)


def _drawtube_end(telescope: Telescope, ring: Floats) -> Floats:
    assert telescope.bore_mm is not None
    half = telescope.bore_mm / 2
    return np.stack([np.full(_POINTS, telescope.diagonal.intercept_mm - telescope.drawtube_mm), half * ring[1],
                     half * ring[0]])


def _diagonal_edge(telescope: Telescope, turned: Floats) -> Floats:
    long, minor, _ = telescope.diagonal.axes
    half = telescope.diagonal.minor_axis_mm / 2
    centre = telescope.diagonal.centre(telescope.mirror.focal_length_mm)
    face = np.multiply.outer(long, np.sqrt(2) * half * np.cos(turned)) + np.multiply.outer(minor, half * np.sin(turned))
    return np.asarray(centre[:, None] + face)


def _on_the_mirror(telescope: Telescope, own: Floats) -> Floats:
    """Points of the mirror's surface above a flat outline in its own frame, in the tube's frame."""
    height = depth(telescope.mirror, own[0] ** 2 + own[1] ** 2)
    return np.asarray(telescope.pose.matrix @ np.stack([own[0], own[1], height]) + telescope.pose.shift[:, None])


def _in_the_diagonal(telescope: Telescope, points: Floats) -> Floats:
    """Images of points in the plane of the diagonal."""
    normal = telescope.diagonal.axes[2]
    centre = telescope.diagonal.centre(telescope.mirror.focal_length_mm)
    return np.asarray(points - 2 * np.multiply.outer(normal, normal @ (points - centre[:, None])))


def _in_the_primary(telescope: Telescope, eye: Floats, virtual_eye: Floats, things: Floats) -> Floats:
    """Where things above the primary are seen in it: the point of the mirror that throws each to the virtual eye.

    From near the focus light comes back nearly parallel to the axis, so a miss above is put right by the same step on
    the mirror; a few rounds find the point to a nanometre.
    """
    mirror, turn = telescope.mirror, telescope.pose.matrix
    shift = telescope.pose.shift[:, None]
    source, target = turn.T @ (virtual_eye[:, None] - shift), turn.T @ (things - shift)
    x, y = target[0].copy(), target[1].copy()
    for _ in range(40):
        points = np.stack([x, y, depth(mirror, x**2 + y**2)])
        onward = rays.mirrored(points - source, rays.normal_at(mirror, points))
        landed = points + onward * ((target[2] - points[2]) / onward[2])
        x, y = x + target[0] - landed[0], y + target[1] - landed[1]
        if float(np.max(np.hypot(target[0] - landed[0], target[1] - landed[1]))) < 1e-6:
            break
    own = np.stack([x, y, depth(mirror, x**2 + y**2)])
    return _seen(telescope, eye, _in_the_diagonal(telescope, turn @ own + shift))


def _seen(telescope: Telescope, eye: Floats, points: Floats) -> Floats:
    """Tangents of the angles under which the eye sees points, along the tube and across it."""
    away = eye[0] - points[0]
    return np.stack([(points[2] - _station(telescope)) / away, points[1] / away])
