"""The diagonal: how large it must be, where it stands, how wide a field it lights fully.

All lengths in millimetres. Stations run from the primary's vertex towards the sky; the intercept runs along the folded
axis from the tube's axis to the focal plane. The diagonal stands at 45°, its face 1 : √2. The offset moves it towards
the primary and, by the same length, away from the focuser, so that its face stays in the same plane.
``rim_to_focus_mm`` is the distance along the axis from the plane of the primary's rim to the focus.
"""

from __future__ import annotations

import math

import numpy as np

from dossier.working import formula

_PLANE_OF_FOLD = "In the plane that holds both the tube's axis and the focuser's; rays from the whole rim."


@formula(title="Rim of the primary to its focus", source="geometry", rule="focal_length_mm - sagitta_mm",
         unproved="It is a difference of two lengths.")
def rim_to_focus_mm(focal_length_mm: float, sagitta_mm: float) -> float:
    """From the plane of the mirror's rim to the focus, along the axis, mm."""
    return focal_length_mm - sagitta_mm


@formula(title="Least minor axis of the diagonal", source="geometry",
         rule="cone = aperture_mm / (2 * rim_to_focus_mm); 2 * cone * intercept_mm / (1 - cone**2)",
         note="A 1 : √2 ellipse with its best offset, for the middle of the field alone; a wider field needs more.")
def least_minor_axis_mm(aperture_mm: float, rim_to_focus_mm: float, intercept_mm: float) -> float:
    """Minor axis of the smallest 45° diagonal that catches the whole cone of light of an axial star, mm."""
    cone = aperture_mm / (2 * rim_to_focus_mm)
    return 2 * cone * intercept_mm / (1 - cone**2)


@formula(title="Major axis of the diagonal", source="geometry", rule="sqrt(2) * minor_axis_mm",
         note="Of the usual 1 : √2 shape, which seen along either arm of the fold is a circle.",
         unproved="A circle's cylinder cut at 45°.")
def major_axis_mm(minor_axis_mm: float) -> float:
    """Major axis of a diagonal that looks round along the optical axis, mm."""
    return math.sqrt(2) * minor_axis_mm


@formula(title="Offset along the diagonal's face", source="geometry", rule="sqrt(2) * offset_mm",
         note="From the middle of the face towards its end at the sky, where the optical axis meets it.",
         unproved="The diagonal of a square whose sides are the two equal offsets.")
def face_offset_mm(offset_mm: float) -> float:
    """From the middle of the diagonal's face to where the optical axis meets it, along the major axis, mm."""
    return math.sqrt(2) * offset_mm


@formula(title="Offset of the cut through the axial cone", source="geometry",
         rule="cone = aperture_mm / (2 * rim_to_focus_mm); cone**2 * intercept_mm / (1 - cone**2)",
         note="Where the centre of the ellipse lies that a 45° plane cuts from the cone of an axial star.")
def cone_cut_offset_mm(aperture_mm: float, rim_to_focus_mm: float, intercept_mm: float) -> float:
    """From the axis to the centre of the axial cone's 45° section, in each of the two directions of the fold, mm."""
    cone = aperture_mm / (2 * rim_to_focus_mm)
    return cone**2 * intercept_mm / (1 - cone**2)


@formula(title="Minor axis of the cut through the axial cone", source="geometry",
         rule="cone = aperture_mm / (2 * rim_to_focus_mm); 2 * cone * intercept_mm / sqrt(1 - cone**2)",
         note="The section of the cone itself; it is longer than 1 : √2, so the usual diagonal must be a little wider.")
def cone_cut_minor_axis_mm(aperture_mm: float, rim_to_focus_mm: float, intercept_mm: float) -> float:
    """Minor axis of the axial cone's 45° section, mm."""
    cone = aperture_mm / (2 * rim_to_focus_mm)
    return 2 * cone * intercept_mm / math.sqrt(1 - cone**2)


@formula(title="Offset of the diagonal for a symmetrical field", source="geometry",
         rule="diagonal_to_rim_mm = rim_to_focus_mm - intercept_mm; "
              "spread_mm2 = minor_axis_mm * (aperture_mm - minor_axis_mm); "
              "spread_mm2 / (2 * (diagonal_to_rim_mm + sqrt(diagonal_to_rim_mm**2 - spread_mm2)))",
         note="Exact. Towards the primary and, equally, away from the focuser. " + _PLANE_OF_FOLD,
         unproved="Published formulas leave the mirror's depth and the diagonal's tilt out; rays through a root finder "
                  "check this one.")
def full_offset_mm(aperture_mm: float, rim_to_focus_mm: float, intercept_mm: float, minor_axis_mm: float) -> float:
    """Offset that makes the fully lit field reach equally far on both sides in the plane of the fold, mm.

    The two ends of the diagonal's face pass the extreme rays of the two rim points. Setting the field heights that
    they let through equal gives δ² − (T − L)δ + a(D − a)/4 = 0, of which this is the smaller root.
    """
    diagonal_to_rim = rim_to_focus_mm - intercept_mm
    spread = minor_axis_mm * (aperture_mm - minor_axis_mm)
    if diagonal_to_rim**2 < spread:
        raise ValueError(f"no offset makes the field of minor_axis_mm {minor_axis_mm:g} symmetrical: so near the "
                         f"primary (diagonal to rim {diagonal_to_rim:.1f} mm) the diagonal must be smaller, or the "
                         "focal length longer")
    return spread / (2 * (diagonal_to_rim + math.sqrt(diagonal_to_rim**2 - spread)))


@formula(title="Fully lit field in the plane of the fold", source="geometry",
         rule="outer_mm = ((minor_axis_mm / 2 - offset_mm) * rim_to_focus_mm"
              " - aperture_mm / 2 * (intercept_mm + offset_mm - minor_axis_mm / 2))"
              " / (rim_to_focus_mm - intercept_mm - offset_mm + minor_axis_mm / 2); "
              "inner_mm = ((minor_axis_mm / 2 + offset_mm) * rim_to_focus_mm"
              " - aperture_mm / 2 * (intercept_mm + offset_mm + minor_axis_mm / 2))"
              " / (rim_to_focus_mm - intercept_mm - offset_mm - minor_axis_mm / 2); "
              "2 * max(0, min(outer_mm, inner_mm))",
         note="Exact: the outer end of the face stands nearer the focuser, the inner end nearer the primary; the end "
              "that lets less through decides. " + _PLANE_OF_FOLD,
         unproved="Published formulas leave the mirror's depth and the diagonal's tilt out; rays through a root finder "
                  "check this one.")
def full_field_in_fold_mm(
    aperture_mm: float, rim_to_focus_mm: float, intercept_mm: float, minor_axis_mm: float, offset_mm: float,
) -> float:
    """Diameter in the focal plane that is fully lit in the plane of the fold, with this offset, mm; 0 where none is."""
    half_axis, rim = minor_axis_mm / 2, aperture_mm / 2
    outer_leg = intercept_mm + offset_mm - half_axis
    inner_leg = intercept_mm + offset_mm + half_axis
    outer = ((half_axis - offset_mm) * rim_to_focus_mm - rim * outer_leg) / (rim_to_focus_mm - outer_leg)
    inner = ((half_axis + offset_mm) * rim_to_focus_mm - rim * inner_leg) / (rim_to_focus_mm - inner_leg)
    return float(2 * np.maximum(0.0, np.minimum(outer, inner)))


@formula(title="Fully lit field, classical formula", source="mirror-makers-list-2005",
         rule="max(0, (minor_axis_mm * focal_length_mm - intercept_mm * aperture_mm)"
              " / (focal_length_mm - intercept_mm))",
         note="Takes the diagonal for a flat disc across the axis and the primary for flat: a little off the truth.")
def full_field_classical_mm(
    minor_axis_mm: float, focal_length_mm: float, intercept_mm: float, aperture_mm: float,
) -> float:
    """Fully lit diameter in the focal plane as handbooks work it out, mm; 0 where none is."""
    field = (minor_axis_mm * focal_length_mm - intercept_mm * aperture_mm) / (focal_length_mm - intercept_mm)
    return float(np.maximum(0.0, field))
