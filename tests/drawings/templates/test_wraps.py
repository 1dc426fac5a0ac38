"""Wraps rolled back onto their tubes: holes stand where the spec says, in space, and are round there."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

import pytest

from dossier.drawings.templates.labels import box_of_label
from dossier.drawings.templates.model import Disc, Label, Outline, Template, box_of_items
from dossier.drawings.templates.rolled import seam_angle
from dossier.drawings.templates.tube_wrap import TAB
from tests.drawings.templates.conftest import every_trial, templates, trial

Space = tuple[float, float, float]
TUBES = ("tube-76", "tube-200")
every_tube = pytest.mark.parametrize("name", TUBES)


def _rolled(point: tuple[float, float], across: float, end_station: float) -> Space:
    """A point of a wrap on its tube: x towards the focuser, z towards the sky, y so that angles clockwise from the sky
    turn from x to −y."""
    angle = -point[0] / (across / 2)
    return (across / 2 * math.cos(angle), -across / 2 * math.sin(angle), end_station + point[1])


def _centres(template: Template, what: str) -> Iterator[tuple[float, float]]:
    """Where the two lines of each cross meet."""
    lines = [item for item in template.items if isinstance(item, Outline) and item.name == f"{what} centre"]
    for level, upright in zip(lines[::2], lines[1::2], strict=True):
        yield ((level.points[0][0] + level.points[1][0]) / 2, (upright.points[0][1] + upright.points[1][1]) / 2)


@every_tube
def test_vanes_and_focuser_stand_in_space_as_the_spec_says(name: str) -> None:
    design = trial(name)
    frame, spider = design.build.frame, design.build.spider
    assert frame
    assert spider
    across, upper = frame.outer_diameter, frame.lower_fixing + frame.length
    wrap = templates(name)["tube-wrap-upper"]
    said: dict[str, Space] = {"focuser": (across / 2, 0.0, design.results["focuser.station"].number)}
    for index in range(spider.vanes):
        angle = math.radians(spider.turned + 360 * index / spider.vanes)
        said[f"vane {index + 1}"] = (across / 2 * math.cos(angle), -across / 2 * math.sin(angle), spider.station)
    found = {what: _rolled(next(_centres(wrap, what)), across, upper) for what in said}
    for one, other in combinations(said, 2):
        assert math.dist(found[one], found[other]) == pytest.approx(math.dist(said[one], said[other]), abs=1e-6)
    for what, place in said.items():
        assert found[what] == pytest.approx(place, abs=1e-6)


@every_tube
def test_the_focuser_hole_is_round_about_its_own_axis(name: str) -> None:
    design = trial(name)
    frame, hole = design.build.frame, design.build.focuser.hole
    assert frame
    edge = next(item for item in templates(name)["tube-wrap-upper"].items
                if isinstance(item, Outline) and item.name == "focuser")
    station = design.results["focuser.station"].number
    for point in edge.points:
        _, y, z = _rolled(point, frame.outer_diameter, frame.lower_fixing + frame.length)
        assert math.hypot(y, z - station) == pytest.approx(hole / 2, abs=1e-6)
    box = box_of_items([edge])
    assert box.right - box.left > hole + 0.02 > box.bottom - box.top


@every_tube
def test_a_wrap_is_as_long_as_the_tube_is_around_outside(name: str) -> None:
    frame = trial(name).build.frame
    assert frame
    wrap = templates(name)["tube-wrap-upper"]
    outline, seam = (next(item for item in wrap.items if item.name == what) for what in ("wrap", "seam"))
    box = box_of_items([outline])
    assert box.right - box.left - TAB == pytest.approx(math.pi * frame.outer_diameter)
    assert box_of_items([seam]).left - box.left == pytest.approx(math.pi * frame.outer_diameter)
    assert box.bottom == 0


def test_the_seam_keeps_clear_of_every_hole() -> None:
    assert seam_angle([0, 60, 180, 300]) in (120, 240)
    assert seam_angle([0]) == 180
    assert seam_angle([90, 270]) in (180, 360)
    for name in TUBES:
        for key in ("tube-wrap-upper", "tube-wrap-lower"):
            if key in templates(name):
                wrap = templates(name)[key]
                seam = box_of_items([next(item for item in wrap.items if item.name == "seam")]).left
                holes = [box_of_items([item]) for item in wrap.items if item.layer == "cut" and item.name != "wrap"]
                assert holes
                assert all(box.right < seam for box in holes)


@pytest.mark.parametrize(("name", "key"), [
    ("tube-76", "tube-wrap-lower"), ("poles-150", "pole-drilling-lower"), ("truss-400", "pole-drilling-upper")])
def test_a_hole_through_both_walls_stands_on_either_side(name: str, key: str) -> None:
    frame = trial(name).build.frame
    assert frame
    (hole,) = [each for each in frame.holes if (each.end or "lower") in key]
    wrap, what = templates(name)[key], hole.for_ or f"hole {frame.holes.index(hole) + 1}"
    end = 0.0
    one, other = (_rolled(point, frame.outer_diameter, end) for point in _centres(wrap, what))
    assert math.dist(one, other) == pytest.approx(frame.outer_diameter, abs=1e-6)
    assert abs(one[2]) == abs(other[2]) == pytest.approx(hole.from_end)
    turned = math.radians(hole.turned or 0.0)
    assert one[:2] == pytest.approx((math.cos(turned) * frame.outer_diameter / 2,
                                     -math.sin(turned) * frame.outer_diameter / 2), abs=1e-6)


@pytest.mark.parametrize("key", ["tube-wrap-upper", "tube-wrap-lower"])
def test_the_line_of_the_focusers_side_lies_on_the_wrap_at_angle_0(key: str) -> None:
    wrap, frame = templates("tube-76")[key], trial("tube-76").build.frame
    assert frame
    line, outline = (box_of_items([next(item for item in wrap.items if item.name == name)])
                     for name in ("focuser's side", "wrap"))
    assert outline.left < line.left < outline.right
    x, y, _ = _rolled((line.left, 0), frame.outer_diameter, 0)
    assert (x, y) == pytest.approx((frame.outer_diameter / 2, 0), abs=1e-6)


@every_trial
def test_words_keep_clear_of_each_other_and_of_what_is_cut(name: str) -> None:
    for key, template in templates(name).items():
        words = [box_of_label(item) for item in template.items if isinstance(item, Label)]
        cut = [box_of_items([item]) for item in template.items if not isinstance(item, Label) and item.layer == "cut"]
        for one, other in combinations(words, 2):
            assert not one.meets(other), key
        if "wrap" in key or "drilling" in key:
            holes = [box for box in cut if box.right - box.left < 100]
            assert not any(one.meets(hole) for one in words for hole in holes), key


def test_small_holes_are_circles_for_the_drill() -> None:
    wrap = templates("tube-200")["tube-wrap-upper"]
    vanes = [item for item in wrap.items if item.layer == "cut" and item.name.startswith("vane")]
    assert len(vanes) == 4
    assert all(isinstance(item, Disc) and item.radius == 2.25 for item in vanes)


def test_where_the_spec_is_silent_there_is_no_wrap() -> None:
    assert not [key for key in templates("bare-130") if "wrap" in key or "drilling" in key or "board" in key]
    assert not [key for key in templates("poles-150") if "wrap" in key]
    assert "pole-drilling-lower" not in templates("truss-400")
