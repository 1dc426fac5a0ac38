"""Where the views of a figure stand in the projection that the author chose, read back from the SVG.

ISO 128-3 and ISO 5456-2 (recalled): in third angle a view from the right stands on the right and one from above above;
in first angle each stands on the other side. Either way it keeps the level, or the middle, of what it looks at.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from dossier.drawings.figures import diagonal_spider, members, mirror_cell, rocker, upper_end, whole
from dossier.drawings.sheets import SHEETS
from dossier.drawings.sheets.projection import FOLLOWING, drawn_in
from tests.drawings.figures.conftest import SVG, View

SPECS = [(76, 10, "poles", "rocker", "inch"), (150, 8, "poles", "rocker", "metric"), (200, 6, "tube", None, "metric"),
         (250, 5, "truss", "rocker", "metric"), (400, 4, "tube", None, "inch")]


def angled(design, projection):
    """The design with its drawings in this projection."""
    about = design.build.about.model_copy(update={"projection": projection})
    return replace(design, build=design.build.model_copy(update={"about": about}))


def box_of(lines, circles=()):
    """Left, top, right and bottom of lines and circles."""
    xs = [x for line in lines for x, _ in line] + [x + way * r for x, _, r in circles for way in (-1, 1)]
    ys = [y for line in lines for _, y in line] + [y + way * r for _, y, r in circles for way in (-1, 1)]
    return min(xs), min(ys), max(xs), max(ys)


def stands(main, view):
    """On which side of a box another stands that is clear of it."""
    apart = {"left": main[0] - view[2], "above": main[1] - view[3], "right": view[0] - main[2],
             "below": view[1] - main[3]}
    return [side for side, distance in apart.items() if distance > 0]


@pytest.mark.parametrize(("projection", "where", "side"), [
    ("first", "paper", "left"), ("third", "paper", "right"), ("first", "phone", "below"), ("third", "phone", "above")])
@pytest.mark.parametrize("make", [whole.make, upper_end.make], ids=["general-arrangement", "upper-end"])
@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_the_view_from_the_sky_stands_where_its_projection_has_it(drilled, drawn_page, spec, make, projection, where,
                                                                  side):
    """On paper the sky is to the right, on a phone it is up. Both views share the optical axis."""
    page = drawn_page(make, angled(drilled(*spec), projection), where)
    page.legible()
    both = View(page.root, page.scale)
    (x, y, _), *_ = both.circles("front-opening") or both.circles("tube-outside")
    axis, = both.lines("optical-axis")
    assert [point[where == "paper"] for point in axis] == pytest.approx([y if where == "paper" else x] * 2, abs=0.002)
    assert stands(box_of([axis]), box_of(both.lines("axis"))) == [side]


@pytest.mark.parametrize(("projection", "side"), [("first", "left"), ("third", "right")])
@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_the_end_of_a_member_is_seen_on_the_side_that_its_projection_has_it_on(drilled, drawn_page, spec, where,
                                                                               projection, side):
    """The member lies with its sky end to the right, and that is the end that is seen."""
    page = drawn_page(members.make, angled(drilled(*spec), projection), where)
    page.legible()
    both = View(page.root, page.scale)
    (x, y, radius), = both.circles("outside")
    outline = [(stroke.start, stroke.end) for stroke in page.strokes() if stroke.kind == "member"]
    assert stands(box_of(outline), box_of((), [(x, y, radius)])) == [side]
    _, top, _, bottom = box_of(outline)
    assert (top + bottom) / 2 == pytest.approx(y, abs=0.002)
    assert bottom - top == pytest.approx(2 * radius, abs=0.002)


BOARDS = {"rocker": {"thickness": "18 mm", "width": "330 mm", "height": "200 mm", "between": "260 mm",
                     "front": "120 mm"},
          "ground": {"diameter": "480 mm", "thickness": "18 mm"}, "feet_height": "22 mm"}


def drawn_box(view):
    """The box of all lines and circles of a view, but for its dimensions."""
    measured = {id(each) for group in view.group.iter() if group.get("data-dimension") for each in group.iter()}
    kept = [each.get("data-part") for each in view.group.iter() if each.get("data-part") and id(each) not in measured]
    return box_of([line for part in set(kept) for line in view.lines(part)],
                  [circle for part in set(kept) for circle in view.circles(part)])


@pytest.mark.parametrize(("projection", "front", "above"), [("first", "right", "below"), ("third", "left", "above")])
@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("spec", [spec for spec in SPECS if spec[3]], ids=str)
def test_a_rocker_is_seen_from_the_left_and_from_above_where_its_projection_has_it(drilled, drawn_page, spec, where,
                                                                                   projection, front, above):
    """The front board stands on the left of the side view; from the left it is seen whole, on paper alone."""
    page = drawn_page(rocker.make, angled(drilled(*spec, mount=BOARDS), projection), where)
    page.legible()
    side, plan = page.view("side"), page.view("above")
    (board, *_), = side.lines("rocker-front-hidden")
    axis, = side.lines("optical-axis")
    assert board[0] < axis[0][0]
    assert stands(drawn_box(side), drawn_box(plan)) == [above]
    upright = [line[0][0] for line in plan.lines("axis") if line[0][0] == line[1][0]]
    assert upright == pytest.approx([axis[0][0]], abs=0.002)
    assert ("front" in page.views) is (where == "paper")
    if where == "paper":
        view = page.view("front")
        assert stands(drawn_box(side), drawn_box(view)) == [front]
        assert view.lines("ground-level")[0][0][1] == pytest.approx(side.lines("ground-line")[0][0][1], abs=0.002)
        boxes = [drawn_box(page.view(name)) for name in sorted(page.views)]
        assert all(stands(one, other) for one in boxes for other in boxes if one is not other)


PLATE = {"push": {"count": 3, "radius": "66 mm", "against": "plate", "overhang": "31 mm", "diameter": "6 mm",
                  "length": "60 mm", "spring": {"rate": "1.5 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"}},
         "plate": {"thickness": "12 mm", "diameter": "180 mm", "hole": "56 mm", "behind": "5 mm"}}
CELLS = {3: (114, 8, "tube", {}), 6: (200, 6, "tube", {}), 9: (300, 5, "truss", {}), 18: (400, 4, "truss", {}),
         "on a plate": (150, 8, "tube", PLATE)}


@pytest.mark.parametrize(("projection", "side"), [("first", "below"), ("third", "above")])
@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("cell", CELLS, ids=str)
def test_a_cells_section_stands_where_its_projection_has_it(drilled, drawn_page, cell, where, projection, side):
    """It is seen from above, as the arrows of its cutting line point down; its sky is up, as the plan is from behind.
    One removed from there has the cutting line and its name to tell whence it is, as ISO 128-3 allows (recalled)."""
    aperture, ratio, kind, more = CELLS[cell]
    points = {"points": cell if isinstance(cell, int) else 3, "rings": "best"}
    design = drilled(aperture, ratio, kind, cell=points | more, primary={"glass": "borosilicate"})
    page = drawn_page(mirror_cell.make, angled(design, projection), where)
    page.legible()
    plan, section = page.view("plan"), page.view("section")
    glass, (x, y, radius), *_ = box_of(section.lines("glass")), *plan.circles("blank")
    apart = stands((x - radius, y - radius, x + radius, y + radius), glass)
    assert side in apart or (where == "paper" and apart == ["right"])
    assert page.words.split("\n").count("A") == 2
    (title, titled), = [(words, box) for words, box in page.texts if words.startswith("A–A") and "end" not in words]
    assert titled[3] < glass[1], title
    assert titled[0] < (glass[0] + glass[2]) / 2 < titled[2]
    if side in apart and section.scale == pytest.approx(page.scale):
        assert (glass[0] + glass[2]) / 2 == pytest.approx(x, abs=0.002)


NAMES = {"front": "from the sky", "side": "from the side", "face": "square to its face", "hub": "the hub, from the sky"}


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_every_view_of_the_diagonal_is_named_by_where_it_is_seen_from(drilled, drawn_page, spec, where, projection):
    """A view that tells its direction may stand anywhere in either projection (ISO 128-3, recalled)."""
    page = drawn_page(diagonal_spider.make, angled(drilled(*spec), projection), where)
    assert {"front", "side", "face"} <= page.views <= set(NAMES)
    for name in page.views:
        words = ["".join(text.itertext()) for text in page.view(name).group.iter(f"{SVG}text")]
        assert any(each.startswith(NAMES[name]) for each in words), name


def test_every_sheet_follows_and_one_that_is_not_known_to_is_in_first_angle():
    assert set(SHEETS) == FOLLOWING
    assert (drawn_in("mirror-cell", "third"), drawn_in("another", "third")) == ("third", "first")
