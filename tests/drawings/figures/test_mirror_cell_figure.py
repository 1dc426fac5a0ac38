"""The mirror cell: supports, levers, pushes, clips and springs where results and spec have them."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from dossier.drawings.figures.mirror_cell import make

# Angles of each ring of supports in degrees, by the number of points: evenly spaced, and the outer ring of a cell of
# triangles half its own spacing past the inner one.
ANGLES = {3: [(0, 120, 240)], 6: [(0, 60, 120, 180, 240, 300)], 9: [(0, 120, 240), (30, 90, 150, 210, 270, 330)],
          18: [tuple(range(0, 360, 60)), tuple(range(15, 360, 30))]}
LEVERS = {3: (0, 0), 6: (0, 3), 9: (3, 0), 18: (6, 3)}
SIZES = {3: (114, 8, "tube", None), 6: (200, 6, "tube", None), 9: (300, 5, "truss", "inch"),
         18: (400, 4, "truss", None)}
every_cell = pytest.mark.parametrize("points", SIZES)
every_medium = pytest.mark.parametrize("where", ["paper", "phone"])


@pytest.fixture(scope="module")
def celled(telescope, worked):
    """The design of a telescope with so many supports; keywords change its cell."""

    def design(points, drop=(), sections=None, **changes):
        aperture, ratio, kind, units = SIZES[points]
        spec = telescope(aperture, ratio, kind, **(sections or {}))
        spec["primary"]["glass"] = "borosilicate"
        spec["cell"] |= {"points": points, "rings": "best"} | changes
        spec["cell"] = {key: value for key, value in spec["cell"].items() if key not in drop}
        if units:
            spec["readers"] = {"units": units}
        return worked(spec)

    return design


@every_medium
@every_cell
def test_every_support_stands_where_the_results_have_it(celled, drawn_page, points, where):
    design = celled(points)
    page = drawn_page(make, design, where)
    plan = page.view("plan")
    x, y, radius = plan.circles("blank")[0]
    assert radius / page.scale == pytest.approx(design.build.primary.blank_diameter / 2, abs=0.01 / page.scale)
    found = [plan.polar(each[:2], (x, y), clockwise=False) for each in plan.circles("support")]
    wanted = [(ring, angle) for ring, angles in zip(design.results["cell.support_radii"].numbers, ANGLES[points],
                                                    strict=True) for angle in angles]
    assert len(found) == points
    for ring, angle in wanted:
        assert any(ring == pytest.approx(r, abs=0.01 / page.scale) and math.cos(math.radians(a - angle)) > 0.99999
                   for r, a in found), (ring, angle)


@every_cell
def test_levers_join_their_points_and_turn_in_their_middle(celled, drawn_page, points):
    page = drawn_page(make, celled(points), "phone")
    plan = page.view("plan")
    triangles, bars = plan.lines("triangle"), plan.lines("bar")
    assert (len(triangles), len(bars)) == LEVERS[points]
    supports = [each[:2] for each in plan.circles("support")]
    pivots = [each[:2] for each in plan.circles("triangle-pivot")]
    turned = [each[:2] for each in plan.circles("bar-pivot")]
    carried = pivots if triangles else supports
    for corners in triangles:
        assert all(min(math.dist(corner, at) for at in supports) < 0.01 for corner in corners)
        middle = tuple(sum(corner[axis] for corner in corners[:3]) / 3 for axis in (0, 1))
        assert min(math.dist(middle, at) for at in pivots) < 0.01
    for ends in bars:
        assert all(min(math.dist(end, at) for at in carried) < 0.01 for end in ends)
        middle = tuple((ends[0][axis] + ends[1][axis]) / 2 for axis in (0, 1))
        assert min(math.dist(middle, at) for at in turned) < 0.01
    joined = [corner for lever in (triangles or bars) for corner in lever[:3 if triangles else 2]]
    assert not joined or {(round(x, 1), round(y, 1)) for x, y in joined} == {(round(x, 1), round(y, 1))
                                                                            for x, y in supports}


def test_a_lever_by_itself_is_as_long_as_in_the_plan(celled, drawn_page):
    page = drawn_page(make, celled(18), "paper")
    alone, placed = page.view("triangle").lines("triangle-alone")[0], page.view("plan").lines("triangle")[0]
    lengths = [sorted(math.dist(a, b) for a, b in pairwise(each)) for each in (alone, placed)]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.01)
    bar, own = page.view("bar").lines("bar-alone")[0], page.view("plan").lines("bar")[0]
    assert math.dist(*bar) == pytest.approx(math.dist(*own), abs=0.01)
    assert f"{math.dist(*own) / page.scale:.1f}" in page.words


@every_medium
@pytest.mark.parametrize("turned", [0, 25, 60])
def test_pushes_and_clips_stand_at_their_angles(celled, drawn_page, where, turned):
    push = {"count": 3, "radius": "45 mm", "turned": f"{turned} deg", "against": "glass"}
    page = drawn_page(make, celled(3, push=push, clips={"count": 4, "radius": "56 mm", "turned": "10 deg"}), where)
    plan = page.view("plan")
    centre = plan.circles("blank")[0][:2]
    pushes = sorted(plan.polar(each[:2], centre, clockwise=False)[1] for each in plan.circles("push"))
    assert pushes == pytest.approx([turned, turned + 120, turned + 240], abs=0.05)
    clips = [[(a[axis] + b[axis]) / 2 for axis in (0, 1)] for a, _, b, *_ in plan.lines("clip")]
    found = sorted(plan.polar(each, centre, clockwise=False) for each in clips)
    assert [radius for radius, _ in found] == pytest.approx([56] * 4, abs=0.02)
    assert sorted(angle for _, angle in found) == pytest.approx([10, 100, 190, 280], abs=0.05)
    assert ("25°" in page.words) == (turned == 25)
    assert "R\u202f56 from 10°, every 90°" in page.words


@every_medium
@pytest.mark.parametrize(("turned", "shown"), [(60, "60"), (180, "60"), (-60, "60"), (300, "60"), (0, None), (2, None),
                                               (118, None)])
def test_the_angle_nearest_to_the_focuser_is_dimensioned_where_it_has_room(celled, drawn_page, where, turned, shown):
    push = {"count": 3, "radius": "45 mm", "turned": f"{turned} deg", "against": "glass"}
    page = drawn_page(make, celled(3, drop=("clips",), push=push), where)
    arcs = [group.get("data-angle") for group in page.root.iter() if group.get("data-angle")]
    assert arcs == ([shown] if shown else [])
    page.legible()


@every_medium
def test_the_section_has_radii_thickness_and_spring_to_scale(celled, drawn_page, where):
    design = celled(3)
    page = drawn_page(make, design, where)
    section = page.view("section")
    glass = section.lines("glass")[0]
    left, right, back = min(x for x, _ in glass), max(x for x, _ in glass), max(y for _, y in glass)
    axis, primary = (left + right) / 2, design.build.primary
    assert (right - left) / section.scale == pytest.approx(primary.blank_diameter, abs=0.02)
    assert (back - min(y for _, y in glass)) / section.scale == pytest.approx(primary.edge_thickness, abs=0.02)
    vertex = next(y for x, y in glass if abs(x - axis) < 0.01 and y < back - 1)
    assert (back - vertex) / section.scale == pytest.approx(design.results["cell.centre_thickness"].number, abs=0.02)
    tip = section.lines("support-section")[0][0]
    assert (tip[0] - axis) / section.scale == pytest.approx(design.results["cell.support_radii"].numbers[0], abs=0.02)
    spring = section.lines("spring")[0]
    assert spring[0][1] == pytest.approx(back, abs=0.002)
    assert (spring[-1][1] - spring[0][1]) / section.scale == pytest.approx(14, abs=0.02)
    assert (spring[0][0] - axis) / section.scale == pytest.approx(design.build.cell.push.radius, abs=0.02)
    x, y, _ = section.circles("centroid")[0]
    assert x == pytest.approx(axis, abs=0.002)
    assert (vertex - y) / section.scale == pytest.approx(design.results["cell.mirror_centroid"].number, abs=0.02)


def test_a_spring_under_a_plate_stands_where_mass_and_overhang_put_it(celled, drawn_page):
    """Two kilograms 10 mm and one 40 mm behind the vertex balance at 20 mm; the springs' plane is 15 mm further."""
    moving = [{"ref": "P1", "name": "Mirror", "mass": "2 kg", "station": "-10 mm", "on_springs": True},
              {"ref": "P2", "name": "Plate", "mass": "1 kg", "station": "-40 mm", "on_springs": True}]
    push = {"count": 3, "radius": "45 mm", "against": "plate", "overhang": "15 mm",
            "spring": {"rate": "1.5 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"}}
    page = drawn_page(make, celled(3, push=push, sections={"parts": moving}), "phone")
    section = page.view("section")
    glass = section.lines("glass")[0]
    middle = (min(x for x, _ in glass) + max(x for x, _ in glass)) / 2
    vertex = min(y for x, y in glass if abs(x - middle) < 0.01)
    spring = section.lines("spring")[0]
    assert [(y - vertex) / page.scale for y in (spring[0][1], spring[-1][1])] == pytest.approx([28, 42], abs=0.02)
    without = drawn_page(make, celled(3, push=push), "phone")
    assert not without.view("section").lines("spring")
    assert any("not drawn" in "".join(run.text for run in note) for note in without.figure.notes)


@every_medium
@every_cell
def test_it_can_be_read(celled, drawn_page, points, where):
    drawn_page(make, celled(points), where).legible()


def test_the_text_alternative_carries_the_numbers(celled, drawn_page):
    told = drawn_page(make, celled(9), "phone").figure.description
    for words in ("inches", "3 supports on", "6 supports on", "3 triangles turn on", "at 0°, 120°, 240°",
                  "from 30°, every 60°", "3 clips", "Centre of mass"):
        assert words in told
    assert "R\u202f4.724" in told  # the pushes' 120 mm


@every_medium
def test_what_is_not_said_is_not_drawn(celled, telescope, worked, drawn_page, where):
    spec = telescope(150, 8, "tube")
    assert drawn_page(make, worked({**spec, "cell": {"moving_mass": "1 kg"}}), where) is None
    assert drawn_page(make, worked({key: value for key, value in spec.items() if key != "cell"}), where) is None
    thin = {**spec, "primary": {key: value for key, value in spec["primary"].items() if key != "edge_thickness"}}
    page = drawn_page(make, worked(thin), where)
    assert page.views == {"plan"}
    assert not page.view("plan").circles("support")
    page.legible()
    bare = drawn_page(make, celled(3, drop=("push", "clips")), where)
    assert not bare.view("plan").circles("push")
    assert "clip" not in bare.words
    bare.legible()
