"""What is plotted is what was worked out: curves read back from the SVG against results and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

NEAR = 2e-3


def test_contrast_is_the_results(picture, design_of):
    read, results = picture("contrast"), design_of("demo").results
    for share in (0.25, 0.5, 0.75):
        result = results[f"light.mtf_{round(100 * share)}"].number
        assert read.at("real", share) == pytest.approx(result, abs=2 * read.grain("y"))
        assert read.mark(f"light.mtf_{round(100 * share)}") == pytest.approx((share, result), abs=NEAR)
        assert f"{result:.2f}" in {text.plain for text in read.texts}


def test_contrast_of_the_clear_aperture_is_the_circles(picture):
    s, contrast = picture("contrast").curve("clear").T
    assert contrast == pytest.approx(2 / np.pi * (np.arccos(np.clip(s, 0, 1)) - s * np.sqrt(1 - s.clip(0, 1)**2)),
                                     abs=NEAR)


def test_contrast_orders_the_three(picture):
    """A shadow costs contrast of coarse detail and lends some to the finest; the sphere only costs."""
    read = picture("contrast")
    assert np.all(read.curve("real")[1:-1, 1] < read.curve("same_shadow")[1:-1, 1] + NEAR)
    assert read.at("same_shadow", 0.25) < read.at("clear", 0.25)
    assert read.at("same_shadow", 0.85) > read.at("clear", 0.85)


def test_width_of_a_pair_below_the_axis(picture, design_of):
    """At the cut-off a pair is λ/D wide: Rayleigh's limit without its 1.21967."""
    rayleigh = design_of("demo").results["optics.rayleigh_limit"].number
    written = [float(text.plain[:-1]) for text in picture("contrast").texts if text.plain.endswith("″")]
    assert written == pytest.approx([rayleigh / 1.21967 / share for share in (0.25, 0.5, 0.75, 1.0)], abs=0.006)


def test_energy_is_the_result_at_the_airy_disc(picture, design_of):
    read, design = picture("encircled-energy"), design_of("demo")
    airy = design.results["optics.airy_diameter"].number / 2
    energy = design.results["light.airy_energy"].number
    assert read.at("real", airy) == pytest.approx(energy, abs=NEAR)
    assert read.mark("light.airy_energy") == pytest.approx((airy, energy), abs=NEAR)
    # Born & Wolf, Principles of Optics, 8.5.2 (recalled): 0.838 inside the first dark ring of a clear aperture.
    assert read.at("clear", airy) == pytest.approx(0.838, abs=NEAR)


@pytest.mark.parametrize("name", ["demo", "fast sphere in a tube", "inches"])
def test_wavefront_is_as_high_as_the_result(picture, design_of, name):
    read, design = picture("wavefront", name), design_of(name)
    used = np.concatenate([read.curve(side) for side in ("left", "right")])
    valley = design.results["figure.wavefront_pv"].number
    assert np.ptp(used[:, 1]) == pytest.approx(valley, abs=3 * read.grain("y"))
    assert used[:, 1].max() == pytest.approx(-used[:, 1].min(), abs=3 * read.grain("y"))
    half = design.build.primary.aperture / 2
    shadow = design.results["diagonal.obstruction_diameter"].number / 2
    assert np.abs(used[:, 0]).max() == pytest.approx(half, abs=2 * read.grain("x"))
    assert np.abs(used[:, 0]).min() == pytest.approx(shadow, abs=2 * read.grain("x"))
    assert (read.limit("above"), read.limit("below")) == pytest.approx((0.125, -0.125), abs=2 * read.grain("y"))


def test_wavefront_inside_the_band_is_a_goal_met(picture, design_of):
    for name in ("demo", "fast sphere in a tube"):
        read, valley = picture("wavefront", name), design_of(name).results["figure.wavefront_pv"].number
        highest = np.concatenate([read.curve(side) for side in ("left", "right")])[:, 1].max()
        assert (highest <= read.limit("above")) == (valley <= 0.25)


def test_strehl_peaks_at_the_result(picture, design_of):
    read, results = picture("strehl-focus"), design_of("demo").results
    curve = read.curve("strehl")
    top = curve[np.argmax(curve[:, 1])]
    assert top[1] == pytest.approx(results["figure.strehl"].number, abs=2 * read.grain("y"))
    assert top[0] == pytest.approx(results["figure.strehl_focus_shift"].number, abs=0.01)
    assert read.mark("smallest spot")[0] == pytest.approx(results["spot.focus_shift"].number, abs=1e-3)
    assert read.limit("below") == pytest.approx(0.80, abs=2 * read.grain("y"))


def test_strehl_of_a_paraboloid_out_of_focus(picture, design_of):
    """Closed form for an annulus: (sin πm / πm)², m the waves of defocus between shadow and rim."""
    read, design = picture("strehl-focus", "paraboloid on poles"), design_of("paraboloid on poles")
    focus, strehl = read.curve("strehl").T
    obstruction, wave = design.results["optics.obstruction"].number, 8 * 550e-6 * 8**2
    assert strehl == pytest.approx(np.sinc(focus / wave * (1 - obstruction**2))**2, abs=4e-3)


def test_three_foci_stay_apart_where_they_are(picture, design_of):
    read, results = picture("strehl-focus", "fast sphere in a tube"), design_of("fast sphere in a tube").results
    named = {"least RMS wavefront": "figure.best_focus_shift", "highest Strehl ratio": "figure.strehl_focus_shift",
             "smallest spot": "spot.focus_shift"}
    for mark, result in named.items():
        assert read.mark(mark)[0] == pytest.approx(results[result].number, abs=2 * read.grain("x"))


def test_budget_ends_at_what_is_left(picture, design_of):
    read, results = picture("strehl-budget"), design_of("demo").results
    written = [float(text.plain) for text in read.texts if text.plain.startswith("0.") and len(text.plain) == 5]
    assert written[1] == pytest.approx(results["figure.strehl"].number, abs=5e-4)
    support = np.exp(-(2 * np.pi * results["cell.wavefront_rms"].number) ** 2)
    assert written[2] == pytest.approx(results["figure.strehl"].number * support, abs=6e-4)
    assert written == sorted(written, reverse=True)
    assert "diagonal’s own flatness" in read.rendered.caption


def test_light_falls_off_where_the_results_say(picture, design_of):
    read, results = picture("illumination"), design_of("demo").results
    full, judged = (results[name].number / 2 for name in ("diagonal.full_field", "field.judged"))
    for name in ("in_fold", "across"):
        places, share = read.curve(name).T
        assert share[np.abs(places) <= full] == pytest.approx(1, abs=2 * read.grain("y"))
    beyond = read.curve("in_fold")
    assert np.all(beyond[np.abs(beyond[:, 0]) > full + 0.3, 1] < 1 - read.grain("y"))
    worst = results["diagonal.edge_light"].number
    assert read.at("in_fold", judged) == pytest.approx(worst, abs=NEAR)
    assert read.at("across", judged) == pytest.approx(read.at("across", -judged), abs=NEAR)
    assert read.limit("below") == pytest.approx(0.70, abs=2 * read.grain("y"))
    assert f"{worst:.2f}" in read.rendered.alt


def test_axes_of_inches_are_in_inches(picture, design_of):
    metric, inch = picture("wavefront", "demo"), picture("wavefront", "inches")
    assert max(float(text.plain) for text in inch.texts if text.plain.isdigit()) == 3
    assert any("mm" in text.plain for text in metric.texts)
    assert any(text.plain.endswith(" in") for text in inch.texts)
