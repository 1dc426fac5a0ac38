"""What a screw's thread bears in a tapped hole: the sheared area by two conventions, strip force, torque.

Metric threads of the ISO profile. Lengths in mm, forces in N, stresses in MPa. The nut is whatever holds the inside
thread: a tapped hole, an insert, a nut.

``least`` areas take the smallest screw (6g) in the widest hole (6H), after FED-STD-H28 with the tolerances of ISO 965;
``nominal`` takes seven eighths of a plain cylinder, πd × 0.875. They differ by a third and more: always say which.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from dossier.calc.bounds import finite
from dossier.working import formula

_ROOT3 = math.sqrt(3)


@dataclass(frozen=True, slots=True)
class _Tolerance:
    """Of one coarse thread, µm: 6g allowance, tolerances of the screw's outside and pitch diameter, of the hole's."""

    pitch: float
    allowance: float
    screw_major: float
    screw_pitch: float
    hole_pitch: float
    hole_minor: float


# ISO 965-1, grade 6, medium engagement, by the thread's diameter in mm. Recalled; the strip areas that follow from
# them agree with the table in Bickford.
_TOLERANCES: Mapping[float, _Tolerance] = {
    2: _Tolerance(0.4, 19, 95, 67, 90, 112), 2.5: _Tolerance(0.45, 20, 100, 71, 95, 125),
    3: _Tolerance(0.5, 20, 106, 75, 100, 140), 4: _Tolerance(0.7, 22, 140, 90, 118, 180),
    5: _Tolerance(0.8, 24, 150, 95, 125, 200), 6: _Tolerance(1.0, 26, 180, 112, 150, 236),
    8: _Tolerance(1.25, 28, 212, 118, 160, 265), 10: _Tolerance(1.5, 32, 236, 132, 180, 300),
    12: _Tolerance(1.75, 34, 265, 150, 200, 335),
}


@dataclass(frozen=True, slots=True)
class ThreadLimits:
    """A coarse thread's limits, 6g in 6H, mm: its pitch, the screw's least outside and pitch diameters, the hole's
    largest pitch and inside diameters."""

    pitch: float
    screw_major: float
    screw_pitch: float
    hole_pitch: float
    hole_minor: float


def thread_limits(thread_diameter_mm: float) -> ThreadLimits:
    """Limits of size of a coarse metric thread from M2 to M12, 6g and 6H (ISO 965-1). ValueError for any other."""
    finite(thread_diameter=thread_diameter_mm)
    if thread_diameter_mm not in _TOLERANCES:
        known = ", ".join(f"M{size:g}" for size in _TOLERANCES)
        raise ValueError(f"no tolerances are known for M{thread_diameter_mm:g}, only for {known}")
    row = _TOLERANCES[thread_diameter_mm]
    pitch_diameter = thread_diameter_mm - 0.375 * _ROOT3 * row.pitch
    minor_diameter = thread_diameter_mm - 0.625 * _ROOT3 * row.pitch
    return ThreadLimits(
        pitch=row.pitch,
        screw_major=thread_diameter_mm - (row.allowance + row.screw_major) / 1000,
        screw_pitch=pitch_diameter - (row.allowance + row.screw_pitch) / 1000,
        hole_pitch=pitch_diameter + row.hole_pitch / 1000,
        hole_minor=minor_diameter + row.hole_minor / 1000,
    )


@formula(title="Strip area of the hole's thread, least", source="bickford-2008", where="after FED-STD-H28",
         rule="pi * engagement_mm / thread_pitch_mm * screw_major_mm"
              " * (thread_pitch_mm / 2 + (screw_major_mm - hole_pitch_diameter_mm) / sqrt(3))",
         note="The smallest screw (6g) in the widest hole (6H). It is the hole's thread that strips where the hole's "
              "material is the weaker.")
def hole_strip_area_mm2(screw_major_mm: float, hole_pitch_diameter_mm: float, thread_pitch_mm: float,
                        engagement_mm: float) -> float:
    """Area of the inside thread that must shear for the screw to pull out, mm².

    ``screw_major_mm``: the screw's least outside diameter; ``hole_pitch_diameter_mm``: the hole's largest.
    """
    wide = thread_pitch_mm / 2 + (screw_major_mm - hole_pitch_diameter_mm) / math.sqrt(3)
    return math.pi * engagement_mm / thread_pitch_mm * screw_major_mm * wide


@formula(title="Strip area of the screw's thread, least", source="bickford-2008", where="after FED-STD-H28",
         rule="pi * engagement_mm / thread_pitch_mm * hole_minor_mm"
              " * (thread_pitch_mm / 2 + (screw_pitch_diameter_mm - hole_minor_mm) / sqrt(3))",
         note="The smallest screw (6g) in the widest hole (6H).")
def screw_strip_area_mm2(hole_minor_mm: float, screw_pitch_diameter_mm: float, thread_pitch_mm: float,
                         engagement_mm: float) -> float:
    """Area of the outside thread that must shear for the screw to pull out, mm².

    ``hole_minor_mm``: the hole's largest inside diameter; ``screw_pitch_diameter_mm``: the screw's least.
    """
    wide = thread_pitch_mm / 2 + (screw_pitch_diameter_mm - hole_minor_mm) / math.sqrt(3)
    return math.pi * engagement_mm / thread_pitch_mm * hole_minor_mm * wide


@formula(title="Strip area, nominal", source="common-practice",
         rule="0.875 * pi * thread_diameter_mm * engagement_mm",
         note="Seven eighths of a cylinder of the thread's diameter: the quick rule, larger than the least area.",
         unproved="A rule of thumb; set beside the least area.")
def nominal_strip_area_mm2(thread_diameter_mm: float, engagement_mm: float) -> float:
    """Sheared area by the quick rule, mm²."""
    return 0.875 * math.pi * thread_diameter_mm * engagement_mm


@formula(title="Strip force", source="bickford-2008", rule="shear_strength_mpa * strip_area_mm2",
         note="Even load over all threads in engagement: beyond about 1.5 diameters more engagement adds little.",
         unproved="A stress times an area.")
def strip_force_n(shear_strength_mpa: float, strip_area_mm2: float) -> float:
    """Pull at which the thread strips, N."""
    return shear_strength_mpa * strip_area_mm2


@formula(title="Shear stress in the thread", source="bickford-2008", rule="thread_load_n / strip_area_mm2",
         unproved="A force divided by an area.")
def thread_stress_mpa(thread_load_n: float, strip_area_mm2: float) -> float:
    """Mean shear stress in the thread under this pull, MPa."""
    return thread_load_n / strip_area_mm2


@formula(title="Tightening torque", source="shigley-2015", where="eq. 8-27",
         rule="nut_factor * thread_load_n * thread_diameter_mm / 1000", holds={"nut_factor": (0.1, 0.3)},
         note="About 0.20 for dry steel on steel; plastic and wood scatter widely.")
def tightening_torque_n_m(nut_factor: float, thread_load_n: float, thread_diameter_mm: float) -> float:
    """Torque that pulls the screw with this force, N m."""
    return nut_factor * thread_load_n * thread_diameter_mm / 1000


@formula(title="Engagement that bears the load", source="bickford-2008",
         rule="safety * thread_load_n / (shear_strength_mpa * strip_area_mm2 / engagement_mm)",
         unproved="The strip force solved for the length.")
def needed_engagement_mm(safety: float, thread_load_n: float, shear_strength_mpa: float, strip_area_mm2: float,
                         engagement_mm: float) -> float:
    """Length of engagement, mm, that strips at ``safety`` times the load; the area is that of ``engagement_mm``."""
    return safety * thread_load_n / (shear_strength_mpa * strip_area_mm2 / engagement_mm)


@formula(title="Engagement in diameters", source="definition", rule="engagement_mm / thread_diameter_mm",
         unproved="A ratio of two lengths.")
def engagement_ratio(engagement_mm: float, thread_diameter_mm: float) -> float:
    """Length of thread in engagement ÷ diameter of the thread."""
    return engagement_mm / thread_diameter_mm


@formula(title="Share of the strength in use", source="definition", rule="thread_stress_mpa / shear_strength_mpa",
         note="At 1 the thread strips, the insert comes out, or the nut pulls through.",
         unproved="A ratio of two stresses.")
def strength_share(thread_stress_mpa: float, shear_strength_mpa: float) -> float:
    """Stress under the load ÷ what the author's own test found the material to bear there."""
    return thread_stress_mpa / shear_strength_mpa


@formula(title="Torque that reaches half of the strip force", source="shigley-2015", where="eq. 8-27",
         rule="nut_factor * strip_force_n / 2 * thread_diameter_mm / 1000", holds={"nut_factor": (0.1, 0.3)},
         note="A nut factor of 0.20 is for dry steel on steel; plastic and wood scatter widely.",
         unproved="Equation 8-27 at half of a force; the equation itself is proved.")
def half_strip_torque_n_m(nut_factor: float, strip_force_n: float, thread_diameter_mm: float) -> float:
    """Torque that pulls the screw with half of the force at which it strips, N m."""
    return nut_factor * strip_force_n / 2 * thread_diameter_mm / 1000


@formula(title="Area about an insert", source="geometry", rule="pi * insert_hole_mm * engagement_mm",
         note="The wall of the hole it was set into: what must shear for the insert to come out.",
         unproved="The wall of a cylinder.")
def insert_area_mm2(insert_hole_mm: float, engagement_mm: float) -> float:
    """Wall of the hole that holds a heat-set or screwed-in insert, mm²."""
    return math.pi * insert_hole_mm * engagement_mm


@formula(title="Area under a captive nut", source="geometry",
         rule="sqrt(3) / 2 * across_flats_mm**2 - pi / 4 * clearance_mm**2",
         note="A hexagon less the screw's hole: what the nut presses on.",
         unproved="The area of a hexagon less a circle; a count of squares checks it.")
def nut_area_mm2(across_flats_mm: float, clearance_mm: float) -> float:
    """Area on which a hexagon nut bears, mm²."""
    return _ROOT3 / 2 * across_flats_mm**2 - math.pi / 4 * clearance_mm**2
