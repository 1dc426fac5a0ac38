"""The primary's own drawing: glass to scale, indications after ISO 10110, tolerances from what the design needs."""

from __future__ import annotations

import math
import re

import pytest

from dossier.drawings.figures.mirror_blank import make

SIZES = {"small": (76, 4, -1), "usual": (150, 8, 0), "large": (400, 4, -1)}
every_size = pytest.mark.parametrize("size", SIZES)
every_medium = pytest.mark.parametrize("where", ["paper", "phone"])


@pytest.fixture(scope="module")
def mirror(telescope, worked):
    """The design of a telescope of this size; keywords change its primary, ``sections`` whole sections."""

    def design(size, sections=None, **changes):
        aperture, ratio, conic = SIZES[size]
        spec = telescope(aperture, ratio, "tube", **(sections or {}))
        spec["primary"] |= {"glass": "borosilicate", "conic": conic} | changes
        spec["primary"] = {key: value for key, value in spec["primary"].items() if value is not None}
        return worked(spec)

    return design


def notes(page):
    """What the notes say, as one line: on paper they stand in the figure, on a phone they are given with it."""
    given = ["".join(run.text for run in note) for note in page.figure.notes]
    return " ".join(" ".join([page.words, *given]).split())


@every_medium
@every_size
def test_the_glass_is_to_scale(mirror, drawn_page, size, where):
    """Edge, middle, depth and both diameters, measured along and across the axis."""
    design = mirror(size)
    page = drawn_page(make, design, where)
    glass, primary = page.view("section").lines("glass")[0], design.build.primary
    # On paper the face is to the right, on a phone up.
    points = [(x, y) if where == "paper" else (-y, x) for x, y in glass]
    back, face = min(x for x, _ in points), max(x for x, _ in points)
    assert (face - back) / page.scale == pytest.approx(primary.edge_thickness, abs=0.002 / page.scale)
    high = [y for _, y in points]
    assert (max(high) - min(high)) / page.scale == pytest.approx(primary.blank_diameter, abs=0.002 / page.scale)
    middle = next(x for x, y in points if abs(y) < 1e-6 and x > back)
    depth = design.results["optics.sagitta"].number
    assert (face - middle) / page.scale == pytest.approx(depth, abs=0.002 / page.scale)
    rims = [abs(y) for x, y in points if abs(x - face) < 1e-6]
    assert min(rims) / page.scale == pytest.approx(primary.aperture / 2, abs=0.002 / page.scale)


@every_medium
@every_size
def test_it_can_be_read(mirror, drawn_page, size, where):
    drawn_page(make, mirror(size), where).legible()


@every_medium
def test_everything_said_at_once_can_be_read_in_inches_too(mirror, drawn_page, where):
    design = mirror("usual", {"readers": {"units": "inch"}}, reflectivity=0.94, chamfer="1 mm", imperfections="3 x 0.4",
                    focal_length_tolerance="12 mm", glass="borosilicate")
    page = drawn_page(make, design, where)
    page.legible()
    assert "R\u202f94.488\u00a0±\u202f0.945 CC" in page.words
    assert "protective chamfer 0.039" in page.words
    assert "5/\u202f3\u202f×\u202f0.4" in page.words
    assert "inches" in page.figure.description
    # Surfaces and wavelengths stay in nanometres.
    assert "nm; λ\u202f=\u202f550\u202fnm" in page.words


def test_indications(mirror, drawn_page):
    page = drawn_page(make, mirror("usual", reflectivity=0.94), "paper")
    for words in ("R\u202f2400 CC", "K\u202f0", "⌀e\u202f150", "R\u202f∞", "reflectivity 0.94"):
        assert words in page.words, words
    for words in ("Left surface, the back", "borosilicate glass 3.3", "Right surface, the face"):
        assert words in " ".join(page.words.split("\n")), words
    assert len(page.view("indications").circles("coating")) == 1
    assert "ISO 10110-5:2015" in notes(page)
    # Part 11 sets tolerances where a drawing is silent: this one says that they do not count (recalled).
    assert "–: no requirement, nor one of ISO 10110-11" in notes(page)
    assert "ISO 10110-12" not in notes(page)
    fast = drawn_page(make, mirror("small"), "paper")
    assert "K\u202f−1" in fast.words
    assert "ISO 10110-12" in notes(fast)


@every_medium
def test_every_item_of_every_surface_is_told_or_dashed(mirror, drawn_page, where):
    """ISO 10110: 0/ to 2/ are the material's, 3/ to 5/ each surface's (recalled)."""
    words = drawn_page(make, mirror("usual"), where).words
    assert [words.count(f"{item}/\u202f") for item in range(6)] == [1, 1, 1, 2, 2, 2]
    assert [words.count(f"{item}/\u202f–") for item in range(6)] == [1, 1, 1, 2, 2, 2]


@every_medium
def test_what_follows_from_the_rest_is_in_brackets(mirror, drawn_page, where):
    """ISO 129-1: an auxiliary dimension is in brackets, so that nobody works to two that cannot both be kept."""
    words = drawn_page(make, mirror("usual"), where).words.split("\n")
    assert "(23.8)" in words
    assert "depth at ⌀e (1.172)" in words
    assert "25" in words


@every_size
def test_the_rim_is_drawn_larger_and_to_its_own_scale(mirror, drawn_page, size):
    """Depth of the curve, chamfer and the ring beyond the clear aperture, measured in the detail."""
    design = mirror(size, chamfer="1 mm")
    page = drawn_page(make, design, "paper")
    detail, primary = page.view("rim"), design.build.primary
    assert detail.scale >= 2 * page.scale
    assert f"A ({detail.scale:g}\u202f:\u202f1)" in page.words
    line, plane = detail.lines("rim")[0], detail.lines("vertex-plane")[0]
    face, rim = max(x for x, _ in line), min(y for _, y in line)
    near = 0.002 / detail.scale
    assert (face - plane[0][0]) / detail.scale == pytest.approx(design.results["optics.sagitta"].number, abs=near)
    corners = [(x, y) for x, y in line if abs(x - face) < 1e-6]
    assert (min(y for _, y in corners) - rim) / detail.scale == pytest.approx(1.0, abs=near)
    ring = (primary.blank_diameter - primary.aperture) / 2
    assert (max(y for _, y in corners) - rim) / detail.scale == pytest.approx(ring, abs=near)
    assert len(page.view("section").circles("detail-mark")) == 1


def test_a_tolerance_that_is_stated_stands_with_its_dimension(mirror, drawn_page):
    """A limit is printed; a scatter, of which the spec says two standard deviations, is no limit."""
    limit = {"tolerances": {"primary.edge_thickness": "0.5 mm"}}
    assert "25\u00a0±\u202f0.5" in drawn_page(make, mirror("usual", limit), "paper").words
    scatter = {"tolerances": {"primary.edge_thickness": "0.5 mm normal"}}
    assert "±" not in drawn_page(make, mirror("usual", scatter), "paper").words
    inches = limit | {"readers": {"units": "inch"}}
    assert "0.984\u00a0±\u202f0.020" in drawn_page(make, mirror("usual", inches), "paper").words


def test_what_nobody_said_is_not_indicated(mirror, drawn_page):
    page = drawn_page(make, mirror("usual", glass=None), "paper")
    for words in ("chamfer", "±", "reflectivity", "glass 3.3"):
        assert words not in page.words, words
    assert "glass not said" in page.words
    assert not page.view("indications").circles("coating")
    assert drawn_page(make, mirror("usual", edge_thickness=None), "paper") is None


@every_size
def test_the_form_tolerance_spends_the_strehl_ratio_that_is_left(mirror, drawn_page, size):
    """A Gaussian error of s nm multiplies the ratio by exp(−(4πs/λ)²): with what is allowed the wish is kept, with an
    eighth more it is missed."""
    goals = [{"result": "figure.strehl", "at_least": 0.75}]
    design = mirror(size, {"goals": goals}, surface_rms="4 nm")
    page = drawn_page(make, design, "paper")
    allowed = float(re.search(r"RMSi <\u202f([\d.]+)", page.words)[1])
    bare = design.results["figure.strehl"].number * math.exp((4 * math.pi * 4 / 550) ** 2)
    assert bare * math.exp(-((4 * math.pi * allowed / 550) ** 2)) >= 0.75
    assert bare * math.exp(-((4 * math.pi * 1.125 * allowed / 550) ** 2)) < 0.75
    assert "Strehl ratio at 0.750" in notes(page)


def test_a_curve_that_misses_has_no_tolerance(mirror, drawn_page):
    page = drawn_page(make, mirror("large", conic=0), "paper")
    assert page.words.count("3/\u202f–\n") == 2
    assert "RMSi" not in page.words
    assert "no polish makes up for it" in notes(page)


def test_radii_that_still_focus(mirror, drawn_page):
    """The focal length may be as much shorter as the focuser can still go in, and as much longer as it can go out."""
    design = mirror("usual")
    spare = [design.results[f"focuser.spare_{way}"].number for way in ("in", "out")]
    told = notes(drawn_page(make, design, "phone"))
    least, most = map(float, re.search(r"With R from ([\d.]+) to ([\d.]+) every", told).groups())
    assert (least, most) == pytest.approx((2400 - 2 * spare[0], 2400 + 2 * spare[1]), abs=0.1)
    # Rounded to the safe side.
    assert least >= 2400 - 2 * spare[0] - 1e-6
    assert most <= 2400 + 2 * spare[1] + 1e-6


@every_medium
def test_without_a_tolerance_the_limits_of_the_focuser_stand_in_the_table(mirror, drawn_page, where):
    design = mirror("usual")
    spare = [design.results[f"focuser.spare_{way}"].number for way in ("in", "out")]
    table = " ".join("".join(drawn_page(make, design, where).view("indications").group.itertext()).split("\n"))
    least, most = map(float, re.search(r"R\u202ffrom ([\d.]+) to ([\d.]+), by the focuser’s", table).groups())
    assert (least, most) == pytest.approx((2400 - 2 * spare[0], 2400 + 2 * spare[1]), abs=0.1)
    assert "by the focuser’s" not in drawn_page(make, mirror("usual", focal_length_tolerance="2 mm"), where).words


@every_medium
@pytest.mark.parametrize("more", [-0.5, 0.5])
def test_a_tolerance_that_no_focuser_can_follow_is_owned_up_to(mirror, drawn_page, where, more):
    """On either side of what the focuser can still go in, which is less here than what it can go out or equal."""
    design = mirror("usual")
    spare = min(design.results[f"focuser.spare_{way}"].number for way in ("in", "out"))
    told = notes(drawn_page(make, mirror("usual", focal_length_tolerance=f"{spare + more} mm"), where))
    assert ("goes beyond that, to" in told) == (more > 0)


def test_the_text_alternative_carries_the_numbers(mirror, drawn_page):
    told = drawn_page(make, mirror("usual"), "phone").figure.description
    for words in ("⌀ 154", "clear aperture ⌀ 150", "edge 25 thick", "middle 23.8 thick", "R 2400 CC", "RMSi",
                  "millimetres"):
        assert words in told, words
