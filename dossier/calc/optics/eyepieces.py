"""What each eyepiece shows, and where the drawtube stands when it is in focus.

Lengths in millimetres, fields in degrees, times in seconds. The drawtube's position is counted from racked fully in,
positive outwards, away from the tube.
"""

from __future__ import annotations

import math

import numpy as np

from dossier.working import formula

_OWN_LENGTHS = "It is a sum of the author's own lengths."


@formula(title="Magnification", source="thompson-2005", where="ch. 4",
         rule="focal_length_mm / eyepiece_focal_length_mm")
def magnification(focal_length_mm: float, eyepiece_focal_length_mm: float) -> float:
    """How many times larger the angle looks through this eyepiece."""
    return focal_length_mm / eyepiece_focal_length_mm


@formula(title="Exit pupil", source="darling-exit-pupil", rule="aperture_mm / magnification")
def exit_pupil_mm(aperture_mm: float, magnification: float) -> float:
    """Diameter of the beam that leaves the eyepiece, mm."""
    return aperture_mm / magnification


@formula(title="True field, from the field stop", source="geometry",
         rule="360 / pi * atan(field_stop_mm / (2 * focal_length_mm))",
         unproved="Geometry of one triangle; checked against a library's angles.")
def true_field_from_stop_deg(field_stop_mm: float, focal_length_mm: float) -> float:
    """Diameter of the sky inside the eyepiece's field stop, degrees."""
    return 360 / math.pi * math.atan(field_stop_mm / (2 * focal_length_mm))


@formula(title="True field, from the apparent field", source="thompson-2005", where="ch. 4",
         rule="apparent_field_deg / magnification",
         note="An estimate: an eyepiece's distortion makes its field stop the better witness.")
def true_field_from_apparent_deg(apparent_field_deg: float, magnification: float) -> float:
    """Diameter of the sky in the eyepiece, from the maker's apparent field, degrees."""
    return apparent_field_deg / magnification


@formula(title="Width of the field in the focal plane", source="geometry",
         rule="2 * focal_length_mm * tan(pi / 360 * true_field_deg)",
         note="Where the maker does not tell the field stop.", unproved="Geometry of one triangle.")
def field_width_mm(true_field_deg: float, focal_length_mm: float) -> float:
    """Diameter in the focal plane of a field this wide on the sky, mm."""
    return 2 * focal_length_mm * math.tan(math.pi / 360 * true_field_deg)


@formula(title="Time for a star to cross the field", source="iers-2010", where="table 1.1",
         rule="3600 * true_field_deg / sidereal_arcsec_per_s", constants={"sidereal_arcsec_per_s": 15.0411},
         note="A star on the celestial equator, through the field's middle, the telescope at rest.")
def crossing_time_s(true_field_deg: float) -> float:
    """Time that a star at declination 0 takes across the field of a telescope that does not follow, s."""
    return 3600 * true_field_deg / 15.0411


@formula(title="Time for a star to cross the field, at its declination", source="iers-2010", where="table 1.1",
         rule="3600 * true_field_deg / (sidereal_arcsec_per_s * cos(pi / 180 * declination_deg))",
         constants={"sidereal_arcsec_per_s": 15.0411}, holds={"declination_deg": (-80, 80)},
         note="Through the field's middle, the telescope at rest; too near the pole the star's path is curved.")
def crossing_time_at_declination_s(true_field_deg: float, declination_deg: float) -> float:
    """Time that a star at this declination takes across the field of a telescope that does not follow, s."""
    return 3600 * true_field_deg / (15.0411 * math.cos(math.pi / 180 * declination_deg))


@formula(title="True field, timed by a star's drift", source="hotka-drift",
         rule="sidereal_arcsec_per_s * drift_time_s * cos(pi / 180 * declination_deg) / 3600",
         constants={"sidereal_arcsec_per_s": 15.0411}, holds={"declination_deg": (-80, 80)},
         note="How a builder measures the field: time a star through the middle, the telescope at rest.")
def true_field_by_drift_deg(drift_time_s: float, declination_deg: float) -> float:
    """Diameter of the sky in the eyepiece from the time that a star takes across it, degrees."""
    return 15.0411 * drift_time_s * math.cos(math.pi / 180 * declination_deg) / 3600


@formula(title="Drawtube in focus", source="geometry", rule="drawn_out_mm + stop_shift_mm + focal_plane_moved_mm",
         note="Counted from racked fully in. The focal plane moved is positive when it lies farther from the tube than "
              "the plan says.", unproved=_OWN_LENGTHS)
def focus_position_mm(drawn_out_mm: float, stop_shift_mm: float, focal_plane_moved_mm: float) -> float:
    """How far the drawtube is drawn out when this eyepiece is in focus, mm.

    A field stop that lies inside the shoulder, towards the diagonal, needs the shoulder drawn out as far again.
    """
    return drawn_out_mm + stop_shift_mm + focal_plane_moved_mm


@formula(title="Travel to spare inwards", source="geometry", rule="focus_position_mm",
         note="Below zero the eyepiece cannot be racked in far enough to focus.", unproved=_OWN_LENGTHS)
def spare_in_mm(focus_position_mm: float) -> float:
    """How far the drawtube can still go in from focus, mm; negative where it does not reach."""
    return focus_position_mm


@formula(title="Travel to spare outwards", source="geometry", rule="travel_mm - focus_position_mm",
         note="Below zero the eyepiece cannot be drawn out far enough to focus.", unproved=_OWN_LENGTHS)
def spare_out_mm(travel_mm: float, focus_position_mm: float) -> float:
    """How far the drawtube can still go out from focus, mm; negative where it does not reach."""
    return travel_mm - focus_position_mm


@formula(title="Least travel to spare", source="geometry", rule="min(spare_in_mm, spare_out_mm)",
         note="Below zero the eyepiece does not reach focus.", unproved=_OWN_LENGTHS)
def least_spare_mm(spare_in_mm: float, spare_out_mm: float) -> float:
    """The smaller of the travel to spare inwards and outwards, mm."""
    return float(np.minimum(spare_in_mm, spare_out_mm))
