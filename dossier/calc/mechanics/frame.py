"""How far a tube or a set of parallel poles sags, tilts and stretches between zenith and horizon.

Slender members after Euler and Bernoulli: bending and, for poles, stretching. The lower end is held, the upper ring is
rigid, the mass above sits at the upper fixing and half or so of the members' own weight acts with it, as their even
load demands. Lengths in mm, masses in kg, moduli in GPa; tilts in minutes of arc.

Poles are built in at both rings, so that the ring can only move across, and tilt as far as poles on opposite sides
stretch and shorten. With u across and φ the tilt, each pole gives 12EI/L³, 6EI/L², 4EI/L, and n poles on radius R a
further nR²EA/2L against tilting (three poles or more, evenly spaced).
"""

from __future__ import annotations

import math

from dossier.working import formula

_GRAVITY = 9.80665
_EARTH = {"gravity_m_per_s2": _GRAVITY}

_SWAY = (
    "bend = 1000 * youngs_modulus_gpa * pole_count * pole_second_moment_mm4; "
    "stretch = 1000 * youngs_modulus_gpa * pole_count * pole_area_mm2; "
    "side_force = gravity_m_per_s2 * (upper_mass_kg + pole_count * pole_mass_kg / 2); "
    "end_moment = gravity_m_per_s2 * pole_count * pole_mass_kg * pole_length_mm / 12; "
    "stiff_across = 12 * bend / pole_length_mm**3; stiff_both = 6 * bend / pole_length_mm**2; "
    "stiff_turn = 4 * bend / pole_length_mm + stretch * circle_radius_mm**2 / (2 * pole_length_mm); "
)


def _sway(
    youngs_modulus_gpa: float, pole_second_moment_mm4: float, pole_area_mm2: float, pole_mass_kg: float,
    pole_length_mm: float, pole_count: float, circle_radius_mm: float, upper_mass_kg: float,
) -> tuple[float, float]:
    """Shift across (mm) and tilt (rad) of the upper ring under gravity across the axis."""
    bend = 1000 * youngs_modulus_gpa * pole_count * pole_second_moment_mm4
    stretch = 1000 * youngs_modulus_gpa * pole_count * pole_area_mm2
    side_force = _GRAVITY * (upper_mass_kg + pole_count * pole_mass_kg / 2)
    end_moment = _GRAVITY * pole_count * pole_mass_kg * pole_length_mm / 12
    stiff_across, stiff_both = 12 * bend / pole_length_mm**3, 6 * bend / pole_length_mm**2
    stiff_turn = 4 * bend / pole_length_mm + stretch * circle_radius_mm**2 / (2 * pole_length_mm)
    determinant = stiff_across * stiff_turn - stiff_both**2
    return ((stiff_turn * side_force - stiff_both * end_moment) / determinant,
            (stiff_both * side_force - stiff_across * end_moment) / determinant)


@formula(title="Sag of the upper ring", source="timoshenko-gere-1972",
         constants=_EARTH,
         rule=_SWAY + "(stiff_turn * side_force - stiff_both * end_moment)"
                      " / (stiff_across * stiff_turn - stiff_both**2)",
         holds={"pole_count": (3, 12)},
         note="Poles built in at both rings. Shift across the axis from zenith to horizon.",
         unproved="No published pole frame was found; another frame solver and beam elements check it.")
def poles_sag_mm(
    youngs_modulus_gpa: float, pole_second_moment_mm4: float, pole_area_mm2: float, pole_mass_kg: float,
    pole_length_mm: float, pole_count: float, circle_radius_mm: float, upper_mass_kg: float,
) -> float:
    """Shift of the upper ring on parallel poles across the axis, zenith to horizon, mm; masses of one pole."""
    return _sway(youngs_modulus_gpa, pole_second_moment_mm4, pole_area_mm2, pole_mass_kg, pole_length_mm, pole_count,
                 circle_radius_mm, upper_mass_kg)[0]


@formula(title="Tilt of the upper ring", source="timoshenko-gere-1972",
         constants=_EARTH,
         rule=_SWAY + "(stiff_both * side_force - stiff_across * end_moment)"
                      " / (stiff_across * stiff_turn - stiff_both**2) * 10800 / pi",
         holds={"pole_count": (3, 12)}, note="Poles built in at both rings: those below shorten, those above stretch.",
         unproved="No published pole frame was found; another frame solver and beam elements check it.")
def poles_tilt_arcmin(
    youngs_modulus_gpa: float, pole_second_moment_mm4: float, pole_area_mm2: float, pole_mass_kg: float,
    pole_length_mm: float, pole_count: float, circle_radius_mm: float, upper_mass_kg: float,
) -> float:
    """Rotation of the upper ring on parallel poles, zenith to horizon, minutes of arc; masses of one pole."""
    tilt = _sway(youngs_modulus_gpa, pole_second_moment_mm4, pole_area_mm2, pole_mass_kg, pole_length_mm, pole_count,
                 circle_radius_mm, upper_mass_kg)[1]
    return tilt * 10800 / math.pi


@formula(title="Stiffness of the poles across the axis", source="timoshenko-gere-1972",
         rule="bend = 1000 * youngs_modulus_gpa * pole_count * pole_second_moment_mm4; "
              "stretch = 1000 * youngs_modulus_gpa * pole_count * pole_area_mm2; "
              "stiff_both = 6 * bend / pole_length_mm**2; "
              "stiff_turn = 4 * bend / pole_length_mm + stretch * circle_radius_mm**2 / (2 * pole_length_mm); "
              "12 * bend / pole_length_mm**3 - stiff_both**2 / stiff_turn",
         note="A push at the upper ring, which may tilt as it moves.",
         unproved="No published pole frame was found; another frame solver and beam elements check it.")
def poles_stiffness_n_per_mm(
    youngs_modulus_gpa: float, pole_second_moment_mm4: float, pole_area_mm2: float, pole_length_mm: float,
    pole_count: float, circle_radius_mm: float,
) -> float:
    """Force across the axis at the upper ring for each millimetre that it gives way, N/mm."""
    bend = 1000 * youngs_modulus_gpa * pole_count * pole_second_moment_mm4
    stretch = 1000 * youngs_modulus_gpa * pole_count * pole_area_mm2
    stiff_both = 6 * bend / pole_length_mm**2
    stiff_turn = 4 * bend / pole_length_mm + stretch * circle_radius_mm**2 / (2 * pole_length_mm)
    return 12 * bend / pole_length_mm**3 - stiff_both**2 / stiff_turn


@formula(title="Sag of the tube's upper end", source="shigley-2015", where="table A-9, beams 1 and 3",
         rule="stiff = 1000 * youngs_modulus_gpa * tube_second_moment_mm4; "
              "gravity_m_per_s2 * tube_length_mm**3 / stiff * (upper_mass_kg / 3 + tube_mass_kg / 8)",
         constants=_EARTH, note="A cantilever that bends; shear and the wall's own flattening are not counted.",
         unproved="The table prints the two formulas without numbers; beam elements check it.")
def tube_sag_mm(youngs_modulus_gpa: float, tube_second_moment_mm4: float, tube_mass_kg: float, tube_length_mm: float,
                upper_mass_kg: float) -> float:
    """Shift of the upper end of a tube across the axis, zenith to horizon, mm."""
    stiff = 1000 * youngs_modulus_gpa * tube_second_moment_mm4
    return _GRAVITY * tube_length_mm**3 / stiff * (upper_mass_kg / 3 + tube_mass_kg / 8)


@formula(title="Tilt of the tube's upper end", source="shigley-2015", where="table A-9, beams 1 and 3",
         rule="stiff = 1000 * youngs_modulus_gpa * tube_second_moment_mm4; "
              "gravity_m_per_s2 * tube_length_mm**2 / stiff * (upper_mass_kg / 2 + tube_mass_kg / 6) * 10800 / pi",
         constants=_EARTH, note="A cantilever that bends.",
         unproved="The table prints the two formulas without numbers; beam elements check it.")
def tube_tilt_arcmin(youngs_modulus_gpa: float, tube_second_moment_mm4: float, tube_mass_kg: float,
                     tube_length_mm: float, upper_mass_kg: float) -> float:
    """Rotation of the upper end of a tube, zenith to horizon, minutes of arc."""
    stiff = 1000 * youngs_modulus_gpa * tube_second_moment_mm4
    tilt = _GRAVITY * tube_length_mm**2 / stiff * (upper_mass_kg / 2 + tube_mass_kg / 6)
    return tilt * 10800 / math.pi


@formula(title="Stiffness of the tube across the axis", source="shigley-2015", where="table A-9, beam 1",
         rule="3000 * youngs_modulus_gpa * tube_second_moment_mm4 / tube_length_mm**3",
         unproved="The table prints the formula without numbers; beam elements check it.")
def tube_stiffness_n_per_mm(youngs_modulus_gpa: float, tube_second_moment_mm4: float, tube_length_mm: float) -> float:
    """Force across the axis at the tube's upper end for each millimetre that it gives way, N/mm."""
    return 3000 * youngs_modulus_gpa * tube_second_moment_mm4 / tube_length_mm**3


@formula(title="What shear adds to the tube's sag", source="cowper-1966",
         rule="3 * (4 + 3 * poissons_ratio) * tube_second_moment_mm4 / (tube_area_mm2 * tube_length_mm**2)",
         holds={"poissons_ratio": (0, 0.5)},
         note="Share of the bending, under a load at the end; thin round tube, one material all ways. The sag printed "
              "here leaves it out.",
         unproved="The paper gives the shear coefficient 2(1 + ν)/(4 + 3ν); a solid tube of finite elements would "
                  "prove it, a slender one needs it not.")
def tube_shear_share(poissons_ratio: float, tube_second_moment_mm4: float, tube_area_mm2: float,
                     tube_length_mm: float) -> float:
    """Sag by shear ÷ sag by bending of a tube loaded at its end."""
    return 3 * (4 + 3 * poissons_ratio) * tube_second_moment_mm4 / (tube_area_mm2 * tube_length_mm**2)


@formula(title="Collimation lost to sag", source="definition", rule="frame_sag_mm / coma_free_radius_mm",
         note="Below 1 the image stays in the field that coma leaves sharp, from zenith to horizon.",
         unproved="A ratio of two lengths.")
def collimation_share(frame_sag_mm: float, coma_free_radius_mm: float) -> float:
    """Sag of the frame ÷ radius of the field in which coma alone leaves a Strehl ratio of 0.80."""
    return frame_sag_mm / coma_free_radius_mm


@formula(title="Focus drift of the frame", source="young-freedman-2016", where="eq. 17.6",
         rule="expansion_per_k * frame_height_mm",
         note="The focuser moves away from the mirror as the frame warms. What stands below and above the frame, and "
              "the mirror's own change of focus, are not counted.",
         unproved="The book's law of expansion, one length times one coefficient.")
def focus_drift_mm_per_k(expansion_per_k: float, frame_height_mm: float) -> float:
    """Change of the spacing from mirror to focus with temperature, mm/K; the frame's height along the axis."""
    return expansion_per_k * frame_height_mm


@formula(title="Focus drift of the mirror itself", source="young-freedman-2016", where="eq. 17.6",
         rule="expansion_per_k * focal_length_mm", note="A mirror of one glass keeps its shape and scales.",
         unproved="The book's law of expansion, one length times one coefficient.")
def mirror_focus_drift_mm_per_k(expansion_per_k: float, focal_length_mm: float) -> float:
    """Change of the focal length with the mirror's temperature, mm/K."""
    return expansion_per_k * focal_length_mm


@formula(title="Tilt from play in the joints", source="geometry",
         rule="joint_play_mm / (2 * circle_radius_mm) * 10800 / pi",
         note="One side up and the other down by half the play, each way from the middle.",
         unproved="A small angle on a right triangle.")
def play_tilt_arcmin(joint_play_mm: float, circle_radius_mm: float) -> float:
    """Tilt of the upper ring where every joint lets its pole slide by this much along the axis, minutes of arc."""
    return joint_play_mm / (2 * circle_radius_mm) * 10800 / math.pi


@formula(title="Give under a push", source="young-freedman-2016", where="eq. 6.8",
         rule="push_n / frame_stiffness_n_per_mm", unproved="A force divided by a rate.")
def push_shift_mm(push_n: float, frame_stiffness_n_per_mm: float) -> float:
    """How far the upper end gives way under wind or a hand on the focuser, mm."""
    return push_n / frame_stiffness_n_per_mm


@formula(title="Push of the wind", source="hoerner-1965", where="chapter 3",
         rule="drag_coefficient * air_density_kg_per_m3 / 2 * wind_m_per_s**2 * wind_area_mm2 / 1e6",
         note="A bluff body: drag coefficient about 1.2.", unproved="The definition of the drag coefficient.")
def wind_push_n(drag_coefficient: float, air_density_kg_per_m3: float, wind_m_per_s: float,
                wind_area_mm2: float) -> float:
    """Force of the wind on this silhouette, N."""
    return drag_coefficient * air_density_kg_per_m3 / 2 * wind_m_per_s**2 * wind_area_mm2 / 1e6
