"""Spot matrix, stray light, the view down the drawtube and the optical layout, measured in their SVG."""

from __future__ import annotations

import json
import math
import xml.etree.ElementTree as ET
from functools import lru_cache
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest

from dossier.design import work_out
from dossier.drawings import optical_layout, sight, spot_matrix, stray_light
from dossier.drawings.palette import PAPER, SCREEN
from dossier.spec.load import load_build
from tests.strokes import enters

SVG = "{http://www.w3.org/2000/svg}"
DEMO = Path(__file__).parents[2] / "content" / "teasel-150"
SIZES = [(76, 8), (150, 8), (250, 5), (400, 4)]
every_size = pytest.mark.parametrize(("aperture", "ratio"), SIZES)
every_form = pytest.mark.parametrize("form", ["wide", "upright"])


@pytest.fixture(scope="module")
def demo():
    return work_out(load_build(DEMO))


@pytest.fixture(scope="module")
def worked(tmp_path_factory, telescope):
    """``worked(aperture, ratio, kind, **sections)``: a telescope fully worked out."""
    folder = tmp_path_factory.mktemp("optical")

    @lru_cache(maxsize=64)
    def made(text):
        (folder / "build.yaml").write_text(text, "utf-8")
        return work_out(load_build(folder))

    return lambda *size, **sections: made(json.dumps(telescope(*size, **sections)))


class Seen:
    """A drawing read back: lines by their data attributes, in the drawing's unit."""

    def __init__(self, svg, width_in_type):
        self.root = ET.fromstring(svg)
        self.size = float(self.root.attrib["font-size"])
        left, top, width, height = map(float, self.root.attrib["viewBox"].split())
        self.frame = (left, top, left + width, top + height)
        self.texts = [(text, _box(text, self.size, width_in_type)) for text in self.root.iter(f"{SVG}text")]

    def lines(self, key, value=None):
        return [line for path in self.root.iter(f"{SVG}path") if f"data-{key}" in path.attrib
                and value in (None, path.attrib[f"data-{key}"]) for line in _lines(path.attrib["d"])]

    def groups(self, key):
        return [group for group in self.root.iter(f"{SVG}g") if f"data-{key}" in group.attrib]

    @property
    def words(self):
        return [" ".join("".join(text.itertext()).split()) for text, _ in self.texts]

    def strokes(self):
        for path in self.root.iter(f"{SVG}path"):
            if path.get("stroke"):
                for line in _lines(path.attrib["d"]):
                    yield from pairwise(line)


def _lines(path):
    found = []
    for piece in path.split("M")[1:]:
        points = [tuple(map(float, pair.split())) for pair in piece.rstrip("Z").split("L")]
        found.append([*points, points[0]] if piece.endswith("Z") else points)
    return found


def _box(text, size, width_in_type):
    plain, x, y = "".join(text.itertext()), float(text.attrib["x"]), float(text.attrib["y"])
    width = width_in_type(plain, size)
    before = {"start": 0.0, "middle": width / 2, "end": width}[text.attrib.get("text-anchor", "start")]
    if "transform" in text.attrib:
        return (x - 0.66 * size, y + before - width, x + 0.18 * size, y + before)
    return (x - before, y - 0.66 * size, x - before + width, y + 0.18 * size)


def _legible(seen):
    for (one, first), (other, second) in combinations(seen.texts, 2):
        apart = first[2] <= second[0] or second[2] <= first[0] or first[3] <= second[1] or second[3] <= first[1]
        assert apart, (one.text, other.text)
    for text, box in seen.texts:
        for start, end in seen.strokes():
            assert not enters(box, start, end), (text.text, start, end)
        assert seen.frame[0] <= box[0], text.text
        assert box[2] <= seen.frame[2], text.text
        assert seen.frame[1] <= box[1], text.text
        assert box[3] <= seen.frame[3], text.text


# ---- the spot matrix

def _rays(seen, row, column):
    """Where the rays of one spot land, µm from the chief ray's circle."""
    scale = float(seen.root.attrib["data-scale"])
    circle = next(c for c in seen.root.iter(f"{SVG}circle") if c.get("data-airy") == f"{row}-{column}")
    middle = np.array([float(circle.attrib["cx"]), float(circle.attrib["cy"])])
    dots = np.array([np.mean(line, axis=0) for line in seen.lines("rays", f"{row}-{column}")])
    return (dots - middle) / scale * [1, -1], float(circle.attrib["r"]) / scale


def test_spots_are_as_large_as_they_say(demo, width_in_type):
    """The rays drawn stand for the pupil: their RMS about their middle against the number below each spot.

    Six rings at the middles of their widths miss the rim, where a sphere's rays stray by the cube of the height: the
    midpoint rule on r⁷ with steps of a sixth of the annulus is 10 % short, its root 5 %.
    """
    seen = Seen(spot_matrix.draw(demo, palette=PAPER), width_in_type)
    written = [float(words.split()[0]) for words in seen.words if words.endswith("µm") and words[0].isdigit()
               and ";" not in words]
    assert len(written) == 15
    for index, number in enumerate(written):
        rays, airy = _rays(seen, index // 5, index % 5)
        rms = math.sqrt(np.mean(np.sum((rays - rays.mean(axis=0)) ** 2, axis=1)))
        assert rms == pytest.approx(number, rel=0.06)
        assert rms < 1.01 * number
        assert airy == pytest.approx(demo.results["optics.airy_diameter"].number / 2, rel=0.01)


def test_spots_of_a_paraboloid_out_of_focus_are_cones_cut(worked, width_in_type):
    """On the axis, a shift δ of focus spreads the rim's rays to δ (D/2)/(f − z), z the rim's depth."""
    design = worked(200, 6)
    seen = Seen(spot_matrix.draw(design, palette=PAPER), width_in_type)
    focuses = [_millimetres(words) for words in seen.words if words.endswith("mm") and words[0] in "−0" and " " in words
               and "," not in words]
    farthest = max(np.hypot(*_rays(seen, 0, 4)[0].T))
    rim = 100 / (1200 - design.results["optics.sagitta"].number)
    # The outermost ring of rays lies half a ring inside the rim.
    obstruction = design.results["optics.obstruction"].number
    assert farthest == pytest.approx(1000 * max(focuses) * rim * (1 - (1 - obstruction) / 12), rel=0.04)
    assert max(np.hypot(*_rays(seen, 0, 2)[0].T)) < 0.1


def _millimetres(words):
    return float(words.split()[0].replace("−", "-"))


def test_best_foci_stand_where_they_belong(demo, width_in_type):
    """Pointers on the axis of focus, read off its ticks, against the results."""
    seen = Seen(spot_matrix.draw(demo, palette=PAPER), width_in_type)
    (axis, *ticks) = seen.lines("part", "focus-axis")
    first, last = axis[0][0], axis[1][0]
    assert np.ptp(np.diff([tick[0][0] for tick in ticks])) < 0.01
    results = demo.results
    best, aberration = (results[f"figure.{name}"].number for name in ("best_focus_shift", "longitudinal_aberration"))
    reach = abs(aberration) / 2
    pointers = {line[0][0] for line in seen.lines("focus")}
    told = {(best - reach) + (x - first) / (last - first) * 2 * reach for x in pointers}
    assert sorted(told) == pytest.approx([results["spot.focus_shift"].number, best], abs=1e-3)


@every_form
@every_size
def test_spot_matrix_is_legible(worked, width_in_type, aperture, ratio, form):
    for conic in (-1, 0):
        primary = {"aperture": f"{aperture} mm", "focal_length": f"{aperture * ratio} mm", "conic": conic,
                   "blank_diameter": f"{aperture + 4} mm"}
        seen = Seen(spot_matrix.draw(worked(aperture, ratio, primary=primary), form=form, palette=PAPER), width_in_type)
        _legible(seen)


# ---- stray light

def _sight(seen, scale, past, upright=False):
    corners = np.array(seen.lines("sight", past)[0]) / scale
    return [(-y, -x) if upright else (x, -y) for x, y in corners]


@every_size
@pytest.mark.parametrize("kind", ["poles", "tube", "truss", None])
def test_worst_lines_graze_what_lets_them_through(worked, width_in_type, aperture, ratio, kind):
    """Each begins at an edge of the judged field and touches the edge of the drawtube's end or of the diagonal."""
    design = worked(aperture, ratio, kind)
    seen = Seen(stray_light.draw(design, palette=PAPER), width_in_type)
    scale, build, results = float(seen.root.attrib["data-scale"]), design.build, design.results
    fold, intercept = results["focuser.station"].number, results["optics.intercept"].number
    end, bore = intercept - build.focuser.drawtube, build.focuser.bore / 2
    grain = 0.002 / scale
    for past in ("diagonal", "front"):
        (z0, x0), (z1, x1), *_ = _sight(seen, scale, past)
        assert (x0, x1) == pytest.approx((intercept, end), abs=grain)
        assert abs(z0 - fold) == pytest.approx(results["field.judged"].number / 2, abs=grain)
        assert abs(z1 - fold) == pytest.approx(bore, abs=grain)
        assert (z0 - fold) * (z1 - fold) < 0
    (z0, x0), (z1, x1), _ = _sight(seen, scale, "rim")
    assert x0 == pytest.approx(intercept, abs=grain)
    assert x1 == pytest.approx(z1 - fold, abs=grain)
    face = abs(x1 + results["diagonal.offset"].number)
    at_end = z0 + (x0 - end) / (x0 - x1) * (z1 - z0)
    grazes = (abs(face - build.diagonal.minor_axis / 2), abs(abs(at_end - fold) - bore))
    assert min(grazes) < 2 * grain


@pytest.mark.parametrize("kind", ["poles", "tube"])
def test_what_is_dark_shuts_the_paths(worked, width_in_type, kind):
    design = worked(150, 8, kind)
    seen = Seen(stray_light.draw(design, palette=PAPER), width_in_type)
    scale, results = float(seen.root.attrib["data-scale"]), design.results
    (start, _), (end, _) = [(x / scale, y) for x, y in seen.lines("dark", "shield")[0]]
    half, fold = results["stray.shield_half_length"].number, results["focuser.station"].number
    assert (start, end) == pytest.approx((fold - half, fold + half), abs=0.002 / scale)
    foot = max(x / scale for line in seen.lines("dark", "shroud") for x, _ in line)
    (z1, x1), (z2, x2) = _sight(seen, scale, "rim")[1:]
    wall = abs(seen.lines("dark", "shroud")[0][0][1]) / scale
    # The shroud's upper end against where the drawn line passes it: that line is the worst in the plane of the fold.
    crossing = z1 + (math.copysign(wall, x2) - x1) / (x2 - x1) * (z2 - z1)
    assert foot == pytest.approx(crossing, abs=0.03 * crossing)
    if kind == "poles":
        ring = max(abs(y) / scale for line in seen.lines("dark", "ring") for _, y in line)
        assert 2 * ring == pytest.approx(results["stray.mirror_ring"].number, abs=0.004 / scale)


def test_arrows_stand_where_light_comes_in(worked, width_in_type):
    open_frame, tube = (Seen(stray_light.draw(worked(150, 8, kind), palette=PAPER), width_in_type)
                        for kind in ("poles", "tube"))
    assert {group.attrib["data-path"] for group in open_frame.groups("path")} == {"A", "B", "C"}
    assert len(open_frame.lines("arrow")) > len(tube.lines("arrow"))
    assert any("tube’s inside" in words for words in tube.words)


def test_nothing_is_drawn_without_a_drawtube(worked):
    bare = worked(150, 8, focuser={"mounting_radius": "102 mm", "height": "52 mm"})
    assert stray_light.draw(bare, palette=PAPER) is None
    assert sight.draw(bare, palette=PAPER) is None
    assert stray_light.description(bare) == ""


def test_without_a_front_nothing_is_said_of_it(worked, width_in_type):
    seen = Seen(stray_light.draw(worked(150, 8, "poles", front=None), palette=PAPER), width_in_type)
    assert {group.attrib["data-path"] for group in seen.groups("path")} == {"A", "B"}
    assert not seen.lines("sight", "front")


@every_form
@every_size
@pytest.mark.parametrize("kind", ["poles", "tube", "truss", None])
def test_stray_light_is_legible(worked, width_in_type, aperture, ratio, kind, form):
    seen = Seen(stray_light.draw(worked(aperture, ratio, kind), form=form, palette=PAPER), width_in_type)
    _legible(seen)
    width = seen.frame[2] - seen.frame[0]
    assert width == pytest.approx(180 if form == "wide" else 328, abs=0.5)
    if form == "wide":
        assert int(seen.root.attrib["data-reduction"]) in (1, 2, 5, 10, 20, 50, 100)


# ---- the view down the drawtube

def _outline(seen, view, name):
    """The outline's extent in tangents: along the tube from and to, across from and to."""
    group = seen.groups("view")[view]
    scale = float(group.attrib["data-scale"])
    circles = {path.attrib["data-outline"]: np.array(_lines(path.attrib["d"])[0]) for path in group.iter(f"{SVG}path")}
    whole = circles.get("drawtube")
    middle = (whole.min(axis=0) + whole.max(axis=0)) / 2 if whole is not None else _middle(seen, view)
    places = (circles[name] - middle) / scale * [1, -1]
    return places.min(axis=0), places.max(axis=0)


def _middle(seen, view):
    """The middle of a nearer view: where the words below it stand, at the height of the first view's."""
    first = np.array(_lines(next(p for p in seen.groups("view")[0].iter(f"{SVG}path")).attrib["d"])[0])
    words = [text for text, _ in seen.texts if text.attrib.get("text-anchor") == "middle"]
    return np.array([float(words[2 * view].attrib["x"]), (first[:, 1].min() + first[:, 1].max()) / 2])


def test_circles_are_seen_under_their_angles(demo, width_in_type):
    """Straight geometry from the eye at the focal plane: the bore at the drawtube's length, the primary's rim at the
    focal length less its depth, the mark at the focal length."""
    seen = Seen(sight.draw(demo, palette=PAPER), width_in_type)
    build, results = demo.build, demo.results
    expected = {"drawtube": build.focuser.bore / 2 / build.focuser.drawtube,
                "primary": 75 / results["diagonal.rim_to_focus"].number, "centre_mark": 5 / 1200}
    for name, tangent in expected.items():
        low, high = _outline(seen, 0, name)
        assert (*(-low), *high) == pytest.approx(4 * [tangent], rel=0.02)
    low, high = _outline(seen, 0, "diagonal")
    # Its two ends are at different distances; with the offset each is seen clear of the primary's rim by as much.
    half, offset, away = build.diagonal.minor_axis / 2, results["diagonal.offset"].number, 168.0
    assert high[0] == pytest.approx((half - offset) / (away - half + offset), rel=0.02)
    assert -low[0] == pytest.approx((half + offset) / (away + half + offset), rel=0.02)


def test_out_of_true_the_reflections_move(demo, width_in_type):
    """An eye at the focus sends parallel light back up the tube. A primary tilted by α turns it by 2α, so that a thing
    at the height h above the mirror is met from 2αh off the middle of it, seen from the focus under 2αh/f. A diagonal
    tipped by α turns the whole view of the primary by 2α, as seen from the diagonal.
    """
    seen = Seen(sight.draw(demo, palette=PAPER), width_in_type)
    alpha, focal_length, intercept = math.radians(0.5), 1200, 168
    heights = {"drawtube_again": focal_length - demo.build.focuser.drawtube, "shadow": focal_length - intercept,
               "primary": 0}
    for name, height in heights.items():
        middle = np.mean(_outline(seen, 2, name), axis=0)
        assert abs(middle[1]) == pytest.approx(2 * alpha * height / focal_length, rel=0.02, abs=2e-4)
    tipped = np.mean(_outline(seen, 3, "primary"), axis=0)
    assert tipped[0] == pytest.approx(math.tan(math.radians(2)) * (focal_length - intercept) / focal_length, rel=0.05)


@every_form
def test_sight_is_legible(demo, width_in_type, form):
    _legible(Seen(sight.draw(demo, form=form, palette=PAPER), width_in_type))


# ---- the optical layout

@pytest.mark.parametrize("kind", [None, "poles", "tube", "truss"])
def test_layout_is_the_arrangement_without_mechanics(worked, reading, kind):
    drawing = reading(optical_layout.draw(worked(150, 8, kind), palette=PAPER))
    assert drawing.part("primary-face")
    assert drawing.part("diagonal-face")
    assert not any(drawing.part(name) for name in ("wall", "member", "drawtube", "vane", "front-edge", "holder"))
    for field in ("axis", "inner", "outer"):
        for rim in ("upper", "lower"):
            assert drawing.caught(f"{field}-{rim}") or field != "axis"


def test_light_ends_in_the_focal_plane(demo, reading):
    drawing = reading(optical_layout.draw(demo, palette=PAPER))
    fold, intercept = (demo.results[name].number for name in ("focuser.station", "optics.intercept"))
    for ray in ("axis-upper", "axis-lower"):
        assert drawing.ray(ray)[-1] == pytest.approx((fold, intercept), abs=2 * drawing.grain)
    edge = next(ray for ray in ("outer-upper", "outer-lower") if drawing.caught(ray))
    assert drawing.ray(edge)[-1][0] - fold == pytest.approx(10.6, abs=2 * drawing.grain)


@every_form
@every_size
def test_layout_is_legible(worked, width_in_type, aperture, ratio, form):
    _legible(Seen(optical_layout.draw(worked(aperture, ratio), form=form, palette=PAPER), width_in_type))


def test_colours_and_sameness(demo):
    for module in (spot_matrix, stray_light, sight, optical_layout):
        for form in ("wide", "upright"):
            once, again = (module.draw(demo, form=form, palette=SCREEN) for _ in range(2))
            assert once == again
            assert "#" not in once.replace("&#", "")
            assert "var(" not in module.draw(demo, form=form, palette=PAPER)
