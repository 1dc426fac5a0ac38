"""D. J. Schroeder, *Astronomical Optics*, chapters 5 and 10; V. N. Mahajan, *Optical Imaging and Aberrations*.

Chapter 10: first dark ring of an annular aperture and the light inside it. Chapter 5: a sphere's foci and wavefront,
to third order. Known: recalled.
"""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics.bench_tests import full_pupil_wavefront_pv_wave, full_pupil_wavefront_rms_wave
from dossier.calc.optics.diffraction import encircled_energy, star_profile
from dossier.calc.optics.mirror import Mirror
from dossier.calc.optics.spots import axis_rms_radius_um, longitudinal_aberration_mm, smallest_spot_shift_mm
from dossier.calc.optics.wavefront import best_focus_shift_mm, wavefront_pv_wave

NM = 550.0


@pytest.mark.parametrize(("shadow", "ring", "inside"), [
    (0.2, 1.167, 0.764), (0.25, 1.142, 0.726), (0.3, 1.115, 0.682), (0.4, 1.058, 0.584), (0.5, 1.001, 0.479),
])
def test_first_dark_ring_of_an_annulus(shadow: float, ring: float, inside: float) -> None:
    """Radius in λF, and the share of the light inside it."""
    mirror = Mirror(200, 2000, -1, 200 * shadow)
    radii = np.linspace(0.9, 1.3, 4001)
    dark = float(radii[np.argmin(star_profile(mirror, 0.0, NM, radii))])
    assert round(dark, 3) == pytest.approx(ring, abs=0.0011)
    assert encircled_energy(mirror, 0.0, NM, np.array([dark]))[0] == pytest.approx(inside, abs=0.0006)


@pytest.mark.proves("wavefront_pv_wave", "full_pupil_wavefront_pv_wave", source="schroeder-2000", known="recalled")
def test_wavefront_of_a_sphere_at_best_focus() -> None:
    """D/2048F³: 200 mm f/6 at 550 nm, 0.822 waves."""
    assert wavefront_pv_wave(200, 1200, 0, 0, NM) == pytest.approx(0.822, abs=0.005)
    assert full_pupil_wavefront_pv_wave(200, 1200, 0, NM) == pytest.approx(0.822, abs=0.005)


@pytest.mark.proves("full_pupil_wavefront_rms_wave", source="schroeder-2000", known="recalled")
def test_rms_of_a_sphere_at_best_focus() -> None:
    """The same over 3.354: 0.245 waves."""
    assert full_pupil_wavefront_rms_wave(200, 1200, 0, NM) == pytest.approx(0.245, abs=0.0015)


@pytest.mark.proves("longitudinal_aberration_mm", source="schroeder-2000", known="recalled")
def test_edge_of_a_sphere_focuses_nearer_the_mirror() -> None:
    """r²/4R: 100²/(4 × 2400) = 1.04 mm; the next order adds r²/2R² of it and more, three thousandths in all."""
    assert longitudinal_aberration_mm(200, 1200, 0) == pytest.approx(-1.0417, rel=0.004)


@pytest.mark.proves("best_focus_shift_mm", source="mahajan-2011", known="recalled")
@pytest.mark.parametrize("shadow", [0.0, 0.3, 0.5])
def test_best_focus_of_an_annulus(shadow: float) -> None:
    """Least RMS wavefront at (1 + o²)/2 of the longitudinal aberration: half over a full pupil. A slow sphere."""
    share = best_focus_shift_mm(100, 1500, 0, 100 * shadow) / longitudinal_aberration_mm(100, 1500, 0)
    assert share == pytest.approx((1 + shadow**2) / 2, rel=1e-3)


@pytest.mark.proves("smallest_spot_shift_mm", "axis_rms_radius_um", source="mahajan-1998", known="recalled")
def test_smallest_spot_of_a_full_pupil() -> None:
    """At two thirds of the longitudinal aberration; RMS radius a sixth of the edge ray's at the paraxial focus."""
    aberration = longitudinal_aberration_mm(100, 1500, 0)
    assert smallest_spot_shift_mm(100, 1500, 0, 0) / aberration == pytest.approx(2 / 3, rel=1e-3)
    edge_blur_um = 1000 * abs(aberration) * 50 / 1500
    assert axis_rms_radius_um(100, 1500, 0, 0) == pytest.approx(edge_blur_um / 6, rel=2e-3)
