"""A telescope that turns on two pads and stands on feet: what its bearings hold, what a hand must push, when it tips.

Lengths in mm, masses in kg, moments in N m, angles in degrees; an altitude of 0 is the horizon.
"""

from __future__ import annotations

import math

from dossier.working import NoAnswer, formula

_GRAVITY = 9.80665
_EARTH = {"gravity_m_per_s2": _GRAVITY}


@formula(title="Friction of the altitude bearings", source="young-freedman-2016", where="section 5.3",
         rule="friction * swung_mass_kg * gravity_m_per_s2 * bearing_radius_mm"
              " / (1000 * cos(pi / 180 * pad_angle_deg))",
         constants=_EARTH, holds={"pad_angle_deg": (0, 75)},
         note="Two pads, each this far from straight down: the steeper they stand, the harder they press.",
         unproved="Coulomb's law on two pads; a balance of forces on each pad checks it.")
def bearing_friction_n_m(friction: float, swung_mass_kg: float, bearing_radius_mm: float,
                         pad_angle_deg: float) -> float:
    """Moment at which the tube starts to turn on its pads, N m."""
    steep = math.cos(pad_angle_deg * math.pi / 180)
    return friction * swung_mass_kg * _GRAVITY * bearing_radius_mm / (1000 * steep)


@formula(title="Imbalance at an altitude", source="young-freedman-2016", where="section 10.1",
         rule="swung_mass_kg * gravity_m_per_s2 * (pivot_arm_mm * cos(altitude_deg * pi / 180)"
              " + below_pivot_mm * sin(altitude_deg * pi / 180)) / 1000",
         constants=_EARTH,
         note="Along the tube the centre of mass is beyond the pivot, across it below, as seen level. What hangs below "
              "comes forward as the tube rises, and sinks the front like a pendulum.",
         unproved="Weight times arm; the work of a small turn checks it.")
def imbalance_n_m(swung_mass_kg: float, pivot_arm_mm: float, below_pivot_mm: float, altitude_deg: float) -> float:
    """Moment that sinks the front (negative: raises it) at this altitude, N m.

    ``below_pivot_mm``: how far the centre of mass lies below the pivot, across the tube, when the tube is level.
    """
    turned = altitude_deg * math.pi / 180
    return swung_mass_kg * _GRAVITY * (pivot_arm_mm * math.cos(turned) + below_pivot_mm * math.sin(turned)) / 1000


@formula(title="Altitude above which friction holds", source="geometry",
         equation="cos h = friction ÷ imbalance when level", method="The arc cosine; 0 where friction holds at once.",
         unproved="A right triangle.")
def holds_above_deg(bearing_friction_n_m: float, pivot_moment_n_m: float) -> float:
    """Lowest altitude, degrees, at which the bearings hold the imbalance; 0 where they hold it level."""
    share = bearing_friction_n_m / abs(pivot_moment_n_m) if pivot_moment_n_m else math.inf
    return math.degrees(math.acos(share)) if share < 1 else 0.0


@formula(title="Imbalance as a share of the friction", source="young-freedman-2016", where="section 5.3",
         rule="abs(pivot_moment_n_m) / bearing_friction_n_m",
         note="With the tube level, where the imbalance is greatest. Up to 1 the bearings hold it at every altitude.",
         unproved="A ratio of two moments.")
def hold_share(pivot_moment_n_m: float, bearing_friction_n_m: float) -> float:
    """Imbalance when level ÷ the moment that the bearings hold. NoAnswer where they have no friction."""
    if not bearing_friction_n_m > 0:
        raise NoAnswer("bearings without friction hold nothing")
    return abs(pivot_moment_n_m) / bearing_friction_n_m


@formula(title="Arm of a counterweight", source="geometry", rule="pivot_mm - counter_station_mm",
         note="Counted from the pivot towards the mirror.", unproved="A difference of two lengths.")
def counter_arm_mm(pivot_mm: float, counter_station_mm: float) -> float:
    """How far behind the pivot a weight at this station stands, mm; negative: beyond the pivot, towards the sky."""
    return pivot_mm - counter_station_mm


@formula(title="Counterweight", source="young-freedman-2016", where="section 11.2",
         rule="swung_mass_kg * pivot_arm_mm / counter_arm_mm", unproved="A lever: two moments in balance.")
def counterweight_kg(swung_mass_kg: float, pivot_arm_mm: float, counter_arm_mm: float) -> float:
    """Mass that balances the tube when put this far behind the pivot, kg. NoAnswer where that is at the pivot."""
    if not counter_arm_mm:
        raise NoAnswer("a weight at the pivot balances nothing")
    return swung_mass_kg * pivot_arm_mm / counter_arm_mm


@formula(title="Push that moves the telescope", source="young-freedman-2016", where="section 10.1",
         rule="1000 * holding_moment_n_m / abs(hand_arm_mm)", unproved="A moment divided by an arm.")
def hand_push_n(holding_moment_n_m: float, hand_arm_mm: float) -> float:
    """Force of a hand this far from the axis, beyond it or behind it, N. NoAnswer for a hand on the axis."""
    if not hand_arm_mm:
        raise NoAnswer("a hand at the pivot turns nothing")
    return 1000 * holding_moment_n_m / abs(hand_arm_mm)


@formula(title="Push that raises the tube", source="young-freedman-2016", where="section 10.1",
         rule="1000 * (bearing_friction_n_m + imbalance_n_m) / hand_arm_mm",
         note="Across the tube. Below zero it rises by itself.", unproved="Two moments divided by an arm.")
def raising_push_n(bearing_friction_n_m: float, imbalance_n_m: float, hand_arm_mm: float) -> float:
    """Force upwards, this far beyond the pivot, at which the tube starts to rise, N."""
    return 1000 * (bearing_friction_n_m + imbalance_n_m) / hand_arm_mm


@formula(title="Push that lowers the tube", source="young-freedman-2016", where="section 10.1",
         rule="1000 * (bearing_friction_n_m - imbalance_n_m) / hand_arm_mm",
         note="Across the tube. Below zero it sinks by itself.", unproved="Two moments divided by an arm.")
def lowering_push_n(bearing_friction_n_m: float, imbalance_n_m: float, hand_arm_mm: float) -> float:
    """Force downwards, this far beyond the pivot, at which the tube starts to sink, N."""
    return 1000 * (bearing_friction_n_m - imbalance_n_m) / hand_arm_mm


@formula(title="Focuser beyond the pivot", source="geometry", rule="focuser_station_mm - pivot_mm",
         unproved="A difference of two lengths.")
def focuser_arm_mm(focuser_station_mm: float, pivot_mm: float) -> float:
    """Distance along the tube from the altitude axis to the focuser, where the hand is, mm."""
    return focuser_station_mm - pivot_mm


@formula(title="Height of the focuser, tube upright", source="geometry", rule="pivot_height_mm + focuser_arm_mm",
         unproved="A sum of two lengths.")
def push_height_mm(pivot_height_mm: float, focuser_arm_mm: float) -> float:
    """Greatest height above the ground at which a hand on the focuser pushes, mm."""
    return pivot_height_mm + focuser_arm_mm


@formula(title="Friction of the ground board", source="young-freedman-2016", where="section 5.3",
         rule="friction * load_kg * gravity_m_per_s2 * pad_circle_radius_mm / 1000", constants=_EARTH,
         unproved="Coulomb's law on flat pads.")
def azimuth_friction_n_m(friction: float, load_kg: float, pad_circle_radius_mm: float) -> float:
    """Moment at which the rocker box starts to turn in azimuth, N m."""
    return friction * load_kg * _GRAVITY * pad_circle_radius_mm / 1000


@formula(title="Reach of the feet", source="geometry", rule="foot_circle_mm * cos(pi / foot_count)",
         holds={"foot_count": (3, 8)},
         note="Shortest way from the middle to a line between two neighbouring feet: there it tips first.",
         unproved="A regular polygon.")
def feet_reach_mm(foot_circle_mm: float, foot_count: float) -> float:
    """Distance from the azimuth axis to the line on which the telescope tips, mm; feet on a circle of this radius."""
    return foot_circle_mm * math.cos(math.pi / foot_count)


@formula(title="Farthest the centre of mass stands out", source="young-freedman-2016", where="section 8.5",
         rule="swung_mass_kg * (abs(pivot_offset_mm) + sqrt(pivot_arm_mm**2 + below_pivot_mm**2))"
              " / (swung_mass_kg + base_mass_kg)",
         note="Over all altitudes, the base's own mass on the azimuth axis.", unproved="A weighted mean.")
def centre_stands_out_mm(swung_mass_kg: float, base_mass_kg: float, pivot_arm_mm: float, below_pivot_mm: float,
                         pivot_offset_mm: float) -> float:
    """Greatest distance of the whole telescope's centre of mass from the azimuth axis, mm.

    ``pivot_offset_mm``: how far the altitude pivot stands from the azimuth axis.
    """
    reach = abs(pivot_offset_mm) + math.sqrt(pivot_arm_mm**2 + below_pivot_mm**2)
    return swung_mass_kg * reach / (swung_mass_kg + base_mass_kg)


@formula(title="Tipping margin", source="geometry", rule="feet_reach_mm - centre_stands_out_mm",
         note="Above zero the telescope stands at every pointing.", unproved="A difference of two lengths.")
def tipping_margin_mm(feet_reach_mm: float, centre_stands_out_mm: float) -> float:
    """How far inside its feet the centre of mass stays in the worst pointing, mm; negative: it falls."""
    return feet_reach_mm - centre_stands_out_mm


@formula(title="Push that tips the telescope", source="young-freedman-2016", where="section 11.2",
         rule="load_kg * gravity_m_per_s2 * tipping_margin_mm / push_height_mm", constants=_EARTH,
         note="A level push at this height, in the worst direction and pointing.",
         unproved="A lever: two moments in balance.")
def tipping_push_n(load_kg: float, tipping_margin_mm: float, push_height_mm: float) -> float:
    """Level force that lifts the far feet off the ground, N; below zero it falls by itself. NoAnswer for a push on the
    ground."""
    if not push_height_mm > 0:
        raise NoAnswer("a push at the height of the ground tips nothing")
    return load_kg * _GRAVITY * tipping_margin_mm / push_height_mm


@formula(title="Radius of the tube", source="geometry", rule="tube_diameter_mm / 2", unproved="Half a diameter.")
def tube_radius_mm(tube_diameter_mm: float) -> float:
    """How far a tube's edge stands from its axis, mm."""
    return tube_diameter_mm / 2


@formula(title="Radius that the tail swings on", source="geometry",
         rule="sqrt((pivot_mm - tail_mm)**2 + tail_radius_mm**2)",
         note="From the altitude axis to the corner that comes nearest to the floor, shortly before the tube is "
              "upright.",
         unproved="Pythagoras on one triangle.")
def swing_radius_mm(pivot_mm: float, tail_mm: float, tail_radius_mm: float) -> float:
    """Distance from the altitude axis to the hindmost corner of what swings, mm.

    ``tail_mm`` is the station of that corner, ``tail_radius_mm`` how far it stands from the optical axis.
    """
    return math.hypot(pivot_mm - tail_mm, tail_radius_mm)


@formula(title="Clearance of the tail as it swings", source="geometry",
         rule="pivot_height_mm - floor_height_mm - swing_radius_mm", note="Below zero the tail strikes the floor.",
         unproved="A difference of three lengths.")
def swing_clearance_mm(pivot_height_mm: float, floor_height_mm: float, swing_radius_mm: float) -> float:
    """Least gap between the tail and the rocker's floor over all altitudes, mm."""
    return pivot_height_mm - floor_height_mm - swing_radius_mm
