"""The field: how evenly it is lit, and how sharp its stars are at every focus. Lengths in millimetres, spots in µm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dossier.calc.optics import diffraction, illumination, spots, star_images, wavefront
from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Floats
from dossier.design.pictures.light import Foci, Light, diagonal_of, foci_of, light_of
from dossier.spec.defaults import slug
from dossier.working import converted

if TYPE_CHECKING:
    from dossier.design.model import Design

_BEYOND = 1.12
_RINGS = 6


@dataclass(frozen=True, slots=True)
class IlluminationCurve:
    """Share of the mirror's light at places of the focal plane, in the plane of the fold and across it.

    In the fold, places above zero lie towards the sky end of the tube, below zero towards the primary; the two sides
    across are alike. The edges of the judged, of the fully lit and of every eyepiece's field are among the places.
    ``stops`` are the eyepieces' names and the widths of their fields.
    """

    light: Light
    diagonal: Diagonal
    judged_mm: float
    full_mm: float
    stops: tuple[tuple[str, float], ...]
    worst_share: float
    worst_azimuth_deg: float
    places_mm: Floats
    in_fold: Floats
    across: Floats


@dataclass(frozen=True, slots=True)
class SpotMatrix:
    """Spots of stars across the field (rows) at planes of focus (columns), µm about the chief ray.

    ``spots`` is of shape (rows, columns, 2, rays), along the field's radius first; ``rms_um`` of (rows, columns).
    Focuses are counted from the paraxial one.
    """

    light: Light
    foci: Foci
    airy_um: float
    field_mm: tuple[float, ...]
    field_arcmin: tuple[float, ...]
    focuses_mm: tuple[float, ...]
    spots: Floats
    rms_um: Floats


def illumination_curve(design: Design) -> IlluminationCurve:
    """How the light falls off towards the edge of the field."""
    return _illumination(light_of(design), diagonal_of(design), design.results["field.judged"].number,
                         design.results["diagonal.full_field"].number, tuple(_stops(design)))


def _stops(design: Design) -> Iterator[tuple[str, float]]:
    for piece in design.build.eyepieces or ():
        lit = design.results.get(f"eyepiece.{slug(piece.name)}.edge_light")
        width = lit and converted(lit.inputs["judged_field_mm"], "judged_field_mm")
        if isinstance(width, float):
            yield piece.name, width


@lru_cache(maxsize=8)
def _illumination(light: Light, diagonal: Diagonal, judged: float, full: float,
                  stops: tuple[tuple[str, float], ...]) -> IlluminationCurve:
    widths = [judged, full, *(width for _, width in stops)]
    reach = _BEYOND * max(widths) / 2
    half = np.union1d(np.linspace(0, reach, 21), np.array(widths) / 2)
    places = np.concatenate([-half[:0:-1], half])
    in_fold = illumination.light_share(diagonal, light.mirror, places, np.zeros_like(places))
    across = illumination.light_share(diagonal, light.mirror, np.zeros_like(half), half)
    azimuth, share = illumination.worst_azimuth(diagonal, light.mirror, judged / 2)
    return IlluminationCurve(light, diagonal, judged, full, stops, share, azimuth, places, in_fold,
                             np.concatenate([across[:0:-1], across]))


def share_at(magnitudes: float) -> float:
    """The share of light that is left by a loss of so many magnitudes."""
    return float(10 ** (-0.4 * magnitudes))


def magnitudes_lost(share: float) -> float:
    """Magnitudes by which a star is dimmed where only this share of its light is caught."""
    return -2.5 * math.log10(share)


def spot_matrix(design: Design) -> SpotMatrix:
    """Spots on the axis, half-way out and at the edge of the judged field, at five planes of focus."""
    return _spots(light_of(design), foci_of(design), design.results["field.judged"].number)


@lru_cache(maxsize=8)
def _spots(light: Light, foci: Foci, judged: float) -> SpotMatrix:
    mirror = light.mirror
    field = tuple(share * judged / 2 for share in (0.0, 0.5, 1.0))
    angles: Floats = np.array([spots.field_angle_deg(2 * radius, mirror.focal_length_mm) for radius in field])
    step = max(abs(spots.longitudinal_aberration_mm(mirror.aperture_mm, mirror.focal_length_mm, mirror.conic)) / 4,
               star_images.star_test_shift_mm(0.375, light.wavelength_nm, mirror.focal_ratio))
    focuses: Floats = wavefront.least_rms(mirror).focus_mm + step * np.arange(-2.0, 3.0)
    rms: NDArray[np.float64] = np.array([[spots.spot(mirror, float(angle), float(focus)).rms_radius_um
                                          for focus in focuses] for angle in angles])
    return SpotMatrix(light, foci, diffraction.DARK_RING * light.unit_um, field, tuple((60 * angles).tolist()),
                      tuple(focuses.tolist()), spots.spot_matrix(mirror, angles, focuses, _RINGS), rms)
