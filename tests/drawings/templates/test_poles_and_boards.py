"""Pole circles, the cell's plate and the focuser's board read back from their SVG and held against the spec."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
import yaml

from dossier.drawings.figures import mirror_cell
from dossier.drawings.palette import PAPER
from dossier.drawings.scene import ON_PAPER, Scene
from dossier.drawings.svg import render
from dossier.errors import Unusable
from dossier.spec.load import load_build
from tests.drawings.templates.conftest import TRIALS, centres, drawn, svg_of, templates, trial

Point = tuple[float, float]


def _clockwise(point: Point) -> float:
    """The angle of a point from straight up, clockwise, degrees."""
    return math.degrees(math.atan2(point[0], point[1])) % 360


def _words(name: str, key: str) -> str:
    """All words of a template's SVG, line after line."""
    text = " ".join("".join(each.itertext()) for each in ET.fromstring(svg_of(name, key)).iter(
        "{http://www.w3.org/2000/svg}text"))
    return text.replace("\u202f", " ")


def test_poles_stand_on_their_circle_midway_about_the_focuser() -> None:
    poles = [each for each in drawn("poles-150", "pole-circle") if each.name.startswith("pole ") and each.radius]
    assert [each.layer for each in poles] == ["cut"] * 4
    assert [each.radius for each in poles] == pytest.approx([0.375 * 25.4] * 4, abs=1e-3)
    assert [math.hypot(*each.centre) for each in poles] == pytest.approx([4.5 * 25.4] * 4, abs=2e-3)
    # Nobody says how they are turned: the focuser's side, up, lies midway between two.
    assert sorted(_clockwise(each.centre) for each in poles) == pytest.approx([45, 135, 225, 315], abs=0.01)
    assert "does not say how the poles are turned" in _words("poles-150", "pole-circle")


@pytest.mark.parametrize(("key", "radius", "angles"), [
    ("pole-circle-lower", 235, (55, 145, 235, 325)), ("pole-circle-upper", 225, (10, 100, 190, 280))])
def test_nodes_of_a_truss_stand_on_two_circles_the_lower_between_the_upper(key: str, radius: float,
                                                                           angles: tuple[float, ...]) -> None:
    nodes = [point for number in range(1, 5) for point in centres("truss-400", key, f"node {number}")]
    assert [math.hypot(*point) for point in nodes] == pytest.approx([radius] * 4, abs=2e-3)
    assert sorted(map(_clockwise, nodes)) == pytest.approx(angles, abs=0.01)
    assert not [each for each in drawn("truss-400", key) if each.layer == "cut"]
    assert "turn the print over" in _words("truss-400", key)  # 10° is not symmetrical about the focuser's line


@pytest.mark.parametrize(("name", "key"), [
    ("poles-150", "pole-circle"), ("truss-400", "pole-circle-lower"), ("truss-400", "pole-circle-upper")])
def test_the_chord_is_drawn_from_centre_to_centre_and_its_length_printed(name: str, key: str) -> None:
    chord = next(each for each in drawn(name, key) if each.name == "centre to centre")
    assert chord.layer == "text"  # a check for the rule, which no cutter is sent
    what = "pole" if name == "poles-150" else "node"
    assert {*chord.points} == {*centres(name, key, f"{what} 1"), *centres(name, key, f"{what} 2")}
    size = math.dist(*chord.points)
    words = _words(name, key)
    shown = f"{size / 25.4:.3f} in" if trial(name).build.readers.units == "inch" else f"{size:.1f}"
    assert shown in words, words
    side = [each for each in drawn(name, key) if each.name == "focuser's side"]
    assert side[0].centre[0] == 0
    assert side[0].centre[1] > max(y for _, y in chord.points)
    assert "focuser’s side, up" in words


def test_a_tube_has_no_pole_circle() -> None:
    assert not [key for name in ("tube-76", "tube-200", "bare-130") for key in templates(name) if "circle" in key]


def test_the_plate_shows_the_same_side_as_the_drawing_of_the_cell() -> None:
    """The pushes are turned by 20°, which no mirror image hides."""
    figure = mirror_cell.make(trial("tube-200"), ON_PAPER, 0.5, 180)
    assert figure
    root = ET.fromstring(render(Scene("cell", "cell", "cell", ON_PAPER, figure.box, figure.shapes), PAPER))
    plan = next(group for group in root.iter() if group.attrib.get("data-view") == "plan")
    for what in ("push", "support"):
        places = [(float(each.attrib["cx"]), -float(each.attrib["cy"])) for each in plan.iter()
                  if each.attrib.get("data-part") == what]
        found = centres("tube-200", "cell-plate", what)
        assert len(places) == len(found)
        for place in places:
            assert min(math.dist((place[0] / 0.5, place[1] / 0.5), other) for other in found) < 0.01
    words = _words("tube-200", "cell-plate")
    assert "seen from behind" in words
    assert "Never lay it on the front" in words


def test_the_plate_has_its_edge_and_true_holes_to_cut() -> None:
    cut = [each for each in drawn("tube-200", "cell-plate") if each.layer == "cut"]
    assert sorted((each.name, each.radius) for each in cut) == [
        ("middle hole", 12), ("pivot", 2.5), ("pivot", 2.5), ("pivot", 2.5), ("plate", 115),
        ("push", 3.3), ("push", 3.3), ("push", 3.3)]
    words = _words("tube-200", "cell-plate")
    assert "3 pushes on ⌀ 140 mm at 20°, 140°, 260°, holes ⌀ 6.6 mm" in words
    assert "push ⌀ 6.6 mm" in words
    assert "pushs" not in words
    (square,) = [each for each in drawn("truss-400", "cell-plate") if each.layer == "cut"]
    assert {(abs(x), abs(y)) for x, y in square.points} == {(215.0, 215.0)}


def test_pivots_of_levers_are_marked_where_the_levers_balance() -> None:
    """Each pivot bears three of nine equal loads: it stands at their centre of mass."""
    supports, pivots = (centres("tube-200", "cell-plate", what) for what in ("support", "pivot"))
    assert len(pivots) == 3
    for pivot in pivots:
        near = sorted(supports, key=lambda point: math.dist(point, pivot))[:3]
        assert (sum(x for x, _ in near) / 3, sum(y for _, y in near) / 3) == pytest.approx(pivot, abs=2e-3)


def test_a_plate_of_no_stated_size_has_no_edge_and_says_so() -> None:
    assert not [each for each in drawn("tube-76", "cell-plate") if each.layer == "cut"]
    assert "No edge to cut is drawn" in _words("tube-76", "cell-plate")


def test_the_focusers_board_has_edge_hole_and_screws() -> None:
    shapes = [each for each in drawn("truss-400", "focuser-board") if each.layer == "cut"]
    (board,) = [each for each in shapes if each.name == "board"]
    xs, ys = [x for x, _ in board.points], [y for _, y in board.points]
    assert (min(xs), max(xs), min(ys), max(ys)) == (-55, 55, -70, 110)
    assert [each.radius for each in shapes if each.name == "hole"] == [30]
    screws = [each for each in shapes if each.name == "screw"]
    assert {each.centre for each in screws} == {(30.0, 35.0), (30.0, -35.0), (-30.0, -35.0), (-30.0, 35.0)}
    assert {each.radius for each in screws} == {2.75}
    arrow = next(each for each in drawn("truss-400", "focuser-board") if each.name == "towards the sky")
    assert arrow.centre[1] > 110


def test_screws_on_a_circle_run_clockwise_from_the_sky() -> None:
    screws = [each for each in drawn("poles-150", "focuser-board") if each.name == "screw"]
    assert [_clockwise(each.centre) for each in screws] == pytest.approx([30, 150, 270], abs=0.01)
    assert [math.hypot(*each.centre) for each in screws] == pytest.approx([31.75] * 3, abs=2e-3)
    assert "No edge to cut is drawn" in _words("poles-150", "focuser-board")


@pytest.mark.parametrize(("section", "key", "said"), [
    ({"board": {"width": "50 mm"}}, "focuser.board.width", "no more than the focuser's hole"),
    ({"board": {"length": "100 mm", "below": "20 mm"}}, "focuser.board.below", "lower end"),
    ({"board": {"length": "100 mm", "below": "80 mm"}}, "focuser.board.below", "upper end"),
    ({"screws": {"along": "60 mm"}}, "focuser.screws", "along and across"),
    ({"screws": {"along": "60 mm", "across": "60 mm", "circle_radius": "50 mm"}}, "focuser.screws", "one pattern"),
    ({"screws": {"along": "60 mm", "across": "60 mm", "count": 3}}, "focuser.screws.count", "is 4"),
    ({"screws": {"count": 4, "circle_radius": "31 mm", "diameter": "5 mm"}}, "focuser.screws", "run into it")])
def test_a_board_that_cannot_be_is_refused(section: dict, key: str, said: str, tmp_path) -> None:
    truss = TRIALS["truss-400"]
    focuser = {name: value for name, value in truss["focuser"].items() if name not in ("board", "screws")}
    spec = {"format": 1, "about": {"name": "Trial"}, **truss, "focuser": {**focuser, **section}}
    (tmp_path / "build.yaml").write_text(yaml.safe_dump(spec), "utf-8")
    with pytest.raises(Unusable) as refused:
        load_build(tmp_path)
    assert [problem.key for problem in refused.value.problems] == [key]
    assert said in refused.value.problems[0].message


def test_templates_name_their_parts_what_they_are_of_and_how_many() -> None:
    refs = {key: template.refs for key, template in templates("truss-400").items()}
    assert refs == {
        "pole-drilling-upper": "", "pole-circle-lower": "P4", "pole-circle-upper": "P3", "cell-plate": "P5",
        "support-triangle": "P6", "support-bar": "P6", "primary-centre": "P1", "diagonal": "", "focuser-board": "P2",
        "collimation-target": "", "zone-mask": "P1", "focusing-mask": "P3"}
    for key, said in {
            "focuser-board": "For P2, Plank for the focuser, of printed PETG, 9 mm thick: 1 needed.",
            "pole-circle-upper": "For P3, Ring of 12 mm plywood: 2 needed.",
            "cell-plate": "For P5, Plate behind the mirror, 18 mm thick: 1 needed.",
            "support-triangle": "For P6, Triangle: 6 needed.",
            "zone-mask": "A tool: make one. Used with P1, Mirror."}.items():
        assert said in _words("truss-400", key)
    assert "revision" in _words("truss-400", "cell-plate")


def test_supports_and_pivots_have_no_ring_that_looks_like_a_hole() -> None:
    for name, key in (("tube-76", "cell-plate"), ("tube-200", "support-triangle"), ("truss-400", "support-bar")):
        rings = [each for each in drawn(name, key) if each.radius and each.centre != (0.0, 0.0)]
        assert not rings, (name, key)


def test_the_chain_of_poles_closes() -> None:
    """Centres as read back, neighbour to neighbour, are equally far apart all the way around."""
    ring = [point for number in range(1, 5) for point in centres("poles-150", "pole-circle", f"pole {number}")]
    steps = [math.dist(one, other) for one, other in pairwise((*ring, ring[0]))]
    assert steps == pytest.approx([4.5 * 25.4 * math.sqrt(2)] * 4, abs=3e-3)
