"""Where things stand along the tube, and how long its poles are.

All lengths in millimetres; stations run along the optical axis from the primary's vertex, positive towards the sky.
"""

from __future__ import annotations

import math

from dossier.working import formula

_OWN_LENGTHS = "It is a sum of lengths."


@formula(title="Station of the focuser", source="geometry", rule="focal_length_mm - intercept_mm",
         note="Where the folded axis leaves the tube's axis: the focuser's axis, and the point of the axis that the "
              "diagonal's face passes through.", unproved=_OWN_LENGTHS)
def focuser_station_mm(focal_length_mm: float, intercept_mm: float) -> float:
    """Station at which the axis is folded towards the focuser, mm."""
    return focal_length_mm - intercept_mm


@formula(title="Station of the diagonal's centre", source="geometry", rule="focuser_station_mm - offset_mm",
         note="The offset moves the diagonal towards the primary.", unproved=_OWN_LENGTHS)
def diagonal_station_mm(focuser_station_mm: float, offset_mm: float) -> float:
    """Station of the middle of the diagonal's face, with its offset, mm."""
    return focuser_station_mm - offset_mm


@formula(title="Station of the upper fixing", source="geometry", rule="lower_fixing_mm + frame_height_mm",
         unproved=_OWN_LENGTHS)
def upper_fixing_mm(lower_fixing_mm: float, frame_height_mm: float) -> float:
    """Station of the upper end of tube, poles or truss, mm. The height is measured along the axis."""
    return lower_fixing_mm + frame_height_mm


@formula(title="Sideways reach of a truss pole", source="geometry",
         rule="sqrt(lower_radius_mm**2 + upper_radius_mm**2"
              " - 2 * lower_radius_mm * upper_radius_mm * cos(2 * pi / pole_count))",
         note="Half as many nodes as poles on each circle, the upper ones turned by half a pitch.",
         unproved="The cosine rule on one triangle; checked against node coordinates.")
def truss_chord_mm(lower_radius_mm: float, upper_radius_mm: float, pole_count: float) -> float:
    """Distance across the axis from a truss pole's lower node to its upper node, mm."""
    turned = math.cos(2 * math.pi / pole_count)
    return math.sqrt(lower_radius_mm**2 + upper_radius_mm**2 - 2 * lower_radius_mm * upper_radius_mm * turned)


@formula(title="Height of the truss", source="geometry", rule="sqrt(pole_length_mm**2 - truss_chord_mm**2)",
         unproved="Pythagoras on one triangle; checked against node coordinates.")
def truss_height_mm(pole_length_mm: float, truss_chord_mm: float) -> float:
    """How far along the axis poles of this length reach, node to node, mm."""
    return math.sqrt(pole_length_mm**2 - truss_chord_mm**2)


@formula(title="Length of a pole between its fixings", source="geometry",
         rule="sqrt((upper_fixing_mm - lower_fixing_mm)**2 + truss_chord_mm**2)",
         note="The sideways reach is zero for poles parallel to the axis and for a tube.",
         unproved="Pythagoras on one triangle; checked against node coordinates.")
def pole_length_mm(lower_fixing_mm: float, upper_fixing_mm: float, truss_chord_mm: float) -> float:
    """Free length of tube, pole or truss pole between two fixings, mm."""
    return math.sqrt((upper_fixing_mm - lower_fixing_mm) ** 2 + truss_chord_mm**2)


@formula(title="Length to saw a pole's tube to", source="geometry", rule="pole_length_mm - 2 * end_fittings_mm",
         note="Fittings that hold the tube short of its fixings count above zero, a tube that reaches past them below.",
         unproved=_OWN_LENGTHS)
def sawn_length_mm(pole_length_mm: float, end_fittings_mm: float) -> float:
    """Length of a pole's tube alone, mm, from the pole's free length and what lies between tube and fixing."""
    return pole_length_mm - 2 * end_fittings_mm


@formula(title="Front of the tube beyond the focuser's axis", source="geometry", rule="front_mm - focuser_station_mm",
         note="What shields diagonal and focuser from the sky's side light.", unproved=_OWN_LENGTHS)
def front_beyond_focuser_mm(front_mm: float, focuser_station_mm: float) -> float:
    """How far the sky end stands beyond the folded axis, mm."""
    return front_mm - focuser_station_mm


@formula(title="Lower end of the tube", source="geometry", rule="front_mm - tube_length_mm",
         note="Where only the sky end's station is said.", unproved=_OWN_LENGTHS)
def lower_end_mm(front_mm: float, tube_length_mm: float) -> float:
    """Station of a tube's lower end, mm, from its sky end and its length."""
    return front_mm - tube_length_mm


@formula(title="From the tube's lower end", source="geometry", rule="hole_station_mm - lower_end_mm",
         note="Where a tape hooked over the lower end reads the centre of the hole.", unproved=_OWN_LENGTHS)
def from_lower_end_mm(hole_station_mm: float, lower_end_mm: float) -> float:
    """Distance along a tube from its lower end to a hole at this station, mm."""
    return hole_station_mm - lower_end_mm
