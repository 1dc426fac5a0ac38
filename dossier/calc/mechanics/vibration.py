"""The first frequency of a frame, its lower end held and a mass at the top, and how soon it comes to rest.

Beams with their mass spread evenly, exactly: the stiffness of a beam that vibrates at ω, where λ = L (µω²/EI)^¼.
Lengths in mm, masses in kg, moduli in GPa, frequencies in Hz.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from dossier.calc.bounds import at_least_zero, positive
from dossier.working import formula

_HIGHEST = 3.0
"""λ up to which the first frequency is sought: a bare cantilever has 1.875, poles with a free ring 2.365."""


def _beam(wave: float) -> tuple[float, float, float]:
    """End stiffness of a vibrating beam held at the other end, in EI/L³, EI/L² and EI/L: across, both, turn."""
    if wave < 1e-2:
        return 12 - 13 * wave**4 / 35, 6 - 11 * wave**4 / 210, 4 - wave**4 / 105
    sine, cosine, hyper_sine, hyper_cosine = math.sin(wave), math.cos(wave), math.sinh(wave), math.cosh(wave)
    below = 1 - cosine * hyper_cosine
    return (wave**3 * (sine * hyper_cosine + cosine * hyper_sine) / below, wave**2 * sine * hyper_sine / below,
            wave * (sine * hyper_cosine - cosine * hyper_sine) / below)


def _first_root(determinant: Callable[[float], float]) -> float:
    """λ at which the determinant first vanishes, by bisection; it is positive at rest."""
    low, high = 0.0, _HIGHEST
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if determinant(middle) > 0 else (low, middle)
    return (low + high) / 2


@formula(title="First frequency of the tube", source="timoshenko-vibration-1974",
         equation="EI w'''' = µ ω² w, w = w' = 0 below, EI w'' = 0 and EI w''' = −m ω² w above",
         method="The dynamic stiffness of the beam, its determinant's first root by bisection.",
         note="A point mass at the upper end, the tube's own mass spread evenly; bending only.")
def tube_frequency_hz(youngs_modulus_gpa: float, tube_second_moment_mm4: float, tube_mass_kg: float,
                      tube_length_mm: float, upper_mass_kg: float) -> float:
    """First bending frequency of a tube held at its lower end with a mass at the upper, Hz."""
    positive(youngs_modulus=youngs_modulus_gpa, second_moment=tube_second_moment_mm4, tube_mass=tube_mass_kg,
             tube_length=tube_length_mm)
    at_least_zero(upper_mass=upper_mass_kg)
    ratio = upper_mass_kg / tube_mass_kg

    def determinant(wave: float) -> float:
        across, both, turn = _beam(wave)
        return (across - ratio * wave**4) * turn - both**2

    stiffness = 1e6 * youngs_modulus_gpa * tube_second_moment_mm4 / tube_length_mm**3
    return _first_root(determinant) ** 2 * math.sqrt(stiffness / tube_mass_kg) / (2 * math.pi)


@formula(title="First frequency of the poles", source="timoshenko-vibration-1974",
         equation="EI w'''' = µ ω² w in each pole, built in at both rings; n poles and the mass m keep the upper ring "
                  "in balance across and in tilt",
         method="The dynamic stiffness of the poles, bending and stretching, its determinant's first root by "
                "bisection.",
         note="A point mass at the upper ring, the poles' own mass spread evenly.",
         unproved="No published pole frame was found; beam elements check it.")
def poles_frequency_hz(
    youngs_modulus_gpa: float, pole_second_moment_mm4: float, pole_area_mm2: float, pole_mass_kg: float,
    pole_length_mm: float, pole_count: float, circle_radius_mm: float, upper_mass_kg: float,
) -> float:
    """First frequency of a ring on parallel poles swaying across the axis, Hz; second moment, area, mass of one."""
    positive(youngs_modulus=youngs_modulus_gpa, second_moment=pole_second_moment_mm4, pole_area=pole_area_mm2,
             pole_mass=pole_mass_kg, pole_length=pole_length_mm, pole_count=pole_count, circle_radius=circle_radius_mm)
    at_least_zero(upper_mass=upper_mass_kg)
    ratio = upper_mass_kg / (pole_count * pole_mass_kg)
    stretch = pole_area_mm2 * circle_radius_mm**2 / (2 * pole_second_moment_mm4)
    slenderness = pole_second_moment_mm4 / (pole_area_mm2 * pole_length_mm**2)

    def determinant(wave: float) -> float:
        across, both, turn = _beam(wave)
        along = wave**2 * math.sqrt(slenderness)
        axial = along / math.tan(along) if along > 1e-6 else 1.0
        return (across - ratio * wave**4) * (turn + stretch * axial) - both**2

    stiffness = 1e6 * youngs_modulus_gpa * pole_second_moment_mm4 / pole_length_mm**3
    return _first_root(determinant) ** 2 * math.sqrt(stiffness / pole_mass_kg) / (2 * math.pi)


@formula(title="Time to come to rest", source="timoshenko-vibration-1974",
         rule="log(knock_mm / calm_mm) / (2 * pi * frequency_hz * damping_ratio)",
         holds={"damping_ratio": (0.002, 0.1)},
         note="Damping of bolted frames, common practice: 0.01 to 0.03; wood and card are the better ones.",
         unproved="The definition of the damping ratio.")
def ring_down_s(knock_mm: float, calm_mm: float, frequency_hz: float, damping_ratio: float) -> float:
    """Time, s, in which a knock that moved the top by ``knock_mm`` has died down to ``calm_mm``."""
    return math.log(knock_mm / calm_mm) / (2 * math.pi * frequency_hz * damping_ratio)
