"""General arrangement and optical layout as figures: legible on paper and phone, both views and the fold true."""

from __future__ import annotations

import math

import pytest

from dossier.drawings.figures import light_path, whole
from dossier.drawings.scene import ON_PAPER

MAKERS = {"whole": whole.make, "light": light_path.make}
SPECS = [(76, 4, "tube", "rocker", "inch"), (76, 10, "poles", None, "metric"), (150, 8, "poles", "rocker", "metric"),
         (200, 6, "tube", None, "inch"), (250, 5, "truss", "rocker", "metric"), (250, 5, None, None, "metric"),
         (400, 4, "truss", None, "inch"), (400, 10, "tube", None, "metric")]
CHANGES = {
    "no offset": ("poles", {"diagonal": {"offset": "none"}}), "no front": ("truss", {"front": None}),
    "behind the mirror": ("tube", {"frame": {"lower_fixing": "-90 mm"}}), "no cell": ("poles", {"cell": None}),
    "no spider": ("poles", {"spider": None}), "thin mirror": ("tube", {"primary": {"edge_thickness": None}}),
    "wide field": ("poles", {"field": {"judged": "60 mm"}}), "poles of six": ("poles", {"frame": {"count": 6}}),
    "turned": ("poles", {"frame": {"turned": "20 deg"}, "spider": {"turned": "10 deg"}}),
}


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_both_are_legible_on_paper_and_phone(drilled, drawn_page, spec, maker, where):
    page = drawn_page(MAKERS[maker], drilled(*spec), where)
    page.legible()
    assert page.words


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("case", CHANGES)
def test_odd_builds_are_legible_too(drilled, drawn_page, case, where):
    kind, changes = CHANGES[case]
    design = drilled(150, 8, kind, "rocker", **changes)
    for make in MAKERS.values():
        drawn_page(make, design, where).legible()


@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_the_view_from_the_sky_lies_on_the_axis_of_the_side_view(drilled, drawn_page, spec):
    """First-angle projection: what is seen from the right stands on the left, level with it."""
    design = drilled(*spec)
    page = drawn_page(whole.make, design, "paper")
    side, front = page.view("side"), page.view("front")
    (x, y, radius), = front.circles("primary-face")
    axis, = side.lines("optical-axis")
    assert axis[0][1] == axis[1][1] == pytest.approx(y)
    assert radius == pytest.approx(design.build.primary.aperture / 2 * page.scale, abs=0.001)
    assert x + radius < min(point[0] for line in side.lines("primary-face") for point in line)
    plane, = front.lines("focal-plane-line")
    assert [(y - height) / page.scale for _, height in plane] == pytest.approx(
        [design.results["optics.intercept"].number] * 2, abs=0.001 / page.scale)


@pytest.mark.parametrize("turned", [0.0, 20.0, 60.0])
@pytest.mark.parametrize("count", [3, 4, 6])
def test_poles_of_both_views_are_turned_as_the_spec_says(drilled, drawn_page, turned, count):
    design = drilled(150, 8, "poles", None, frame={"turned": f"{turned:g} deg", "count": count})
    page = drawn_page(whole.make, design, "paper")
    frame, front = design.build.frame, page.view("front")
    (x, y, _), = front.circles("primary-face")
    angles = sorted((turned + 360 * index / count) % 360 for index in range(count))
    found = [front.polar(pole[:2], (x, y), clockwise=True) for pole in front.circles("pole")]
    assert sorted(angle for _, angle in found) == pytest.approx(angles, abs=0.02)
    assert [radius for radius, _ in found] == pytest.approx([frame.circle_radius] * count, abs=0.001 / page.scale)
    # Of the side view's poles those stay that lie in the plane of the fold or behind it.
    heights = sorted(-line[0][1] / page.scale for line in page.view("side").lines("member-axis"))
    kept = sorted(frame.circle_radius * math.cos(math.radians(angle)) for angle in angles
                  if math.sin(math.radians(angle)) > -1e-9)
    assert heights == pytest.approx(kept, abs=0.001 / page.scale)


@pytest.mark.parametrize("said", [True, False])
def test_a_turn_that_nobody_says_is_owned_up_to(drilled, said):
    turn = {"turned": "20 deg" if said else None}
    figure = whole.make(drilled(150, 8, "poles", frame=turn, spider=turn), ON_PAPER, 0.1, 172.0)
    assert [what for what in ("poles", "vanes")
            if f"How the {what} are turned is not said" in figure.description or any(
                f"How the {what} are turned" in "".join(run.text for run in note) for note in figure.notes)] == (
        [] if said else ["poles", "vanes"])


@pytest.mark.parametrize("offset", ["full", "none"])
@pytest.mark.parametrize(("aperture", "ratio"), [(76, 4), (150, 8), (400, 10)])
def test_the_fold_is_drawn_larger_and_true(drilled, drawn_page, aperture, ratio, offset):
    """Rays of the axis and of both edges of the field meet in the focal plane, at their heights, after one fold."""
    design = drilled(aperture, ratio, "poles", None, diagonal={"offset": offset, "minor_axis": f"{0.7 * aperture} mm"})
    page = drawn_page(light_path.make, design, "paper")
    fold = page.view("fold")
    assert fold.scale >= page.scale
    across, down = (float(part) for part in fold.group.get("data-axis").split())
    near = 0.002 / fold.scale
    intercept, half = design.results["optics.intercept"].number, design.results["field.judged"].number / 2
    rays = {each.get("data-ray"): [tuple(map(float, pair.split())) for pair in each.get("d")[1:].split("L")]
            for each in fold.group.iter() if each.get("data-ray")}
    assert len(rays) == 6
    for name, points in rays.items():
        place = {"axis": 0.0, "outer": half, "inner": -half}[name.partition("-")[0]]
        x, y = points[-1]
        assert ((x - across) / fold.scale, (down - y) / fold.scale) == pytest.approx((place, intercept), abs=near)
        # It is turned where the plane at 45° through the fold lies.
        x, y = points[1]
        assert x - across == pytest.approx(down - y, abs=0.002)
    face, = fold.lines("diagonal-face")
    assert math.dist(*face) / fold.scale == pytest.approx(0.7 * aperture * math.sqrt(2), abs=2 * near)
    moved = design.results["diagonal.offset"].number
    assert sum(y - down for _, y in face) / 2 / fold.scale == pytest.approx(moved, abs=near)


def test_optics_have_a_sheet_of_their_own(drilled):
    """The general arrangement says no focal length and draws no light; the layout draws nothing that light does not
    touch."""
    design = drilled(150, 8, "poles")
    arranged, layout = (make(design, ON_PAPER, 0.1, 172.0) for make in MAKERS.values())
    assert not _data(arranged.shapes, "ray")
    assert "primary.focal_length" not in _keys(arranged.shapes)
    assert "primary.focal_length" in _keys(layout.shapes)
    assert _data(layout.shapes, "ray")
    assert not {"member", "vane", "drawtube"} & set(_data(layout.shapes, "part"))


def _data(shapes, name):
    found = []
    for shape in shapes:
        if name in getattr(shape, "data", {}):
            found.append(shape.data[name])
        found += _data(getattr(shape, "members", ()), name)
    return found


def _keys(shapes):
    return {run.key for shape in shapes for run in getattr(shape, "runs", ())} | {
        key for shape in shapes for key in _keys(getattr(shape, "members", ()))}
