"""Coma of a paraboloid across the field, to third order.

Field sizes in the focal plane are in millimetres, angles on the sky in arcminutes, blurs in arcseconds, wavelengths in
micrometres.
"""

from __future__ import annotations

import math

from dossier.working import formula


@formula(title="Half angle of the judged field", source="schroeder-2000", where="ch. 2",
         rule="3437.74677 * field_diameter_mm / (2 * focal_length_mm)",
         note="Small angles, as third-order coma takes them; 3437.74677 is the number of arcminutes in a radian.")
def field_angle_arcmin(field_diameter_mm: float, focal_length_mm: float) -> float:
    """Angle on the sky from the field's centre to the edge of this diameter in the focal plane, arcmin."""
    return 3437.74677 * field_diameter_mm / (2 * focal_length_mm)


@formula(title="Tangential coma at the edge of the judged field", source="argyle-2012",
         rule="11.25 * field_angle_arcmin / focal_ratio**2", holds={"focal_ratio": (3, 30)},
         note="Third order: length of the comatic patch. 11.25 is 60 × 3/16, from arcminutes to arcseconds.")
def coma_tangential_arcsec(field_angle_arcmin: float, focal_ratio: float) -> float:
    """Length of a paraboloid's comatic star image at this angle from the field's centre, arcsec."""
    return 11.25 * field_angle_arcmin / focal_ratio**2


@formula(title="Coma-free radius of the field", source="sacek-2006", where="eq. 70.2",
         rule="32 * sqrt(0.4) * wavelength_um * focal_ratio**3 / 1000", holds={"focal_ratio": (3, 30)},
         note="Where coma alone, third order, takes the RMS wavefront to 1/√180 of a wave, the value that custom pairs "
              "with a Strehl ratio of 0.80. At 0.55 µm it is F³/89.84 mm, which the source rounds to F³/90.")
def coma_free_radius_mm(wavelength_um: float, focal_ratio: float) -> float:
    """Radius in the focal plane within which a paraboloid's coma costs no more than a fifth of the Strehl ratio, mm.

    At height h the wavefront's coefficient is A = hD/(32 F² f) and its RMS A/√72; A/√72 = λ/√180 gives h.
    """
    return 32 * math.sqrt(0.4) * wavelength_um * focal_ratio**3 / 1000
