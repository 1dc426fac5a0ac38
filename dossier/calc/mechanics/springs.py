"""Helical compression springs under a mirror: their rate, how far to compress them, what that does to the wire.

Lengths in mm, forces in N, masses in kg. The coil diameter is the mean one, wire centre to wire centre; the coils
counted are the active ones. Ends are squared and ground.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from dossier.calc.bounds import positive
from dossier.working import NoAnswer, formula

_GRAVITY = 9.80665
_EARTH = {"gravity_m_per_s2": _GRAVITY}


@formula(title="Rate of a spring from its wire", source="shigley-2015", where="eq. 10-9",
         rule="1000 * shear_modulus_gpa * wire_mm**4 / (8 * coil_diameter_mm**3 * active_coils)",
         holds={"active_coils": (2, 30)}, note="Mean coil diameter, active coils.")
def spring_rate_n_per_mm(shear_modulus_gpa: float, wire_mm: float, coil_diameter_mm: float,
                         active_coils: float) -> float:
    """Spring rate, N/mm."""
    return 1000 * shear_modulus_gpa * wire_mm**4 / (8 * coil_diameter_mm**3 * active_coils)


@formula(title="Preload of one spring", source="young-freedman-2016", where="eq. 6.8",
         rule="spring_rate_n_per_mm * (free_length_mm - compressed_length_mm)",
         unproved="Hooke's law: a rate times a length.")
def spring_preload_n(spring_rate_n_per_mm: float, free_length_mm: float, compressed_length_mm: float) -> float:
    """Force of one spring at the length to which it is compressed, N."""
    return spring_rate_n_per_mm * (free_length_mm - compressed_length_mm)


@formula(title="Force of the springs at one adjuster", source="definition", rule="spring_preload_n * spring_count",
         note="Springs side by side share the length and add their forces.", unproved="A force times a number.")
def preload_together_n(spring_preload_n: float, spring_count: float) -> float:
    """Force of the springs that stand side by side at one adjuster, N."""
    return spring_preload_n * spring_count


@formula(title="Rate of the springs at one adjuster", source="definition", rule="spring_rate_n_per_mm * spring_count",
         note="Springs side by side.", unproved="A rate times a number.")
def rate_together_n_per_mm(spring_rate_n_per_mm: float, spring_count: float) -> float:
    """Rate of the springs that stand side by side at one adjuster, N/mm."""
    return spring_rate_n_per_mm * spring_count


@formula(title="Force that keeps the cell seated", source="young-freedman-2016", where="section 11.2",
         rule="moving_mass_kg * gravity_m_per_s2 / push_count * sqrt(1 + (2 * overhang_mm / push_radius_mm)**2)",
         constants=_EARTH, holds={"push_count": (3, 18)},
         note="The worst altitude and orientation: a spring carries its share of the weight's part along the axis and "
              "of the moment of the part across it, m g cos h ± 2 m g (e/R) sin h over the number of springs.",
         unproved="Balance of forces and moments; a search over altitude and orientation checks it.")
def seating_force_n(moving_mass_kg: float, push_count: float, push_radius_mm: float, overhang_mm: float) -> float:
    """Least preload of one spring that keeps every adjuster seated at every altitude and orientation, N."""
    lever = math.sqrt(1 + (2 * overhang_mm / push_radius_mm) ** 2)
    return moving_mass_kg * _GRAVITY / push_count * lever


@formula(title="Springs in hand", source="common-practice", rule="push_force_n / seating_force_n",
         note="Above 1 the cell stays seated at every altitude; 1.5 is customary.",
         unproved="A ratio of two forces.")
def spring_margin(push_force_n: float, seating_force_n: float) -> float:
    """Preload of one spring ÷ what it takes to keep the cell seated."""
    return push_force_n / seating_force_n


@formula(title="Compression the springs need", source="common-practice",
         rule="wanted_margin * seating_force_n / spring_rate_n_per_mm", unproved="A force divided by a rate.")
def needed_compression_mm(wanted_margin: float, seating_force_n: float, spring_rate_n_per_mm: float) -> float:
    """How far to compress each spring for this much in hand, mm."""
    return wanted_margin * seating_force_n / spring_rate_n_per_mm


@formula(title="Spring index", source="shigley-2015", where="eq. 10-1", rule="coil_diameter_mm / wire_mm",
         note="Between 4 and 12 a spring is easily wound.")
def spring_index(coil_diameter_mm: float, wire_mm: float) -> float:
    """Mean coil diameter ÷ wire diameter."""
    return coil_diameter_mm / wire_mm


@formula(title="Curvature factor of the wire", source="shigley-2015", where="eq. 10-5",
         rule="(4 * spring_index + 2) / (4 * spring_index - 3)", holds={"spring_index": (3, 16)},
         note="Bergsträsser's factor.")
def curvature_factor(spring_index: float) -> float:
    """How much the wire's stress on the inside of the coil exceeds that of a straight bar in torsion and shear."""
    return (4 * spring_index + 2) / (4 * spring_index - 3)


@formula(title="Shear stress in the wire", source="shigley-2015", where="eq. 10-7",
         rule="curvature_factor * 8 * push_force_n * coil_diameter_mm / (pi * wire_mm**3)")
def wire_stress_mpa(curvature_factor: float, push_force_n: float, coil_diameter_mm: float, wire_mm: float) -> float:
    """Greatest shear stress in the wire, MPa."""
    return curvature_factor * 8 * push_force_n * coil_diameter_mm / (math.pi * wire_mm**3)


@formula(title="Solid length", source="shigley-2015", where="table 10-1", rule="wire_mm * (active_coils + 2)",
         note="Squared and ground ends: two coils more than the active ones.",
         unproved="A count of coils lying on each other.")
def solid_length_mm(wire_mm: float, active_coils: float) -> float:
    """Length at which the coils touch, mm."""
    return wire_mm * (active_coils + 2)


@formula(title="Travel of the spring ÷ travel in use", source="shigley-2015", where="eq. 10-17",
         rule="(free_length_mm - solid_length_mm) / (free_length_mm - compressed_length_mm)",
         note="At 1 its coils touch and it pushes as hard as a screw; from 1.15 up its rate holds.",
         unproved="A ratio of two lengths.")
def travel_in_hand(free_length_mm: float, solid_length_mm: float, compressed_length_mm: float) -> float:
    """How far the spring can be compressed ÷ how far it is. NoAnswer where it is not compressed at all."""
    if compressed_length_mm == free_length_mm:
        raise NoAnswer("the spring is not compressed")
    return (free_length_mm - solid_length_mm) / (free_length_mm - compressed_length_mm)


@formula(title="Tensile strength of the wire", source="spring-wire-strength", where="eq. 10-14",
         rule="wire_constant_mpa * (reference_wire_mm / wire_mm)**wire_exponent",
         constants={"reference_wire_mm": 1.0}, note="The least that makers promise; thin wire is drawn harder.")
def wire_strength_mpa(wire_constant_mpa: float, wire_mm: float, wire_exponent: float) -> float:
    """Least tensile strength of spring wire of this diameter, MPa."""
    return wire_constant_mpa * math.pow(wire_mm, -wire_exponent)


@formula(title="Stress ÷ what the wire bears", source="spring-wire-strength", where="table 10-6",
         rule="wire_stress_mpa / (torsion_share * wire_strength_mpa)",
         note="In torsion a wound spring bears this share of its wire's tensile strength before it sets.",
         unproved="A ratio of two stresses.")
def stress_share(wire_stress_mpa: float, torsion_share: float, wire_strength_mpa: float) -> float:
    """Shear stress in the wire ÷ the stress at which the spring begins to stay shorter."""
    return wire_stress_mpa / (torsion_share * wire_strength_mpa)


@formula(title="Length to mount the spring at", source="young-freedman-2016", where="eq. 6.8",
         rule="free_length_mm - wanted_force_n / spring_rate_n_per_mm", unproved="Hooke's law solved for the length.")
def mounted_length_mm(free_length_mm: float, wanted_force_n: float, spring_rate_n_per_mm: float) -> float:
    """Length (mm) to which the spring is compressed to press with this force."""
    return free_length_mm - wanted_force_n / spring_rate_n_per_mm


@formula(title="Force that one turn of the screw adds", source="definition",
         rule="spring_rate_n_per_mm * thread_pitch_mm", note="Through the spring.", unproved="A rate times a length.")
def force_per_turn_n(spring_rate_n_per_mm: float, thread_pitch_mm: float) -> float:
    """Force that one turn of the adjuster's screw adds where it works through a spring, N."""
    return spring_rate_n_per_mm * thread_pitch_mm


@formula(title="Free length above which the spring buckles", source="shigley-2015", where="eq. 10-11",
         rule="2.63 * coil_diameter_mm / 0.5",
         note="Steel, both ends on flat parallel faces; a spring around its screw cannot buckle.",
         unproved="The book prints the limit without a worked number.")
def buckling_length_mm(coil_diameter_mm: float) -> float:
    """Longest free length that stays straight without a guide, mm."""
    return 2.63 * coil_diameter_mm / 0.5


@formula(title="Shift of a mirror that floats on its springs", source="young-freedman-2016", where="section 14.2",
         rule="moving_mass_kg * gravity_m_per_s2 / (push_count * spring_rate_n_per_mm)", constants=_EARTH,
         note="From horizon to zenith, where nothing but the springs holds the cell. A seated cell does not shift.",
         unproved="A weight divided by a rate.")
def floating_shift_mm(moving_mass_kg: float, push_count: float, spring_rate_n_per_mm: float) -> float:
    """How far the mirror sinks along the axis from horizon to zenith on springs alone, mm."""
    return moving_mass_kg * _GRAVITY / (push_count * spring_rate_n_per_mm)


@formula(title="Frequency of a mirror that floats on its springs", source="young-freedman-2016", where="eq. 14.11",
         rule="sqrt(1000 * push_count * spring_rate_n_per_mm / moving_mass_kg) / (2 * pi)",
         unproved="One mass on springs; the shift under its own weight checks it.")
def floating_frequency_hz(push_count: float, spring_rate_n_per_mm: float, moving_mass_kg: float) -> float:
    """Frequency of the mirror bouncing along the axis on springs alone, Hz."""
    return math.sqrt(1000 * push_count * spring_rate_n_per_mm / moving_mass_kg) / (2 * math.pi)


@dataclass(frozen=True, slots=True)
class Coil:
    """A spring by its geometry: wire, mean diameter and free length in mm, active coils, shear modulus in GPa."""

    wire_mm: float
    coil_diameter_mm: float
    active_coils: float
    free_length_mm: float
    shear_modulus_gpa: float


@dataclass(frozen=True, slots=True)
class Fit:
    """How a spring does a job: its rate, the length it is compressed to, how far that is from solid, its stress."""

    rate_n_per_mm: float
    compressed_length_mm: float
    to_solid_mm: float
    stress_mpa: float

    def does(self, least_to_solid_mm: float, most_stress_mpa: float) -> bool:
        """Whether the spring keeps this much travel and stays below this stress."""
        return self.to_solid_mm >= least_to_solid_mm and self.stress_mpa <= most_stress_mpa


def fit(coil: Coil, push_force_n: float) -> Fit:
    """How this spring gives this force. ValueError where a dimension or the force is not above zero."""
    positive(wire=coil.wire_mm, coil_diameter=coil.coil_diameter_mm, active_coils=coil.active_coils,
             free_length=coil.free_length_mm, shear_modulus=coil.shear_modulus_gpa, push_force=push_force_n)
    rate = spring_rate_n_per_mm(coil.shear_modulus_gpa, coil.wire_mm, coil.coil_diameter_mm, coil.active_coils)
    compressed = coil.free_length_mm - push_force_n / rate
    factor = curvature_factor(spring_index(coil.coil_diameter_mm, coil.wire_mm))
    return Fit(rate, compressed, compressed - solid_length_mm(coil.wire_mm, coil.active_coils),
               wire_stress_mpa(factor, push_force_n, coil.coil_diameter_mm, coil.wire_mm))
