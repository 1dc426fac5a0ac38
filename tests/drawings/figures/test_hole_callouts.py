"""Holes of a tube or pole on its sheet: each with its letter and angle round the face and its size at the hole."""

from __future__ import annotations

import math

import pytest

from dossier.drawings.figures import members, upper_end

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def card_tube(telescope, worked):
    """A small tube with screws all round its lower end, a hole for the focuser and two for a rod."""
    spec = telescope(76, 9.2, "tube", "none")
    spec["front"] = {"opening": "100 mm", "station": "690 mm"}
    spec["frame"] = {"kind": "tube", "outer_diameter": "106 mm", "inner_diameter": "100 mm", "length": "728 mm",
                     "lower_fixing": "-38 mm", "holes": [
                         {"from_end": "8 mm", "diameter": "3 mm", "turned": f"{angle} deg", "for": "glue block"}
                         for angle in (45, 135, 225, 315)]}
    spec["focuser"] |= {"mounting_radius": "62 mm", "height": "40 mm", "bore": "32 mm", "hole": "44 mm"}
    spec["spider"] = {"vanes": 2, "vane_thickness": "4 mm", "vane_section": "rod", "turned": "90 deg",
                      "station": "616 mm", "hole": "4.5 mm"}
    return worked(spec)


def _callouts(page):
    """The words of each callout and the tip of its arrow."""
    found = {}
    for group in page.root.iter(f"{SVG}g"):
        if group.get("data-callout"):
            words = "".join(text for each in group.iter(f"{SVG}text") for text in each.itertext())
            leader = next(path for path in group.iter(f"{SVG}path") if path.get("data-line") == "leader")
            found[words] = tuple(map(float, leader.get("d").removeprefix("M").split("L")[0].split()))
    return found


def _circles(page, part):
    return [tuple(float(each.get(name)) for name in ("cx", "cy", "r")) for each in page.root.iter(f"{SVG}circle")
            if each.get("data-part") == part]


def test_every_hole_has_its_size_at_the_hole_and_its_letter_round_the_face(card_tube, drawn_page):
    page = drawn_page(members.make, card_tube, "paper")
    page.legible()
    told = _callouts(page)
    assert set(told) == {"4\u202f×\u202f⌀\u202f3", "⌀\u202f44", "2\u202f×\u202f⌀\u202f4.5"}
    focuser = max(_circles(page, "hole"), key=lambda circle: circle[2])
    assert math.dist(told["⌀\u202f44"], focuser[:2]) == pytest.approx(focuser[2], abs=0.01)
    labels = page.words.splitlines()
    for label in ("A 45°", "B 135°", "C 225°", "D 315°", "E 0°", "F 90°", "F 270°"):
        assert label in labels, label


@pytest.mark.parametrize("where", ["paper", "phone"])
def test_sizes_keep_clear_in_either_form(card_tube, drilled, drawn_page, where):
    for design in (card_tube, drilled(200, 6, "tube"), drilled(150, 8, "poles"),
                   drilled(250, 5, "truss", None, "inch")):
        drawn_page(members.make, design, where).legible()


def test_a_hole_seen_edge_on_is_as_wide_in_the_wall_as_it_is_said(card_tube, drawn_page):
    page = drawn_page(members.make, card_tube, "paper")
    walls = [path.get("d") for path in page.root.iter(f"{SVG}path") if path.get("data-part") == "hole-wall"]
    assert len(walls) == 2
    for wall in walls:
        lines = [[tuple(map(float, pair.split())) for pair in line.split("L")] for line in wall.split("M")[1:]]
        (left, _), (right, _) = lines[0][0], lines[1][0]
        assert (right - left) / page.scale == pytest.approx(4.5, abs=0.01 / page.scale)
        assert abs(lines[0][0][1] - lines[0][1][1]) / page.scale == pytest.approx(3, abs=0.01 / page.scale)


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("kind", ["tube", "poles", "truss"])
def test_the_focusers_face_is_named_and_its_line_starts_at_the_focuser(drilled, drawn_page, kind, where):
    """Not at the front ring, whose edge ends as high."""
    design = drilled(150, 6, kind)
    page = drawn_page(upper_end.make, design, where)
    page.legible()
    body = [tuple(map(float, pair.split())) for path in page.root.iter(f"{SVG}path")
            if path.get("data-part") == "focuser-body" for pair in path.get("d").removeprefix("M").split("L")]
    dimension, = [group for group in page.root.iter(f"{SVG}g")
                  if group.get("data-dimension") == "focuser.mounting_radius"] or [None]
    if dimension is None:
        assert any("Axis to the focuser’s face" in "".join(run.text for run in note) for note in page.figure.notes)
        return
    assert "face" in "".join(text for each in dimension.iter(f"{SVG}text") for text in each.itertext())
    side = dimension.get("data-side")
    tips = [tuple(map(float, path.get("d").removeprefix("M").split("L")[0].split()))
            for path in dimension.iter(f"{SVG}path") if path.get("data-arrow")]
    lines = [[tuple(map(float, pair.split())) for pair in line.split("L")]
             for group in page.root.iter(f"{SVG}g") if group.get("data-extension") == side
             for path in group.iter(f"{SVG}path") for line in path.get("d").split("M")[1:]]
    along, out = (1, 0) if side == "right" else (0, 1)
    face = min(tips, key=lambda tip: tip[along])
    line = next(line for line in lines if line[0][along] == pytest.approx(face[along], abs=0.002))
    edge = max(point[0] for point in body) if side == "right" else min(point[1] for point in body)
    assert abs(line[0][out] - edge) < page.size
