"""The widths below the curve of light: to the scale of its axis, each with its words, clear of one another."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from tests.charts.conftest import SVG, lines


def _spans(read):
    found = {}
    for path in read.root.iter(f"{SVG}path"):
        if "data-span" in path.attrib:
            across = [read.data(point)[0] for line in lines(path.attrib["d"]) for point in line]
            found[path.attrib["data-span"]] = (min(across), max(across))
    return found


@pytest.mark.parametrize("form", ["wide", "upright"])
def test_widths_are_to_scale(picture, design_of, form):
    read, results = picture("illumination", "demo", form), design_of("demo").results
    stops = [piece.field_stop for piece in design_of("demo").build.eyepieces]
    expected = [results["diagonal.full_field"].number, *stops]
    for (low, high), width in zip(_spans(read).values(), expected, strict=True):
        assert high - low == pytest.approx(width, abs=3 * read.grain("x"))
        assert high + low == pytest.approx(0, abs=3 * read.grain("x"))


def test_every_width_has_its_words(picture):
    read = picture("illumination")
    words = [text.plain.replace("\N{NARROW NO-BREAK SPACE}", " ") for text in read.texts]
    for said in ("fully lit, 11.5 mm", "25 mm Plössl, 21.2 mm", "10 mm Plössl, 8.5 mm", "6 mm wide-angle, 6.8 mm"):
        assert said in words
    assert "Marked below: fully lit" in read.rendered.alt


def test_a_long_name_is_broken_into_lines(design_of):
    from dossier.charts.spans import Span, spans
    from dossier.drawings.lettering import boxes
    from dossier.drawings.scene import ON_PHONE, Box

    name = "an eyepiece with a name so long that it cannot stand in a single line of a telephone, 7.0 mm"
    drawn = list(spans([Span("long", 0.4, 0.6, name), Span("next", 0.1, 0.9, "short")], lambda at: 328 * at,
                       Box(0, 0, 328, 100), ON_PHONE))
    first, second = (list(boxes([group], ON_PHONE)) for group in drawn)
    assert max(box.bottom for box in first) < min(box.top for box in second)
    assert all(box.left >= 0 and box.right <= 328 for box in first)


def test_without_eyepieces_only_what_is_lit_is_marked(picture):
    assert len(_spans(picture("illumination", "small sphere"))) == 1
    assert isinstance(picture("illumination", "small sphere").root, ET.Element)
