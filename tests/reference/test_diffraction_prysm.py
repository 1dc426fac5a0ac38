"""Diffraction by quadrature against prysm: its sampled pupil, Fourier transforms and transfer function.

The pupil's edge is cut hard on a grid of 768 points across it, and all is normalised by the pupil's own sum: that
errs by a few parts in ten thousand, for edges alone.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from prysm import coordinates, geometry, otf, propagation

from dossier.calc.optics import diffraction, star_images, wavefront
from dossier.calc.optics.mirror import Mirror

UM, NM = 0.55, 550.0
ACROSS = 768
CASES = [
    (114, 900, 0, 25), (150, 1200, -1, 32), (250, 1250, -1, 58), (203.2, 1219.2, -1, 46),  # the table's four
    (150, 1200, 0, 0), (200, 1600, -0.6, 90), (150, 750, 0, 40), (180, 1300, -1.4, 50),
]
MirrorOf = tuple[float, float, float, float]


def pupil(mirror: MirrorOf, focus_mm: float) -> tuple[NDArray[np.complex128], float]:
    """Complex pupil and sample spacing, mm: the path worked out here, from the equation of the conic."""
    aperture, focal_length, conic, shadow = mirror
    dx = aperture / ACROSS
    x, y = (grid + dx / 2 for grid in coordinates.make_xy_grid(ACROSS + 2, dx=dx))
    r, _ = coordinates.cart_to_polar(x, y)
    mask = geometry.circle(aperture / 2, r) & ~geometry.circle(shadow / 2, r)
    height = focal_length * np.ones_like(r)
    for _ in range(40):  # z = (r² + (1 + K) z²)/2R, from below
        height = np.where(mask, (r**2 + (1 + conic) * np.minimum(height, r**2 / focal_length) ** 2)
                          / (4 * focal_length), 0)
    reach = focal_length + focus_mm
    path = np.hypot(r, reach - height) - height
    return mask * np.exp(2j * np.pi * (path - path[ACROSS // 2, ACROSS // 2]) / (UM * 1e-3)), dx


@pytest.mark.parametrize("mirror", CASES)
def test_transfer(mirror: MirrorOf) -> None:
    surface = Mirror(*mirror)
    focus = wavefront.highest_strehl(surface, NM).focus_mm
    field, dx = pupil(mirror, focus)
    image = np.abs(propagation.focus(field, Q=2)) ** 2
    transfer = otf.mtf_from_psf(image, propagation.pupil_sample_to_psf_sample(dx, image.shape[0], UM, mirror[1]))
    middle = image.shape[0] // 2
    line = transfer.data[middle, middle:]
    cut_off = 1000 / (UM * mirror[1] / mirror[0])
    theirs = np.interp(np.array([0.25, 0.5, 0.75]) * cut_off, np.arange(line.size) * transfer.dx, line)
    ours = diffraction.contrast(surface, focus, NM, np.array([0.25, 0.5, 0.75]))
    assert ours == pytest.approx(theirs, abs=2e-4)


@pytest.mark.parametrize("mirror", CASES)
def test_energy_and_strehl_ratio(mirror: MirrorOf) -> None:
    surface = Mirror(*mirror)
    best = wavefront.highest_strehl(surface, NM)
    field, dx = pupil(mirror, best.focus_mm)
    step = UM * mirror[1] / mirror[0] / 60
    image = np.abs(propagation.focus_fixed_sampling(field, dx, mirror[1], UM, step, 180)) ** 2
    perfect = np.abs(propagation.focus_fixed_sampling(np.abs(field) + 0j, dx, mirror[1], UM, step, 180)) ** 2
    assert best.value == pytest.approx(abs(field.sum()) ** 2 / np.abs(field).sum() ** 2, abs=2e-4)
    places = (np.arange(180) - 90) * step
    inside = np.clip((1.21967 * 60 * step - np.hypot(places, places[:, None])) / step + 0.5, 0, 1)
    area = np.pi / 4 * (1 - surface.obstruction**2)
    energy = (image * inside).sum() / perfect.max() * area / 60**2
    assert diffraction.airy_energy(*mirror, NM) == pytest.approx(energy, abs=3e-4)


def test_star_test_rings() -> None:
    """Three waves outside the best focus of a sphere: the whole profile."""
    mirror = (114, 900, 0, 25)
    surface = Mirror(*mirror)
    focus = star_images.defocused(surface, NM, 3.0)
    field, dx = pupil(mirror, focus)
    unit = UM * mirror[1] / mirror[0]
    image = np.abs(propagation.focus_fixed_sampling(field, dx, mirror[1], UM, unit / 4, 128)) ** 2
    scale = np.abs(propagation.focus_fixed_sampling(np.abs(field) + 0j, dx, mirror[1], UM, unit / 4, 128)) ** 2
    theirs = image[64, 64:] / scale.max()
    ours = diffraction.star_profile(surface, focus, NM, np.arange(64) / 4)
    assert ours == pytest.approx(theirs, abs=2e-5)
