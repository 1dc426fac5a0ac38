"""A truss of slanted poles between two rigid rings: nodes pinned, poles only stretch.

Half as many nodes as poles on each ring, the upper ones turned by half a pitch; the lower ring is held. Under a push
across the axis the upper ring moves and, where the rings are alike, also tilts. Lengths in mm, masses in kg.
"""

from __future__ import annotations

import math

from dossier.working import formula

_GRAVITY = 9.80665
_SOLVED = "No published truss of this kind was found; node-by-node frame solutions check it."


@formula(title="Stiffness of the truss across the axis", source="timoshenko-gere-1972",
         rule="1000 * youngs_modulus_gpa * pole_area_mm2 * pole_count"
              " * (lower_radius_mm * sin(2 * pi / pole_count))**2 / (2 * pole_length_mm**3)",
         holds={"pole_count": (6, 16)},
         note="Nodes pinned. The ring tilts as it moves, which takes the upper radius out of the answer.",
         unproved=_SOLVED)
def truss_stiffness_n_per_mm(
    youngs_modulus_gpa: float, pole_area_mm2: float, pole_count: float, lower_radius_mm: float, pole_length_mm: float,
) -> float:
    """Force across the axis at the upper ring for each millimetre that it gives way, N/mm; length node to node."""
    slant = (lower_radius_mm * math.sin(2 * math.pi / pole_count)) ** 2
    return 1000 * youngs_modulus_gpa * pole_area_mm2 * pole_count * slant / (2 * pole_length_mm**3)


@formula(title="Sag of the truss's upper ring", source="timoshenko-gere-1972",
         rule="gravity_m_per_s2 * (upper_mass_kg + pole_count * pole_mass_kg / 2) / frame_stiffness_n_per_mm",
         constants={"gravity_m_per_s2": _GRAVITY},
         note="Half of the poles' weight acts at the upper nodes, as pinned poles with an even load demand.",
         unproved=_SOLVED)
def truss_sag_mm(upper_mass_kg: float, pole_count: float, pole_mass_kg: float,
                 frame_stiffness_n_per_mm: float) -> float:
    """Shift of the upper ring across the axis, zenith to horizon, mm."""
    return _GRAVITY * (upper_mass_kg + pole_count * pole_mass_kg / 2) / frame_stiffness_n_per_mm


@formula(title="Tilt of the truss's upper ring", source="timoshenko-gere-1972",
         rule="frame_sag_mm * (upper_radius_mm - lower_radius_mm * cos(2 * pi / pole_count))"
              " / (frame_height_mm * upper_radius_mm) * 10800 / pi",
         holds={"pole_count": (6, 16)},
         note="None where the upper ring is smaller by the cosine of half a pitch. Negative: the other way.",
         unproved=_SOLVED)
def truss_tilt_arcmin(frame_sag_mm: float, upper_radius_mm: float, lower_radius_mm: float, pole_count: float,
                      frame_height_mm: float) -> float:
    """Rotation of the upper ring, zenith to horizon, minutes of arc; the height is measured along the axis."""
    lean = upper_radius_mm - lower_radius_mm * math.cos(2 * math.pi / pole_count)
    return frame_sag_mm * lean / (frame_height_mm * upper_radius_mm) * 10800 / math.pi


@formula(title="First frequency of the truss", source="young-freedman-2016", where="eq. 14.11",
         rule="sqrt(1000 * frame_stiffness_n_per_mm / (upper_mass_kg + pole_count * pole_mass_kg / 3)) / (2 * pi)",
         note="A third of the poles' mass moves with the top, as for rods that swing about their lower ends.",
         unproved=_SOLVED)
def truss_frequency_hz(frame_stiffness_n_per_mm: float, upper_mass_kg: float, pole_count: float,
                       pole_mass_kg: float) -> float:
    """First frequency of the truss swaying across the axis, Hz."""
    moving = upper_mass_kg + pole_count * pole_mass_kg / 3
    return math.sqrt(1000 * frame_stiffness_n_per_mm / moving) / (2 * math.pi)


@formula(title="Focus drift of the truss", source="geometry",
         rule="expansion_per_k * pole_length_mm**2 / frame_height_mm",
         note="The poles warm, the rings do not: slanted poles lift the ring by more than they stretch.",
         unproved="The derivative of Pythagoras' rule; a truss taller by its warm poles checks it.")
def truss_focus_drift_mm_per_k(expansion_per_k: float, pole_length_mm: float, frame_height_mm: float) -> float:
    """Change of the spacing from mirror to focus with the poles' temperature, mm/K."""
    return expansion_per_k * pole_length_mm**2 / frame_height_mm


@formula(title="Shift from play in the joints of a truss", source="geometry",
         rule="joint_play_mm * pole_length_mm / truss_chord_mm",
         note="Until the pole that slants most in the way of the shift has used up its play; the ring is taken not to "
              "tilt.",
         unproved="The lengthening of one slanted pole; checked against node coordinates.")
def truss_play_shift_mm(joint_play_mm: float, pole_length_mm: float, truss_chord_mm: float) -> float:
    """How far the upper ring can move across where every pole can be so much longer or shorter, mm."""
    return joint_play_mm * pole_length_mm / truss_chord_mm
