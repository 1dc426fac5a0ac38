"""A mirror pinched between the adjusters that push on its back and the clips that hold its front.

Pushes and clips are forces along the axis on the thin plate, with no weight: their effect adds to that of the weight.
Lengths in mm, forces in N; angles in degrees from a common mark. A rotated set of clips needs sine and cosine terms;
pushes right behind the clips bend nothing at all.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from dossier.calc.bounds import finite, positive
from dossier.calc.mechanics.plate import FloatArray, PointForces, point_forces, residual, shape
from dossier.calc.mechanics.solid import Terms, front_face
from dossier.working import NoAnswer, formula

_NOTHING = 1e-12


def pinch_forces(
    blank_diameter_mm: float, push_count: float, push_radius_mm: float, push_turned_deg: float, clip_count: float,
    clip_radius_mm: float, clip_turned_deg: float,
) -> PointForces:
    """Pushes of 1 N each, evenly spaced, answered by evenly spaced clips that share the load.

    Raises ValueError where a count is not whole, a point lies off the mirror, or the set cannot be in balance.
    """
    positive(blank_diameter=blank_diameter_mm)
    pushes, clips = _whole("pushes", push_count), _whole("clips", clip_count)
    finite(push_radius=push_radius_mm, clip_radius=clip_radius_mm, push_turned=push_turned_deg,
           clip_turned=clip_turned_deg)
    radius = np.repeat([push_radius_mm, clip_radius_mm], [pushes, clips]) / (blank_diameter_mm / 2)
    angle = np.radians(np.concatenate((push_turned_deg + 360 / pushes * np.arange(pushes),
                                       clip_turned_deg + 360 / clips * np.arange(clips))))
    return point_forces(radius, angle, np.repeat([1.0, -pushes / clips], [pushes, clips]))


def _whole(what: str, count: float) -> int:
    if not (count >= 2 and count == int(count)):
        raise ValueError(f"the number of {what} must be whole and at least two (got {count:g})")
    return int(count)


@formula(title="Bend of the pinched mirror, in units of one push × R²/D", source="timoshenko-1959", where="art. 63",
         equation="rms of w − piston − tilt − focus, where D∇⁴w = Σ pushes δ − Σ clips δ",
         method="Exact series in the angle, sine and cosine terms, for a free circular plate under point forces; "
                "area-weighted residual over the whole disc.",
         note="Each push 1 N; the clips share what the pushes give. Thin plate: a thick blank bends more.",
         unproved="No published case of pushes against clips was found; tests check it against finite elements.")
def pinch_share(
    blank_diameter_mm: float, poissons_ratio: float, push_count: float, push_radius_mm: float, push_turned_deg: float,
    clip_count: float, clip_radius_mm: float, clip_turned_deg: float,
) -> float:
    """RMS surface after piston, tilt and focus for pushes of one newton, as a share of 1 N × R²/D."""
    forces = pinch_forces(blank_diameter_mm, push_count, push_radius_mm, push_turned_deg, clip_count, clip_radius_mm,
                          clip_turned_deg)
    rms = residual(shape(forces, poissons_ratio), refocused=True).rms
    return rms if rms > _NOTHING else 0.0


@formula(title="Surface error for each newton of each push", source="timoshenko-1959", where="art. 63",
         rule="1e6 * (blank_diameter_mm / 2)**2 / rigidity_n_mm * pinch_share",
         unproved="It scales the series' answer; tests check the whole against finite elements.")
def pinch_surface_nm_per_n(blank_diameter_mm: float, rigidity_n_mm: float, pinch_share: float) -> float:
    """RMS surface after piston, tilt and focus, nm for each newton of each push."""
    return 1e6 * (blank_diameter_mm / 2) ** 2 / rigidity_n_mm * pinch_share


@formula(title="Wavefront error of the pinched mirror", source="definition",
         rule="2 * push_force_n * pinch_surface_nm_per_n / wavelength_nm",
         note="A reflected wavefront bends twice the surface.", unproved="A definition.")
def pinch_wavefront_rms_wave(push_force_n: float, pinch_surface_nm_per_n: float, wavelength_nm: float) -> float:
    """RMS wavefront from pushes of this force against the clips, waves."""
    return 2 * push_force_n * pinch_surface_nm_per_n / wavelength_nm


@formula(title="Strehl ratio left by the pinch", source="sacek-2006", rule="exp(-(2 * pi * wavefront_wave)**2)",
         holds={"wavefront_wave": (0, 0.1)}, note="The exponential form.")
def pinch_strehl(wavefront_wave: float) -> float:
    """Strehl ratio of an otherwise perfect mirror with this RMS wavefront (waves)."""
    return math.exp(-((2 * math.pi * wavefront_wave) ** 2))


@formula(title="Largest push", source="sacek-2006",
         rule="sqrt(-log(strehl)) / (2 * pi) * wavelength_nm / (2 * pinch_surface_nm_per_n)",
         holds={"strehl": (0.8, 0.999)}, note="The force of each push at which the Strehl ratio falls to this value, "
                                              "by exp(−(2πw)²).",
         unproved="The exponential form solved for the force.")
def pinch_force_limit_n(strehl: float, pinch_surface_nm_per_n: float, wavelength_nm: float) -> float:
    """Force of each push, N, that takes the Strehl ratio to ``strehl``. ValueError where pushing bends nothing."""
    if pinch_surface_nm_per_n == 0:
        raise NoAnswer("these pushes stand right behind the clips and bend nothing, so there is no limit")
    return math.sqrt(-math.log(strehl)) / (2 * math.pi) * wavelength_nm / (2 * pinch_surface_nm_per_n)


@formula(title="Largest push on the thick blank", source="definition", rule="pinch_force_limit_n / pinch_solid_factor",
         unproved="A force divided by a ratio.")
def solid_force_limit_n(pinch_force_limit_n: float, pinch_solid_factor: float) -> float:
    """Force of each push, N, that takes the Strehl ratio of the blank as thick as it is to the same value."""
    return pinch_force_limit_n / pinch_solid_factor


@formula(title="Wavefront error of the pinched thick blank", source="definition",
         rule="pinch_wavefront_rms_wave * pinch_solid_factor", unproved="A wavefront times a ratio.")
def solid_pinch_rms_wave(pinch_wavefront_rms_wave: float, pinch_solid_factor: float) -> float:
    """RMS wavefront of the pinched blank as thick as it is, waves."""
    return pinch_wavefront_rms_wave * pinch_solid_factor


_RADIUS_METHOD = "A scan of all radii from the axis to the edge, then golden sections of the best one's neighbourhood."


@formula(title="Push radius of the least pinch", source="timoshenko-1959", where="art. 63",
         equation="rms of w − piston − tilt − focus least over the pushes’ radius", method=_RADIUS_METHOD,
         unproved="A search over the series that tests check against finite elements.")
def best_push_radius_mm(
    blank_diameter_mm: float, poissons_ratio: float, push_count: float, push_turned_deg: float, clip_count: float,
    clip_radius_mm: float, clip_turned_deg: float,
) -> float:
    """Radius (mm) of the pushes at which they bend the mirror least against these clips."""
    def bend(radius: float) -> float:
        return pinch_share(blank_diameter_mm, poissons_ratio, push_count, radius, push_turned_deg, clip_count,
                           clip_radius_mm, clip_turned_deg)

    return _least(bend, blank_diameter_mm / 2, clip_radius_mm)


@formula(title="Clip radius of the least pinch", source="timoshenko-1959", where="art. 63",
         equation="rms of w − piston − tilt − focus least over the clips’ radius", method=_RADIUS_METHOD,
         unproved="A search over the series that tests check against finite elements.")
def best_clip_radius_mm(
    blank_diameter_mm: float, poissons_ratio: float, push_count: float, push_radius_mm: float, push_turned_deg: float,
    clip_count: float, clip_turned_deg: float,
) -> float:
    """Radius (mm) of the clips at which these pushes bend the mirror least."""
    def bend(radius: float) -> float:
        return pinch_share(blank_diameter_mm, poissons_ratio, push_count, push_radius_mm, push_turned_deg, clip_count,
                           radius, clip_turned_deg)

    return _least(bend, blank_diameter_mm / 2, push_radius_mm)


def _least(bend: Callable[[float], float], edge: float, other: float) -> float:
    """The radius of the least bend; the other ring's own radius first, where straight opposition bends nothing."""
    if other <= edge and bend(other) == 0:
        return other
    places = np.linspace(0.0, edge, 25)
    best = int(np.argmin([bend(float(place)) for place in places]))
    low, high = float(places[max(best - 1, 0)]), float(places[min(best + 1, len(places) - 1)])
    for _ in range(24):
        one, two = low + 0.382 * (high - low), low + 0.618 * (high - low)
        low, high = (low, two) if bend(one) < bend(two) else (one, high)
    return (low + high) / 2


@formula(title="How much worse the pinch is in the thick blank", source="timoshenko-1959", where="art. 26",
         equation="rms of the solid's front face ÷ rms of the thin plate, piston, tilt and focus out; div σ = 0",
         method="Ritz's method with Zernike's polynomials across and Legendre's through the thickness; each clip "
                "presses evenly on a round pad of the front face.",
         note="Depends on the pad: glass right under a small pad is pressed in.",
         unproved="No published ratio was found; it grows from 1 with the thickness and tests check that it does.")
def pinch_solid_factor(
    blank_diameter_mm: float, edge_thickness_mm: float, poissons_ratio: float, push_count: float,
    push_radius_mm: float, push_turned_deg: float, clip_count: float, clip_radius_mm: float, clip_turned_deg: float,
    clip_pad_mm: float,
) -> float:
    """RMS of the solid's front face ÷ that of the thin plate; clips on pads of this diameter, mm."""
    positive(edge_thickness=edge_thickness_mm, clip_pad=clip_pad_mm)
    forces = pinch_forces(blank_diameter_mm, push_count, push_radius_mm, push_turned_deg, clip_count, clip_radius_mm,
                          clip_turned_deg)
    thin = residual(shape(forces, poissons_ratio), refocused=True).rms
    if thin <= _NOTHING:
        raise NoAnswer("these pushes stand right behind the clips and bend nothing")
    radius = blank_diameter_mm / 2
    height = edge_thickness_mm / radius
    pushes = forces.force > 0
    clips = _padded(_chosen(forces, ~pushes), clip_pad_mm / blank_diameter_mm)
    step = math.gcd(int(push_count), int(clip_count))
    face = front_face(_chosen(forces, pushes), height, poissons_ratio, front=clips, terms=Terms(radial=14, axial=5),
                      orders=np.arange(0, 41, step))
    solid = residual(face, refocused=True).rms
    return solid * height**3 / (12 * (1 - poissons_ratio**2)) / thin


def _chosen(forces: PointForces, which: np.ndarray) -> PointForces:
    return PointForces(forces.radius[which], forces.angle[which], forces.force[which])


def _padded(forces: PointForces, pad_radius: float) -> PointForces:
    """Each force spread over points that stand for a round pad, those beyond the edge brought back to it."""
    ring, spokes = pad_radius * np.sqrt([0.125, 0.375, 0.625, 0.875]), np.arange(12) * np.pi / 6
    pad = (ring[:, None] * np.exp(1j * spokes)).ravel()
    centre = forces.radius * np.exp(1j * forces.angle)
    place = (centre[:, None] + pad * np.exp(1j * forces.angle)[:, None]).ravel()
    return PointForces(np.minimum(np.abs(place), 1.0), np.angle(place), np.repeat(forces.force / len(pad), len(pad)))


def strehl_curve(forces_n: FloatArray, surface_nm_per_n: float, wavelength_nm: float) -> FloatArray:
    """Strehl ratio at each of these push forces (N), any shape, by exp(−(2πw)²)."""
    wavefront = 2 * np.asarray(forces_n) * surface_nm_per_n / wavelength_nm
    return np.exp(-((2 * np.pi * wavefront) ** 2))
