"""Is a general arrangement true? Positions are read from the SVG and compared with geometry worked from the spec."""

from __future__ import annotations

import math

import pytest

SIZES = [(76, 4), (76, 10), (150, 8), (250, 5), (400, 4), (400, 10)]
KINDS = ["tube", "poles", "truss"]
PAIRED = [(*size, kind) for size, kind in zip(SIZES, 2 * KINDS, strict=True)]
FORMS = ["wide", "upright"]
pytestmark = pytest.mark.parametrize("form", FORMS)


def _mm(text):
    return float(text.split()[0])


def _fold(spec):
    """Focal length, intercept, and the station where the axis is folded."""
    focuser = spec["focuser"]
    intercept = sum(_mm(focuser[key]) for key in ("mounting_radius", "height", "drawn_out"))
    return _mm(spec["primary"]["focal_length"]), intercept, _mm(spec["primary"]["focal_length"]) - intercept


def _conic_depth(radius, conic, height):
    return height**2 / (radius * (1 + math.sqrt(1 - (1 + conic) * (height / radius) ** 2)))


def _close(drawing, points, expected):
    assert len(points) == len(expected)
    for point, wanted in zip(points, expected, strict=True):
        assert point == pytest.approx(wanted, abs=drawing.grain)


@pytest.mark.parametrize(("aperture", "ratio", "kind"), PAIRED)
@pytest.mark.parametrize("offset", ["full", "none", "3 mm"])
def test_diagonal_stands_at_45_degrees_with_its_offset(drawing_of, telescope, form, aperture, ratio, kind, offset):
    spec = telescope(aperture, ratio, kind, offset)
    drawing = drawing_of(spec, form=form)
    (inner, outer), = drawing.part("diagonal-face")
    _, _, fold = _fold(spec)
    minor_axis = _mm(spec["diagonal"]["minor_axis"])
    # Its face lies in the plane through the fold, rising 45° towards the sky.
    assert inner[1] == pytest.approx(inner[0] - fold, abs=2 * drawing.grain)
    assert outer[1] == pytest.approx(outer[0] - fold, abs=2 * drawing.grain)
    assert math.dist(inner, outer) == pytest.approx(minor_axis * math.sqrt(2), abs=3 * drawing.grain)
    moved = -(inner[1] + outer[1]) / 2
    if offset == "full":
        # Rays from either end of the rim over either end of the face reach the same height in the focal plane.
        assert moved > 0
        heights = [_field_height(drawing, spec, end, rim) for end, rim in ((outer, 1), (inner, -1))]
        assert heights[0] == pytest.approx(-heights[1], abs=4 * drawing.grain)
    else:
        assert moved == pytest.approx({"none": 0, "3 mm": 3}[offset], abs=drawing.grain)


def _field_height(drawing, spec, end, rim):
    """Where a ray from the rim over an end of the face would meet the unfolded focal plane."""
    half = _mm(spec["primary"]["aperture"]) / 2
    focal_length = _mm(spec["primary"]["focal_length"])
    edge = (_conic_depth(2 * focal_length, -1, half), rim * half)
    return edge[1] + (end[1] - edge[1]) / (end[0] - edge[0]) * (focal_length - edge[0])


@pytest.mark.parametrize(("aperture", "ratio"), SIZES)
@pytest.mark.parametrize("conic", [-1, 0])
def test_primary_has_its_true_curve_and_thickness(drawing_of, telescope, form, aperture, ratio, conic):
    spec = telescope(aperture, ratio)
    spec["primary"]["conic"] = conic
    drawing = drawing_of(spec, form=form)
    face, = drawing.part("primary-face")
    radius = 2 * aperture * ratio
    assert {round(abs(face[end][1]), 2) for end in (0, -1)} == {aperture / 2}
    # A parabola through vertex and edge leaves a sphere by at most r⁴/32R³ in between.
    for station, height in face:
        assert station == pytest.approx(_conic_depth(radius, conic, height),
                                        abs=2 * drawing.grain + (aperture / 2) ** 4 / (32 * radius**3))
    glass, = drawing.part("primary-glass")
    half, thickness = aperture / 2 + 2, _mm(spec["primary"]["edge_thickness"])
    stations, heights = zip(*glass, strict=True)
    assert max(heights) == pytest.approx(half, abs=drawing.grain)
    assert min(heights) == pytest.approx(-half, abs=drawing.grain)
    assert max(stations) - min(stations) == pytest.approx(thickness, abs=2 * drawing.grain)
    assert max(stations) == pytest.approx(_conic_depth(radius, conic, half), abs=2 * drawing.grain + 0.003)


@pytest.mark.parametrize(("aperture", "ratio"), SIZES)
def test_focal_plane_and_focuser_stand_where_the_spec_says(drawing_of, telescope, form, aperture, ratio):
    spec = telescope(aperture, ratio)
    drawing = drawing_of(spec, form=form)
    _, intercept, fold = _fold(spec)
    line, = drawing.part("focal-plane-line")
    _close(drawing, sorted(line), [(fold - 10, intercept), (fold + 10, intercept)])
    walls = drawing.part("drawtube")
    assert sorted(wall[0][0] - fold for wall in walls) == pytest.approx([-15.875, 15.875], abs=drawing.grain)
    assert {round(h, 1) for wall in walls for _, h in wall} == {intercept, intercept - 60}
    radius = _mm(spec["focuser"]["mounting_radius"])
    faces = [height for face in drawing.part("face") for _, height in face]
    assert faces == pytest.approx([radius] * 4, abs=drawing.grain)
    stop = drawing.part("field-stop")
    assert min(abs(x - fold) for line in stop for x, _ in line) == pytest.approx(10.6, abs=drawing.grain)
    assert all(h == pytest.approx(intercept - 2, abs=drawing.grain) for line in stop for _, h in line)


@pytest.mark.parametrize(("aperture", "ratio"), SIZES)
@pytest.mark.parametrize("offset", ["full", "none"])
def test_rays_obey_reflection_and_meet_in_the_focal_plane(drawing_of, telescope, form, aperture, ratio, offset):
    spec = telescope(aperture, ratio, "poles", offset)
    spec["diagonal"]["minor_axis"] = f"{0.8 * aperture} mm"
    drawing = drawing_of(spec, form=form)
    focal_length, intercept, fold = _fold(spec)
    edge = _conic_depth(2 * focal_length, -1, aperture / 2)
    images = {"axis": 0.0} | ({"outer": 10.0, "inner": -10.0} if form == "wide" else {})
    for place, height in images.items():
        for side, rim in (("upper", 1), ("lower", -1)):
            assert drawing.caught(f"{place}-{side}")
            start, at_rim, hit, image = drawing.ray(f"{place}-{side}")
            assert at_rim == pytest.approx((edge, rim * aperture / 2), abs=drawing.grain)
            assert image == pytest.approx((fold + height, intercept), abs=drawing.grain)
            assert hit[1] == pytest.approx(hit[0] - fold, abs=2 * drawing.grain)
            # The 45° face swaps the two components of a ray's direction.
            before, after = _direction(at_rim, hit), _direction(hit, image)
            assert after == pytest.approx((before[1], before[0]), abs=4 * drawing.grain / intercept * 2)
            # Folded or not, it is as far to the focus.
            path = math.dist(at_rim, hit) + math.dist(hit, image)
            assert path == pytest.approx(math.dist(at_rim, (focal_length, height)), abs=6 * drawing.grain)
            # Light from one star comes in parallel, as steeply as the image is far off the axis.
            slope = (start[1] - at_rim[1]) / (start[0] - at_rim[0])
            assert slope == pytest.approx(-height / focal_length, abs=3 * drawing.grain / (start[0] - at_rim[0]))


def _direction(start, end):
    length = math.dist(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


@pytest.mark.parametrize(("aperture", "ratio"), SIZES)
def test_least_diagonal_with_its_best_offset_is_just_filled(drawing_of, telescope, form, aperture, ratio):
    """Its ends are found here as the points where the two rim rays cross the 45° plane, by halving."""
    spec = telescope(aperture, ratio)
    focal_length, _, fold = _fold(spec)
    edge = (_conic_depth(2 * focal_length, -1, aperture / 2), aperture / 2)
    upper, lower = (_crossing(edge[0], rim * edge[1], focal_length, fold) for rim in (1, -1))
    spec["diagonal"] |= {"minor_axis": f"{upper - lower:.9f} mm", "offset": f"{-(upper + lower) / 2:.9f} mm"}
    drawing = drawing_of(spec, form=form)
    (inner, outer), = drawing.part("diagonal-face")
    assert drawing.caught("axis-upper")
    assert drawing.caught("axis-lower")
    assert drawing.ray("axis-upper")[2] == pytest.approx(outer, abs=2 * drawing.grain)
    assert drawing.ray("axis-lower")[2] == pytest.approx(inner, abs=2 * drawing.grain)
    spec["diagonal"]["minor_axis"] = f"{(upper - lower) * 0.999:.9f} mm"
    smaller = drawing_of(spec, form=form)
    assert not smaller.caught("axis-upper")
    assert not smaller.caught("axis-lower")
    assert len(smaller.ray("axis-upper")) == 3


def _crossing(edge_station, edge_height, focal_length, fold):
    """Height at which the ray from the rim to the focus crosses the 45° plane through the fold."""
    low, high = edge_station, focal_length
    for _ in range(100):
        middle = (low + high) / 2
        height = edge_height * (focal_length - middle) / (focal_length - edge_station)
        low, high = (middle, high) if middle - fold < height else (low, middle)
    return low - fold


@pytest.mark.parametrize(("count", "heights"), [(3, [0.5, -1]), (4, [0.70710678, -0.70710678]), (1, [-1]),
                                                (6, [0.8660254, 0, -0.8660254])])
def test_parallel_poles_stand_at_their_angles(drawing_of, telescope, form, count, heights):
    """The focuser stands midway between two poles; heights are cosines of 60°, 45°, 30° and 90° by hand."""
    spec = telescope(200, 6, "poles")
    spec["frame"] |= {"count": count, "circle_radius": "130 mm"}
    drawing = drawing_of(spec, form=form)
    lower, length = _mm(spec["frame"]["lower_fixing"]), _mm(spec["frame"]["length"])
    axes = sorted(drawing.part("member-axis"), key=lambda line: -line[0][1])
    assert len(axes) == len(heights)
    for (low, high), share in zip(axes, heights, strict=True):
        assert low == pytest.approx((lower, 130 * share), abs=drawing.grain)
        assert high == pytest.approx((lower + length, 130 * share), abs=drawing.grain)
    for outline in drawing.part("member"):
        across = [height for _, height in outline]
        assert max(across) - min(across) == pytest.approx(20, abs=2 * drawing.grain)


@pytest.mark.parametrize("count", [6, 8, 12])
def test_truss_members_have_their_true_length_in_space(drawing_of, telescope, form, count):
    spec = telescope(250, 5, "truss")
    spec["frame"]["count"] = count
    drawing = drawing_of(spec, form=form)
    lower, upper = (_mm(spec["frame"][key]) for key in ("circle_radius", "upper_circle_radius"))
    members = drawing.part("member-axis")
    assert len(members) == count / 2
    for low, high in members:
        # All that is drawn lies behind the plane of the fold or in it.
        depths = [math.sqrt(max(0.0, r * r - h * h)) for r, h in ((lower, low[1]), (upper, high[1]))]
        length = math.dist((*low, depths[0]), (*high, depths[1]))
        assert length == pytest.approx(_mm(spec["frame"]["length"]), abs=0.5 + 2 * drawing.grain)
    nodes = {round(high[1], 1) for _, high in members}
    assert max(nodes) == pytest.approx(upper * math.cos(2 * math.pi / count), abs=0.1)


@pytest.mark.parametrize(("turned", "shares"), [
    # Upper node and lower node of each member behind the fold or in it, as cosines by hand; half a pitch is 45°.
    ("0 deg", [(1, 0.70710678), (0, 0.70710678), (0, -0.70710678), (-1, -0.70710678)]),
    ("45 deg", [(0.70710678, 1), (0.70710678, 0), (-0.70710678, 0), (-0.70710678, -1)]),
    ("15 deg", [(0.96592583, 0.5), (-0.25881905, 0.5), (-0.25881905, -0.8660254), (-0.96592583, -0.8660254)])])
def test_truss_and_vanes_stand_where_the_spec_turns_them(drawing_of, telescope, form, turned, shares):
    spec = telescope(250, 5, "truss")
    spec["frame"] |= {"count": 8, "turned": turned}
    spec["spider"] |= {"vanes": 4, "turned": "0 deg", "hub": "30 mm", "station": "1140 mm"}
    drawing = drawing_of(spec, form=form)
    lower, upper = (_mm(spec["frame"][key]) for key in ("circle_radius", "upper_circle_radius"))
    found = sorted((high[1], low[1]) for low, high in drawing.part("member-axis"))
    wanted = sorted((upper * above, lower * below) for above, below in shares)
    assert [each for pair in found for each in pair] == pytest.approx(
        [each for pair in wanted for each in pair], abs=drawing.grain)
    vanes = drawing.part("vane")
    assert all(station == pytest.approx(1140, abs=drawing.grain) for vane in vanes for station, _ in vane)
    # Two in the plane of the fold, from the hub, which is on the axis, to the opening; one straight away from the eye.
    opening = _mm(spec["front"]["opening"]) / 2
    assert sorted(height for vane in vanes for _, height in vane) == pytest.approx(
        [-opening, -15, 15, opening], abs=2 * drawing.grain)
    (one, other), = drawing.part("hub")
    assert sorted((one, other)) == [pytest.approx((1140, height), abs=2 * drawing.grain) for height in (-15, 15)]
    assert _middle([point for line in drawing.part("vane-mark") for point in line]) == pytest.approx(
        (1140, 0), abs=2 * drawing.grain)


def _middle(points):
    """Of the smallest upright box about some points."""
    return tuple((min(values) + max(values)) / 2 for values in zip(*points, strict=True))


@pytest.mark.parametrize(("vanes", "high", "deep"), [
    ({"vane_thickness": "20 mm", "vane_depth": "40 mm"}, 20, 40),
    ({"vane_thickness": "4 mm", "vane_depth": "30 mm"}, 4, 30),
    ({"vane_thickness": "20 mm", "vane_section": "rod"}, 20, 20), ({"vane_thickness": "20 mm"}, 20, 20)])
def test_a_vane_straight_away_from_the_eye_shows_its_section(drawing_of, telescope, form, vanes, high, deep):
    """A strip its thickness and depth, a rod its circle; where the depth is not said a square, and a cross in it."""
    spec = telescope(250, 5, "tube")
    spec["spider"] = {"vanes": 2, "turned": "90 deg", "station": "1140 mm"} | vanes
    drawing = drawing_of(spec, form=form)
    if vanes.get("vane_section") == "rod":
        circle, = (each for each in drawing.root.iter("{http://www.w3.org/2000/svg}circle")
                   if each.get("data-part") == "vane")
        x, y, radius = (float(circle.attrib[name]) / drawing.scale for name in ("cx", "cy", "r"))
        assert ((x, -y) if form == "wide" else (-y, -x)) == pytest.approx((1140, 0), abs=drawing.grain)
        assert 2 * radius == pytest.approx(high, abs=2 * drawing.grain)
        return
    outline, = drawing.part("vane")
    stations, heights = zip(*outline, strict=True)
    assert _middle(outline) == pytest.approx((1140, 0), abs=drawing.grain)
    assert (max(heights) - min(heights), max(stations) - min(stations)) == pytest.approx(
        (high, deep), abs=2 * drawing.grain)
    assert bool(drawing.part("vane-mark")) == ("vane_depth" not in vanes)


@pytest.mark.parametrize("changes", [
    {"spider": {"station": "700 mm"}}, {"spider": {"station": "700 mm", "hub": "30 mm"}}, {"spider": {}},
    {"spider": {"station": "700 mm"}, "diagonal": {"holder_length": "90 mm"}},
    {"spider": {"station": "700 mm"}, "diagonal": {"holder_diameter": None}}])
def test_the_holder_reaches_the_spider(drawing_of, telescope, form, changes):
    """Itself or by its stud, both off the axis by the offset. What is assumed has chain lines with two dots."""
    spec = telescope(150, 5, "tube", "3 mm")
    spec["spider"] |= {"vanes": 4, "turned": "45 deg"} | changes["spider"]
    known = spec["diagonal"] | {"holder_diameter": "30 mm"} | changes.get("diagonal", {})
    spec["diagonal"] = {key: value for key, value in known.items() if value is not None}
    drawing = drawing_of(spec, form=form)
    reached = [point for part in ("holder", "stud") for line in drawing.part(part) for point in line]
    station, = {round(station, 1) for vane in drawing.part("vane") for station, _ in vane}
    assert max(along for along, _ in reached) >= station - 2 * drawing.grain - 0.05
    if "station" in changes["spider"]:
        assert station == 700
    for name in ("holder", "stud"):
        for line in drawing.part(name):
            assert _middle(line)[1] == pytest.approx(-3, abs=drawing.grain)
    if "holder_length" in spec["diagonal"]:
        tip, end = (pick(along for along, _ in drawing.part("holder")[0]) for pick in (min, max))
        assert end - tip == pytest.approx(90, abs=2 * drawing.grain)
    assert ("station" not in changes["spider"]) == _two_dots(drawing, "vane")
    if "holder_diameter" in spec["diagonal"]:
        assert ("holder_length" not in spec["diagonal"]) == _two_dots(drawing, "holder")


def _two_dots(drawing, part):
    """Whether every line of a part is a chain line with two dots: six steps of dash and gap."""
    dashes = [path.get("stroke-dasharray", "") for path in drawing.root.iter("{http://www.w3.org/2000/svg}path")
              if path.get("data-part") == part]
    assert dashes
    return all(len(each.split()) == 6 for each in dashes)


@pytest.mark.parametrize(("hole", "wide"), [("44 mm", 44), (None, 31.75)])
def test_the_hole_in_the_tube_is_the_focusers_own(drawing_of, telescope, form, hole, wide):
    spec = telescope(114, 7.9, "tube")
    if hole:
        spec["focuser"]["hole"] = hole
    drawing = drawing_of(spec, form=form)
    _, _, fold = _fold(spec)
    upper = sorted({round(station, 4) for wall in drawing.part("wall") if wall[0][1] > 0 for station, _ in wall})
    assert upper[1:3] == pytest.approx([fold - wide / 2, fold + wide / 2], abs=drawing.grain)


def test_hatching_of_the_diagonal_crosses_its_face(drawing_of, telescope, form):
    spec = telescope(400, 4)
    spec["diagonal"]["thickness"] = "40 mm"
    drawing = drawing_of(spec, form=form)
    face = _direction(*drawing.part("diagonal-face")[0])
    lines = drawing.part("diagonal-hatching")
    assert lines
    for line in lines:
        way = _direction(*line)
        assert abs(face[0] * way[0] + face[1] * way[1]) < 0.02


@pytest.mark.parametrize("fixed", [None, "-70 mm"])
def test_tube_walls_and_front(drawing_of, telescope, form, fixed):
    spec = telescope(150, 5, "tube")
    if fixed:
        spec["frame"] |= {"lower_fixing": fixed, "length": "700 mm"}
    drawing = drawing_of(spec, form=form)
    walls = drawing.part("wall")
    front, length = _mm(spec["front"]["station"]), _mm(spec["frame"]["length"])
    ends = (-70, 630) if fixed else (front - length, front)
    heights = [abs(height) for wall in walls for _, height in wall]
    stations = [station for wall in walls for station, _ in wall]
    assert (min(heights), max(heights)) == pytest.approx((89, 92), abs=drawing.grain)
    assert (min(stations), max(stations)) == pytest.approx(ends, abs=drawing.grain)
    _, _, fold = _fold(spec)
    upper = [wall for wall in walls if wall[0][1] > 0]
    assert len(upper) == 2
    gap = sorted(station for wall in upper for station, _ in wall[:-1])[3:5]
    assert gap == pytest.approx([fold - 15.875, fold + 15.875], abs=drawing.grain)
    edges = drawing.part("front-edge")
    assert sorted(min(map(abs, (h for _, h in edge))) for edge in edges) == pytest.approx([88, 88], abs=drawing.grain)
    assert all(x == pytest.approx(front, abs=drawing.grain) for edge in edges for x, _ in edge)
    assert max(abs(h) for edge in edges for _, h in edge) == pytest.approx(92, abs=drawing.grain), "no flange is drawn"


def test_cell_shows_pushes_and_clips(drawing_of, telescope, form):
    drawing = drawing_of(telescope(150, 8), form=form)
    glass, = drawing.part("primary-glass")
    back = min(station for station, _ in glass)
    # Three pushes on radius 60, one on the focuser's side, two coinciding at 60·cos 120°.
    springs = drawing.part("spring")
    assert {round(spring[0][1]) for spring in springs} == {60, -30}
    for spring in springs:
        assert spring[0][0] - spring[-1][0] == pytest.approx(14, abs=2 * drawing.grain)
        assert spring[0][0] == pytest.approx(back, abs=drawing.grain)
    assert {round(clip[0][1]) for clip in drawing.part("clip")} == {38, -76}


def test_balance_point(drawing_of, telescope, form):
    drawing = drawing_of(telescope(150, 8), form=form)
    mark, = (c for c in drawing.root.iter("{http://www.w3.org/2000/svg}circle") if c.get("data-part") == "balance-mark")
    place = float(mark.attrib["cx" if form == "wide" else "cy"]) / drawing.scale
    assert abs(place) == pytest.approx(0.37 * 1200, abs=drawing.grain)


def test_what_is_not_given_is_not_drawn(drawing_of, telescope, form):
    bare = telescope(150, 8, spider=None, field=None, eyepieces=None, front=None, cell=None, parts=None)
    bare["primary"] = {"aperture": "150 mm", "focal_length": "1200 mm"}
    bare["diagonal"] = {"minor_axis": "35 mm"}
    bare["focuser"] = {"mounting_radius": "100 mm", "height": "50 mm"}
    drawing = drawing_of(bare, form=form)
    for part in ("primary-glass", "diagonal-glass", "holder", "vane", "wall", "member", "front-edge", "drawtube",
                 "eyepiece-body", "spring", "push", "clip", "lower-end", "upper-end"):
        assert drawing.part(part) == []
    said = " ".join(text.plain for text in drawing.texts)
    for word in ("front", "balance", "fixing", "pole", "tube", "Plössl"):
        assert word not in said
    assert drawing.part("primary-face")
    assert drawing.part("diagonal-face")
