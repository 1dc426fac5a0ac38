"""Openings that must let the judged field's light through, and vanes that take some of it.

Lengths in millimetres. Stations run from the primary's vertex towards the sky; ``rim_to_focus_mm`` runs along the axis
from the plane of the primary's rim to the focus. Every rule follows one ray, from a rim point to the far edge of the
field; light that reaches the edge of the field leaves the rim that much off the axis.
"""

from __future__ import annotations

import math

import numpy as np

from dossier.working import formula

_ONE_RAY = "Similar triangles along one ray; proved against traced rays."


@formula(title="Least front opening", source="geometry",
         rule="aperture_mm + (front_station_mm - sagitta_mm) * judged_field_mm / focal_length_mm",
         note="A star at the edge of the judged field sends light this wide through the sky end.", unproved=_ONE_RAY)
def least_opening_mm(
    aperture_mm: float, focal_length_mm: float, sagitta_mm: float, front_station_mm: float, judged_field_mm: float,
) -> float:
    """Smallest clear diameter at the sky end that takes no light from the judged field, mm."""
    return aperture_mm + (front_station_mm - sagitta_mm) * judged_field_mm / focal_length_mm


@formula(title="How far the beam reaches from the axis", source="geometry",
         rule="aperture_mm / 2 + (upper_fixing_mm - sagitta_mm) * judged_field_mm / (2 * focal_length_mm)",
         note="At the upper end of the frame, for all of the judged field. What stands nearer to the axis takes light.",
         unproved=_ONE_RAY)
def beam_radius_mm(
    aperture_mm: float, focal_length_mm: float, sagitta_mm: float, upper_fixing_mm: float, judged_field_mm: float,
) -> float:
    """Radius of the judged field's incoming beam at the station of the frame's upper fixing, mm."""
    return aperture_mm / 2 + (upper_fixing_mm - sagitta_mm) * judged_field_mm / (2 * focal_length_mm)


@formula(title="Field that the drawtube does not shade", source="geometry",
         rule="max(0, (bore_mm * rim_to_focus_mm - aperture_mm * drawtube_mm) / (rim_to_focus_mm - drawtube_mm))",
         note="0 where the drawtube's inner end shades even the middle of the field.", unproved=_ONE_RAY)
def bore_field_mm(aperture_mm: float, rim_to_focus_mm: float, bore_mm: float, drawtube_mm: float) -> float:
    """Largest diameter in the focal plane that gets the whole mirror's light through the drawtube's end, mm.

    ValueError where the drawtube would reach back to the mirror.
    """
    if not drawtube_mm < rim_to_focus_mm:
        raise ValueError(f"drawtube_mm {drawtube_mm:g} must be less than rim_to_focus_mm {rim_to_focus_mm:g}: "
                         "it would reach the mirror")
    return float(np.maximum(0.0, (bore_mm * rim_to_focus_mm - aperture_mm * drawtube_mm)
                            / (rim_to_focus_mm - drawtube_mm)))


@formula(title="Least bore for the judged field", source="geometry",
         rule="(judged_field_mm * (rim_to_focus_mm - drawtube_mm) + aperture_mm * drawtube_mm) / rim_to_focus_mm",
         note="At the drawtube's inner end, or for a baffle set there.", unproved=_ONE_RAY)
def least_bore_mm(aperture_mm: float, rim_to_focus_mm: float, drawtube_mm: float, judged_field_mm: float) -> float:
    """Smallest clear diameter of the drawtube's inner end that takes no light from the judged field, mm."""
    return (judged_field_mm * (rim_to_focus_mm - drawtube_mm) + aperture_mm * drawtube_mm) / rim_to_focus_mm


@formula(title="Light that the spider takes", source="geometry",
         rule="2 * vanes * vane_thickness_mm / (pi * (aperture_mm + obstruction_diameter_mm))",
         note="Straight vanes from the diagonal's shadow to the rim, each hiding its thickness times its length of the "
              "annulus. The peak of a star's image falls by the square of what is left.",
         unproved="One area over another; proved by counting the points of a pupil that the vanes cover.")
def vane_light_loss(
    aperture_mm: float, obstruction_diameter_mm: float, vanes: float, vane_thickness_mm: float,
) -> float:
    """Share of the annulus that the spider's vanes cover."""
    return 2 * vanes * vane_thickness_mm / (math.pi * (aperture_mm + obstruction_diameter_mm))
