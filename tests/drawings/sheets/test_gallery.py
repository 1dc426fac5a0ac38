"""A gallery of telescopes: every sheet of each, nothing over anything, its geometry measured against the results.

Positions are read from the SVG in mm of the paper and divided by the scale that the sheet states.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from typing import Any

import pytest

from dossier.design import work_out
from dossier.spec.load import load_build

# Aperture in mm, focal ratio, frame, offset of the diagonal, mount, units, paper, and what else is changed or left out.
GALLERY: dict[str, tuple[float, float, str | None, str, str | None, str, str, dict[str, Any]]] = {
    "small and fast tube": (76, 4, "tube", "full", "rocker", "inch", "Letter", {}),
    "small and slow poles": (76, 10, "poles", "none", "altaz", "metric", "A4", {}),
    "usual tube": (114, 7.9, "tube", "full", None, "metric", "A4", {"about": {"authors": ["A club"]}}),
    "usual poles": (150, 8, "poles", "full", "rocker", "metric", "Letter", {"diagonal": {"holder_diameter": "40 mm"}}),
    "six supports": (200, 6, "tube", "none", "rocker", "metric", "A4", {"cell": {"points": 6, "rings": "best"}}),
    "truss": (250, 5, "truss", "full", "rocker", "inch", "A4", {"cell": {"points": 9, "rings": "best"}}),
    "large and fast": (400, 4, "truss", "full", "altaz", "metric", "A4", {"cell": {"points": 18, "rings": "best"}}),
    "large and slow": (400, 10, "tube", "4 mm", "equatorial", "metric", "Letter", {}),
    "without cell, spider, front": (150, 6, "poles", "full", None, "metric", "A4",
                                    {"cell": None, "spider": None, "front": None}),
    "without frame and parts": (200, 5, None, "none", None, "inch", "Letter", {"frame": None, "parts": None}),
    "only what must be said": (114, 5, None, "full", None, "metric", "A4", dict.fromkeys(
        ("cell", "spider", "front", "frame", "parts", "eyepieces", "field"))),
}
# What of each telescope is a part, for its balloons.
DRAWN = {"primary": "Mirror", "diagonal": "Diagonal", "focuser": "Focuser", "eyepiece": "Eyepiece", "vane": "Vanes",
         "holder": "Holder", "frame": "Frame, with a name that is longer than one line of the table has room for",
         "front": "Front ring", "clip": "Clips", "push": "Bolts", "spring": "Springs", "bearing": "Discs",
         "foot": "Feet"}


def _mount(kind: str | None, aperture: float, focal: float) -> dict[str, Any] | None:
    pivot = {"kind": kind, "pivot": f"{0.36 * focal} mm", "pivot_height": f"{0.36 * focal + aperture + 150} mm"}
    rocking = {"floor": "50 mm", "feet": 3, "feet_radius": "250 mm", "tail": f"{-0.4 * aperture} mm",
               "tail_radius": f"{0.8 * aperture} mm", "bearing": {"radius": "110 mm", "friction": 0.1,
                                                                 "pad_angle": "35 deg"}}
    return {"rocker": pivot | rocking, "altaz": pivot | {"feet": 4, "feet_radius": "300 mm", "offset": "180 mm"},
            "equatorial": {"kind": kind, "capacity": "20 kg"}, None: None}[kind]


@pytest.fixture(scope="module", params=GALLERY)
def drawn(request: pytest.FixtureRequest, telescope: Callable[..., dict[str, Any]], reader: Any,
          tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, dict[str, Any]]:
    """A design of the gallery and its sheets, read back."""
    aperture, ratio, kind, offset, stand, units, paper, changes = GALLERY[request.param]
    spec = telescope(aperture, ratio, kind, offset, mount=_mount(stand, aperture, aperture * ratio),
                     readers={"units": units, "paper": paper})
    spec["primary"]["glass"] = "borosilicate"
    spec["spider"] |= {"vanes": 4, "turned": "45 deg"}
    if kind in ("poles", "truss"):
        spec["frame"] |= {"turned": "60 deg"}
    spec["parts"] += [{"ref": f"Q{number}", "name": name, "group": "other", "get": "buy", "quantity": number,
                       "mass": "100 g", "why": "to be drawn", "drawn_as": thing}
                      for number, (thing, name) in enumerate(DRAWN.items(), start=1)]
    for section, change in changes.items():
        spec[section] = None if change is None else (spec.get(section) or {}) | change
    folder = tmp_path_factory.mktemp("gallery")
    text = {key: value for key, value in spec.items() if value is not None}
    (folder / "build.yaml").write_text(json.dumps(text), "utf-8")
    design = work_out(load_build(folder))
    return design, reader(design, paper)


def test_nothing_lies_over_anything_and_every_part_has_its_balloon(drawn):
    _, sheets = drawn
    assert {"general-arrangement", "optical-layout"} <= set(sheets)
    for key, read in sheets.items():
        read.clear()
        assert set(read.circles) == {balloon.ref for balloon in read.sheet.figure.balloons}, key


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
        assert vanes == [45, 135, 225, 315]


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
