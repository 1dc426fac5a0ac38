"""How fast the field turns over the sky for a telescope that follows in altitude and azimuth.

Angles in degrees, rates in seconds of arc a second, exposures in seconds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.mechanics import tracking
from dossier.calc.optics.mirror import Floats
from dossier.design.asides.turning import rotation_inputs

if TYPE_CHECKING:
    from dossier.design.model import Design

_LEVELS = (0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 60.0, 120.0)
_POINTS, _MOST = 181, 5


@dataclass(frozen=True, slots=True)
class Contour:
    """Where the field turns at one rate: its pieces, each azimuths and altitudes, and the exposure that it allows."""

    rate_arcsec_per_s: float
    exposure_s: float
    pieces: tuple[tuple[Floats, Floats], ...]


@dataclass(frozen=True, slots=True)
class FieldRotation:
    """The sky from the pole's horizon round to it again, the celestial equator's highest point in the middle.

    ``first_azimuth_deg`` is the azimuth of the left edge, from north through east. ``equator`` are azimuths and
    altitudes; ``highest_deg`` is its altitude on the meridian; ``blurred`` says in words what trail is borne.
    """

    latitude_deg: float
    blur_arcsec: float
    blurred: str
    radius_deg: float
    first_azimuth_deg: float
    contours: tuple[Contour, ...]
    equator: tuple[Floats, Floats]

    @property
    def highest_deg(self) -> float:
        return 90 - abs(self.latitude_deg)

    def rate_at(self, azimuth_deg: float, altitude_deg: float) -> float:
        """How fast the field turns there, either way round."""
        return _slowest(self.latitude_deg) * abs(math.cos(math.radians(azimuth_deg))) / math.cos(
            math.radians(altitude_deg))


def field_rotation(design: Design) -> FieldRotation | None:
    """None where the mount does not turn in altitude and azimuth, or the latitude is not said."""
    known = rotation_inputs(design)
    if known is None:
        return None
    blur = known.blur.value
    return _map(known.latitude_deg, blur[0] if isinstance(blur, tuple) else blur, known.blurred, known.radius.number)


def _slowest(latitude: float) -> float:
    """The rate on the horizon of the meridian, the least of any altitude there."""
    return tracking.SIDEREAL_ARCSEC_PER_S * math.cos(math.radians(latitude))


@lru_cache(maxsize=8)
def _map(latitude: float, blur: float, blurred: str, radius: float) -> FieldRotation:
    first = 0.0 if latitude >= 0 else 180.0
    slowest = _slowest(latitude)
    levels = [level for level in _LEVELS if 0.4 < level / slowest < 7][:_MOST]
    contours = tuple(Contour(level, tracking.rotation_exposure_s(blur, level, radius),
                             tuple(_pieces(level / slowest, first))) for level in levels)
    return FieldRotation(latitude, blur, blurred, radius, first, contours, _equator(latitude, first))


def _pieces(ratio: float, first: float) -> list[tuple[Floats, Floats]]:
    """Altitudes at which cos A ÷ cos h is this ratio: all round the sky, or, below 1, two arches over east and west."""
    if ratio >= 1:
        spans = [(first, first + 360.0)]
    else:
        half = math.degrees(math.asin(ratio))
        spans = [(middle - half, middle + half) for middle in (first + 90.0, first + 270.0)]
    found = []
    for low, high in spans:
        azimuths = np.linspace(low, high, _POINTS)
        share = np.abs(np.cos(np.radians(azimuths))) / ratio
        found.append((azimuths, np.degrees(np.arccos(np.clip(share, 0.0, 1.0)))))
    return found


def _equator(latitude: float, first: float) -> tuple[Floats, Floats]:
    """The celestial equator from its rising to its setting, azimuths growing."""
    hours = np.radians(np.linspace(-90, 90, _POINTS) * (1 if latitude >= 0 else -1))
    up = np.cos(np.radians(latitude)) * np.cos(hours)
    north, east = -np.sin(np.radians(latitude)) * np.cos(hours), -np.sin(hours)
    azimuths = (np.degrees(np.arctan2(east, north)) - first) % 360 + first
    return azimuths, np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))
