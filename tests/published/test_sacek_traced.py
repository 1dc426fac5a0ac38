"""V. Sacek, *Notes on Amateur Telescope Optics* (telescope-optics.net), against traced rays and real diffraction."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.calc.optics import obstruction_limits as limits
from dossier.calc.optics import offaxis, pupil, wavefront
from dossier.calc.optics.bench_tests import bench_strehl
from dossier.calc.optics.mirror import Mirror
from dossier.calc.optics.offaxis import edge_wavefront_rms_wave
from dossier.calc.optics.wavefront import strehl, surface_loss, wavefront_pv_wave, wavefront_rms_wave

NM = 550.0


def quarter_wave_sphere() -> tuple[float, float, float, float, float]:
    """A clear sphere of 1200 mm whose wavefront at best focus is a quarter wave, found by its own aperture."""
    low, high = 100.0, 180.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if wavefront_pv_wave(middle, 1200, 0, 0, NM) > 0.25 else (middle, high)
    return low, 1200, 0, 0, NM


@pytest.mark.proves("wavefront_rms_wave", "wavefront_pv_wave", source="sacek-2006", known="read")
def test_quarter_wave_of_spherical_aberration() -> None:
    """After equation 70: λ/4 peak to valley at best focus is 0.0745 RMS; equation 70: peak to valley ÷ RMS 3.354."""
    sphere = quarter_wave_sphere()
    assert round(wavefront_rms_wave(*sphere), 4) == 0.0745
    assert wavefront_pv_wave(*sphere) / wavefront_rms_wave(*sphere) == pytest.approx(3.354, abs=0.001)


@pytest.mark.proves("surface_loss", source="sacek-2006", known="worked")
def test_strehl_ratio_at_the_limit_of_rms() -> None:
    """1/√180 of a wave, half of it on the surface, in the exponential form: 0.803."""
    assert surface_loss(NM / math.sqrt(180) / 2, NM) == pytest.approx(0.803, abs=0.002)


@pytest.mark.proves("strehl", "bench_strehl", source="sacek-2006", known="worked")
def test_quarter_wave_leaves_four_fifths() -> None:
    """The same by the complex mean over a real sphere's wavefront."""
    sphere = quarter_wave_sphere()
    assert strehl(*sphere, 0.0) == pytest.approx(0.803, abs=0.003)
    assert bench_strehl(*sphere[:3], NM) == pytest.approx(0.803, abs=0.003)


@pytest.mark.parametrize(("shape", "ratio"), [("coma", 5.657), ("astigmatism", 4.899), ("defocus", 3.464)])
def test_peak_to_valley_over_rms(shape: str, ratio: float) -> None:
    """Equation 70; V. N. Mahajan, *Optical Imaging and Aberrations* (read; recalled). By the program's quadrature."""
    points = pupil.annulus(Mirror(2, 100, -1, 0), 2, 64)
    x, y = points.x, points.y
    values = {"coma": (x**2 + y**2) * x - 2 / 3 * x, "astigmatism": x**2 - y**2, "defocus": x**2 + y**2}[shape]
    span = {"coma": 2 / 3, "astigmatism": 2.0, "defocus": 1.0}[shape]
    rms = math.sqrt(points.mean(values**2) - points.mean(values) ** 2)
    assert span / rms == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize(("focal_ratio", "radius_mm"), [(5, 1.39), (4, 0.711)])
def test_field_limited_by_coma(focal_ratio: float, radius_mm: float) -> None:
    """Equation 70.2, F³/90 mm at 550 nm (worked): there the traced wavefront has an RMS of 1/√180 of a wave.

    The source rounds 89.84 to 90, and leaves out the next order of coma, which takes 1/16F² of it: 0.4 % at f/4.
    """
    rms = edge_wavefront_rms_wave(200, 200 * focal_ratio, -1, 0, 2 * radius_mm, NM)
    expected = 89.84 / 90 * (1 - 1 / (16 * focal_ratio**2)) / math.sqrt(180)
    assert rms == pytest.approx(expected, rel=0.005)


def test_coma_as_an_angle() -> None:
    """Equation 70.2.1, 38F²/D arcminutes (worked): 200 mm f/6, 6.84′ ± 0.05."""
    radius_mm = 1200 * math.tan(math.radians(6.84 / 60))
    rms = edge_wavefront_rms_wave(200, 1200, -1, 0, 2 * radius_mm, NM)
    assert 6.84 / (rms * math.sqrt(180)) == pytest.approx(6.84, abs=0.05)


def test_coma_a_millimetre_off_axis() -> None:
    """Equation 70 (worked): f/6, 550 nm, 1 mm off axis, 0.175 waves peak to valley ± 0.002."""
    mirror = Mirror(200, 1200, -1)
    points = pupil.annulus(mirror, 8, 256)
    angle = math.degrees(math.atan(1 / 1200))
    path = offaxis.refitted(mirror, points, offaxis.path_mm(mirror, points, angle, 0.0))
    assert np.ptp(path) * 1e6 / NM == pytest.approx(0.175, abs=0.002)


@pytest.mark.parametrize("shadow", [0.2, 0.3])
def test_peak_intensity_behind_an_obstruction(shadow: float) -> None:
    """Section 7.1.2 (worked): the peak falls as (1 − o²)²; 0.9216 at 0.20. By summing the field over real pupils."""
    whole, cut = Mirror(200, 1200, -1, 0), Mirror(200, 1200, -1, 200 * shadow)
    fields = [abs(_field_at_focus(mirror)) for mirror in (whole, cut)]
    published = {0.2: 0.9216, 0.3: 0.8281}[shadow]
    assert (fields[1] / fields[0]) ** 2 == pytest.approx(published, abs=5e-5)


def _field_at_focus(mirror: Mirror) -> complex:
    r2, weight = pupil.rings(mirror)
    area = math.pi / 4 * (mirror.aperture_mm**2 - mirror.obstruction_diameter_mm**2)
    return complex(area * weight @ np.exp(2j * np.pi * wavefront.waves(mirror, r2, 0.0, NM)))


TABLE_62 = [
    (1.0, 0.32, 0.35, 0.45), (0.95, 0.28, 0.31, 0.40), (0.90, 0.24, 0.26, 0.33), (0.85, 0.17, 0.19, 0.24),
    (0.80, 0.0, 0.0, 0.0),
]


@pytest.mark.proves("largest_obstruction", "largest_obstruction_adjusted", "largest_obstruction_all_detail",
                    source="sacek-2006", known="read")
@pytest.mark.parametrize(("ratio", "plain", "adjusted", "all_detail"), TABLE_62)
def test_largest_obstruction(ratio: float, plain: float, adjusted: float, all_detail: float) -> None:
    """The table under equation 62."""
    found = (limits.largest_obstruction(ratio), limits.largest_obstruction_adjusted(ratio),
             limits.largest_obstruction_all_detail(ratio))
    assert tuple(round(shadow, 2) for shadow in found) == (plain, adjusted, all_detail)
