"""Plots of studies and of builders, read back from their SVG and held against the points themselves."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations

import numpy as np
import pytest

from dossier.charts import builders, studies
from dossier.design.explore import Study, draw_builders, study_asked
from dossier.design.explore.ground import Ground
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import PAPER
from tests.charts.conftest import SVG, Read, lines

Make = Callable[..., Ground]
FORMS: tuple[Form, Form] = ("wide", "upright")
GOALS = "goals: [{result: optics.focal_ratio, at_least: 8}, {result: figure.strehl, at_least: 0.8}]"


def plotted(ground: Ground, study: Study, result: str, form: Form = "wide") -> Read:
    return Read(studies.plot(study, result, "trial", ground.loaded.build.readers, PAPER, form))


def segments(read: Read, **data: str) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    (name, value), = data.items()
    return [(read.data(line[0]), read.data(line[-1])) for path in read.root.iter(f"{SVG}path")
            if path.get(f"data-{name}") == value for line in lines(path.attrib["d"])]


@pytest.fixture
def ratio(ground: Make) -> tuple[Ground, Study]:
    trial = ground(GOALS)
    keys = ["primary.focal_length=800mm:1400mm:50mm", "primary.aperture=100mm:160mm:10mm"]
    return trial, study_asked(trial, keys, [], ["optics.focal_ratio"])


@pytest.mark.parametrize("form", FORMS)
def test_contours_of_the_focal_ratio_are_rays_from_the_origin(ratio: tuple[Ground, Study], form: Form) -> None:
    """Where f/D is the same, f is proportional to D; grid cells make the line straight pieces."""
    read = plotted(*ratio, "optics.focal_ratio", form)
    for path in read.root.iter(f"{SVG}path"):
        name = path.get("data-curve") or ""
        if name.startswith(("level", "limit")):
            level = 8.0 if name.startswith("limit") else float(name.split()[1])
            ratios = [x / y for line in lines(path.attrib["d"]) for x, y in (read.data(point) for point in line)]
            assert ratios == pytest.approx([level] * len(ratios), rel=0.005), name


@pytest.mark.parametrize("form", FORMS)
def test_just_what_misses_is_hatched(ratio: tuple[Ground, Study], form: Form) -> None:
    read = plotted(*ratio, "optics.focal_ratio", form)
    hatched = segments(read, forbidden="misses")
    assert len(hatched) > 10
    for start, end in hatched:
        assert all(x / y < 8.04 for x, y in (start, end, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    across, up = (list(map(float, read.root.attrib[f"data-{axis}"].split())) for axis in ("x", "y"))
    drawn = sum(math.dist(*((x / (across[1] - across[0]) * abs(across[3] - across[2]),
                             y / (up[1] - up[0]) * abs(up[3] - up[2])) for x, y in pair)) for pair in hatched)
    # Lines at one spacing cover an area of their whole length times it. A region: y > x/8, x 800…1400, y 100…150.
    x = np.linspace(800, 1400, 2001)
    share = float(np.clip(150 - np.maximum(x / 8, 100), 0, None).mean()) / 60
    spacing = 0.9 * read.size
    area = share * abs((across[3] - across[2]) * (up[3] - up[2]))
    assert drawn * spacing == pytest.approx(area, rel=0.06)


def test_what_cannot_be_built_is_tinted_and_the_plan_is_marked(ratio: tuple[Ground, Study]) -> None:
    read = plotted(*ratio, "optics.focal_ratio")
    assert read.mark("planned") == pytest.approx((1200, 150), abs=0.5)
    tinted = [path for path in read.root.iter(f"{SVG}path") if path.get("data-shade") == "no build"]
    assert len(tinted) == 12, "one row of cells: between 150 mm, which fits the blank of 154 mm, and 160 mm"
    assert {"cannot be built", "as planned", "at least 8"} <= {text.plain for text in read.texts}
    assert "13 points have no such number" in read.rendered.alt


@pytest.mark.parametrize("form", FORMS)
def test_lettering_touches_nothing(ratio: tuple[Ground, Study], form: Form) -> None:
    read = plotted(*ratio, "optics.focal_ratio", form)
    for one, other in combinations(read.texts, 2):
        assert not (one.box[0] < other.box[2] and other.box[0] < one.box[2]
                    and one.box[1] < other.box[3] and other.box[1] < one.box[3]), (one.plain, other.plain)
        assert read.frame[0] <= one.box[0] + 0.5
        assert one.box[2] <= read.frame[2] + 0.5


def test_a_line_for_each_choice_against_one_key(ground: Make) -> None:
    trial = ground(GOALS, "parts: [{ref: P1, name: M, price: 1, instead: [{name: short, set: {primary.focal_length: "
                          "1000 mm}}]}]")
    study = study_asked(trial, ["primary.aperture=100mm:150mm:10mm"], ["P1"], ["optics.focal_ratio"])
    read = plotted(trial, study, "optics.focal_ratio")
    for at, focal in ((0, 1200), (1, 1000)):
        name = ("as planned", "short")[at]
        curve = read.curve(f"{name} {at}")
        assert curve[:, 1] == pytest.approx(focal / curve[:, 0], rel=1e-3)
    assert read.limit("below") == pytest.approx(8, abs=0.01)


def test_lines_break_where_there_is_no_build(ground: Make) -> None:
    trial = ground(GOALS)
    study = study_asked(trial, ["primary.aperture=140mm:170mm:5mm"], [], ["optics.focal_ratio"])
    assert plotted(trial, study, "optics.focal_ratio").curve("optics.focal_ratio 0")[:, 0].max() == pytest.approx(150)


def test_there_is_no_plot_of_what_does_not_change_or_is_no_number(ground: Make) -> None:
    trial = ground("cell: {points: 3, rings: best}")
    study = study_asked(trial, ["primary.edge_thickness=20mm,25mm"], [], ["optics.focal_ratio", "cell.support_radii"])
    assert studies.pictured(study) == ()


def test_readers_of_inches_have_inches_on_both_axes(ground: Make) -> None:
    trial = ground().otherwise({"readers.units": "inch"})
    study = study_asked(trial, ["primary.focal_length=40in:50in:2in"], [], ["focuser.station"])
    said = {text.plain for text in plotted(trial, study, "focuser.station").texts}
    assert {"40", "50", "primary, focal length, in"} <= said
    assert any(text.endswith(", in") and not text.startswith("primary") for text in said)


@pytest.mark.parametrize("form", FORMS)
def test_builders_stand_where_their_quantiles_are(ground: Make, form: Form) -> None:
    trial = ground(GOALS, "tolerances: {primary.focal_length: 60 mm, primary.conic: 0.2}")
    drawn = draw_builders(trial, 200, 2, again=5)
    rendered = builders.spread(drawn, trial.loaded.build.readers, PAPER, form)
    assert rendered is not None
    assert rendered.alt.startswith("200 builders drawn at random. Focal ratio: met by ")
    read = Read(rendered)
    group = next(each for each in read.root.iter(f"{SVG}g") if each.get("data-limit") == "optics.focal_ratio")
    thin = [line for path in group.iter(f"{SVG}path") if path.get("data-span") == "90"
            for line in lines(path.attrib["d"])]
    zero = next(lines(path.attrib["d"])[0][0][0] for path in read.root.iter(f"{SVG}path")
                if path.get("data-limit") == "zero")
    low, high = min(x for line in thin for x, _ in line), max(x for line in thin for x, _ in line)
    share = next(each for each in drawn.shares if each.planned.id == "optics.focal_ratio")
    spare = [value / 8 - 1 for value in share.quantiles]
    assert (low - zero) / (high - zero) == pytest.approx(spare[0] / spare[-1], abs=0.02)
    assert low < zero < high
