"""Can a general arrangement be read? Lettering touches nothing, no dimension line is crossed, all is large enough."""

from __future__ import annotations

import math
import re
import time
from itertools import combinations

import pytest

from dossier.drawings.general_arrangement import draw
from dossier.drawings.palette import PAPER, SCREEN
from tests.strokes import enters

SIZES = [(76, 4), (76, 10), (114, 7.9), (150, 8), (200, 6), (250, 5), (400, 4), (400, 10)]
KINDS = [None, "tube", "poles", "truss"]
SHEETS = {"wide": {}, "portrait": {"width_mm": 180, "height_mm": 240}, "upright": {"form": "upright"}}
every_telescope = pytest.mark.parametrize(("aperture", "ratio", "kind"), [(*size, kind) for size in SIZES
                                                                          for kind in KINDS])
every_sheet = pytest.mark.parametrize("sheet", SHEETS)
# Lines that measure: nothing may cross them, not even an outline.
MEASURING = {"dimension", "extension"}



def _crossing(one, other):
    """The point where two strokes cross away from their ends, or None."""
    (a, b), (c, d) = one, other
    along, beside = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = along[0] * beside[1] - along[1] * beside[0]
    if abs(turn) < 1e-9:
        return None
    share = ((c[0] - a[0]) * beside[1] - (c[1] - a[1]) * beside[0]) / turn
    point = (a[0] + share * along[0], a[1] + share * along[1])
    ends_apart = min(math.dist(point, end) for end in (a, b, c, d))
    inside = all(min(p[k], q[k]) - 1e-6 <= point[k] <= max(p[k], q[k]) + 1e-6 for p, q in (one, other) for k in (0, 1))
    return point if inside and ends_apart > 0.02 else None


def _legible(drawing):
    """Lettering touches no line and no lettering; no line that measures is crossed."""
    texts, strokes = drawing.texts, list(drawing.strokes())
    for one, other in combinations(texts, 2):
        apart = (one.box[2] <= other.box[0] or other.box[2] <= one.box[0]
                 or one.box[3] <= other.box[1] or other.box[3] <= one.box[1])
        assert apart, f"{one.plain!r} overlaps {other.plain!r}"
    for text in texts:
        for kind_of_line, start, end in strokes:
            assert not enters(text.box, start, end), f"{text.plain!r} is touched by {kind_of_line} {start} {end}"
    # A line drawn on under its figure passes its own extension line, at the arrowhead's tip, as ISO 129-1 has it.
    tips = [line[0] for path in drawing.paths("data-arrow") for line in path]
    measuring = [(name, (start, end)) for name, start, end in strokes if name in MEASURING]
    for (name, one), (other_name, other) in combinations(measuring, 2):
        point = _crossing(one, other)
        assert point is None or min(math.dist(point, tip) for tip in tips) < 0.01, (
            f"{name} {one} crosses {other_name} {other}")
    for line in (line for name, line in measuring if name == "dimension"):
        for name, start, end in strokes:
            assert name in MEASURING or not _crossing(line, (start, end)), f"{line} is crossed by {name}"


@every_sheet
@every_telescope
def test_nothing_touches_lettering_and_nothing_crosses_dimensions(drawing_of, telescope, sheet, aperture, ratio, kind):
    drawing = drawing_of(telescope(aperture, ratio, kind), **SHEETS[sheet])
    assert len(drawing.texts) >= 8
    _legible(drawing)


AWKWARD = {
    "poles from behind the mirror": ("poles", {"frame": {"lower_fixing": "-40 mm", "length": "900 mm"}}),
    "poles past the focuser": ("poles", {"frame": {"length": "1010 mm"}}),
    "one short pole": ("poles", {"frame": {"length": "60 mm", "count": 1}}),
    "truss of six from behind the mirror": ("truss", {"frame": {"count": 6, "lower_fixing": "-15 mm"}}),
    "tube that ends before the front": ("tube", {"frame": {"lower_fixing": "-90 mm", "length": "1180 mm"}}),
    "tube in front of the mirror": ("tube", {"frame": {"lower_fixing": "8 mm", "length": "1120 mm"}}),
    "tube past the focus": ("tube", {"frame": {"lower_fixing": "-90 mm", "length": "1400 mm"}}),
    "balance at the mirror": ("poles", {"parts": "3 mm"}), "balance behind it": ("poles", {"parts": "-25 mm"}),
    "front at the focuser": ("poles", {"front": {"station": "1060 mm"}}), "no front": ("truss", {"front": None}),
    "no eyepiece": ("tube", {"eyepieces": None}), "thin mirror": ("poles", {"primary": {"edge_thickness": None}}),
}


@every_sheet
@pytest.mark.parametrize("case", AWKWARD)
def test_awkward_telescopes_are_legible_too(drawing_of, telescope, sheet, case):
    kind, changes = AWKWARD[case]
    spec = telescope(150, 8, kind)
    for section, change in changes.items():
        if section == "parts":
            spec["parts"][0]["station"] = change
        elif change is None:
            del spec[section]
        else:
            spec[section] = {key: value for key, value in (spec[section] | change).items() if value is not None}
    _legible(drawing_of(spec, **SHEETS[sheet]))


@every_sheet
@every_telescope
def test_everything_lies_on_the_sheet(drawing_of, telescope, sheet, aperture, ratio, kind):
    drawing = drawing_of(telescope(aperture, ratio, kind), **SHEETS[sheet])
    left, top, right, bottom = drawing.frame
    for text in drawing.texts:
        assert left <= text.box[0], text.plain
        assert text.box[2] <= right, text.plain
        assert top <= text.box[1], text.plain
        assert text.box[3] <= bottom, text.plain
    for name, *ends in drawing.strokes():
        for x, y in ends:
            assert left <= x <= right, name
            assert top <= y <= bottom, name


@pytest.mark.parametrize("sheet", ["wide", "portrait"])
@every_telescope
def test_scale_is_a_preferred_one_and_true_in_print(drawing_of, telescope, sheet, aperture, ratio, kind):
    drawing = drawing_of(telescope(aperture, ratio, kind), **SHEETS[sheet])
    reduction = int(drawing.root.attrib["data-reduction"])
    assert reduction in (1, 2, 5, 10, 20, 50)
    assert drawing.scale == pytest.approx(1 / reduction)
    width, height = (drawing.root.attrib[name] for name in ("width", "height"))
    left, top, right, bottom = drawing.frame
    # One unit of the drawing is a millimetre of paper.
    assert float(width.removesuffix("mm")) == pytest.approx(right - left)
    assert float(height.removesuffix("mm")) == pytest.approx(bottom - top)
    assert right - left == pytest.approx(SHEETS[sheet].get("width_mm", 277))
    assert bottom - top <= SHEETS[sheet].get("height_mm", 160)
    bar = next(g for g in drawing.root.iter() if g.get("data-part") == "scale-bar")
    said = next(text.plain for text in drawing.texts if " in print" in text.plain)
    length, written = re.match(r"(\d+)\u202fmm; scale 1\u202f:\u202f(\d+) in print", said).groups()
    assert int(written) == reduction
    assert float(bar.attrib["data-length"]) * reduction == pytest.approx(int(length))


def test_a_larger_preferred_scale_would_not_fit(drawing_of, telescope):
    drawing = drawing_of(telescope(150, 8, "poles"))
    # The parts alone, from the mirror's back to the focus without the diagonal, at the next larger scale.
    back = min(x for x, _ in drawing.part("primary-glass")[0])
    assert (1200 - back) / {5: 2, 10: 5}[int(drawing.root.attrib["data-reduction"])] > 277


@every_telescope
def test_lettering_is_large_enough(drawing_of, telescope, aperture, ratio, kind):
    wide, upright = (drawing_of(telescope(aperture, ratio, kind), form=form) for form in ("wide", "upright"))
    # Figures of this typeface are 0.65 of its size high.
    assert wide.size * 0.66 >= 2.5
    assert upright.frame[2] - upright.frame[0] == pytest.approx(328)
    assert upright.size >= 11
    for drawing in (wide, upright):
        assert all("font-size" not in element.attrib for element in drawing.root.iter() if element is not drawing.root)


def test_line_widths_are_two_in_the_ratio_two_to_one(drawing_of, telescope):
    for form, narrow in (("wide", 0.25), ("upright", 0.75)):
        drawing = drawing_of(telescope(250, 5, "truss"), form=form)
        widths = {float(e.attrib["stroke-width"]) for e in drawing.root.iter() if "stroke-width" in e.attrib}
        assert widths == {narrow, 2 * narrow}


def test_arrowheads_are_filled_and_three_times_as_long_as_wide(drawing_of, telescope):
    drawing = drawing_of(telescope(150, 8, "poles"))
    heads = drawing.paths("data-arrow")
    assert len(heads) >= 16
    for (tip, one, other, _), in heads:
        width = ((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5
        base = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        length = ((tip[0] - base[0]) ** 2 + (tip[1] - base[1]) ** 2) ** 0.5
        assert length == pytest.approx(3 * width, rel=0.01)


@every_sheet
def test_the_same_design_gives_the_same_text_quickly(design_of, telescope, sheet):
    design = design_of(telescope(400, 4, "truss"))
    how = {"palette": SCREEN, **SHEETS[sheet]}
    first = draw(design, **how)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        assert draw(design, **how) == first
        times.append(time.perf_counter() - start)
    assert min(times) < 0.1
    assert not re.search(r"\d\.\d{4,}", re.sub(r'data-scale="[^"]*"', "", first))


def test_picture_has_no_lettering_and_fills_its_width(drawing_of, telescope):
    for form in ("wide", "upright"):
        drawing = drawing_of(telescope(150, 8, "poles"), form=form, dimensions=False)
        assert drawing.texts == []
        xs = [x for _, *ends in drawing.strokes() for x, _ in ends]
        ys = [y for _, *ends in drawing.strokes() for _, y in ends]
        spread = max(xs) - min(xs) if form == "wide" else max(ys) - min(ys)
        assert spread > 0.93 * {"wide": 277, "upright": 520}[form]
        assert "reduction" not in drawing.root.attrib


def test_paper_colours_stand_alone(design_of, telescope):
    design = design_of(telescope(150, 8, "poles"))
    assert "var(" not in draw(design, palette=PAPER)
    assert not re.search(r'"#[0-9a-f]+"', draw(design, palette=SCREEN))
