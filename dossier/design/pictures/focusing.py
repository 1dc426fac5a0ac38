"""The focusing mask for this aperture: its sizes with their working, and its slots."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from dossier.calc.optics import focusing_mask
from dossier.calc.optics.slots import Slot, focusing_slots
from dossier.design.pictures.light import light_of
from dossier.working import Result

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True, slots=True)
class FocusingMask:
    """The mask's sizes as results, each with its working: the pitch and the tilt of its slots, how far from a star the
    first order stands on the sky and in the focal plane, and how far apart the first orders of the tilted sets are."""

    pitch: Result
    first_order: Result
    tilt: Result
    apart: Result
    shift: Result


def focusing_mask_of(design: Design) -> FocusingMask:
    """The mask after the published rule, for the wavelength that all results hold for."""
    inputs = design.results["figure.strehl"].inputs
    wavelength = inputs["wavelength_nm"]
    pitch = focusing_mask.slot_pitch_mm.work("focusing.pitch", wavelength_nm=wavelength,
                                             aperture_mm=inputs["aperture_mm"])
    first = focusing_mask.first_order_arcsec.work("focusing.first_order", wavelength_nm=wavelength, slot_pitch_mm=pitch)
    tilt = focusing_mask.slot_tilt_deg.work("focusing.tilt", first_order_arcsec=first)
    return FocusingMask(
        pitch, first, tilt,
        focusing_mask.outer_orders_apart_arcsec.work("focusing.apart", first_order_arcsec=first, slot_tilt_deg=tilt),
        focusing_mask.first_order_shift_um.work("focusing.shift", focal_length_mm=inputs["focal_length_mm"],
                                                first_order_arcsec=first))


def slots_of(design: Design) -> tuple[Slot, ...]:
    """The mask's slots. Nothing is cut in the shadow of the diagonal and its holder."""
    sizes, mirror = focusing_mask_of(design), light_of(design).mirror
    return _slots(mirror.aperture_mm, mirror.obstruction_diameter_mm, sizes.pitch.number, sizes.tilt.number)


@lru_cache(maxsize=4)
def _slots(aperture: float, shadow: float, pitch: float, tilt: float) -> tuple[Slot, ...]:
    return focusing_slots(aperture, shadow, pitch, tilt)
