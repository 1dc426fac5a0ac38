"""Four mirrors worked out independently, with three ray tracers and two diffraction codes: the numbers that must agree.

550 nm, no spider, the shadow as wide as the diagonal. Digits are the table's own; the tolerance is one part in a
thousand, or half of the last digit where the table has fewer.
"""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import (
    bench_tests,
    collimation,
    diagonal,
    diffraction,
    illumination,
    offaxis,
    openings,
    spots,
    star_images,
    wavefront,
)
from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Mirror

NM = 550.0
SPHERE, SLOW, FAST, INCHES = (114, 900, 0, 25), (150, 1200, -1, 32), (250, 1250, -1, 58), (203.2, 1219.2, -1, 46)
PARABOLOIDS = (SLOW, FAST, INCHES)


def near(expected: float) -> object:
    return pytest.approx(expected, rel=1e-3)


def waves(millimetres: float) -> float:
    return millimetres * 1e6 / NM


def test_foci_of_the_sphere_are_kept_apart() -> None:
    assert spots.longitudinal_aberration_mm(*SPHERE[:3]) == near(-0.451590)
    assert wavefront.best_focus_shift_mm(*SPHERE) == near(-0.236540)
    assert spots.smallest_spot_shift_mm(*SPHERE) == near(-0.301742)


def test_wavefront_and_spot_of_the_sphere() -> None:
    assert wavefront.wavefront_pv_wave(*SPHERE, NM) == near(0.186431)
    assert wavefront.wavefront_rms_wave(*SPHERE, NM) == near(0.055581)
    assert wavefront.strehl(*SPHERE, NM, 0.0) == near(0.884244)
    assert spots.axis_rms_radius_um(*SPHERE) == near(4.849)


@pytest.mark.parametrize("mirror", PARABOLOIDS)
def test_a_paraboloid_leaves_nothing_on_its_axis(mirror: tuple[float, float, float, float]) -> None:
    assert spots.longitudinal_aberration_mm(*mirror[:3]) == 0
    assert wavefront.best_focus_shift_mm(*mirror) == 0
    assert wavefront.wavefront_pv_wave(*mirror, NM) == 0
    assert spots.axis_rms_radius_um(*mirror) == 0
    assert wavefront.strehl(*mirror, NM, 0.0) == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize(("mirror", "spots_mm", "waves_rms", "coma_mm"), [
    (SPHERE, (0.006730, 0.009354), (0.078763, 0.132609), 0.023692),
    (SLOW, (0.004201, 0.008777), (0.071503, 0.154521), 0.030724),
    (FAST, (0.011103, 0.022612), (0.299732, 0.619436), 0.082096),
    (INCHES, (0.007537, 0.015464), (0.170110, 0.356287), 0.055550),
])
def test_off_the_axis(mirror: tuple[float, float, float, float], spots_mm: tuple[float, float],
                      waves_rms: tuple[float, float], coma_mm: float) -> None:
    """A quarter and half a degree: spot at the focus of least RMS wavefront; wavefront; coma of the rim rays."""
    surface = Mirror(*mirror)
    focus = wavefront.least_rms(surface).focus_mm
    for angle, spot_mm, rms in zip((0.25, 0.5), spots_mm, waves_rms, strict=True):
        assert spots.spot(surface, angle, focus).rms_radius_um == near(1000 * spot_mm)
        assert waves(offaxis.wavefront_rms_mm(surface, angle)) == near(rms)
    assert spots.tangential_coma_mm(surface, 0.5) == near(coma_mm)


def test_the_judged_field_is_a_diameter() -> None:
    """Half a degree off the axis is the edge of a field of 2 f tan 0.5°."""
    field_mm = 2 * 1200 * np.tan(np.radians(0.5))
    assert spots.edge_rms_radius_um(*SLOW, field_mm) == near(8.777)
    assert offaxis.edge_wavefront_rms_wave(*SLOW, field_mm, NM) == near(0.154521)
    assert spots.edge_coma_um(*SLOW[:3], field_mm) == near(30.724)


@pytest.mark.parametrize(("mirror", "energy", "transfer"), [
    (SPHERE, 0.750085, (0.618604, 0.362589, 0.151584)), (SLOW, 0.754459, (0.622339, 0.364126, 0.151174)),
    (FAST, 0.740495, (0.610235, 0.359163, 0.152502)), (INCHES, 0.744785, (0.614010, 0.360705, 0.152088)),
])
def test_perfect_annulus(mirror: tuple[float, float, float, float], energy: float,
                         transfer: tuple[float, float, float]) -> None:
    perfect = (*mirror[:2], -1, mirror[3], NM)
    assert diffraction.airy_energy(*perfect) == pytest.approx(energy, abs=1e-6)
    found = (diffraction.mtf_25(*perfect), diffraction.mtf_50(*perfect), diffraction.mtf_75(*perfect))
    assert found == pytest.approx(transfer, abs=1e-6)


def test_diffraction_with_the_real_wavefront() -> None:
    assert diffraction.airy_energy(*SPHERE, NM) == pytest.approx(0.663064, abs=1e-6)
    found = (diffraction.mtf_25(*SPHERE, NM), diffraction.mtf_50(*SPHERE, NM), diffraction.mtf_75(*SPHERE, NM))
    assert found == pytest.approx((0.533440, 0.313936, 0.133666), abs=1e-6)


@pytest.mark.parametrize(("mirror", "intercept", "offset", "field", "sky_end", "primary_end", "across"), [
    (SPHERE, 150, 0.742402, 7.094177, 0.41849, 0.51466, 0.46883),
    (SLOW, 180, 0.926331, 11.050281, 0.61008, 0.68240, 0.64857),
    (FAST, 230, 2.736755, 14.072868, 0.86316, 0.89915, 0.88399),
])
def test_diagonal_before_a_flat_primary(mirror: tuple[float, float, float, float], intercept: float, offset: float,
                                        field: float, sky_end: float, primary_end: float, across: float) -> None:
    """Offset and fully lit field; the full disc's light 14 mm from the middle, each way in the fold and across it."""
    aperture, focal_length, _, minor_axis = mirror
    given = diagonal.full_offset_mm(aperture, focal_length, intercept, minor_axis)
    assert given == pytest.approx(offset, abs=1e-6)
    lit = illumination.full_field_mm(aperture, focal_length, 0.0, intercept, minor_axis, given)
    assert lit == pytest.approx(field, abs=2e-6)
    light = illumination.flat_light_share(Diagonal(minor_axis, intercept, given), aperture, focal_length,
                                          np.array([14.0, -14.0, 0.0]), np.array([0.0, 0.0, 14.0]))
    assert light == pytest.approx((sky_end, primary_end, across), abs=1e-5)


@pytest.mark.parametrize(("mirror", "tilt_arcmin", "third_order_off"), [(SLOW, 7.713, 0.008), (FAST, 1.8221, 0.002)])
def test_tilt_that_costs_a_twentieth_of_the_strehl_ratio(
    mirror: tuple[float, float, float, float], tilt_arcmin: float, third_order_off: float,
) -> None:
    tilt = collimation.tilt_tolerance_arcmin(*mirror, NM)
    assert tilt == pytest.approx(tilt_arcmin, rel=1e-4)
    # Mahajan's RMS of third-order coma over an annulus; Strehl ratio exp(−(2π RMS)²).
    aperture, focal_length, _, shadow = mirror
    o2 = (shadow / aperture) ** 2
    rms_per_radian = aperture**3 / (32 * focal_length**2) / np.sqrt(72) * np.sqrt(
        (1 - o2) ** 2 * (1 + 4 * o2 + o2**2) / (1 + o2))
    third_order = np.degrees(np.sqrt(-np.log(0.95)) / (2 * np.pi) / waves(rms_per_radian)) * 60
    assert abs(third_order / tilt - 1) == pytest.approx(third_order_off, abs=0.004)


@pytest.mark.parametrize(("vanes", "loss"), [(3, 0.008259), (4, 0.011012)])
def test_vanes(vanes: int, loss: float) -> None:
    """0.8 mm thick on 150 mm with a shadow of 35 mm; the peak falls as the square of what is left."""
    assert openings.vane_light_loss(150, 35, vanes, 0.8) == pytest.approx(loss, abs=5e-7)
    mirror = Mirror(150, 1200, -1, 35)
    whole, cut = (star_images.pupil_grid(mirror, count, 0.8, 256)[1].sum() for count in (0, vanes))
    assert (cut / whole) ** 2 == pytest.approx((1 - loss) ** 2, abs=1e-4)


def test_star_test_of_a_perfect_mirror() -> None:
    """Five waves of defocus: how far that is, the middle outside and inside focus, and the closed form between."""
    assert star_images.star_test_shift_mm(5, NM, 8) == pytest.approx(1.408, abs=5e-4)
    outside = star_images.star_test_outside(*SLOW, NM, 5.0)
    inside = star_images.star_test_inside(*SLOW, NM, 5.0)
    assert (outside, inside) == pytest.approx((0.002066, 0.001901), abs=1e-6)
    share = 1 - (32 / 150) ** 2
    assert np.sinc(5 * share) ** 2 == pytest.approx(0.001912, abs=1e-6)
    assert inside < np.sinc(5 * share) ** 2 < outside


@pytest.mark.parametrize("conic", [-1.0, 0.0, 0.4, -1.7])
def test_moving_source_reads_the_depth_times_the_conic(conic: float) -> None:
    radii = np.array([20.0, 45.0, 75.0])
    depth = (2400 - np.sqrt(2400**2 - (1 + conic) * radii**2)) / (1 + conic) if conic != -1 else radii**2 / 4800
    found = bench_tests.knife_readings_mm(150, 1200, conic, tuple(radii), 1.0)
    assert found == pytest.approx(tuple(-conic * depth), abs=1e-9)


def test_fixed_source_before_a_paraboloid() -> None:
    radii = np.array([20.0, 45.0, 75.0])
    found = bench_tests.knife_readings_mm(150, 1200, -1.0, tuple(radii), 0.0)
    assert found == pytest.approx(tuple(radii**2 / 2400 + radii**4 / (2 * 2400**3)), abs=1e-9)


def test_strongly_aberrated_mirror_has_two_nearly_equal_peaks() -> None:
    """150 mm f/5 sphere: the highest Strehl ratio is found wherever it is, not where the wavefront is least uneven."""
    sphere = Mirror(150, 750, 0, 40)
    best = wavefront.highest_strehl(sphere, NM)
    fine = np.linspace(-1.1, 0.1, 4001)
    ratios = wavefront.strehl_at(sphere, fine, NM)
    peaks = ratios[1:-1][(ratios[1:-1] > ratios[:-2]) & (ratios[1:-1] > ratios[2:])]
    first, second = np.sort(peaks)[-2:][::-1]
    assert best.value == pytest.approx(first, rel=1e-5)
    assert best.value >= first
    assert second > 0.95 * first
    assert abs(best.focus_mm - wavefront.least_rms(sphere).focus_mm) > 0.05
