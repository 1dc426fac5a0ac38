"""First-order optics of the whole telescope: what the mirror's diameter and focal length alone decide.

Lengths are in millimetres, wavelengths in micrometres, angles in arcseconds. Stations run along the optical axis from
the primary's vertex, positive towards the sky. A number that is not a number goes in and comes out as one.
"""

from __future__ import annotations

import math

import numpy as np

from dossier.working import formula


@formula(title="Focal ratio", source="definition", rule="focal_length_mm / aperture_mm")
def focal_ratio(focal_length_mm: float, aperture_mm: float) -> float:
    """Focal length ÷ clear aperture."""
    return focal_length_mm / aperture_mm


@formula(title="Image scale", source="belgrade-wiki", rule="206264.806 / focal_length_mm",
         note="206264.806 is the number of arcseconds in a radian.")
def image_scale_arcsec_per_mm(focal_length_mm: float) -> float:
    """Angle on the sky that one millimetre of the focal plane shows, arcsec/mm."""
    return 206264.806 / focal_length_mm


@formula(title="Depth of the mirror's curve", source="schroeder-2000", where="ch. 3, conic sections",
         rule="rim_radius_mm = aperture_mm / 2; vertex_radius_mm = 2 * focal_length_mm; "
              "rim_radius_mm**2 / (vertex_radius_mm + sqrt(vertex_radius_mm**2 - (1 + conic) * rim_radius_mm**2))",
         note="Exact for any conic; written so that nearly equal numbers are never subtracted.")
def sagitta_mm(aperture_mm: float, focal_length_mm: float, conic: float) -> float:
    """Exact depth of the conic at the edge of the clear aperture, mm."""
    rim = aperture_mm / 2
    vertex_radius = 2 * focal_length_mm
    return rim**2 / (vertex_radius + math.sqrt(vertex_radius**2 - (1 + conic) * rim**2))


@formula(title="Optical axis to focal plane", source="geometry", rule="mounting_radius_mm + height_mm + drawn_out_mm",
         note="Measured along the folded axis, from where it meets the tube's axis.",
         unproved="It is a sum of the author's own lengths.")
def intercept_mm(mounting_radius_mm: float, height_mm: float, drawn_out_mm: float) -> float:
    """From the axis to the focal plane, through the focuser as drawn out when the plane is at its shoulder, mm."""
    return mounting_radius_mm + height_mm + drawn_out_mm


@formula(title="Resolution after Rayleigh", source="young-freedman-2016", where="section 36.7",
         rule="206264.806 * 1.21967 * wavelength_um / (1000 * aperture_mm)",
         note="1.21967 is the first zero of the Airy pattern; the aperture is taken as unobstructed.")
def rayleigh_limit_arcsec(wavelength_um: float, aperture_mm: float) -> float:
    """Separation of two equal stars, the second in the first dark ring of the first, arcsec."""
    return 206264.806 * 1.21967 * wavelength_um / (1000 * aperture_mm)


@formula(title="Resolution after Dawes", source="dawes-1867", rule="dawes_arcsec_mm / aperture_mm",
         constants={"dawes_arcsec_mm": 116.0},
         note="Found by eye on pairs of stars of about the sixth magnitude, for any telescope of this aperture.")
def dawes_limit_arcsec(aperture_mm: float) -> float:
    """Separation of two equal stars that experience says can just be split, arcsec."""
    return 116.0 / aperture_mm


@formula(title="Diameter of the Airy disc", source="born-wolf-1999", where="8.5.2",
         rule="2.43934 * wavelength_um * focal_ratio", holds={"focal_ratio": (2, 50)},
         note="2.43934 is twice the first zero of the Airy pattern; the aperture is taken as unobstructed.")
def airy_diameter_um(wavelength_um: float, focal_ratio: float) -> float:
    """Diameter of the first dark ring in the focal plane of a perfect unobstructed mirror, µm."""
    return 2.43934 * wavelength_um * focal_ratio


@formula(title="Diameter of what stands in the light", source="geometry", rule="max(minor_axis_mm, holder_diameter_mm)",
         note="The larger of the diagonal's minor axis and its holder.",
         unproved="It is the larger of two of the author's own lengths.")
def obstruction_diameter_mm(minor_axis_mm: float, holder_diameter_mm: float) -> float:
    """Diameter of the shadow of diagonal and holder, mm."""
    return float(np.maximum(minor_axis_mm, holder_diameter_mm))


@formula(title="Central obstruction", source="sacek-2006", where="7.1",
         rule="obstruction_diameter_mm / aperture_mm", note="A share of the diameter, not of the area.")
def obstruction(obstruction_diameter_mm: float, aperture_mm: float) -> float:
    """Diameter of the shadow ÷ diameter of the mirror."""
    return obstruction_diameter_mm / aperture_mm


@formula(title="Share of the light that reaches the eyepiece", source="sacek-2006", where="7.1",
         rule="primary_reflectivity * diagonal_reflectivity * (1 - obstruction**2)",
         note="Spider vanes and the eyepiece's own losses are left aside.")
def throughput(primary_reflectivity: float, diagonal_reflectivity: float, obstruction: float) -> float:
    """What two reflections and the central shadow leave of the light that falls on the mirror's area."""
    return primary_reflectivity * diagonal_reflectivity * (1 - obstruction**2)


@formula(title="Limiting magnitude, form 2 + 5 log D", source="limiting-magnitude-web",
         rule="2 + 5 * log10(aperture_mm / one_mm)", constants={"one_mm": 1.0},
         note="A rule of thumb for a dark sky and a practised eye; published forms differ by more than a magnitude.")
def limiting_magnitude_mag(aperture_mm: float) -> float:
    """Faintest star seen, by the form 2 + 5 log₁₀ of the aperture in millimetres, mag."""
    return 2 + 5 * math.log10(aperture_mm)


@formula(title="The Sun's image at the focus", source="meeus-1998", where="ch. 55",
         rule="focal_length_mm * 1919.3 / 206264.806", note="1919.3″ is the Sun's diameter at its mean distance.")
def sun_image_mm(focal_length_mm: float) -> float:
    """Diameter of the Sun's image that an uncovered mirror makes, mm."""
    return focal_length_mm * 1919.3 / 206264.806


@formula(title="How much an uncovered mirror concentrates sunlight", source="geometry",
         rule="(aperture_mm / sun_image_mm)**2",
         note="Losses are left aside: this is a hazard, and the worst of it is what counts.")
def sunlight_concentration(aperture_mm: float, sun_image_mm: float) -> float:
    """Light in the Sun's image ÷ light of the Sun on the same area."""
    return (aperture_mm / sun_image_mm) ** 2
