"""Simulated views read back from their pixels: they show what such a mirror shows, and say that they are made up."""

from __future__ import annotations

import re

import numpy as np
import pytest

from dossier.charts import FOLDER, PICTURES

SIMULATED = [key for key, picture in PICTURES.items() if picture.simulated]
SVG = "{http://www.w3.org/2000/svg}"


def _rings(grey):
    """Mean brightness at each distance from the middle, in whole pixels."""
    places = np.arange(len(grey)) - (len(grey) - 1) / 2
    away = np.hypot(places, places[:, None]).astype(int)
    return np.bincount(away.ravel(), grey.ravel()) / np.bincount(away.ravel())


@pytest.mark.parametrize("form", ["wide", "upright"])
@pytest.mark.parametrize("key", SIMULATED)
def test_every_view_says_that_it_is_one(picture, key, form):
    read = picture(key, "demo", form)
    groups = [group for group in read.root.iter(f"{SVG}g") if group.get("class") == "simulation"]
    assert len(groups) == len(read.rendered.images) >= 4
    for group in groups:
        words = ["".join(text.itertext()) for text in group.iter(f"{SVG}text")]
        ground = next(group.iter(f"{SVG}rect")).attrib
        text = next(group.iter(f"{SVG}text")).attrib
        assert words[0] == "simulation"
        assert float(ground["x"]) < float(text["x"]) < float(ground["x"]) + float(ground["width"])
        assert float(ground["y"]) < float(text["y"]) < float(ground["y"]) + float(ground["height"])
    assert read.rendered.alt.startswith("Simulation:")


@pytest.mark.parametrize("key", SIMULATED)
def test_files_are_small_and_in_their_place(picture, key):
    rendered = picture(key).rendered
    assert all(len(data) <= 40_000 for data in rendered.images.values())
    for name in rendered.images:
        assert f'href="{FOLDER}{name}"' in rendered.linked
    assert FOLDER not in rendered.svg
    assert rendered.svg.count("data:image/png;base64,") == len(rendered.images)


def test_both_forms_show_the_same_views(picture):
    for key in SIMULATED:
        assert picture(key).rendered.images == picture(key, "demo", "upright").rendered.images


def test_star_on_the_axis(picture):
    """Logarithmic over four tens: the sphere's peak has lost what its Strehl ratio says, its rings have gained."""
    read = picture("star-images")
    own, perfect = read.grey("star-own"), read.grey("star-perfect")
    assert own.max() == pytest.approx(1 + np.log10(0.80) / 4, abs=0.01)
    assert perfect.max() == pytest.approx(1, abs=0.01)
    assert _rings(own)[14:40].mean() > _rings(perfect)[14:40].mean() + 0.05
    assert own == pytest.approx(own[::-1], abs=0.03)


def test_spikes_stand_at_right_angles_to_the_vanes(picture):
    """Three vanes make six spikes, sixty degrees apart, brighter than what lies between them."""
    wide = picture("star-images").grey("star-wide")
    side = len(wide)
    angles = np.radians(np.arange(0, 360, 30))
    places = [(side / 2 + 0.4 * side * np.array([-np.sin(angle), np.cos(angle)])).astype(int) for angle in angles]
    light = np.array([wide[y - 2:y + 3, x - 2:x + 3].max() for y, x in places])
    assert light[1::2].min() > light[::2].max() + 0.05


def test_coma_points_to_the_edge(picture):
    """The light of a star at the sky end of the field lies on the far side of its chief ray."""
    edge = picture("star-images").grey("star-edge")
    half = len(edge) // 2
    assert edge[:, half + 8:].sum() > 1.5 * edge[:, :half - 8].sum()


def test_star_test_of_a_sphere(picture):
    """As the trade knows undercorrection: inside focus a bright hard rim, outside a soft one."""
    read = picture("star-test")
    inside, outside = _rings(read.grey("test-own-1")), _rings(read.grey("test-own-3"))
    rim = len(read.grey("test-own-1")) // 2
    assert inside[rim // 2:rim].max() / inside.mean() > 1.3 * outside[rim // 2:rim].max() / outside.mean()


def test_star_test_of_a_perfect_mirror_is_alike_on_both_sides(picture):
    read = picture("star-test")
    for pair in ((0, 4), (1, 3)):
        # Each is set to its column's brightest, which is this mirror's or the perfect one's.
        near, far = (_rings(read.grey(f"test-perfect-{index}")) for index in pair)
        assert near / near.max() == pytest.approx(far / far.max(), abs=0.06)


def test_a_paraboloid_is_its_own_perfect_mirror(picture):
    read = picture("star-test", "paraboloid on poles")
    for index in range(5):
        assert read.grey(f"test-own-{index}") == pytest.approx(read.grey(f"test-perfect-{index}"))


def _detail(grey):
    """How much neighbouring rows of the disc's middle differ."""
    side = len(grey)
    return float(np.abs(np.diff(grey[side // 4:3 * side // 4, side // 3:2 * side // 3], axis=0)).mean())


def test_planet_loses_its_detail_to_air_and_small_apertures(picture):
    read = picture("planet")
    still, usual = ([_detail(read.grey(f"planet-{air}-{seer}")) for seer in range(4)] for air in (0, 1))
    own, perfect, smaller, larger = still
    assert own < perfect
    assert smaller < perfect < larger
    assert all(blurred < sharp for blurred, sharp in zip(usual, still, strict=True))


def test_double_star_is_as_far_apart_as_said(picture):
    """Two peaks in the middle row, the scale told by the bar: 1.4″ apart for the 150 mm telescope."""
    read = picture("double-star")
    row = read.grey("pair-0-1")[len(read.grey("pair-0-1")) // 2]
    middle = len(row) // 2
    left, right = np.argmax(row[:middle]), middle + np.argmax(row[middle:])
    width = 9 * 0.92244
    assert (right - left) * width / len(row) == pytest.approx(1.4, abs=0.15)
    assert row[right] == pytest.approx((10**-0.4) ** (1 / 2.2), abs=0.06)
    assert read.grey("pair-1-1")[middle].argmax() < middle + 8


def test_captions_say_what_is_left(picture):
    """Of belts 2″ apart a clear circle keeps some 0.5; a perfect mirror with a diagonal less, the sphere less again.

    Two stars 1.4″ apart, one a magnitude fainter: a gap in still air, none in long looks through 2″.
    """
    planet, pair = picture("planet").rendered, picture("double-star").rendered
    own, usual, perfect = (int(share) for share in re.findall(r"(\d+)\u202f%", planet.caption))
    assert usual <= 2 < own < perfect < 50
    assert f"this telescope, 150\u202fmm 0.{own}" in planet.alt
    assert "87\u202f% dark in still air; in long looks through the usual air they run into one." in pair.caption
    assert "In the seeing: this telescope, 150\u202fmm 0.00" in pair.alt
    still = picture("double-star", "bare").rendered
    assert "in still air." in still.caption
    assert "usual" not in still.caption + picture("planet", "bare").rendered.caption


def test_other_apertures_are_the_authors(picture):
    assert "of 150 mm, 114 mm and 200 mm" in picture("planet").rendered.alt.replace("\u202f", " ")
    assert "of 400 mm and 200 mm" in picture("planet", "large truss").rendered.alt.replace("\u202f", " ")
    assert "of 150 mm, 76 mm and 250 mm" in picture("planet", "bare").rendered.alt.replace("\u202f", " ")


def test_without_seeing_there_is_only_still_air(picture):
    assert len(picture("planet", "bare").rendered.images) == 4
    assert len(picture("planet").rendered.images) == 8


def test_ronchi_bands_of_a_sphere_are_straight(picture):
    read = picture("ronchi")
    own, other = read.grey("ronchi-own-0"), read.grey("ronchi-other-0")
    side = len(own)
    inside = slice(side // 8, 7 * side // 8), slice(side // 4, 3 * side // 4)
    assert np.ptp(own[inside], axis=0).max() < 0.03
    assert np.ptp(other[inside], axis=0).max() > 0.2
    # 10 mm inside, four lines a millimetre: light comes back up to 10 D/R = 0.625 mm from where it left, a side.
    bands = np.sum(np.diff(own[side // 2] < 0.5) != 0) / 2
    assert bands == pytest.approx(2 * 0.625 * 4, abs=1)


def test_knife_edge_finds_a_sphere_evenly_grey_at_its_centre(picture):
    read = picture("knife-edge")
    side = len(read.grey("knife-own-0"))
    inner = np.hypot(*np.meshgrid(*2 * [np.arange(side) - side / 2])) < 0.45 * side
    assert np.ptp(read.grey("knife-own-0")[inner]) < 0.02
    assert np.ptp(read.grey("knife-other-0")[inner]) > 0.9
    paraboloid = picture("knife-edge", "paraboloid on poles")
    assert np.ptp(paraboloid.grey("knife-other-0")[:, :len(inner)][_inner(paraboloid)]) < 0.02


def _inner(read):
    side = len(read.grey("knife-other-0"))
    return np.hypot(*np.meshgrid(*2 * [np.arange(side) - side / 2])) < 0.45 * side
