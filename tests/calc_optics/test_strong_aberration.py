"""Mirrors too strongly aberrated to be of use, against sums so fine that nothing can be missed between their rings.

The comparison is brute force: equal areas of the annulus, the exact path by two square roots, a dense search over
focus, and for contrast the overlap of two sheared pupils point by point. No formula of the program is used.
"""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import collimation, diffraction, wavefront
from dossier.working import NoAnswer

WAVE_MM = 550e-6
# aperture, focal length, conic, obstruction: an oblate f/2.6, spheres of f/6 (two nearly equal maxima), f/5, f/3, f/4
MIRRORS = [(76, 194.867, 0.3, 11.88), (150, 900, 0, 30), (150, 750, 0, 30), (254, 762, 0, 60), (200, 800, 0, 60)]


def path_mm(r2: np.ndarray, focal_length: float, conic: float, focus: float) -> np.ndarray:
    radius = 2 * focal_length
    depth = r2 / (radius + np.sqrt(radius**2 - (1 + conic) * r2))
    reach = focal_length + focus
    return np.sqrt((reach - depth) ** 2 + r2) - depth - reach


def strehl(mirror: tuple[float, ...], focus: float, rings: int = 8000) -> float:
    aperture, focal_length, conic, hole = mirror
    share = (np.arange(rings) + 0.5) / rings
    r2 = hole**2 / 4 + share * (aperture**2 - hole**2) / 4
    return float(abs(np.exp(2j * np.pi * path_mm(r2, focal_length, conic, focus) / WAVE_MM).mean()) ** 2)


@pytest.mark.parametrize("mirror", MIRRORS)
def test_highest_strehl_is_the_highest_there_is(mirror):
    aperture, focal_length, conic, _ = mirror
    reach = -(1 + conic) * aperture**2 / (32 * focal_length)
    tried = max(strehl(mirror, focus) for focus in np.linspace(1.3 * reach, -0.2 * reach, 3001))
    found = wavefront.strehl(*mirror, 550, 0)
    assert found == pytest.approx(tried, rel=2e-3)
    assert found >= tried * (1 - 1e-9)
    shift = wavefront.strehl_focus_shift_mm(*mirror, 550)
    assert strehl(mirror, shift) == pytest.approx(found, rel=1e-4)


@pytest.mark.parametrize("mirror", [MIRRORS[2], MIRRORS[3]])
def test_contrast_of_a_strongly_aberrated_pupil(mirror):
    aperture, focal_length, conic, hole = mirror
    focus = wavefront.strehl_focus_shift_mm(*mirror, 550)
    side = 1501
    line = np.linspace(-aperture / 2, aperture / 2, side)
    step = line[1] - line[0]
    for share, formula in ((0.25, diffraction.mtf_25), (0.5, diffraction.mtf_50), (0.75, diffraction.mtf_75)):
        shift = share * aperture / 2
        x, y = np.meshgrid(line, line, indexing="ij", sparse=True)
        left, right = (x - shift) ** 2 + y**2, (x + shift) ** 2 + y**2
        both = (left <= aperture**2 / 4) & (right <= aperture**2 / 4) & (left >= hole**2 / 4) & (right >= hole**2 / 4)
        turn = path_mm(right[both], focal_length, conic, focus) - path_mm(left[both], focal_length, conic, focus)
        overlap = np.exp(2j * np.pi * turn / WAVE_MM).sum() * step**2 / (np.pi / 4 * (aperture**2 - hole**2))
        assert formula(*mirror, 550) == pytest.approx(abs(overlap), abs=2e-3)


def test_a_mirror_past_help_has_no_tolerance():
    with pytest.raises(NoAnswer, match="no collimation will help it"):
        collimation.tilt_tolerance_arcmin(*MIRRORS[0], 550)
