"""A focusing mask: three gratings of slots over the aperture, whose first-order images of a star line up at best focus.

One half of the mask holds straight slots; the other half holds two sets, tilted equally to either side. Each set
throws a star's first order across its slots. Out of focus the images of the two halves part, so that the streak of the
straight slots leaves the middle of the crossed pair.
"""

from __future__ import annotations

import math

from dossier.calc.optics.mirror import above_zero
from dossier.working import formula

_ARCSEC = 3600 * 180 / math.pi
NEAR_ARCSEC, FAR_ARCSEC, PERIODS = 10.0, 30.0, 25.0
LEAST_TILT_DEG, LEAST_APART_ARCSEC = 10.0, 6.0


@formula(title="First order of the slots", source="sky-telescope-2020", where="page 32: the grating relation",
         rule="3600 * 180 / pi * 1e-6 * wavelength_nm / slot_pitch_mm",
         note="The grating relation for small angles: so far to either side of the star stands its first image.")
def first_order_arcsec(wavelength_nm: float, slot_pitch_mm: float) -> float:
    """Angle between a star and the first order that slots of this pitch throw, arcseconds."""
    return _ARCSEC * 1e-6 * wavelength_nm / slot_pitch_mm


@formula(title="Pitch of the slots", source="sky-telescope-2020", where="page 32",
         rule="finest_mm = 3600 * 180 / pi * 1e-6 * wavelength_nm / far_arcsec; "
              "coarsest_mm = 3600 * 180 / pi * 1e-6 * wavelength_nm / near_arcsec; "
              "max(finest_mm, min(coarsest_mm, aperture_mm / periods))",
         constants={"far_arcsec": FAR_ARCSEC, "near_arcsec": NEAR_ARCSEC, "periods": PERIODS},
         note="The first order is to stand 10″ to 30″ from the star. Between these, some twenty-five slots over the "
              "aperture pass enough light and are few enough to cut: that number is common practice. Slot and bar each "
              "take half of the pitch.")
def slot_pitch_mm(wavelength_nm: float, aperture_mm: float) -> float:
    """From one slot of the mask to the next, mm. ValueError unless both are above zero."""
    above_zero(wavelength_nm=wavelength_nm, aperture_mm=aperture_mm)
    finest, coarsest = (_ARCSEC * 1e-6 * wavelength_nm / angle for angle in (FAR_ARCSEC, NEAR_ARCSEC))
    return max(finest, min(coarsest, aperture_mm / PERIODS))


@formula(title="Tilt of the outer sets of slots", source="sky-telescope-2020", where="page 32",
         rule="max(least_tilt_deg, 180 / pi * asin(min(1, least_apart_arcsec / (2 * first_order_arcsec))))",
         constants={"least_tilt_deg": LEAST_TILT_DEG, "least_apart_arcsec": LEAST_APART_ARCSEC},
         note="To either side of the straight slots. It keeps the outer two of the three first orders 6″ apart or "
              "more; below 10° the crossing is hard to judge.")
def slot_tilt_deg(first_order_arcsec: float) -> float:
    """Angle of the tilted slots to the straight ones, degrees. ValueError unless the first order is above zero."""
    above_zero(first_order_arcsec=first_order_arcsec)
    return max(LEAST_TILT_DEG, math.degrees(math.asin(min(1.0, LEAST_APART_ARCSEC / (2 * first_order_arcsec)))))


@formula(title="Outer first orders apart", source="sky-telescope-2020", where="page 32",
         rule="2 * first_order_arcsec * sin(pi / 180 * slot_tilt_deg)",
         note="The straight slots' own first order stands midway between them at best focus.")
def outer_orders_apart_arcsec(first_order_arcsec: float, slot_tilt_deg: float) -> float:
    """Angle between the first orders of the two tilted sets of slots, on the same side of the star, arcseconds."""
    return 2 * first_order_arcsec * math.sin(math.radians(slot_tilt_deg))


@formula(title="Outer first orders apart, as the eye sees them", source="geometry",
         rule="magnification * outer_orders_apart_arcsec / 60", unproved="A magnified angle.")
def outer_orders_seen_arcmin(magnification: float, outer_orders_apart_arcsec: float) -> float:
    """Angle between the two at the eye, arcminutes."""
    return magnification * outer_orders_apart_arcsec / 60


@formula(title="First order in the focal plane", source="geometry",
         rule="1000 * focal_length_mm * tan(pi / 180 / 3600 * first_order_arcsec)",
         note="Divide by the size of a camera's pixel for the distance in pixels.",
         unproved="Geometry of one triangle.")
def first_order_shift_um(focal_length_mm: float, first_order_arcsec: float) -> float:
    """Distance of the first order from the star in the focal plane, µm."""
    return 1000 * focal_length_mm * math.tan(math.radians(first_order_arcsec / 3600))
