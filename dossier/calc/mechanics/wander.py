"""What a frame that gives way does to the image: where the eyepiece then looks, what that costs, how far a star jumps.

The upper end carries diagonal and focuser together. As it moves across by δ and turns by φ, the middle of the field
leaves the mirror's axis by δ and by φ times what lies between the upper end and the focus as it would be unfolded.
Lengths in mm, stations from the primary's vertex.
"""

from __future__ import annotations

import math

from dossier.calc.bounds import at_least_zero
from dossier.calc.optics.collimation import strehl_when_tilted
from dossier.calc.optics.mirror import Mirror, above_zero
from dossier.working import formula


@formula(title="Shift of the field's middle off the mirror's axis", source="geometry",
         rule="frame_shift_mm + (focal_length_mm - upper_end_mm) * frame_tilt_arcmin * pi / 10800",
         note="Diagonal and focuser move and turn as one, the mirror stays.",
         unproved="A shift and a small turn of one rigid body; checked by turning the three points of the fold.")
def image_shift_mm(frame_shift_mm: float, frame_tilt_arcmin: float, focal_length_mm: float,
                   upper_end_mm: float) -> float:
    """How far the middle of the field leaves the mirror's axis as the upper end moves across and turns, mm."""
    return frame_shift_mm + (focal_length_mm - upper_end_mm) * frame_tilt_arcmin * math.pi / 10800


@formula(title="Share of the coma-free radius", source="definition", rule="image_shift_mm / coma_free_radius_mm",
         note="Below 1 the middle of the field stays where coma alone leaves a Strehl ratio of 0.80.",
         unproved="A ratio of two lengths.")
def shift_share(image_shift_mm: float, coma_free_radius_mm: float) -> float:
    """Shift of the field's middle ÷ radius of the field that coma leaves sharp."""
    return image_shift_mm / coma_free_radius_mm


@formula(title="Strehl ratio lost to a shift off the axis", source="schroeder-2000", where="ch. 6",
         equation="S(0) − S(α), α = arctan(shift / focal length): the Strehl ratio on the axis less that of a star in "
                  "the middle of a field that stands α off the mirror's axis",
         method="Exact trace at the angle α, tilt and focus of the wavefront refitted.",
         note="Errors of the surface are left aside: they would only lessen the loss.",
         unproved="No published number for a shifted field was found; the trace is proved against an independent "
                  "tracer.")
def shift_strehl_lost(aperture_mm: float, focal_length_mm: float, conic: float, obstruction_diameter_mm: float,
                      wavelength_nm: float, image_shift_mm: float) -> float:
    """Strehl ratio lost where the middle of the field stands this far off the mirror's axis."""
    above_zero(wavelength_nm=wavelength_nm)
    mirror = Mirror(aperture_mm, focal_length_mm, conic, obstruction_diameter_mm)
    tilt_arcmin = math.degrees(math.atan(image_shift_mm / focal_length_mm)) * 60
    on_axis = strehl_when_tilted(mirror, wavelength_nm, 0.0)
    return on_axis - strehl_when_tilted(mirror, wavelength_nm, tilt_arcmin)


@formula(title="How far a star moves in the eyepiece", source="definition",
         rule="image_shift_mm * image_scale_arcsec_per_mm", note="On the sky; the eyepiece magnifies it.",
         unproved="A length times a scale.")
def star_shift_arcsec(image_shift_mm: float, image_scale_arcsec_per_mm: float) -> float:
    """Angle on the sky by which a star moves as the eyepiece moves against the mirror, arcsec."""
    return image_shift_mm * image_scale_arcsec_per_mm


@formula(title="Silhouette that the wind pushes at the upper end", source="geometry",
         rule="silhouette_width_mm * (cage_height_mm + carried_share * frame_height_mm)",
         note="Of what pushes along the frame itself its upper end feels a share: a half on poles, three eighths at "
              "the end of a tube.",
         unproved="A width times a height; the shares are those of beams under an even load.")
def silhouette_mm2(silhouette_width_mm: float, cage_height_mm: float, carried_share: float,
                   frame_height_mm: float) -> float:
    """Area that, at the upper end, gives way as the real one does, mm². ValueError for a height below zero."""
    at_least_zero(cage_height=cage_height_mm)
    return silhouette_width_mm * (cage_height_mm + carried_share * frame_height_mm)


@formula(title="Movement that counts as rest", source="definition",
         rule="rayleigh_limit_arcsec / image_scale_arcsec_per_mm",
         note="A star that moves by less than what the telescope resolves stands still.",
         unproved="An angle over a scale.")
def calm_mm(rayleigh_limit_arcsec: float, image_scale_arcsec_per_mm: float) -> float:
    """Shift in the focal plane that the eye no longer sees, mm."""
    return rayleigh_limit_arcsec / image_scale_arcsec_per_mm


@formula(title="Focus drift over the evening", source="definition", rule="focus_drift_mm_per_k * cooling_k",
         unproved="A rate times a difference.")
def evening_drift_mm(focus_drift_mm_per_k: float, cooling_k: float) -> float:
    """Change of the spacing from mirror to focus as the frame cools so far, mm."""
    return focus_drift_mm_per_k * cooling_k


@formula(title="Depth of focus, each way", source="sacek-2006", rule="2e-6 * wavelength_nm * focal_ratio**2",
         note="A quarter of a wave of defocus between middle and edge.",
         unproved="The depth of a shallow sphere twice over; the defocus of traced rays checks it.")
def depth_of_focus_mm(wavelength_nm: float, focal_ratio: float) -> float:
    """How far the eyepiece may stand from best focus before a quarter wave is lost, mm."""
    return 2e-6 * wavelength_nm * focal_ratio**2
