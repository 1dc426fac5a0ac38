"""A gallery of telescopes: every sheet of each, nothing over anything, its geometry measured against the results.

Positions are read from the SVG in mm of the paper and divided by the scale that the sheet states.
"""

from __future__ import annotations

import json
import math
import xml.etree.ElementTree as ET
from collections.abc import Callable
from typing import Any

import pytest

from dossier.design import work_out
from dossier.spec.load import load_build
from tests.drawings.sheets.gallery import GALLERY, spec_of


@pytest.fixture(scope="module", params=GALLERY)
def drawn(request: pytest.FixtureRequest, telescope: Callable[..., dict[str, Any]], reader: Any,
          tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, dict[str, Any]]:
    """A design of the gallery and its sheets, read back."""
    folder = tmp_path_factory.mktemp("gallery")
    (folder / "build.yaml").write_text(json.dumps(spec_of(request.param, telescope)), "utf-8")
    design = work_out(load_build(folder))
    return design, reader(design, design.build.readers.paper)


def test_nothing_lies_over_anything_and_every_part_has_its_balloon(drawn):
    _, sheets = drawn
    assert {"general-arrangement", "optical-layout"} <= set(sheets)
    for key, read in sheets.items():
        read.clear()
        assert set(read.circles) == {balloon.ref for balloon in read.sheet.figure.balloons}, key
        # What the typeface lacks is printed as a question mark.
        assert not any("?" in plain for plain, _ in read.texts), key
        for box in read.boxes_of("table") + read.boxes_of("list"):
            for ref, (x, y, radius) in read.circles.items():
                assert x + radius <= box[0] or x - radius >= box[2] or y + radius <= box[1] or y - radius >= box[3], ref


def test_there_is_a_sheet_of_what_the_spec_gives_and_of_nothing_else(drawn):
    design, sheets = drawn
    build = design.build
    assert ("mirror-blank" in sheets) == (build.primary.edge_thickness is not None)
    assert ("mirror-cell" in sheets) == (build.cell is not None)
    assert ("frame-members" in sheets) == (build.frame is not None)
    assert ("upper-end" in sheets) == (build.frame is not None or build.front is not None)
    pivot = build.mount is not None and build.mount.pivot is not None
    assert ("pivot-and-balance" in sheets) == (pivot or "balance.station" in design.results)


class Telescope:
    """Points of a side view that lies, as (station, height) in mm of the telescope; the vertex is the origin."""

    def __init__(self, read: Any) -> None:
        self.read, self.view = read, read.group("view", "side")
        face = self.lines("primary-face")[0]
        self.origin = face[len(face) // 2]

    def lines(self, part: str) -> list[list[tuple[float, float]]]:
        return self.read.part(part, self.view)

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        return ((point[0] - self.origin[0]) / self.read.scale, (self.origin[1] - point[1]) / self.read.scale)

    def near(self, length: float) -> Any:
        """Within the rounding of the drawing's coordinates."""
        return pytest.approx(length, abs=0.002 / self.read.scale)


@pytest.mark.parametrize("key", ["general-arrangement", "optical-layout"])
def test_mirrors_fold_and_focus_are_where_the_results_have_them(drawn, key):
    design, sheets = drawn
    seen, number = Telescope(sheets[key]), design.results
    (_, plane), _ = (seen.at(point) for point in seen.lines("focal-plane-line")[0])
    assert plane == seen.near(number["optics.intercept"].number)
    folds = {round(seen.at(point)[0], 3) for point in seen.lines("folded-axis")[0]}
    assert [*folds] == [seen.near(number["focuser.station"].number)]
    ends = [seen.at(point) for point in seen.lines("diagonal-face")[0]]
    middle = [(one + other) / 2 for one, other in zip(*ends, strict=True)]
    offset = number["diagonal.offset"].number
    assert middle == [seen.near(number["focuser.station"].number - offset), seen.near(-offset)]
    assert abs(ends[0][1] - ends[1][1]) == seen.near(design.build.diagonal.minor_axis)
    heights = [seen.at(point)[1] for point in seen.lines("primary-face")[0]]
    assert (min(heights), max(heights)) == (seen.near(-design.build.primary.aperture / 2),
                                            seen.near(design.build.primary.aperture / 2))


def test_frame_and_front_of_the_general_arrangement_are_where_they_are_said(drawn):
    design, sheets = drawn
    seen, build = Telescope(sheets["general-arrangement"]), design.build
    fronts = {round(seen.at(point)[0], 2) for line in seen.lines("front-edge") for point in line}
    assert [*fronts] == ([seen.near(build.front.station)] if build.front else [])
    axes = [[seen.at(point) for point in line] for line in seen.lines("member-axis")]
    assert bool(axes) == (build.frame is not None and build.frame.kind != "tube")
    for low, high in axes:
        assert low[0] == seen.near(build.frame.lower_fixing)
        assert high[0] == seen.near(design.results["frame.upper_fixing"].number)
    walls = [seen.at(point) for line in seen.lines("wall") for point in line]
    assert bool(walls) == (build.frame is not None and build.frame.kind == "tube")
    if walls:
        along, out = [station for station, _ in walls], [abs(height) for _, height in walls]
        assert max(along) - min(along) == seen.near(build.frame.length)
        assert (2 * min(out), 2 * max(out)) == (seen.near(build.frame.inner_diameter),
                                                seen.near(build.frame.outer_diameter))


def test_the_view_from_the_sky_is_projected(drawn):
    """First angle: on the left of the side view, its axis level with the optical axis; poles and vanes at their
    angles, clockwise from the focuser, which is up."""
    design, sheets = drawn
    read, build = sheets["general-arrangement"], design.build
    seen, front = Telescope(read), read.group("view", "front")
    (x, y, radius), = read.round("primary-face", front)
    assert y == pytest.approx(seen.origin[1], abs=0.002)
    side = min(px for line in seen.lines("primary-glass") + seen.lines("primary-face") for px, _ in line)
    assert x + radius < side
    assert 2 * radius / read.scale == seen.near(build.primary.aperture)

    def angle(point: tuple[float, ...]) -> float:
        return math.degrees(math.atan2(point[0] - x, y - point[1])) % 360

    if build.frame and build.frame.kind != "tube":
        members = build.frame.count if build.frame.kind == "poles" else build.frame.count // 2
        found = sorted(angle(circle) for circle in read.round("pole", front) + read.round("node", front))
        assert found == pytest.approx(sorted((60 + 360 * index / members) % 360 for index in range(members)), abs=0.5)
    if build.spider:
        vanes = sorted({round(angle(line[-1])) for line in read.part("vane", front)})
        step, first = 360 / build.spider.vanes, build.spider.turned
        assert vanes == sorted(round(first + step * index) % 360 for index in range(build.spider.vanes))


def test_rays_meet_at_their_image(drawn):
    """Both rays of the axis that are drawn go from the rim to the middle of the focal plane; those of a field's edge
    that are caught, to half the field beside it."""
    design, sheets = drawn
    seen = Telescope(sheets["optical-layout"])
    field, fold = design.results["field.judged"].number, design.results["focuser.station"].number
    rays = [path for path in seen.view.iter() if path.get("data-ray")]
    assert {path.get("data-ray") for path in rays} >= {"axis-upper", "axis-lower"}
    for path in rays:
        place, side = path.get("data-ray").split("-")
        points = [tuple(map(float, pair.split())) for pair in path.get("d").removeprefix("M").split("L")]
        _, rim, *_, last = (seen.at(point) for point in points)
        assert rim[1] == seen.near((1 if side == "upper" else -1) * design.build.primary.aperture / 2)
        if path.get("data-caught") == "yes":
            beside = {"axis": 0.0, "outer": field / 2, "inner": -field / 2}[place]
            assert last == (seen.near(fold + beside), seen.near(design.results["optics.intercept"].number))


def test_the_fold_is_to_the_scale_that_it_states(drawn):
    design, sheets = drawn
    read = sheets["optical-layout"]
    detail = read.group("view", "fold")
    scale = float(detail.get("data-scale"))
    assert scale >= read.scale
    (left, level), (right, _) = read.part("focal-plane-line", detail)[0]
    (one, other) = read.part("diagonal-face", detail)[0]
    grain = 0.002 / scale
    assert (right - left) / scale == pytest.approx(design.results["field.judged"].number, abs=grain)
    middle = (one[1] + other[1]) / 2 - design.results["diagonal.offset"].number * scale
    assert (middle - level) / scale == pytest.approx(design.results["optics.intercept"].number, abs=2 * grain)


def test_the_blank_is_as_large_as_it_is_said(drawn):
    design, sheets = drawn
    read = sheets.get("mirror-blank")
    if read is None:
        return
    glass, primary = read.part("glass")[0], design.build.primary
    wide, high = ([point[axis] for point in glass] for axis in (0, 1))
    grain = 0.002 / read.scale
    assert (max(high) - min(high)) / read.scale == pytest.approx(primary.blank_diameter, abs=grain)
    assert (max(wide) - min(wide)) / read.scale == pytest.approx(primary.edge_thickness, abs=grain)


def test_supports_pushes_and_clips_are_on_their_circles(drawn):
    design, sheets = drawn
    read = sheets.get("mirror-cell")
    if read is None:
        return
    plan, cell, grain = read.group("view", "plan"), design.build.cell, 0.01 / read.scale
    (x, y, blank), = read.round("blank", plan)
    assert blank / read.scale == pytest.approx(design.build.primary.blank_diameter / 2, abs=grain)

    def radii(places: list[tuple[float, ...]]) -> list[float]:
        return sorted(math.hypot(px - x, py - y) / read.scale for px, py, *_ in places)

    rings = design.results["cell.support_radii"].numbers if "cell.support_radii" in design.results else ()
    supports = radii(read.round("support", plan))
    assert len(supports) == (cell.points or 0 if rings else 0)
    assert all(min(abs(radius - ring) for ring in rings) < grain for radius in supports)
    if cell.push and cell.push.radius:
        assert radii(read.round("push", plan)) == pytest.approx([cell.push.radius] * cell.push.count, abs=grain)
    if cell.clips and cell.clips.radius:
        centres = [[sum(values) / len(line[:-1]) for values in zip(*line[:-1], strict=True)]
                   for line in read.part("clip", plan)]
        assert radii([tuple(each) for each in centres]) == pytest.approx([cell.clips.radius] * cell.clips.count,
                                                                        abs=2 * grain)


def test_diagonal_and_holder_stand_off_the_axis_by_the_offset(drawn):
    design, sheets = drawn
    read = sheets["diagonal-spider"]
    front, offset = read.group("view", "front"), design.results["diagonal.offset"].number
    scale = float(front.get("data-scale", read.scale))
    cross = [line for part in ("level", "upright") for line in read.part(part, front)]
    y = next(start[1] for start, end in cross if start[1] == end[1])
    (_, down, radius), = read.round("diagonal", front)
    assert (down - y) / scale == pytest.approx(offset, abs=0.002 / scale)
    assert 2 * radius / scale == pytest.approx(design.build.diagonal.minor_axis, abs=0.004 / scale)
    face = read.part("face", read.group("view", "face"))[0]
    large = float(read.group("view", "face").get("data-scale", read.scale))
    wide, high = (max(point[axis] for point in face) - min(point[axis] for point in face) for axis in (0, 1))
    assert max(wide, high) / min(wide, high) == pytest.approx(math.sqrt(2), abs=0.003)
    assert min(wide, high) / large == pytest.approx(design.build.diagonal.minor_axis, abs=0.01 / large)


@pytest.mark.parametrize("key", ["general-arrangement", "upper-end", "diagonal-spider"])
def test_hub_and_vanes_are_about_the_axis_and_the_diagonal_off_it(drawn, key):
    """From the sky, on every sheet that shows it, with the focuser's side up."""
    design, sheets = drawn
    read, spider = sheets.get(key), design.build.spider
    if read is None:
        return
    front = read.group("view", "front") if key != "upper-end" else _from_the_sky(read)
    scale, grain = float(front.get("data-scale", read.scale)), 0.004 / read.scale
    x, y = _axis(read, front, key)
    offset = design.results["diagonal.offset"].number
    (_, down, _), = read.round("holder", front) or read.round("diagonal", front) or read.round("diagonal-edge", front)
    assert (down - y) / scale == pytest.approx(offset, abs=grain)
    hubs = read.round("hub", front)
    assert bool(hubs) == bool(spider and spider.hub)
    for hub in hubs:
        assert hub == pytest.approx((x, y, spider.hub / 2 * scale), abs=0.004)
    for line in read.part("vane", front):
        # The straight line that a vane's side lies on passes the axis by half its thickness.
        (x0, y0), (x1, y1) = line[0], line[1]
        length = math.dist((x0, y0), (x1, y1))
        passing = abs((x1 - x0) * (y0 - y) - (x0 - x) * (y1 - y0)) / length
        assert passing <= max((spider.vane_thickness or 0.0) / 2 * scale, 0.13) + 0.02


def _from_the_sky(read: Any) -> Any:
    """The plan of the upper end: its groups have no name of their own, so the whole figure without the section."""
    groups = [each for each in read.root.iter() if each.get("data-part") in ("rings", "spider", "diagonal")]
    spiders = [each for each in groups if each.get("data-part") == "spider"]
    whole = ET.Element("g")
    whole.extend([*groups[-2:], *spiders[-1:]] if spiders else groups[-2:])
    return whole


def _axis(read: Any, front: Any, key: str) -> tuple[float, float]:
    """Where the optical axis meets the view from the sky."""
    if key == "general-arrangement":
        return read.round("primary-face", front)[0][:2]
    if key == "diagonal-spider":
        (_, level), _ = read.part("level", front)[0]
        return read.part("upright", front)[0][0][0], level
    lines = [line for line in read.part("axis") if len(line) == 2]
    level = next(line[0][1] for line in lines if line[0][1] == line[1][1])
    return next(line[0][0] for line in lines if line[0][0] == line[1][0]), level


@pytest.mark.parametrize("key", ["general-arrangement", "upper-end"])
def test_the_holder_reaches_the_spider_and_vanes_end_on_are_seen(drawn, key):
    design, sheets = drawn
    read, spider = sheets.get(key), design.build.spider
    if read is None or spider is None:
        return
    side = read.group("view", "side") if key == "general-arrangement" else read.root
    level = read.part("optical-axis", side)[0][0][1]
    origin = read.part("folded-axis", side)[0][0][0] - design.results["focuser.station"].number * read.scale
    near = 0.004 / read.scale

    def at(point: tuple[float, ...]) -> tuple[float, float]:
        return (point[0] - origin) / read.scale, (level - point[1]) / read.scale

    reached = max(at(point)[0] for part in ("holder", "stud") for line in read.part(part, side) for point in line)
    if spider.station is not None:
        assert reached >= spider.station - near
    if spider.hub:
        hub = [at(point)[1] for line in read.part("hub", side) for point in line]
        assert (max(hub), min(hub)) == (pytest.approx(spider.hub / 2, abs=near),
                                        pytest.approx(-spider.hub / 2, abs=near))
        assert {round(at(point)[1], 1) for line in read.part("stud", side) for point in line} == {
            round(-design.results["diagonal.offset"].number, 1)}
    if spider.vane_section == "rod":
        station, height = at(read.round("vane", side)[0])
        assert (station, height) == (pytest.approx(spider.station, abs=near), pytest.approx(0, abs=near))
        assert 2 * read.round("vane", side)[0][2] / read.scale == pytest.approx(spider.vane_thickness, abs=near)


def test_the_hole_in_the_tube_is_as_wide_on_every_sheet(drawn):
    design, sheets = drawn
    frame, focuser = design.build.frame, design.build.focuser
    if frame is None or frame.kind != "tube":
        return
    wide = focuser.hole or focuser.bore
    for key in ("general-arrangement", "upper-end"):
        read = sheets[key]
        walls = read.part("wall")
        top = min(y for wall in walls for _, y in wall)
        ends = sorted({round(x, 3) for wall in walls if min(y for _, y in wall) < top + 0.01 for x, _ in wall})
        assert (ends[2] - ends[1]) / read.scale == pytest.approx(wide, abs=0.01 / read.scale), key


@pytest.mark.parametrize("key", ["general-arrangement", "optical-layout", "upper-end"])
def test_figures_of_focuser_and_focal_plane_stand_between_their_arrowheads(drawn, key):
    """Where they have no room there they are said in words; the figure of the focuser's face is named."""
    _, sheets = drawn
    read = sheets.get(key)
    if read is None:
        return
    for name in ("optics.intercept", "focuser.mounting_radius"):
        for group in (each for each in read.root.iter() if each.get("data-dimension") == name):
            plain = "".join(text for each in group.iter() if each.tag.endswith("text") for text in each.itertext())
            line = next(each for each in group.iter() if each.get("data-line") == "dimension")
            ends = [float(pair.split()[1]) for pair in line.get("d").removeprefix("M").split("L")]
            assert abs(ends[1] - ends[0]) >= read.measure(plain, read.size), plain
            assert "face" in plain or name == "optics.intercept"


def test_a_member_is_as_thick_as_it_is_said(drawn):
    design, sheets = drawn
    read = sheets.get("frame-members")
    if read is None:
        return
    (_, _, outside), = read.round("outside")
    assert 2 * outside / read.scale == pytest.approx(design.build.frame.outer_diameter, abs=0.004 / read.scale)
    if design.build.frame.inner_diameter:
        (_, _, inside), = read.round("inside")
        assert 2 * inside / read.scale == pytest.approx(design.build.frame.inner_diameter, abs=0.004 / read.scale)


def test_heights_of_the_upper_end_are_those_of_the_results(drawn):
    design, sheets = drawn
    read = sheets.get("upper-end")
    if read is None:
        return
    (left, level), (right, _) = read.part("optical-axis")[0]
    assert level == read.part("optical-axis")[0][1][1]
    planes = [(level - line[0][1]) / read.scale for line in read.part("focal-plane-line") if left < line[0][0] < right]
    assert planes == [pytest.approx(design.results["optics.intercept"].number, abs=0.002 / read.scale)]


def test_pivot_and_ground_are_as_high_as_they_are_said(drawn):
    design, sheets = drawn
    read = sheets.get("pivot-and-balance")
    if read is None:
        return
    mount = design.build.mount
    if mount is None or mount.pivot is None:
        (_, mark, _), = read.round("balance-mark")
        face = min(y for line in read.part("primary-glass") for _, y in line)
        assert (face - mark) / read.scale == pytest.approx(design.results["balance.station"].number,
                                                           abs=0.01 / read.scale)
        return
    (_, pivot, _), = read.round("pivot")
    ground = read.part("ground-line")[0][0][1]
    assert (ground - pivot) / read.scale == pytest.approx(mount.pivot_height, abs=0.002 / read.scale)
    face = min(y for line in read.part("primary-glass") for _, y in line)
    assert (face - pivot) / read.scale == pytest.approx(mount.pivot, abs=0.01 / read.scale)


def test_things_pulled_apart_keep_their_size(drawn):
    design, sheets = drawn
    read = sheets.get("exploded-view")
    if read is None:
        return
    glass = read.part("primary-glass") or read.part("primary-face")
    wide = [x for line in glass for x, _ in line]
    size = design.build.primary.blank_diameter if read.part("primary-glass") else design.build.primary.aperture
    assert (max(wide) - min(wide)) / read.scale == pytest.approx(size, abs=0.002 / read.scale)
    ends = read.part("diagonal-face")[0]
    assert abs(ends[0][0] - ends[1][0]) / read.scale == pytest.approx(design.build.diagonal.minor_axis,
                                                                     abs=0.002 / read.scale)
