"""Which magnifications are worth having: what the eye takes in, what it can tell apart, and what the air allows.

Lengths in millimetres, what the eye is shown in arcminutes, angles on the sky in arcseconds.
"""

from __future__ import annotations

from dossier.working import formula


@formula(title="Share of the light that enters the eye", source="geometry",
         rule="min(1, (eye_pupil_mm / exit_pupil_mm)**2)",
         note="A beam wider than the eye's pupil falls on the iris. The shadow of the diagonal is left aside; it takes "
              "a larger share of what is left.",
         unproved="It is the ratio of two areas.")
def share_into_eye(exit_pupil_mm: float, eye_pupil_mm: float) -> float:
    """How much of the light that leaves the eyepiece passes the eye's pupil, 0…1."""
    return min(1.0, (eye_pupil_mm / exit_pupil_mm) ** 2)


@formula(title="Lowest useful power", source="darling-exit-pupil", rule="aperture_mm / eye_pupil_mm",
         note="The beam then just fills the eye's pupil. With less power part of the mirror is not used.",
         unproved="It is the definition of the exit pupil, solved for the power.")
def lowest_useful_power(aperture_mm: float, eye_pupil_mm: float) -> float:
    """Magnification at which the exit pupil is as wide as the eye's."""
    return aperture_mm / eye_pupil_mm


@formula(title="Highest useful power", source="common-practice", rule="aperture_mm / least_exit_pupil_mm",
         constants={"least_exit_pupil_mm": 0.5},
         note="Twice the millimetres: an exit pupil of half a millimetre. More shows the same blur, dimmer.",
         unproved="Common practice, no source.")
def highest_useful_power(aperture_mm: float) -> float:
    """Magnification beyond which custom expects nothing more to be seen."""
    return aperture_mm / 0.5


@formula(title="Power at which it looks so large", source="thompson-2005", where="ch. 4",
         rule="60 * looks_arcmin / angle_arcsec")
def power_to_show(looks_arcmin: float, angle_arcsec: float) -> float:
    """Magnification that shows this angle on the sky at that angle to the eye."""
    return 60 * looks_arcmin / angle_arcsec


@formula(title="Eyepiece for it", source="thompson-2005", where="ch. 4", rule="focal_length_mm / magnification",
         unproved="It is the definition of magnification, solved for the eyepiece.")
def eyepiece_for_power_mm(focal_length_mm: float, magnification: float) -> float:
    """Focal length of the eyepiece that magnifies so many times in this telescope, mm."""
    return focal_length_mm / magnification


@formula(title="Light gathered", source="geometry", rule="(other_aperture_mm / aperture_mm)**2",
         note="The area of one mirror against the other's, the shadows in proportion.",
         unproved="It is the ratio of two areas.")
def light_gathered(other_aperture_mm: float, aperture_mm: float) -> float:
    """How many times the light of this aperture another gathers."""
    return (other_aperture_mm / aperture_mm) ** 2


@formula(title="Air that a power needs", source="common-practice", rule="60 * looks_arcmin / magnification",
         note="The seeing that this power shows as large as looks calm. Steadier air is better.",
         unproved="Common practice, no source.")
def seeing_for_power_arcsec(looks_arcmin: float, magnification: float) -> float:
    """Seeing whose star images this magnification shows at this angle to the eye, arcsec."""
    return 60 * looks_arcmin / magnification
