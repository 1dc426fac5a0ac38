"""A rocker's boards, notch and pads read back from the SVG: as far as the spec says them, and nothing else."""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.drawings.figures.rocker import make
from dossier.spec.load import load_build

ROOT = Path(__file__).parents[3]
BUILDS = sorted(path.parent for path in (ROOT / "content").glob("*/build.yaml"))
BEARING = {"radius": "110 mm", "friction": 0.1, "pad_angle": "35 deg", "pad_length": "20 mm", "pad_thickness": "5 mm",
           "notch": "round"}
SAID = {"bearing": BEARING, "feet_height": "24 mm", "ground": {"thickness": "12 mm", "diameter": "560 mm"},
        "rocker": {"thickness": "12 mm", "width": "320 mm", "height": "{height} mm", "between": "250 mm",
                   "front": "200 mm"}}


@pytest.fixture(scope="module")
def rocking(drilled):
    """A telescope of 150 mm f/8 on a rocker whose sides end so far below the pivot, at 732 mm; floor at 50 mm."""

    def design(below=60.0, units="metric", **changes):
        rocker = SAID["rocker"] | {"height": f"{732 - 50 - below} mm"}
        return drilled(150, 8, "poles", "rocker", units, mount=SAID | {"rocker": rocker} | changes)

    return design


@pytest.mark.parametrize("where", ["paper", "phone"])
def test_boards_stand_where_they_are_said(rocking, drawn_page, where):
    page = drawn_page(make, rocking(), where)
    side = page.view("side")
    near = {"abs": 0.004 / side.scale}
    (x, pivot, _), = side.circles("pivot")
    ground, axis = side.lines("ground-line")[0][0][1] / side.scale, x / side.scale
    board = side.extents("rocker-side")
    assert ground - pivot / side.scale == pytest.approx(732, **near)
    assert (board[2] - board[0], board[3] - board[1]) == (pytest.approx(320, **near), pytest.approx(622, **near))
    assert ground - board[3] == pytest.approx(50, **near)
    floor, low = side.extents("rocker-floor"), side.extents("ground-board-edge")
    assert (floor[1], floor[3] - floor[1]) == (pytest.approx(board[3], **near), pytest.approx(12, **near))
    assert (low[2] - low[0], low[3] - low[1]) == (pytest.approx(560, **near), pytest.approx(12, **near))
    assert ground - low[3] == pytest.approx(24, **near)
    notch = max(y for line in side.lines("rocker-side") for px, y in line if abs(px / side.scale - axis) < 20
                and y / side.scale < board[3] - 1)
    assert (notch - pivot) / side.scale == pytest.approx(115, abs=0.2)
    above = page.view("above")
    (_, _, around), = above.circles("ground-board-outline")
    assert around / above.scale == pytest.approx(280, **near)
    tops = above.extents("rocker-side-top")
    assert tops[3] - tops[1] == pytest.approx(250 + 24, **near)
    page.legible()


def test_from_the_front_it_stands_level_on_the_right(rocking, drawn_page):
    page = drawn_page(make, rocking(), "paper")
    side, front = page.view("side"), page.view("front")
    edges, board = front.extents("rocker-side-edge"), side.extents("rocker-side")
    assert edges[0] > board[2]
    assert (edges[1], edges[3]) == (pytest.approx(board[1], abs=0.05), pytest.approx(board[3], abs=0.05))
    assert edges[2] - edges[0] == pytest.approx(250 + 24, abs=0.05)
    inner = front.extents("rocker-front")
    assert (inner[2] - inner[0], inner[3] - inner[1]) == (pytest.approx(250, abs=0.05), pytest.approx(200, abs=0.05))


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("notch", ["round", "square"])
def test_the_bearing_touches_its_pads_at_their_angle(rocking, drawn_page, notch, where):
    """Each pad reaches from the disc to the board: five millimetres beyond the disc's radius, at 35° from below."""
    bearing = BEARING | {"notch": notch}
    page = drawn_page(make, rocking(bearing=bearing), where)
    view = page.view("bearing")
    assert view.scale >= page.scale * 0.99
    (x, y, _), = view.circles("axis-mark")
    for px, py, _ in view.circles("contact"):
        assert math.dist((px, py), (x, y)) / view.scale == pytest.approx(110, abs=0.01 / view.scale)
        assert abs(math.degrees(math.atan2(px - x, py - y))) == pytest.approx(35, abs=0.1)
    for pad in view.lines("pad-body"):
        away = sorted(round(math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (x, y)) / view.scale, 1)
                      for a, b in ((pad[0], pad[1]), (pad[2], pad[3])))
        assert away == pytest.approx([110, 115], abs=0.1)
        assert math.dist(pad[0], pad[1]) / view.scale == pytest.approx(20, abs=0.02 / view.scale)
    edge = [((px - x) / view.scale, (py - y) / view.scale) for px, py in view.lines("notch")[0]]
    lowest = max(py for _, py in edge)
    assert lowest == pytest.approx(115 if notch == "round" else 115 / math.cos(math.radians(35)), abs=0.2)
    page.legible()


SIDES = {"below": 60.0, "above": -40.0, "far below": 130.0}


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("changes", [
    {}, {"rocker": {"thickness": "12 mm"}}, {"ground": None}, {"ground": {"side": "500 mm", "thickness": "12 mm"}},
    {"feet_height": None}, {"bearing": {"radius": "110 mm", "friction": 0.1, "pad_angle": "35 deg"}}], ids=str)
def test_rockers_said_in_part_are_legible(rocking, drawn_page, changes, where):
    for below in SIDES.values():
        page = drawn_page(make, rocking(below, **changes), where)
        page.legible()
    inch = drawn_page(make, rocking(units="inch", **changes), where)
    inch.legible()


def test_sides_that_reach_above_the_pivot_have_straight_walls(rocking, drawn_page):
    side = drawn_page(make, rocking(-40.0), "paper").view("side")
    (x, _y, _), = side.circles("pivot")
    walls = [a for line in side.lines("rocker-side") for a, b in itertools.pairwise(line)
             if abs(a[0] - b[0]) < 0.01 and abs(abs(a[0] - x) / side.scale - 115) < 0.1]
    assert len(walls) == 2


def test_notes_are_those_that_a_bench_needs(rocking, drawn_page):
    notes = ["".join(run.text for run in note) for note in drawn_page(make, rocking(), "paper").figure.notes]
    assert not any(words in note for note in notes for words in (" N ", " kg", "feet.", "tips it", "carries"))
    assert len(notes) <= 5


@pytest.mark.parametrize("folder", BUILDS, ids=lambda path: path.name)
def test_every_demo_shows_its_rocker_with_a_balloon(drawn_page, folder):
    design = work_out(load_build(folder))
    page = drawn_page(make, design, "paper")
    side, rocker = page.view("side"), design.build.mount.rocker
    board = side.extents("rocker-side")
    assert (board[2] - board[0], board[3] - board[1]) == (pytest.approx(rocker.width, abs=0.1),
                                                          pytest.approx(rocker.height, abs=0.1))
    ref, = [part.ref for part in design.build.parts if part.drawn_as == "rocker"]
    at, = [balloon.at for balloon in page.figure.balloons if balloon.ref == ref]
    assert at[0] / side.scale == pytest.approx(board[2], abs=0.1)
    assert board[1] < at[1] / side.scale < board[3]
