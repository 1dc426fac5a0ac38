"""Diagonal and spider: vanes, holder and offsets where spec and results have them."""

from __future__ import annotations

import math

import pytest

from dossier.drawings.figures.diagonal_spider import make

SPECS = {
    "fast and small": ((76, 4, "tube", "full"), {}, None),
    "usual": ((150, 8, "poles", "full"), {"holder_diameter": "36 mm"}, None),
    "no offset": ((114, 8, "tube", "none"), {}, None),
    "an offset said": ((200, 6, "truss", "3 mm"), {"holder_diameter": "40 mm"}, None),
    "inches": ((300, 5, "truss", "full"), {"holder_diameter": "70 mm"}, "inch"),
    "large": ((400, 4, "truss", "full"), {"thickness": "25 mm", "holder_diameter": "120 mm"}, None),
}
every_spec = pytest.mark.parametrize("name", SPECS)
every_medium = pytest.mark.parametrize("where", ["paper", "phone"])


@pytest.fixture(scope="module")
def folded(telescope, worked):
    """The design of this name; ``spider`` replaces its spider, ``drop`` leaves keys of the diagonal or sections out."""

    def design(name, spider=None, drop=()):
        (aperture, ratio, kind, offset), changes, units = SPECS[name]
        spec = telescope(aperture, ratio, kind, offset)
        spec["diagonal"] = {key: value for key, value in (spec["diagonal"] | changes).items() if key not in drop}
        spec["spider"] = spider or {"vanes": 4, "vane_thickness": "1 mm", "turned": "45 deg", "hub": "20 mm"}
        if units:
            spec["readers"] = {"units": units}
        return worked({key: value for key, value in spec.items() if key not in drop})

    return design


@every_medium
@every_spec
def test_the_view_from_the_sky(folded, drawn_page, name, where):
    """The focuser's side is up, so that an offset away from it is down. Hub and vanes are on the axis."""
    design = folded(name)
    page = drawn_page(make, design, where)
    front, build, offset = page.view("front"), design.build, design.results["diagonal.offset"].number
    x, y, opening = front.circles("opening")[0]
    inside = build.frame.inner_diameter if build.frame.kind == "tube" else build.front.opening
    grain = 0.002 / page.scale
    assert opening / page.scale == pytest.approx(inside / 2, abs=grain)
    for part, diameter, down in (("diagonal", build.diagonal.minor_axis, offset),
                                 ("holder", build.diagonal.holder_diameter, offset), ("hub", 20, 0)):
        circles = front.circles(part)
        assert bool(circles) == bool(diameter), part
        for cx, cy, radius in circles:
            assert cx == pytest.approx(x, abs=0.002)
            assert (cy - y) / page.scale == pytest.approx(down, abs=grain)
            assert radius / page.scale == pytest.approx(diameter / 2, abs=grain)
    for vane, angle in zip(front.lines("vane"), (45, 135, 225, 315), strict=True):
        # Corners go from the hub outwards and back.
        inner, outer = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in ((vane[0], vane[3]), (vane[1], vane[2]))]
        far, at = front.polar(outer, (x, y), clockwise=True)
        near, also = front.polar(inner, (x, y), clockwise=True)
        assert (far, near) == pytest.approx((inside / 2, 10), abs=2 * grain)
        assert (at, also) == pytest.approx((angle, angle), abs=0.1)
        thick = math.dist(vane[0], vane[3])
        assert thick == pytest.approx(max(page.scale, 0.25 if where == "paper" else 0.75), abs=0.003)


@every_medium
@every_spec
def test_the_hole_in_the_hub_is_off_its_middle_by_the_offset(folded, drawn_page, name, where):
    """Dimensioned, larger; without an offset there is nothing to show of it."""
    design = folded(name)
    page, offset = drawn_page(make, design, where), design.results["diagonal.offset"].number
    assert ("hub" in page.views) == (offset > 0)
    if not offset:
        return
    view = page.view("hub")
    (x, y, radius), = view.circles("hub")
    grain = 0.003 / view.scale
    assert 2 * radius / view.scale == pytest.approx(20, abs=2 * grain)
    (left, level), (right, _) = view.lines("holder-hole")[0]
    assert (left + right) / 2 == pytest.approx(x, abs=0.003)
    assert (level - y) / view.scale == pytest.approx(offset, abs=grain)
    measured, = (group for group in view.group.iter() if group.get("data-dimension") == "hole-in-hub")
    lettering = next(text for text in measured.iter() if text.tag.endswith("text"))
    assert float("".join(lettering.itertext())) == pytest.approx(
        offset / (25.4 if design.build.readers.units == "inch" else 1), rel=0.06)
    for edge in view.lines("vane"):
        far, at = view.polar(edge[1], (x, y), clockwise=True)
        assert far == pytest.approx(1.3 * 10, abs=2 * grain)
        assert min(abs(at - angle) for angle in (45, 135, 225, 315)) < math.degrees(0.5 / 13) + 0.1


@pytest.mark.parametrize("offset", ["full", "3 mm"])
def test_without_a_hub_vanes_run_to_the_holder_from_the_axis(telescope, worked, drawn_page, offset):
    """Each points at the axis, and begins on the holder's outline, which is off it."""
    spec = telescope(200, 6, "truss", offset)
    spec["diagonal"]["holder_diameter"] = "60 mm"
    spec["spider"] = {"vanes": 3, "vane_thickness": "1 mm", "turned": "60 deg"}
    page = drawn_page(make, worked(spec), "paper")
    front = page.view("front")
    (x, y, _), (hx, hy, holder) = front.circles("opening")[0], front.circles("holder")[0]
    assert hy > y
    for vane, angle in zip(front.lines("vane"), (60, 180, 300), strict=True):
        inner, outer = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in ((vane[0], vane[3]), (vane[1], vane[2]))]
        assert [front.polar(point, (x, y), clockwise=True)[1] for point in (inner, outer)] == pytest.approx(
            [angle, angle], abs=0.2)
        assert math.dist(inner, (hx, hy)) == pytest.approx(holder, abs=0.01)


def test_a_holder_of_known_length_is_drawn_whole(folded, telescope, worked, drawn_page):
    spec = telescope(150, 8, "poles", "none")
    spec["diagonal"] |= {"holder_diameter": "30 mm", "holder_length": "60 mm"}
    spec["spider"] = {"vanes": 2, "vane_thickness": "4 mm", "vane_section": "rod", "turned": "90 deg"}
    page = drawn_page(make, worked(spec), "paper")
    side = page.view("side")
    xs, ys = zip(*side.lines("holder-side")[0], strict=True)
    assert ((max(xs) - min(xs)) / side.scale, (max(ys) - min(ys)) / side.scale) == pytest.approx((60, 30), abs=0.01)
    assert not side.lines("holder-break")
    assert "one rod ⌀\u202f4 from wall to wall, at 90°, 270°" in page.words.replace("\n", " ")
    page.legible()
    broken = drawn_page(make, folded("usual"), "paper")
    assert broken.view("side").lines("holder-break")
    assert len(broken.view("side").attributes("holder-side")[0]["stroke-dasharray"].split()) == 6
    assert any("not its length" in "".join(run.text for run in note) for note in broken.figure.notes)


@every_medium
@every_spec
def test_the_face_stands_at_45_degrees_and_off_both_axes(folded, drawn_page, name, where):
    design = folded(name)
    side = drawn_page(make, design, where).view("side")
    offset, minor = design.results["diagonal.offset"].number, design.build.diagonal.minor_axis
    level, upright = side.lines("optical-axis")[0][0][1], side.lines("folded-axis")[0][0][0]
    inner, outer = side.lines("diagonal-face")[0]
    grain = 0.003 / side.scale
    assert (outer[0] - inner[0]) / side.scale == pytest.approx(minor, abs=grain)
    assert (inner[1] - outer[1]) / side.scale == pytest.approx(minor, abs=grain)
    # Towards the primary is to the left, away from the focuser is down.
    assert (upright - (inner[0] + outer[0]) / 2) / side.scale == pytest.approx(offset, abs=grain)
    assert ((inner[1] + outer[1]) / 2 - level) / side.scale == pytest.approx(offset, abs=grain)
    glass = side.lines("diagonal-glass")[0]
    across = abs((glass[2][0] - glass[1][0]) / math.sqrt(2))
    assert across / side.scale == pytest.approx(design.build.diagonal.thickness, abs=grain)


@every_medium
@every_spec
def test_the_ellipse_and_its_mark(folded, drawn_page, name, where):
    design = folded(name)
    page = drawn_page(make, design, where)
    face, minor = page.view("face"), design.build.diagonal.minor_axis
    outline = face.lines("face")[0]
    wide, high = (max(p[axis] for p in outline) - min(p[axis] for p in outline) for axis in (0, 1))
    assert high / face.scale == pytest.approx(minor, rel=1e-3)
    assert wide / high == pytest.approx(math.sqrt(2), rel=1e-3)
    offset = design.results["diagonal.offset"].number
    marks = face.circles("axis-mark")
    assert bool(marks) == (offset > 0)
    middle = (max(p[0] for p in outline) + min(p[0] for p in outline)) / 2
    for x, _, _ in marks:
        assert (x - middle) / face.scale == pytest.approx(math.hypot(offset, offset), abs=0.01)
    assert ("no offset" in page.words) == (offset == 0)


@every_medium
@every_spec
def test_it_can_be_read(folded, drawn_page, name, where):
    drawn_page(make, folded(name), where).legible()
    drawn_page(make, folded(name, {"vanes": 3, "vane_thickness": "0.8 mm"}, ("thickness",)), where).legible()


def test_details_say_their_own_scale_on_paper(folded, drawn_page):
    page = drawn_page(make, folded("usual"), "paper")
    assert page.view("side").scale == 1
    assert "from the side, 1\u202f:\u202f1" in page.words
    assert "1\u202f:\u202f1" not in drawn_page(make, folded("usual"), "phone").words


def test_the_text_alternative_carries_the_numbers(folded, drawn_page):
    design = folded("an offset said")
    told = drawn_page(make, design, "phone").figure.description
    minor = design.build.diagonal.minor_axis
    for words in (f"Diagonal {minor:g} by {minor * math.sqrt(2):.1f}, 8 thick", "Holder ⌀ 40", "Offset 3 towards",
                  f"{3 * math.sqrt(2):.2f} from its middle", "4 vanes, 1 thick, at 45°, 135°, 225°, 315°"):
        assert words in told, words


def test_what_is_not_said_is_not_drawn_and_said_so(folded, drawn_page):
    page = drawn_page(make, folded("usual", {"vanes": 3}, ("holder_diameter",)), "paper")
    front = page.view("front")
    assert not front.circles("holder")
    assert not front.circles("hub")
    assert len(front.lines("vane")) == 3
    told = ["".join(run.text for run in note) for note in page.figure.notes]
    assert any("how the vanes are turned" in note for note in told)
    assert any("hub is not drawn" in note for note in told)
    assert "60°" not in page.words
    nowhere = drawn_page(make, folded("usual", drop=("front",)), "paper")
    assert not nowhere.view("front").lines("vane")
    assert any("vanes are not drawn" in "".join(run.text for run in note) for note in nowhere.figure.notes)
    nowhere.legible()
