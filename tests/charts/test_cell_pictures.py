"""Maps of the sag, curves of the pinch and pinched stars, read back: they show what the results say."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.charts import PICTURES
from dossier.design.pictures import cell
from dossier.design.pictures.contours import banded, level_lines
from dossier.drawings.palette import PAPER, SCREEN

SVG = "{http://www.w3.org/2000/svg}"


def _polar(surface, rings=30, spokes=72):
    r, turn = np.linspace(0, 10, rings + 1)[:, None], np.linspace(0, 2 * np.pi, spokes + 1)[None, :]
    return surface(r * np.cos(turn), r * np.sin(turn))


def test_level_of_a_bowl_is_a_circle():
    line, = level_lines(_polar(lambda x, y: x**2 + y**2), 10, 25.0)
    assert line[0] == line[-1]
    assert [math.hypot(*point) for point in line] == pytest.approx([5] * len(line), abs=0.03)


def test_level_of_a_plane_is_a_straight_line_to_the_edge():
    line, = level_lines(_polar(lambda x, y: x + 0.001 * y), 10, 3.0)
    assert [x for x, _ in line] == pytest.approx([3] * len(line), abs=0.03)
    assert math.hypot(*line[0]) == pytest.approx(10)
    assert math.hypot(*line[-1]) == pytest.approx(10)


def test_levels_of_a_saddle_never_cross():
    for level in (-20.0, -1.0, 1.0, 20.0):
        lines = level_lines(_polar(lambda x, y: x**2 - y**2), 10, level)
        assert len(lines) == 2
        for line in lines:
            # Each branch stays on one side of the axis that it does not cross.
            assert len({point[0 if level > 0 else 1] > 0 for point in line}) == 1


def test_bands():
    found = banded(np.array([-5.0, 0.5, 9.0, np.nan]), [0.0, 1.0, 2.0])
    assert found[:3].tolist() == [0, 1, 3]
    assert np.isnan(found[3])


@pytest.mark.parametrize("name", ["demo", "held", "pinched"])
def test_map_has_the_sag_of_the_results(design_of, name):
    """RMS over the disc and peak to valley of the map against those of the results."""
    design = design_of(name)
    made = cell.deflection_map(design)
    for sag, rms in ((made.refocused, "cell.deflection_rms"), (made.focus_left_in, "cell.deflection_rms_unfocused")):
        inside = sag.grid[~np.isnan(sag.grid)]
        assert math.sqrt((inside**2).mean()) == pytest.approx(design.results[rms].number, rel=0.02)
        assert inside.mean() == pytest.approx(0, abs=0.02 * sag.pv_nm)
    assert made.refocused.pv_nm == pytest.approx(design.results["cell.deflection_pv"].number, rel=0.01)


def test_supports_stand_where_the_rings_are(picture, design_of):
    """Dots and blank read back from the drawing, in millimetres; the levers' pivots among them."""
    for name, supports, pivots in (("demo", 3, 0), ("held", 18, 9)):
        design = design_of(name)
        circles = list(picture("cell-deflection", name).root.iter(f"{SVG}circle"))
        blank = next(each for each in circles if each.get("data-blank") == "refocused")
        half = design.results["cell.blank_weight"].inputs["blank_diameter_mm"].value / 2
        scale = half / float(blank.get("r"))
        dots = [each for each in circles if each.get("data-support") == "refocused"]
        away = sorted(scale * math.hypot(float(dot.get("cx")) - float(blank.get("cx")),
                                         float(dot.get("cy")) - float(blank.get("cy"))) for dot in dots)
        radii = design.results["cell.support_radii"].numbers
        assert len(dots) == supports
        assert {round(each, 1) for each in away} == {round(radius, 1) for radius in radii}
        assert len([each for each in circles if each.get("data-pivot")]) == pivots


@pytest.mark.parametrize("palette", [SCREEN, PAPER])
def test_shades_are_small_and_follow_the_appearance(design_of, palette):
    made = PICTURES["cell-deflection"].make(design_of("held"), palette, "wide")
    assert len(made.images) == 2
    assert all(len(data) < 10_000 for data in made.images.values())
    assert ("<mask" in made.linked) == (palette is SCREEN)


def test_curve_meets_its_limit_at_the_force_of_the_results(picture, design_of):
    for name in ("demo", "pinched"):
        read, limit = picture("pinch-strehl", name), design_of(name).results["cell.pinch_force_limit"].number
        assert read.at("own", limit) == pytest.approx(0.95, abs=1e-3)
        assert read.mark("cell.pinch_force_limit") == pytest.approx((limit, 0.95), abs=0.02 * limit)
        assert read.limit("below") == pytest.approx(0.95, abs=1e-3)
        assert read.curve("plate")[:, 1] == pytest.approx(1, abs=read.grain("y"))
        assert read.at("solid", limit) < 0.95


def test_no_curve_leaves_the_plot(picture):
    for name in ("demo", "pinched"):
        for curve in ("own", "solid", "plate"):
            points = picture("pinch-strehl", name).curve(curve)
            assert points[:, 1].min() >= 0.6 - 1e-3


def test_pinched_stars_lose_what_the_strehl_ratio_says(design_of):
    """Brightest point of a perfect mirror's star in white light against exp(−(2πw)²) at 550 nm, near which the eye
    weighs it: at the largest push 0.95, at three times that 0.63."""
    made = cell.pinched_stars(design_of("pinched"))
    for stars in made.rows:
        peaks = {star.what: star.peak for star in stars}
        assert peaks["largest"] == pytest.approx(0.95, abs=0.015)
        assert peaks["too much"] == pytest.approx(0.95**9, abs=0.04)


def test_a_pinch_of_three_has_three_corners(design_of):
    """Turned by 120° the star is the same, turned by 60° it is not."""
    own = cell.pinched_stars(design_of("pinched")).rows[0]
    picture = next(star.picture for star in own if star.what == "too much")
    side = len(picture)
    middle, reach = (side - 1) / 2, 0.3 * side

    def around(turned):
        turn = np.radians(np.arange(0, 360, 5) + turned)
        rows, columns = (middle - reach * np.sin(turn)).round().astype(int), (middle + reach * np.cos(turn)).round()
        return np.log10(picture[rows, columns.astype(int)] + 1e-5)

    same, other = (np.abs(around(0) - around(by)).mean() for by in (120, 60))
    assert same < 0.35 * other


def test_captions_say_whether_the_glass_is_pushed(picture):
    assert "were it the glass" in picture("pinch-strehl").rendered.alt
    assert "were it the glass" not in picture("pinch-strehl", "pinched").rendered.alt
    assert "levers that share the load" in picture("cell-deflection", "held").rendered.caption
    assert "levers" not in picture("cell-deflection").rendered.caption
