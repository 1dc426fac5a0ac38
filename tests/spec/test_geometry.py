"""Geometry that cannot be: each is an error at its key, with the values that cannot stand together."""

from __future__ import annotations

import math
import re

import pytest

from dossier.spec.geometry import sagitta_mm
from tests.spec.conftest import Load, Say

WHOLE = """\
format: 1
about: {name: Whole}
primary: {aperture: 150 mm, focal_length: 1200 mm, conic: 0, blank_diameter: 152 mm, edge_thickness: 25 mm}
diagonal: {minor_axis: 35 mm, holder_diameter: 36 mm, offset: 2 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm, travel: 30 mm, drawn_out: 12 mm, bore: 31.75 mm, drawtube: 60 mm}
front: {opening: 176 mm, station: 1150 mm}
FRAME
CELL
"""
POLES = ("frame: {kind: poles, outer_diameter: 20 mm, inner_diameter: 17 mm, length: 900 mm, count: 3, "
         "circle_radius: 115 mm}")
TUBE = "frame: {kind: tube, outer_diameter: 190 mm, inner_diameter: 180 mm, length: 1200 mm}"
TRUSS = ("frame: {kind: truss, outer_diameter: 20 mm, length: 900 mm, count: 8, circle_radius: 120 mm, "
         "upper_circle_radius: 110 mm}")
CELL = ("cell: {points: 9, rings: [25 mm, 60 mm], push: {radius: 60 mm, against: glass, spring: {wire: 1 mm, "
        "mean_diameter: 9 mm, active_coils: 6, material: spring-steel, free_length: 20 mm, compressed_to: 14 mm}}, "
        "clips: {radius: 76 mm}}")


def spec(frame: str = POLES, *changes: tuple[str, str]) -> str:
    """A spec in which everything fits, with these texts changed."""
    text = WHOLE.replace("FRAME", frame).replace("CELL", CELL)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("frame", [POLES, TUBE, TRUSS])
def test_what_fits_is_accepted(load: Load, frame: str) -> None:
    assert load(spec(frame)).build.frame is not None


IMPOSSIBLE = [
    ("3: primary.conic", "is 2.5: no mirror that focuses starlight lies outside -10 to 2", POLES,
     ("conic: 0", "conic: 2.5")),
    ("3: primary.conic", "is -12: no mirror that focuses starlight lies outside", POLES, ("conic: 0", "conic: -12")),
    ("3: primary.aperture",
     "150 mm is wider than the curve of a mirror of 30 mm focal length and conic 0, whose radius is 60 mm",
     POLES, ("1200 mm", "30 mm")),
    ("3: primary.blank_diameter", "149 mm is less than the clear aperture, 150 mm", POLES, ("152 mm", "149 mm")),
    ("3: primary.edge_thickness", "1.2 mm is no more than the depth of the curve, 1.204 mm: the mirror",
     POLES, ("25 mm}\ndia", "1.2 mm}\ndia")),
    ("4: diagonal.minor_axis", "150 mm is not less than the aperture, 150 mm", POLES, ("35 mm", "150 mm")),
    ("4: diagonal.minor_axis", "200 mm is not less than the aperture, 150 mm", POLES, ("35 mm", "200 mm")),
    ("4: diagonal.holder_diameter", "151 mm is not less than the aperture", POLES, ("36 mm", "151 mm")),
    ("4: diagonal.offset", "18 mm is not less than half the minor axis, 17.5 mm: the diagonal would miss the axis",
     POLES, ("offset: 2 mm", "offset: 18 mm")),
    ("3: primary.focal_length", "160 mm is not more than the intercept, mounting_radius + height + drawn_out = "
     "100 + 50 + 12 mm = 162 mm: the diagonal would lie behind", POLES, ("1200 mm", "160 mm")),
    ("5: focuser.mounting_radius",
     "with height and drawn_out puts the focal plane 162 mm from the axis, so the diagonal would stand 18 mm from a "
     "mirror of 180 mm focal length and touch it", POLES, ("1200 mm", "180 mm")),
    ("5: focuser.drawn_out", "31 mm is more than the travel, 30 mm", POLES, ("drawn_out: 12 mm", "drawn_out: 31 mm")),
    ("5: focuser.height", "puts the focal plane 72 mm from the axis (mounting_radius + height + drawn_out = 50 + 10 + "
     "12 mm), inside the incoming beam of radius 75 mm", POLES, ("100 mm, height: 50", "50 mm, height: 10")),
    ("5: focuser.mounting_radius", "70 mm is less than half the aperture, 75 mm: the focuser would stand in the beam",
     POLES, ("mounting_radius: 100", "mounting_radius: 70")),
    ("5: focuser.drawtube", "162 mm is not less than the intercept, 162 mm: its inner end would reach the axis", POLES,
     ("drawtube: 60", "drawtube: 162")),
    ("6: front.station", "1 mm lies behind the mirror's rim, at 1.172 mm", POLES, ("1150 mm", "1 mm")),
    ("6: front.opening", "36 mm is no wider than the diagonal's holder, 36 mm", POLES, ("176 mm", "36 mm")),
    ("7: frame.inner_diameter", "20 mm is not less than the outer diameter, 20 mm", POLES, ("17 mm", "20 mm")),
    ("7: frame.inner_diameter", "190 mm is not less than the outer diameter, 190 mm", TUBE, ("180 mm", "190 mm")),
    ("7: frame.inner_diameter", "140 mm is less than the aperture, 150 mm", TUBE, ("180 mm", "140 mm")),
    ("7: frame.outer_diameter", "140 mm is less than the aperture, 150 mm", TUBE,
     ("outer_diameter: 190 mm, inner_diameter: 180 mm", "outer_diameter: 140 mm")),
    ("5: focuser.mounting_radius", "85 mm lies inside the tube, whose radius is 90 mm", TUBE,
     ("mounting_radius: 100", "mounting_radius: 85")),
    ("5: focuser.height", "puts the focal plane 93 mm from the axis, inside the tube of radius 95 mm", TUBE,
     ("100 mm, height: 50 mm, travel: 30 mm, drawn_out: 12 mm, bore: 31.75 mm, drawtube: 60 mm",
      "91 mm, height: 2 mm, drawn_out: 0 mm")),
    ("7: frame.count", "belongs to poles or a truss (kind is tube)", TUBE, ("1200 mm}\nc", "1200 mm, count: 3}\nc")),
    ("7: frame.circle_radius", "belongs to poles or a truss (kind is tube)", TUBE,
     ("1200 mm}\nc", "1200 mm, circle_radius: 95 mm}\nc")),
    ("7: frame", "needs count, such as 3 (kind is poles)", POLES, (" count: 3,", "")),
    ("7: frame", "needs circle_radius, such as 115 mm (kind is truss)", TRUSS, (" circle_radius: 120 mm,", "")),
    ("7: frame.circle_radius", "80 mm puts the poles into the beam, whose radius is 75 mm", POLES, ("115 mm", "80 mm")),
    ("7: frame.circle_radius", "80 mm puts the poles into the beam", TRUSS, ("110 mm", "80 mm")),
    ("7: frame.end_fittings", "belongs to poles or a truss (kind is tube)", TUBE,
     ("1200 mm}\nc", "1200 mm, end_fittings: 20 mm}\nc")),
    ("7: frame.end_fittings", "450 mm at either end leave nothing of 900 mm", POLES,
     ("count: 3", "end_fittings: 450 mm, count: 3")),
    ("7: frame.holes[0].from_end", "850 mm is not less than the length, 840 mm", POLES,
     ("count: 3", "end_fittings: 30 mm, holes: [{from_end: 850 mm, diameter: 5 mm}], count: 3")),
    ("7: frame.count", "40 poles of 20 mm do not fit on a circle of radius 115 mm", POLES, ("count: 3", "count: 40")),
    ("7: frame.upper_circle_radius", "belongs to a truss (kind is poles)", POLES,
     ("115 mm}", "115 mm, upper_circle_radius: 110 mm}")),
    ("7: frame.count", "of a truss is even and at least 6 (got 7)", TRUSS, ("count: 8", "count: 7")),
    ("7: frame.count", "of a truss is even and at least 6 (got 4)", TRUSS, ("count: 8", "count: 4")),
    ("7: frame.length", "88 mm is too short: neighbouring nodes of 8 poles on radii 120 and 110 mm are 88.5 mm apart",
     TRUSS, ("900 mm", "88 mm")),
    ("8: cell.rings[1]", "77 mm lies outside the mirror's edge, 76 mm", POLES, ("25 mm, 60 mm", "25 mm, 77 mm")),
    ("8: cell.rings[1]", "25 mm does not follow 60 mm; inner ring first", POLES, ("25 mm, 60 mm", "60 mm, 25 mm")),
    ("8: cell.rings", "has 1 radii, and 9 points stand on 2", POLES, ("25 mm, 60 mm", "60 mm")),
    ("8: cell.rings", "has 2 radii, and 6 points stand on 1", POLES, ("points: 9", "points: 6")),
    ("8: cell.rings", "has 3 radii, and 18 points stand on 2", POLES,
     ("points: 9, rings: [25 mm,", "points: 18, rings: [25 mm, 40 mm,")),
    ("8: cell.clips.radius", "77 mm lies outside the mirror's edge, 76 mm", POLES, ("radius: 76", "radius: 77")),
    ("8: cell.push.radius", "80 mm lies outside the mirror's edge, 76 mm", POLES, ("radius: 60", "radius: 80")),
    ("8: cell.push.spring.compressed_to", "21 mm is more than the free length, 20 mm", POLES, ("14 mm", "21 mm")),
    ("8: cell.push.spring.compressed_to", "5 mm is less than its coils take when they touch, 6 × 1 = 6 mm", POLES,
     ("14 mm", "5 mm")),
    ("8: cell.push.spring.wire", "9 mm is not less than the mean diameter of the coil, 9 mm", POLES,
     ("wire: 1 mm", "wire: 9 mm")),
]


@pytest.mark.parametrize(("key", "message", "frame", "change"), IMPOSSIBLE)
def test_impossible(problems: Say, key: str, message: str, frame: str, change: tuple[str, str]) -> None:
    said = problems(spec(frame, change))
    assert any(line.startswith(f"x/build.yaml:{key}: {message}") for line in said), said


def test_a_plate_may_be_wider_than_the_mirror(load: Load) -> None:
    assert load(spec(POLES, ("radius: 60 mm, against: glass", "radius: 80 mm, against: plate"))).build.cell is not None


def test_only_what_is_said_is_judged(load: Load, least: str) -> None:
    assert load(least + "cell: {points: 9}\nfront: {opening: 100 mm}\n").build.cell is not None
    assert load(least + 'cell: {rings: [20 mm, "{{ cell.radius }}"]}\n').build.cell is not None
    assert load(spec(TRUSS, ("count: 8", 'count: "{{ n }}"'), ("900 mm", '"{{ frame.length }}"'))).expressions


@pytest.mark.parametrize("frame", [POLES, TUBE, TRUSS])
def test_a_value_not_yet_known_is_not_judged(load: Load, frame: str) -> None:
    """Every number of the spec in turn, as an expression."""
    text = spec(frame)
    said = re.findall(r"(?<=: )[\d.]+ mm|(?<=count: )\d+|(?<=conic: )\d+", text)
    assert len(said) > 20
    for value in set(said):
        assert load(re.sub(rf": {re.escape(value)}(?=[,}}])", ': "{{ a.b }}"', text)).expressions


def test_no_travel_said_is_no_draw(load: Load, problems: Say, least: str) -> None:
    assert load(least.replace("1200 mm", "250 mm"))
    assert "100 + 50 + 0 mm = 150 mm" in problems(least.replace("1200 mm", "140 mm"))[0]
    assert "100 + 50 + 15 mm = 165 mm" in problems(least.replace("1200 mm", "160 mm").replace(
        "height: 50 mm", "height: 50 mm, travel: 30 mm"))[0]


@pytest.mark.parametrize(("aperture", "focal", "conic", "depth"), [
    # A paraboloid's depth is r²/4f; a sphere's R − √(R² − r²), here from the 3-4-5 triangle; both are exact.
    (200.0, 1200.0, -1.0, 10000 / 4800), (6.0, 2.5, 0.0, 1.0), (8.0, 2.5, 0.0, 2.0),
])
def test_depth_of_the_curve(aperture: float, focal: float, conic: float, depth: float) -> None:
    assert sagitta_mm(aperture / 2, focal, conic) == pytest.approx(depth, rel=1e-14)


def test_no_depth_where_the_curve_does_not_reach() -> None:
    assert math.isnan(sagitta_mm(10.0, 2.5, 0.0))
