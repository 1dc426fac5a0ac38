"""Frame member, upper end, stand and exploded view, measured in their SVG: everything is where the results say."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from dossier.design import work_out
from dossier.drawings.figures import exploded, members, rocker, upper_end
from dossier.drawings.palette import PAPER
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Scene
from dossier.drawings.svg import render
from dossier.spec.load import load_build
from tests.conftest import TEASEL

SVG = "{http://www.w3.org/2000/svg}"
GRAIN = 0.002  # coordinates are written to a thousandth


class Read:
    """A figure drawn at a scale and read back, lengths in the telescope's millimetres."""

    def __init__(self, make, design, scale, medium=ON_PAPER):
        self.scale = scale
        self.figure = make(design, medium, scale, 180.0 if medium is ON_PAPER else 328.0)
        scene = Scene("figure", "", self.figure.description, medium, self.figure.box, self.figure.shapes)
        self.root = ET.fromstring(render(scene, PAPER))

    def group(self, part):
        return next(each for each in self.root.iter(f"{SVG}g") if each.get("data-part") == part)

    def circles(self, part, root=None):
        """Centre and radius in mm."""
        return [tuple(float(each.attrib[name]) / self.scale for name in ("cx", "cy", "r"))
                for each in (self.root if root is None else root).iter(f"{SVG}circle") if each.get("data-part") == part]

    def lines(self, part, root=None):
        """Points in mm of every line of a part."""
        return [[tuple(float(x) / self.scale for x in pair.split()) for pair in piece.rstrip("Z").split("L")]
                for each in (self.root if root is None else root).iter(f"{SVG}path") if each.get("data-part") == part
                for piece in each.attrib["d"].split("M")[1:]]

    def near(self, value):
        return pytest.approx(value, abs=GRAIN / self.scale)


KINDS = [(76, 10, "poles"), (150, 8, "poles"), (200, 6, "tube"), (250, 5, "truss"), (400, 4, "tube"),
         (400, 10, "truss")]


@pytest.mark.parametrize("scale", [0.05, 0.2, 1.0])
@pytest.mark.parametrize("spec", KINDS, ids=str)
def test_holes_are_as_far_from_the_end_as_the_results_say(drilled, spec, scale):
    """Also where the member is broken: each piece tells where its lower end would be."""
    design = drilled(*spec)
    read, frame, number = Read(members.make, design, scale), design.build.frame, _numbers(design)
    wanted = ([20.0, number["frame.focuser_hole"], number["frame.spider_holes"]] if frame.kind == "tube"
              else [12.0, frame.length - 14])
    pieces = [{key: float(each.get(f"data-{key}")) for key in ("from", "to", "origin")}
              for each in read.root.iter(f"{SVG}g") if each.get("data-part") == "member"]
    found = []
    for (x, _), _ in read.lines("hole-station"):
        inside = [x - piece["origin"] / scale for piece in pieces
                  if piece["from"] - 0.1 <= x - piece["origin"] / scale <= piece["to"] + 0.1]
        assert len(inside) == 1
        found += inside
    assert found == [read.near(place) for place in sorted(wanted)]
    assert pieces[0]["from"] == 0
    assert pieces[-1]["to"] == pytest.approx(frame.length, abs=1e-3)
    assert (len(pieces) == 2) == ("Drawn broken" in read.figure.description)
    (_, _, outside), = read.circles("outside")
    (_, _, inside_radius), = read.circles("inside")
    assert (2 * outside, 2 * inside_radius) == (read.near(frame.outer_diameter), read.near(frame.inner_diameter))


def test_a_hole_is_as_wide_and_turned_as_it_is_said(drilled):
    design = drilled(200, 6, "tube")
    read, tube = Read(members.make, design, 0.5), design.build.frame.outer_diameter
    focuser = max(read.circles("hole"), key=lambda circle: circle[2])
    assert focuser[1:] == (read.near(0.0), read.near(21.0))
    # Vanes at 45°, 135°, 225°, 315° clockwise from the focuser, seen from the sky: two on the near side, one up, one
    # down, by half the tube's diameter times the sine.
    high = tube / 2 * math.sin(math.radians(45))
    ovals = [(sum(y for _, y in line) / len(line), max(x for x, _ in line) - min(x for x, _ in line))
             for line in read.lines("hole") if len(line) > 10]
    assert sorted(y for y, _ in ovals) == [read.near(y) for y in (-high, -high, high, high)]
    assert [wide for _, wide in ovals] == [pytest.approx(5.0, abs=0.02)] * 4
    angles = [float(each.get("data-angle")) for each in read.root.iter(f"{SVG}path")
              if each.get("data-part") == "direction"]
    assert angles == [0, 45, 90, 135, 225, 315]


def test_the_length_to_saw_is_that_of_the_parts_list(telescope, worked):
    """Pieces longer than between the fixings are drawn as they are cut; their part is named, though nobody says it."""
    spec = telescope(150, 8, "poles")
    length = float(spec["frame"]["length"].split()[0])
    cut = {"from": "tube", "stock_length": "2000 mm", "pieces": [{"length": f"{length} mm", "quantity": 3}]}
    part = {"ref": "F1", "name": "Rods", "get": "make", "quantity": 3, "cut": cut}
    spec["parts"] += [part]
    found = members.member_of(worked(spec))
    assert (found.length, found.cut) == (length, True)
    assert [balloon.ref for balloon in members.make(worked(spec), ON_PAPER, 1.0, 180.0).balloons] == ["F1"]
    cut["pieces"][0]["length"] = f"{length + 40} mm"
    assert members.member_of(worked(spec)).cut is False  # nothing proves that these are the poles
    part["drawn_as"] = "frame"
    assert members.member_of(worked(spec)).length == pytest.approx(length + 40)


@pytest.mark.parametrize(("kind", "fittings"), [("truss", 22.0), ("poles", 22.0), ("poles", -30.0)])
def test_fittings_make_the_tube_shorter_or_longer_than_from_fixing_to_fixing(drilled, kind, fittings):
    """Holes are counted from the tube's own ends, and the metal's mass is that of the tube alone."""
    plain = drilled(150, 6, kind)
    design = drilled(150, 6, kind, frame={"end_fittings": f"{fittings} mm"})
    length = design.build.frame.length
    tube = length - 2 * fittings
    assert _numbers(design)["frame.sawn_length"] == pytest.approx(tube)
    assert _numbers(design)["frame.member_mass"] == pytest.approx(_numbers(plain)["frame.member_mass"] * tube / length)
    assert _numbers(design)["frame.upper_fixing"] == _numbers(plain)["frame.upper_fixing"]
    read = Read(members.make, design, 1.0)
    pieces = [each for each in read.root.iter(f"{SVG}g") if each.get("data-part") == "member"]
    assert float(pieces[-1].get("data-to")) == pytest.approx(tube, abs=1e-3)
    places = [x - float(piece.get("data-origin")) for ((x, _), _), piece in
              zip(read.lines("hole-station"), (pieces[0], pieces[-1]), strict=True)]
    assert places == [read.near(12.0), read.near(tube - 14.0)]
    assert any("With its ends’ fittings" in note for note in map(_said, read.figure.notes))


def test_a_parts_list_that_saws_another_length_is_contradicted(telescope, worked):
    spec = telescope(150, 8, "poles")
    spec["frame"]["end_fittings"] = "20 mm"
    tube = float(spec["frame"]["length"].split()[0]) - 40
    cut = {"from": "tube", "stock_length": "2000 mm", "pieces": [{"length": f"{tube} mm", "quantity": 3}]}
    spec["parts"] += [{"ref": "F1", "name": "Rods", "get": "make", "quantity": 3, "drawn_as": "frame", "cut": cut}]
    notes = [_said(note) for note in members.make(worked(spec), ON_PAPER, 1.0, 180.0).notes]
    assert not any("is wrong" in note for note in notes)
    cut["pieces"][0]["length"] = f"{tube + 1} mm"
    notes = [_said(note) for note in members.make(worked(spec), ON_PAPER, 1.0, 180.0).notes]
    assert any("one of the two is wrong" in note for note in notes)


def _said(note):
    return "".join(words.text for words in note)


def _numbers(design):
    return {name: result.number for name, result in design.results.items() if not isinstance(result.value, tuple)}


@pytest.mark.parametrize("medium", [ON_PAPER, ON_PHONE], ids=["paper", "phone"])
@pytest.mark.parametrize("spec", KINDS, ids=str)
def test_the_upper_end_is_where_the_results_say(drilled, spec, medium):
    design = drilled(*spec)
    read, number, build = Read(upper_end.make, design, 0.2, medium), _numbers(design), design.build
    lying = medium is ON_PAPER

    def telescope(point):
        """(station, height) of a point of the section, whose origin is the primary's vertex."""
        return point if lying else (-point[1], -point[0])

    def height(point):
        return -point[1] if lying else telescope(point)[1]

    planes = [(telescope(line[0])[0], height(line[0])) for line in read.lines("focal-plane-line", read.group("axes"))]
    assert [high for _, high in planes] == [read.near(number["optics.intercept"])]
    faces = [height(line[0]) for line in read.lines("face", read.group("focuser"))]
    assert faces == [read.near(build.focuser.mounting_radius)] * len(faces)
    edge = read.lines("diagonal-face")[0]
    middle = [sum(values) / 2 for values in zip(*((telescope(p)[0], height(p)) for p in edge), strict=True)]
    assert middle == [read.near(number["diagonal.station"]), read.near(-number["diagonal.offset"])]
    if build.frame.kind != "tube":
        tops = [max(telescope(point)[0] for point in line) for line in read.lines("member-axis")]
        assert tops == [read.near(number["frame.upper_fixing"])] * len(tops)


@pytest.mark.parametrize("medium", [ON_PAPER, ON_PHONE], ids=["paper", "phone"])
@pytest.mark.parametrize("spec", KINDS, ids=str)
def test_from_the_sky_poles_and_vanes_stand_at_their_angles(drilled, spec, medium):
    design = drilled(*spec)
    read, frame = Read(upper_end.make, design, 0.2, medium), design.build.frame
    rings = read.circles("front-opening")
    (x, y, radius), = rings
    assert 2 * radius == read.near(design.build.front.opening)

    def angle(point):
        """Clockwise from the focuser, which is up where it lies and to the left where it stands."""
        across, down = point[0] - x, point[1] - y
        turned = math.atan2(across, -down) if medium is ON_PAPER else math.atan2(-down, -across)
        return round(math.degrees(turned), 1) % 360

    vanes = [angle(line[-1]) for line in read.lines("vane", _plan(read))]
    assert sorted(set(vanes)) == [pytest.approx(place, abs=0.5) for place in (45, 135, 225, 315)]
    if frame.kind == "tube":
        return
    part, count = ("pole", frame.count) if frame.kind == "poles" else ("node", frame.count // 2)
    poles = read.circles(part)
    assert sorted(angle(pole) for pole in poles) == [
        pytest.approx((60 + 360 * index / count) % 360, abs=0.5)
        for index in sorted(range(count), key=lambda index: (60 + 360 * index / count) % 360)]
    for px, py, half in poles:
        assert math.hypot(px - x, py - y) == read.near(frame.upper_circle_radius or frame.circle_radius)
        assert 2 * half == read.near(frame.outer_diameter)


def _plan(read):
    """The group of the view from the sky: the spider's second one."""
    return [each for each in read.root.iter(f"{SVG}g") if each.get("data-part") == "spider"][-1]


@pytest.mark.parametrize("feet", [3, 4, 5])
@pytest.mark.parametrize("spec", [(114, 7.9, "tube"), (150, 8, "poles"), (250, 5, "truss")], ids=str)
def test_the_stand_is_as_high_and_wide_as_the_results_say(drilled, spec, feet):
    design = drilled(*spec, "rocker", mount={"feet": feet})
    read, number, mount = Read(rocker.make, design, 0.05), _numbers(design), design.build.mount
    (_, ground), _ = read.lines("ground-line")[0]
    assert ground == read.near(mount.pivot_height)
    (_, floor), _ = read.lines("floor")[0]
    assert ground - floor == read.near(mount.floor)
    face = min(y for line in read.lines("primary-glass") for _, y in line)
    assert face == read.near(mount.pivot)
    (_, mark, _), = read.circles("balance-mark")
    assert -mark == read.near(number["balance.pivot_arm"])
    swing, = read.lines("swing-arc")
    assert max(y for _, y in swing) == pytest.approx(number["mount.swing_radius"], abs=0.6)
    assert floor - number["mount.swing_radius"] == pytest.approx(number["mount.swing_clearance"], abs=0.1)
    corners = read.lines("tail")[0]
    assert [math.hypot(*corner) for corner in corners] == [read.near(number["mount.swing_radius"])] * 2
    (_, _, bearing), = read.circles("bearing-disc")
    assert bearing == read.near(110.0)
    for start, end in read.lines("pad-axis"):
        assert start == (0, 0)
        assert abs(math.degrees(math.atan2(end[0], end[1]))) == pytest.approx(35, abs=0.1)
    _stands_on_feet(read, number, mount)


def _stands_on_feet(read, number, mount):
    (x, y, radius), = read.circles("feet-circle")
    assert radius == read.near(mount.feet_radius)
    places = read.circles("foot")
    assert len(places) == mount.feet
    assert [math.hypot(px - x, py - y) for px, py, _ in places] == [read.near(mount.feet_radius)] * mount.feet
    line, = read.lines("tipping-lines")
    reaches = []
    for (x0, y0), (x1, y1) in zip(line, [*line[1:], line[0]], strict=True):
        length = math.dist((x0, y0), (x1, y1))
        reaches.append(abs((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)) / length)
    assert reaches == [pytest.approx(number["mount.feet_reach"], abs=0.2)] * mount.feet
    (_, _, out), = read.circles("centre-of-mass")
    assert out == read.near(number["mount.centre_stands_out"])


def test_a_long_tube_is_broken_above_its_pivot_and_true_below(drilled):
    design = drilled(400, 10, "tube", "rocker")
    read, mount = Read(rocker.make, design, 0.1), design.build.mount
    assert "Drawn broken" in read.figure.description
    breaks = [y for line in read.lines("break") for _, y in line]
    assert max(breaks) < -mount.bearing.radius
    assert min(y for line in read.lines("primary-glass") for _, y in line) == read.near(mount.pivot)
    assert (read.figure.box.bottom - read.figure.box.top) < 0.1 * design.results["mount.push_height"].number


@pytest.mark.parametrize(("kind", "words"), [("rocker", "Rocker"), ("altaz", "Altazimuth"),
                                             ("equatorial", "Equatorial"), (None, "Telescope")])
def test_each_kind_of_mount_shows_what_is_known_of_it(drilled, kind, words):
    design = drilled(150, 8, "tube", kind)
    read = Read(rocker.make, design, 0.1)
    assert read.figure.description.startswith(words)
    assert bool(read.lines("pad")) == (kind == "rocker")
    assert bool(read.circles("feet-circle")) == (kind in ("rocker", "altaz"))
    assert bool(read.circles("pivot")) == (kind in ("rocker", "altaz"))
    assert len(read.circles("balance-mark")) == 1
    if kind == "altaz":
        (x, y, _), = read.circles("feet-circle")
        tube = next(circle for circle in read.circles("envelope"))
        assert math.dist((x, y), tube[:2]) == read.near(180.0)


def test_a_tail_that_strikes_the_floor_is_told(drilled):
    figure = rocker.make(drilled(150, 8, "poles", "rocker", mount={"tail": "-400 mm"}), ON_PAPER, 0.1, 180.0)
    assert "The tail strikes the floor" in figure.description


@pytest.mark.parametrize("spec", KINDS, ids=str)
def test_exploded_parts_are_to_scale_and_in_their_order(drilled, spec):
    design = drilled(*spec)
    read, build = Read(exploded.make, design, 0.1), design.build
    glass, = read.lines("primary-glass")
    assert max(x for x, _ in glass) - min(x for x, _ in glass) == read.near(build.primary.blank_diameter)
    rim = [y for x, y in glass if abs(x) > 0.499 * build.primary.blank_diameter]
    assert max(rim) - min(rim) == read.near(build.primary.edge_thickness)
    springs = [max(y for _, y in line) - min(y for _, y in line) for line in read.lines("spring")]
    assert springs == [read.near(build.cell.push.spring.free_length)] * len(springs)
    (x0, y0), (x1, y1) = read.lines("diagonal-face")[0]
    assert (abs(x1 - x0), abs(y1 - y0)) == (read.near(build.diagonal.minor_axis),) * 2
    if build.frame.kind == "tube":
        walls = [x for line in read.lines("member") for x, _ in line]
        assert max(walls) - min(walls) == read.near(build.frame.outer_diameter)
    order = ["front", "spider", "diagonal", "frame", "clips", "primary", "springs"]
    tops = {part: min(y for _, y in _points(read, part)) for part in order if _has(read, part)}
    assert list(tops) == sorted(tops, key=tops.get)
    assert {"frame", "primary", "springs", "diagonal"} <= set(tops)


def _has(read, part):
    return any(each.get("data-part") == part for each in read.root.iter(f"{SVG}g"))


def _points(read, part):
    return [tuple(map(float, pair.split())) for path in read.group(part).iter(f"{SVG}path")
            for piece in path.attrib["d"].split("M")[1:] for pair in piece.rstrip("Z").split("L")]


def test_the_demo_names_its_parts_and_the_steps_that_fit_them():
    design = work_out(load_build(TEASEL))
    refs = {part.ref: part for part in design.build.parts}
    for make in (members.make, upper_end.make, rocker.make, exploded.make):
        figure = make(design, ON_PAPER, 0.1, 180.0)
        assert figure.balloons
        for balloon in figure.balloons:
            assert refs[balloon.ref].drawn_as
            assert figure.box.left <= balloon.at[0] <= figure.box.right
            assert figure.box.top <= balloon.at[1] <= figure.box.bottom
    fitted = {step.number: set(step.parts) - set(step.makes) for step in design.steps}
    order = re.search(r"Order: ([^.]*)\.", exploded.make(design, ON_PAPER, 0.1, 180.0).description)[1]
    for number, named in re.findall(r"step (\d+): ([^;]*)", order):
        assert set(named.split(", ")) <= fitted[int(number)]


@pytest.mark.parametrize("spec", KINDS, ids=str)
def test_leaders_of_the_exploded_view_end_on_what_they_name(drilled, spec):
    """The frame's ends on an outline of one of its members: nothing is named in empty space."""
    read = Read(exploded.make, drilled(*spec), 0.1)
    leader = next(group for group in read.root.iter(f"{SVG}g") if group.get("data-callout") == "frame")
    tip = tuple(float(x) / read.scale for x in next(path for path in leader.iter(f"{SVG}path")
                                                    if path.get("data-line") == "leader")
                .attrib["d"].removeprefix("M").split("L")[0].split())
    strokes = [(line[index - 1], line[index]) for line in read.lines("member") for index in range(len(line))]
    assert min(_distance(tip, *stroke) for stroke in strokes) < 0.1


def _distance(point, start, end):
    (px, py), (x0, y0), (x1, y1) = point, start, end
    length = math.dist(start, end)
    share = min(1.0, max(0.0, ((px - x0) * (x1 - x0) + (py - y0) * (y1 - y0)) / length**2)) if length else 0.0
    return math.dist(point, (x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
