"""Pictures of stars and scenes: by different ways to the same light, and light that is neither made nor lost."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.special import j0, j1

from dossier.calc.optics import diffraction, scenes, star_images
from dossier.calc.optics.mirror import Mirror

NM = 550.0
SPHERE, SLOW = Mirror(114, 900, 0, 25), Mirror(150, 1200, -1, 32)


def test_bessel_function() -> None:
    x = np.linspace(0, 300, 4001)
    assert diffraction.bessel_j0(x) == pytest.approx(j0(x), abs=1e-13)


def test_airy_pattern() -> None:
    q = np.linspace(0.01, 12, 400)
    airy = (2 * j1(np.pi * q) / (np.pi * q)) ** 2
    assert diffraction.star_profile(Mirror(150, 1200), 0.0, NM, q) == pytest.approx(airy, abs=1e-12)


def test_transfer_of_a_clear_circle_everywhere() -> None:
    s = np.linspace(0, 1, 41)
    circle = 2 / np.pi * (np.arccos(s) - s * np.sqrt(1 - s**2))
    assert diffraction.contrast(Mirror(150, 1200), 0.0, NM, s) == pytest.approx(circle, abs=2e-7)


@pytest.mark.parametrize("mirror", [Mirror(150, 1200), Mirror(150, 1200, -1, 45), SPHERE, Mirror(150, 750, 0, 40)])
def test_transfer_and_image_are_each_others_transforms(mirror: Mirror) -> None:
    """Energy inside a radius by summing the image, and by the transfer's integral with a Bessel function."""
    focus = -0.25 if mirror.conic == 0 else 0.0
    radius = 1.7
    s = (np.arange(500) + 0.5) / 500
    transfer = diffraction.transfer(mirror, focus, NM, s)
    by_transfer = 2 * np.pi * radius * np.sum(transfer * j1(2 * np.pi * radius * s)) / 500
    by_image = diffraction.encircled_energy(mirror, focus, NM, np.array([radius]))[0]
    assert by_image == pytest.approx(by_transfer, abs=3e-5)


def test_energy_grows_to_the_whole() -> None:
    energy = diffraction.encircled_energy(SPHERE, -0.2365, NM, np.arange(1.0, 61.0))
    assert np.all(np.diff(energy) > 0)
    assert 0.985 < energy[-1] < 1


@pytest.mark.parametrize(("mirror", "focus"), [(SPHERE, -0.2365), (SLOW, 0.6), (Mirror(150, 1200, -1, 0), -0.4)])
def test_picture_on_the_axis_is_the_profile_turned(mirror: Mirror, focus: float) -> None:
    """The grid's picture against the quadrature: what the grey edges of 256 samples leave."""
    picture = star_images.image(mirror, 0.0, focus, NM, 40, 96, samples=256)
    along = star_images.places_um(40, 96)
    radii = np.hypot(along, along[:, None]).ravel() / (0.55 * mirror.focal_ratio)
    profile = diffraction.star_profile(mirror, focus, NM, radii).reshape(96, 96)
    assert picture == pytest.approx(profile, abs=1e-3)


def test_picture_off_the_axis_is_where_the_rays_are() -> None:
    """Coma of a fast mirror: the picture's centre of light, from the chief ray, is the spot's."""
    mirror = Mirror(250, 1250, -1, 58)
    picture = star_images.image(mirror, 0.25, 0.0, NM, 90, 181, samples=256)
    along = star_images.places_um(90, 181)
    centre = float((picture.sum(axis=0) * along).sum() / picture.sum())
    # Rays: tangential coma 41.0 µm; the centroid of coma lies a third of it from the chief ray.
    assert centre == pytest.approx(41.0 / 3, abs=1.5)
    assert float((picture.sum(axis=1) * along).sum()) == pytest.approx(0, abs=1e-6)


def test_sky_end_lies_to_the_right_and_pictures_stand_upright() -> None:
    spider = star_images.image(SLOW, 0.0, 0.0, NM, 60, 121, vanes=3, vane_thickness_mm=3.0)
    assert spider == pytest.approx(spider[:, ::-1], abs=1e-6)  # three vanes give six spikes, each with its opposite
    grid = star_images.pupil_grid(SLOW, 3, 3.0, 128)[1]
    assert grid[64, 120] < 0.5 < grid[64, 8]


def test_white_light_is_the_sum_of_its_colours() -> None:
    white = star_images.white_image(SLOW, 0.0, 0.0, 30, 61)
    assert white[30, 30] == pytest.approx(1, abs=0.01)
    pure = star_images.image(SLOW, 0.0, 0.0, 556.0, 30, 61)
    dark = np.argmin(pure[30, 30:]) + 30
    assert white[30, dark] > pure[30, dark]


def test_defocus_is_counted_from_best_focus() -> None:
    inside, outside = (star_images.defocused(SPHERE, NM, waves) for waves in (-3.0, 3.0))
    assert (inside + outside) / 2 == pytest.approx(-0.23654, abs=1e-4)
    assert outside - inside == pytest.approx(6 * 8 * 550e-6 * (900 / 114) ** 2)


def test_a_sphere_shows_inside_what_it_hides_outside() -> None:
    """Undercorrection, as the trade knows it: a bright outer ring inside focus, a soft edge outside."""
    edge = {}
    for waves in (-4.0, 4.0):
        focus = star_images.defocused(Mirror(150, 1000, 0, 30), NM, waves)
        radii = np.linspace(0, 30, 601)
        profile = diffraction.star_profile(Mirror(150, 1000, 0, 30), focus, NM, radii)
        energy = np.cumsum(profile * radii)
        edge[waves] = profile[np.searchsorted(energy, 0.6 * energy[-1]):].max() / profile[:120].max()
    assert edge[-4.0] > edge[4.0]


def test_dip_grows_with_the_separation() -> None:
    dips = [scenes.double_star_dip(150, 1200, -1, 32, NM, apart, 0.5) for apart in np.linspace(0.5, 3, 26)]
    assert dips[0] == 0
    assert dips[-1] > 0.98
    assert all(later >= earlier - 0.02 for earlier, later in pairwise(dips))


def test_a_faint_companion_in_the_glare_does_not_show() -> None:
    assert scenes.double_star_dip(150, 1200, -1, 32, NM, 1.2, 6.0) == 0


def test_two_stars_stand_where_they_should() -> None:
    picture = scenes.two_stars(SLOW, 3.0, 1.0, 0.0, 8.0, 128)
    row = picture[64]
    left, right = np.argmax(row[:64]), 64 + np.argmax(row[64:])
    assert (right - left) * 8 / 128 == pytest.approx(3.0, abs=0.07)
    assert row[left] == pytest.approx(1)
    assert row[right] / row[left] == pytest.approx(10**-0.4, abs=0.03)


def test_seeing_has_the_width_it_is_named_by() -> None:
    """Without a telescope's own blur the long-look image is half as bright at half the seeing from its middle."""
    pixel, side = 0.02, 2048
    frequency = np.fft.fftfreq(side, pixel)
    image = np.fft.ifft2(scenes.seeing_transfer(2.0, np.hypot(frequency, frequency[:, None]))).real
    row = image[0, :200] / image[0, 0]
    half = np.interp(0.5, row[::-1], np.arange(200)[::-1] * pixel)
    assert 2 * half == pytest.approx(2.0, rel=0.01)


def test_a_scene_keeps_its_light_and_loses_its_detail() -> None:
    scene = scenes.invented_planet(128)
    padded = np.pad(scene, 64)
    seen = scenes.seen(padded, 40 / 128, SLOW, 1.5)
    assert seen.sum() == pytest.approx(padded.sum(), rel=0.02)
    assert np.all((scene >= 0) & (scene <= 1))
    sharp = np.std(np.diff(scene[40:90, 64]))
    assert np.std(np.diff(seen[104:154, 128])) < sharp
    better = scenes.seen(padded, 40 / 128, Mirror(300, 1500, -1, 60), 0.0)
    assert np.std(better - padded) < np.std(seen - padded)
