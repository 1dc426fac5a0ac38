"""How long a warm mirror takes to cool to the night air, and what its warmth costs meanwhile.

A slab that loses heat through its two faces, each with its own coefficient; the rim is left out. Exact conduction:
a sum of waves across the thickness that each die away at their own rate. Lengths in mm, times in minutes,
temperatures in °C, their differences in K.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from dossier.calc.bounds import at_least_zero, finite, positive
from dossier.working import NoAnswer, formula

FloatArray = npt.NDArray[np.float64]

_WAVES = 60
_DEPTHS = 201
_MOST_CHORDS, _NEAR, _LEAST_SHARE = 100, 1e-13, 1e-300
_NEWTON_STEPS = 60

_CONDUCTION = ("The slab's first 60 waves across the thickness, each wave number found by Newton's method between "
               "multiples of π; the time by bisection.")


@dataclass(frozen=True)
class Slab:
    """Waves of a slab that starts even: wave numbers λ (per thickness), how each leans at the front face (Biot number
    ÷ λ), its share of the start.

    ``mean`` is each wave's part in the mean temperature; ``minutes`` is the time in which λ² = 1 falls by e.
    """

    waves: FloatArray
    lean: FloatArray
    share: FloatArray
    mean: FloatArray
    minutes: float

    @cached_property
    def at_depth(self) -> FloatArray:
        """Each wave's part at each depth: (waves, depths from the front face to the back)."""
        turned = np.outer(self.waves, np.linspace(0, 1, _DEPTHS))
        return np.asarray(self.share[:, None] * (np.cos(turned) + self.lean[:, None] * np.sin(turned)))

    def left(self, minutes: float) -> FloatArray:
        """Share of the first difference that is left at each depth after this time."""
        return np.asarray(np.exp(-self.waves**2 * minutes / self.minutes) @ self.at_depth)

    def left_on_average(self, minutes: float) -> float:
        """Share of the first difference that is left on average after this time."""
        return float(np.exp(-self.waves**2 * minutes / self.minutes) @ self.mean)


def slab(
    edge_thickness_mm: float, density_kg_per_m3: float, heat_capacity_j_per_kg_k: float, conductivity_w_per_m_k: float,
    front_transfer_w_per_m2_k: float, back_transfer_w_per_m2_k: float,
) -> Slab:
    """The waves of a mirror of this glass that loses heat at both faces. ValueError where it cannot cool at all."""
    positive(edge_thickness=edge_thickness_mm, density=density_kg_per_m3, heat_capacity=heat_capacity_j_per_kg_k,
             conductivity=conductivity_w_per_m_k)
    at_least_zero(front_heat_transfer=front_transfer_w_per_m2_k, back_heat_transfer=back_transfer_w_per_m2_k)
    if not front_transfer_w_per_m2_k + back_transfer_w_per_m2_k > 0:
        raise NoAnswer("a mirror that loses heat at neither face never cools")
    metres = edge_thickness_mm / 1000
    front = front_transfer_w_per_m2_k * metres / conductivity_w_per_m_k
    back = back_transfer_w_per_m2_k * metres / conductivity_w_per_m_k
    waves = _wave_numbers(front, back)
    lean = front / waves
    whole = np.sin(waves) / waves + lean * (1 - np.cos(waves)) / waves
    square = ((1 + lean**2) / 2 + np.sin(2 * waves) / (4 * waves) * (1 - lean**2)
              + lean * np.sin(waves) ** 2 / waves)
    stored = density_kg_per_m3 * heat_capacity_j_per_kg_k * metres**2 / conductivity_w_per_m_k
    return Slab(waves, lean, whole / square, whole**2 / square, stored / 60)


def _wave_numbers(front: float, back: float) -> FloatArray:
    """Roots of λ = nπ + arctan(a/λ) + arctan(b/λ) for the Biot numbers a, b of the faces: one between each two nπ.

    That is (λ² − ab) sin λ = (a + b) λ cos λ with its turns told apart. What the left side has over the right rises
    with λ, ever less steeply, so Newton's steps from these starts end at the root.
    """
    turns = np.arange(_WAVES) * np.pi
    waves = turns + np.pi / 2
    waves[0] = min(math.sqrt(front + back + front * back), math.pi)
    for _ in range(_NEWTON_STEPS):
        beyond = waves - turns - np.arctan(front / waves) - np.arctan(back / waves)
        step = beyond / (1 + front / (waves**2 + front**2) + back / (waves**2 + back**2))
        waves = waves - step
        if np.all(np.abs(step) <= 1e-14 * waves):
            break
    return np.asarray(waves)


def _when(left: Callable[[float], float], glass: Slab, ratio: float) -> float:
    """Time in minutes at which the share that is left has fallen to 1 ÷ ratio; 0 where it starts below."""
    if not ratio > 1:
        return 0.0
    # The share falls nearly as a power, so that its logarithm is nearly a line: a few chords find where it ends.
    low, high = 0.0, 4 * (math.log(ratio) + 1) * glass.minutes / float(glass.waves[0]) ** 2
    above, below = (math.log(max(left(end) * ratio, _LEAST_SHARE)) for end in (low, high))
    if above <= 0:
        return 0.0
    for _ in range(_MOST_CHORDS):
        middle = (low * below - high * above) / (below - above)
        found = math.log(max(left(middle) * ratio, _LEAST_SHARE))
        if abs(found) < _NEAR or not low < middle < high:
            break
        if found > 0:
            low, above, below = middle, found, below / 2  # an end that stays is made to weigh less
        else:
            high, below, above = middle, found, above / 2
    return middle


@formula(title="Cooling time constant", source="incropera-2007", where="eq. 5.7",
         rule="density_kg_per_m3 * heat_capacity_j_per_kg_k * edge_thickness_mm"
              " / (1000 * (front_transfer_w_per_m2_k + back_transfer_w_per_m2_k)) / 60",
         note="Lumped: the glass taken as even throughout. The difference falls to 37 % in this time.")
def time_constant_min(
    density_kg_per_m3: float, heat_capacity_j_per_kg_k: float, edge_thickness_mm: float,
    front_transfer_w_per_m2_k: float, back_transfer_w_per_m2_k: float,
) -> float:
    """Time in which the mirror's difference from the air falls to 1/e, minutes."""
    faces = front_transfer_w_per_m2_k + back_transfer_w_per_m2_k
    return density_kg_per_m3 * heat_capacity_j_per_kg_k * edge_thickness_mm / (1000 * faces) / 60


@formula(title="Biot number", source="incropera-2007", where="eq. 5.9",
         rule="heat_transfer_w_per_m2_k * conducting_depth_mm / (1000 * conductivity_w_per_m_k)",
         note="The depth is half the thickness where both faces cool alike, the whole where one is closed. Below 0.1 "
              "the lumped time is good to a few per cent.")
def biot_number(heat_transfer_w_per_m2_k: float, conducting_depth_mm: float, conductivity_w_per_m_k: float) -> float:
    """Resistance of the glass ÷ resistance of the air film."""
    return heat_transfer_w_per_m2_k * conducting_depth_mm / (1000 * conductivity_w_per_m_k)


@formula(title="Time to settle, lumped", source="incropera-2007", where="eq. 5.6",
         equation="t = τ ln(|stored − used| / within)", method="Logarithm; 0 where the mirror starts that near.",
         unproved="The source's law of exponential decay, solved for the time.")
def settling_time_lumped_min(time_constant_min: float, stored_at_degc: float, used_at_degc: float,
                             within_k: float) -> float:
    """Time until a mirror that is even throughout stands within so many kelvin of the air, minutes."""
    ratio = _ratio(stored_at_degc, used_at_degc, within_k)
    return time_constant_min * math.log(ratio) if ratio > 1 else 0.0


@formula(title="Time to settle", source="incropera-2007", where="section 5.5",
         equation="∂T/∂t = a ∂²T/∂z², k ∂T/∂z = ±h (T − T air) at the faces; mean T − T air = within",
         method=_CONDUCTION, note="The mirror's mean temperature. The rim is left out.",
         unproved="The source prints roots for equal faces, which the tests check; not this time.")
def settling_time_min(
    edge_thickness_mm: float, density_kg_per_m3: float, heat_capacity_j_per_kg_k: float, conductivity_w_per_m_k: float,
    front_transfer_w_per_m2_k: float, back_transfer_w_per_m2_k: float, stored_at_degc: float, used_at_degc: float,
    within_k: float,
) -> float:
    """Time until the mirror's mean temperature is this near the night air's, minutes; 0 where it starts there."""
    glass = slab(edge_thickness_mm, density_kg_per_m3, heat_capacity_j_per_kg_k, conductivity_w_per_m_k,
                 front_transfer_w_per_m2_k, back_transfer_w_per_m2_k)
    return _when(glass.left_on_average, glass, _ratio(stored_at_degc, used_at_degc, within_k))


@formula(title="Time until the warmest glass has settled", source="incropera-2007", where="section 5.5",
         equation="∂T/∂t = a ∂²T/∂z², k ∂T/∂z = ±h (T − T air) at the faces; greatest T − T air = within",
         method=_CONDUCTION, note="The warmest depth. The rim is left out.",
         unproved="The source prints roots for equal faces, which the tests check; not this time.")
def settling_time_hottest_min(
    edge_thickness_mm: float, density_kg_per_m3: float, heat_capacity_j_per_kg_k: float, conductivity_w_per_m_k: float,
    front_transfer_w_per_m2_k: float, back_transfer_w_per_m2_k: float, stored_at_degc: float, used_at_degc: float,
    within_k: float,
) -> float:
    """Time until the warmest depth of the mirror is this near the night air, minutes."""
    glass = slab(edge_thickness_mm, density_kg_per_m3, heat_capacity_j_per_kg_k, conductivity_w_per_m_k,
                 front_transfer_w_per_m2_k, back_transfer_w_per_m2_k)
    return _when(lambda minutes: float(glass.left(minutes).max()), glass,
                 _ratio(stored_at_degc, used_at_degc, within_k))


def _ratio(stored_at_degc: float, used_at_degc: float, within_k: float) -> float:
    finite(stored_at=stored_at_degc, used_at=used_at_degc)
    positive(within=within_k)
    return abs(stored_at_degc - used_at_degc) / within_k


@formula(title="Seeing made by the mirror", source="racine-1991",
         rule="0.40 * (warmer_k / one_k)**1.2", constants={"one_k": 1},
         holds={"warmer_k": (0, 10)},
         note="Measured on a large telescope. It adds to the sky's own seeing as the 5/3 power.")
def mirror_seeing_arcsec(warmer_k: float) -> float:
    """Blur from a mirror this much warmer than the air above it, seconds of arc."""
    return 0.40 * math.pow(warmer_k, 1.2)


@formula(title="Seeing of mirror and sky together", source="racine-1991",
         rule="(mirror_seeing_arcsec**(5 / 3) + sky_seeing_arcsec**(5 / 3))**(3 / 5)",
         note="Two layers of turbulent air, one after the other.",
         unproved="The law of adding turbulent layers; with one layer it is that layer, and two alike make 2^0.6.")
def total_seeing_arcsec(mirror_seeing_arcsec: float, sky_seeing_arcsec: float) -> float:
    """Blur of a star by the air in the sky and over the mirror, seconds of arc."""
    return float(math.pow(math.pow(mirror_seeing_arcsec, 5 / 3) + math.pow(sky_seeing_arcsec, 5 / 3), 3 / 5))


@formula(title="Warmth that blurs so much", source="racine-1991",
         rule="one_k * (blur_arcsec / 0.40)**(1 / 1.2)", constants={"one_k": 1}, holds={"blur_arcsec": (0, 6.4)},
         note="The source's rule the other way round.")
def warmth_for_blur_k(blur_arcsec: float) -> float:
    """How much warmer than the air a mirror is that makes this much blur, K."""
    return float(math.pow(blur_arcsec / 0.40, 1 / 1.2))


def cooling_curve(glass: Slab, difference_k: float, minutes: FloatArray) -> FloatArray:
    """Difference from the air (K) at each time (minutes): rows are the mean and the warmest depth."""
    return np.array([[difference_k * glass.left_on_average(float(at)) for at in minutes],
                     [difference_k * float(glass.left(float(at)).max()) for at in minutes]])
