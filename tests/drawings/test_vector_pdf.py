"""Drawings as PDF, read back by a general library: size, lines, lettering, the typeface inside."""

from __future__ import annotations

import io
import math
import re

import pytest
from pypdf import PdfReader

from dossier.drawings.lettering import SIGNS, width_of
from dossier.drawings.scene import (
    CENTRE,
    ON_PAPER,
    ON_PHONE,
    THIN,
    Box,
    Circle,
    Group,
    Pen,
    Polyline,
    Scene,
    Segments,
    Text,
    Wash,
    Words,
)
from dossier.publish.vector_pdf import _face, as_pdf

BOX = Box(-10, -20, 200, 277)
SHAPES = (
    Polyline(((0, 0), (100, 0)), Pen(), data={"part": "bar"}),
    Polyline(((0, 0), (5, 5), (5, 0)), None, Wash("accent", 0.5), True),
    Group((Circle((50, 50), 25, Pen(CENTRE)), Segments((((1, 2), (3, 4)), ((5, 6), (7, 8))), Pen(THIN, "faint", 0.3)))),
    Text((10, 20), (Words("Pole ⌀\u202f20 × 17, 640.0"),)), Text((30, 40), (Words("upwards"),), "middle", True),
)


def made(*members, medium=ON_PAPER, box=BOX) -> Scene:
    return Scene("s", "t", "d", medium, box, members or SHAPES)


def content(page) -> str:
    return page.get_contents().get_data().decode("latin-1")


def test_a_page_is_as_large_as_its_drawing_and_asks_not_to_be_scaled():
    reader = PdfReader(io.BytesIO(as_pdf([made(), made(box=Box(0, 0, 279.4, 215.9))], title="Two")))
    sizes = [[float(side) / 72 * 25.4 for side in page.mediabox[2:]] for page in reader.pages]
    assert sizes == [pytest.approx([210, 297], abs=1e-3), pytest.approx([279.4, 215.9], abs=1e-3)]
    assert reader.metadata.title == "Two"
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_points_stand_where_the_drawing_has_them():
    """The page's own matrix takes millimetres downwards from the box's corner to points upwards."""
    text = content(PdfReader(io.BytesIO(as_pdf([made()], title=""))).pages[0])
    a, b, c, d, e, f = map(float, re.match(r"(.*) cm", text)[1].split())
    bar = re.search(r"([\d.-]+) ([\d.-]+) m ([\d.-]+) ([\d.-]+) l S", text)
    start, end = ((float(bar[i]), float(bar[i + 1])) for i in (1, 3))
    (x0, y0), (x1, y1) = ((a * x + c * y + e, b * x + d * y + f) for x, y in (start, end))
    assert (x1 - x0) / 72 * 25.4 == pytest.approx(100, abs=0.001)
    assert x0 / 72 * 25.4 == pytest.approx(10, abs=0.001)
    assert y0 / 72 * 25.4 == y1 / 72 * 25.4 == pytest.approx(277, abs=0.001)


def test_a_circle_is_round():
    """Its four curves leave the circle by less than 0.03 % of the radius, as four Bézier arcs do (common knowledge)."""
    text = content(PdfReader(io.BytesIO(as_pdf([made(Circle((50, 50), 25))], title=""))).pages[0])
    path = re.search(r"RG .*? w (.*) h", text)[1]
    numbers = [float(number) for number in re.findall(r"[\d.-]+", path)]
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    start = points[0]
    for handles in (points[1:4], points[4:7], points[7:10], points[10:13]):
        one, two, end = handles
        for t in (0.1, 0.3, 0.5, 0.8):
            x, y = (start[i] * (1 - t)**3 + 3 * one[i] * t * (1 - t)**2 + 3 * two[i] * t**2 * (1 - t) + end[i] * t**3
                    for i in (0, 1))
            assert math.dist((x, y), (50, 50)) == pytest.approx(25, rel=3e-4)
        start = end


def test_lettering_is_text_with_its_typeface_inside():
    reader = PdfReader(io.BytesIO(as_pdf([made()], title="")))
    page = reader.pages[0]
    assert "Pole ⌀\u202f20 × 17, 640.0" in page.extract_text()
    font = page["/Resources"]["/Font"]["/DossierSans"]
    descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
    assert len(descriptor["/FontFile2"].get_data()) == descriptor["/FontFile2"]["/Length1"]
    assert "/ToUnicode" in font
    assert "0 -1 -1 0 30" in content(page)  # turned lettering reads upwards


def test_the_room_that_drawings_leave_for_lettering_is_enough():
    """No sign is wider in the typeface that is embedded than the drawings think it is."""
    known = _face().glyphs
    assert set(known) >= SIGNS
    assert all(known[sign][1] <= width_of(sign, 1000) + 1e-9 for sign in SIGNS)


def test_opacity_and_dashes():
    reader = PdfReader(io.BytesIO(as_pdf([made()], title="")))
    states = reader.pages[0]["/Resources"]["/ExtGState"]
    assert sorted(float(state["/ca"]) for state in states.values()) == [0.3, 0.5]
    assert "[6 0.75 0.375 0.75] 0 d" in content(reader.pages[0])  # long dash, dot: 24, 3, 1.5, 3 of 0.25 mm


def test_the_same_drawings_give_the_same_bytes():
    assert as_pdf([made()], title="x") == as_pdf([made()], title="x")


def test_what_it_cannot_write_it_says():
    with pytest.raises(ValueError, match="millimetres"):
        as_pdf([made(medium=ON_PHONE)], title="")
    with pytest.raises(ValueError, match="has no '😀'"):
        as_pdf([made(Text((0, 0), (Words("a 😀"),)))], title="")
