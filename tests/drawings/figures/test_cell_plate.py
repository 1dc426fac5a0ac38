"""The plate of a mirror cell with what stands on and under it, read back from the SVG: as far as the spec says it."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.drawings.figures import exploded
from dossier.drawings.figures.mirror_cell import make
from dossier.drawings.scene import ON_PAPER
from dossier.spec.load import load_build
from tests.conftest import PROJECT

ROOT = Path(__file__).parents[3]
BUILDS = sorted(path.parent for path in (ROOT / "content").glob("*/build.yaml"))
PUSH = {"count": 3, "radius": "66 mm", "against": "plate", "overhang": "31 mm", "diameter": "6 mm", "length": "60 mm",
        "spring": {"rate": "1.5 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"}}
PLATE = {"thickness": "12 mm", "diameter": "180 mm", "hole": "56 mm", "behind": "5 mm"}
POSTS = {"count": 3, "clearance": "0.5 mm", "lining": "2 mm", "reach": "88 mm", "width": "20 mm", "height": "30.3 mm"}
CLIPS = {"count": 3, "radius": "74 mm", "clearance": "0.3 mm", "thickness": "3 mm", "overlap": "2 mm",
         "length": "15 mm", "width": "20 mm"}


@pytest.fixture(scope="module")
def celled(telescope, worked):
    """A telescope of 150 mm, 20 mm of glass, on a plate; keywords change its cell."""

    def design(units="metric", aperture=150, **changes):
        spec = telescope(aperture, 8, "tube", readers={"units": units})
        spec["primary"] |= {"glass": "borosilicate", "edge_thickness": "25 mm", "blank_diameter": f"{aperture + 2} mm"}
        cell = {"points": 3, "rings": "best", "push": PUSH, "plate": PLATE, "posts": POSTS, "clips": CLIPS} | changes
        spec["cell"] = {key: value for key, value in cell.items() if value is not None}
        return worked(spec)

    return design


@pytest.mark.parametrize("where", ["paper", "phone"])
def test_everything_of_a_cell_stands_where_it_is_said(celled, drawn_page, where):
    page = drawn_page(make, celled(), where)
    section = page.view("section")

    def near(value):
        return pytest.approx(value, abs=0.004 / section.scale)

    left, _, right, bottom = section.extents("glass")
    axis = (left + right) / 2
    plate = section.extents("plate-section")
    assert (plate[2] - plate[0], plate[3] - plate[1], plate[1] - bottom) == (near(180), near(12), near(5))
    inner = min(x for line in section.lines("plate-section") for x, _ in line if x / section.scale > axis)
    assert inner / section.scale - axis == near(28)
    spring = section.lines("spring")[0]
    assert [y / section.scale for y in (spring[0][1], spring[-1][1])] == [near(plate[3]), near(plate[3] + 14)]
    screw = section.extents("screw")
    assert (screw[2] - screw[0], screw[3] - screw[1], screw[1]) == (near(6), near(60), near(plate[1]))
    assert (screw[0] + screw[2]) / 2 - axis == near(66)
    post = section.extents("post-section")
    assert [each - axis for each in (post[0], post[2])] == [near(76 + 2.5), near(88)]
    assert (post[3], post[3] - post[1]) == (near(plate[1]), near(30.3))
    shoulder = min(y for x, y in section.lines("glass")[0] if x / section.scale > right - 0.5) / section.scale
    clip = section.extents("clip-body")
    assert [clip[0] - axis, clip[2] - axis] == [near(76 - 2), near(76 + 13)]
    assert (shoulder - clip[3], clip[3] - clip[1]) == (near(0.3), near(3))
    (_, mass, _), = section.circles("centroid")
    assert plate[3] + 7 - mass / section.scale == near(31)
    page.legible()


def test_the_plan_has_plate_hole_posts_and_clips(celled, drawn_page):
    plan = drawn_page(make, celled(), "paper").view("plan")
    (x, y, radius), = plan.circles("plate")
    assert radius / plan.scale == pytest.approx(90, abs=0.02)
    assert plan.circles("plate-hole")[0][2] / plan.scale == pytest.approx(28, abs=0.02)
    for part, middle in (("post", (78.5 + 88) / 2), ("clip-outline", 74 + 7.5)):
        found = [plan.polar([sum(p[axis] for p in line[:4]) / 4 for axis in (0, 1)], (x, y), clockwise=False)
                 for line in plan.lines(part)]
        assert sorted(angle for _, angle in found) == pytest.approx([0, 120, 240], abs=0.1), part
        assert [radius for radius, _ in found] == pytest.approx([middle] * 3, abs=0.05), part


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_distances_of_the_plate_are_dimensioned_or_said(celled, drawn_page, units, where):
    """To any reader: overhang, spring's length, distance and thickness of the plate, gap of the clips."""
    design = celled(units)
    page = drawn_page(make, design, where)
    keys = {each.get("data-key") for each in page.root.iter() if each.get("data-key")}
    for key in ("cell.push.overhang", "cell.push.spring.compressed_to", "cell.plate.behind", "cell.plate.thickness",
                "cell.plate.diameter", "cell.clips.clearance", "cell.posts.clearance"):
        assert key in keys, key
    dimensioned = {each.get("data-dimension") for each in page.root.iter() if each.get("data-dimension")}
    assert {"cell.push.overhang", "cell.push.spring.compressed_to", "cell.plate.diameter"} <= dimensioned
    page.legible()


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("changes", [
    {"plate": {"thickness": "12 mm", "side": "170 mm", "behind": "5 mm"}}, {"plate": {"diameter": "140 mm"}},
    {"plate": {"thickness": "12 mm", "behind": "40 mm", "diameter": "100 mm"}}, {"plate": None}, {"posts": None},
    {"clips": CLIPS | {"clearance": None, "overlap": None}}, {"points": 18, "rings": "best"},
    {"push": PUSH | {"spring": {"compressed_to": "2 mm"}}}, {"push": None}], ids=str)
def test_cells_said_in_part_are_legible(celled, drawn_page, changes, where):
    clean = {key: {name: each for name, each in value.items() if each is not None} if isinstance(value, dict) else value
             for key, value in changes.items()}
    page = drawn_page(make, celled(**clean), where)
    page.legible()
    section = page.view("section")
    known = "behind" in (clean.get("plate", PLATE) or {})
    assert bool(section.lines("plate-section")) == known
    assert bool(section.lines("post-section")) == (known and clean.get("posts", POSTS) is not None)


def test_a_clip_whose_gap_is_not_said_has_a_chain_outline_and_a_note(celled, drawn_page):
    unsaid = {key: value for key, value in CLIPS.items() if key != "clearance"}
    for clips, dashed in ((unsaid, True), (CLIPS, False)):
        page = drawn_page(make, celled(clips=clips), "paper")
        body, = page.view("section").attributes("clip-body")
        assert ("stroke-dasharray" in body) == dashed
        assert any("chain line" in "".join(run.text for run in note) and "clips" in "".join(
            run.text for run in note).lower() for note in page.figure.notes) == dashed


def test_a_plate_that_masses_contradict_is_told_of(celled, telescope, worked, drawn_page):
    """Two kilograms 10 mm and one 40 mm behind the vertex balance at 20 mm; with an overhang of 31 mm the springs'
    middle is at 51 mm, 4 mm from where a plate 5 mm behind 25 mm of glass puts it; at 5 mm more it is 1 mm nearer."""
    spec = telescope(150, 8, "tube")
    spec["primary"] |= {"edge_thickness": "25 mm", "blank_diameter": "152 mm"}
    spec["parts"] = [{"ref": "P1", "name": "Mirror", "mass": "2 kg", "station": "-10 mm", "on_springs": True},
                     {"ref": "P2", "name": "Plate", "mass": "1 kg", "station": "-40 mm", "on_springs": True}]
    for behind, told in ((5, True), (8, False)):
        spec["cell"] = {"points": 3, "rings": "best", "push": PUSH, "plate": PLATE | {"behind": f"{behind} mm"}}
        notes = ["".join(run.text for run in note) for note in drawn_page(make, worked(spec), "paper").figure.notes]
        assert any("one of the two is wrong" in note for note in notes) == told


@pytest.mark.parametrize("folder", BUILDS, ids=lambda path: path.name)
def test_every_demo_shows_its_plate_with_a_balloon(drawn_page, folder):
    design = work_out(load_build(folder))
    page = drawn_page(make, design, "paper")
    section, cell = page.view("section"), design.build.cell
    left, _, right, low = section.extents("plate-section")
    assert right - left == pytest.approx(cell.plate.diameter, abs=0.02)
    assert section.extents("plate-section")[1] - section.extents("glass")[3] == pytest.approx(cell.plate.behind,
                                                                                               abs=0.03)
    ref, = [part.ref for part in design.build.parts if part.drawn_as == "plate"]
    at, = [balloon.at for balloon in page.figure.balloons if balloon.ref == ref]
    assert left < at[0] / section.scale < right
    assert low - cell.plate.thickness < at[1] / section.scale < low


def test_a_lever_has_its_balloon_within_its_outline(drawn_page):
    """On the triangle of the demo that has them, between its pivot and a corner."""
    design = work_out(load_build(PROJECT / "content" / "alder-250"))
    page = drawn_page(make, design, "paper")
    ref, = [part.ref for part in design.build.parts if part.drawn_as == "lever"]
    at, = [balloon.at for balloon in page.figure.balloons if balloon.ref == ref]
    triangles = page.view("plan").lines("triangle")
    assert len(triangles) == 3

    def turn(start, end):
        return (end[0] - start[0]) * (at[1] - start[1]) - (end[1] - start[1]) * (at[0] - start[0])

    assert any(len({turn(*side) > 0 for side in pairwise(line)}) == 1 for line in triangles)


def test_the_exploded_view_sends_to_the_cells_sheet_for_what_that_shows(telescope, worked):
    spec = telescope(150, 8, "tube")
    spec["primary"] |= {"edge_thickness": "25 mm", "blank_diameter": "152 mm"}
    spec["parts"] += [{"ref": f"Q{number}", "name": thing, "drawn_as": thing}
                      for number, thing in enumerate(("plate", "push", "pad"))]
    for plate, sent in ((PLATE, "Q0, Q1"), (None, None)):
        cell = {"points": 3, "rings": "best", "push": PUSH} | ({"plate": plate} if plate else {})
        notes = ["".join(run.text for run in note)
                 for note in exploded.make(worked(spec | {"cell": cell}), ON_PAPER, 0.1, 180.0).notes]
        assert any(note == f"Drawn on the sheet of the mirror cell: {sent}." for note in notes) == bool(sent)
        unsized, = [note for note in notes if "size is not said" in note]
        assert unsized.endswith("Q2." if sent else "Q0, Q1, Q2.")
