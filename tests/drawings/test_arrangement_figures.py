"""What a general arrangement says: the figures that readers see elsewhere, in their units, leading to their working."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.drawings.general_arrangement import draw
from dossier.drawings.palette import PAPER, SCREEN
from dossier.notation import show_result
from dossier.spec.load import load_build

SVG = "{http://www.w3.org/2000/svg}"
TEASEL = Path(__file__).parents[2] / "content" / "teasel-150"


def _link(result):
    return f"working.html#{result}"


def _figures(drawing):
    found = {}
    for element in drawing.root.iter():
        name = element.get("data-result") or element.get("data-key")
        if name:
            found.setdefault(name, []).append("".join(element.itertext()))
    return found


@pytest.fixture(scope="module")
def teasel():
    return work_out(load_build(TEASEL))


@pytest.mark.parametrize("form", ["wide", "upright"])
def test_demo_shows_its_own_results(teasel, reading, form):
    drawing = reading(draw(teasel, form=form, palette=SCREEN, link=_link))
    figures = _figures(drawing)
    for name in ("optics.intercept", "diagonal.offset", "diagonal.station", "balance.station", "frame.pole_length",
                 "frame.upper_fixing"):
        shown = show_result(teasel.results[name], teasel.build.readers).number
        assert figures[name]
        # A metric length on a drawing has no zeros at its end (ISO 129-1, recalled).
        assert all(text.split()[-1] == re.sub(r"\.?0+$", "", shown) for text in figures[name])
    assert any("1200" in text for text in figures["primary.focal_length"])
    addresses = {link.get("href") for link in drawing.root.iter(f"{SVG}a")}
    assert _link("optics.intercept") in addresses
    # Only what has a working is a link: every address names a result.
    assert {address.partition("#")[2] for address in addresses} <= set(teasel.results)
    description = drawing.root.findtext(f"{SVG}desc")
    for name in ("optics.intercept", "diagonal.offset", "front.station"):
        assert figures.get(name, ["1119"])[0].split()[-1] in description


@pytest.mark.parametrize("kind", ["tube", "poles", "truss"])
def test_every_dimension_is_said_somewhere(drawing_of, telescope, kind):
    """What has no room as a dimension stands in the notes."""
    for aperture, ratio in ((76, 4), (150, 8), (400, 10)):
        for how in ({}, {"width_mm": 180}):
            figures = _figures(drawing_of(telescope(aperture, ratio, kind), **how))
            length = "frame.tube_length" if kind == "tube" else "frame.pole_length"
            for name in ("primary.aperture", "primary.focal_length", "optics.intercept", "diagonal.station",
                         "diagonal.offset", "focuser.station", "focuser.mounting_radius", "front.station",
                         "front.opening", "balance.station", "field.judged", length):
                assert len(figures[name]) == 1, (name, aperture, ratio, how)


def test_dimension_lines_are_as_long_as_their_figures(drawing_of, telescope):
    drawing = drawing_of(telescope(150, 8, "poles"))
    measured = {}
    for group in drawing.root.iter(f"{SVG}g"):
        if "data-dimension" in group.attrib:
            tips = [path.attrib["d"][1:].split("L")[0] for path in group.iter(f"{SVG}path") if path.get("data-arrow")]
            (x0, y0), (x1, y1) = (tuple(map(float, tip.split())) for tip in tips)
            figure = "".join(next(group.iter(f"{SVG}text")).itertext()).split()[-1].removeprefix("⌀")
            measured[group.attrib["data-dimension"]] = (abs(x1 - x0) + abs(y1 - y0)) / drawing.scale, float(figure)
    assert len(measured) >= 9
    for name, (length, figure) in measured.items():
        assert length == pytest.approx(figure, abs=0.06), name


def test_inch_readers_get_inches(drawing_of, telescope):
    spec = telescope(152.4, 8, "poles")
    spec["readers"] = {"units": "inch"}
    drawing = drawing_of(spec)
    figures = _figures(drawing)
    assert any("6.00" in text for text in figures["primary.aperture"])
    assert any("48.0" in text for text in figures["primary.focal_length"])
    said = " ".join(text.plain for text in drawing.texts)
    assert "Dimensions in inches" in said
    assert "\u202fin; scale" in said


def test_a_spec_without_judged_field_or_drawtube_still_draws(drawing_of, telescope):
    spec = telescope(114, 7.9, "tube", field=None)
    del spec["focuser"]["drawtube"]
    drawing = drawing_of(spec)
    radius = float(spec["focuser"]["mounting_radius"].split()[0])
    assert min(height for wall in drawing.part("drawtube") for _, height in wall) == pytest.approx(radius, abs=0.01)


def test_names_are_escaped(drawing_of, telescope):
    spec = telescope(150, 8, eyepieces=[{"name": "<b>25 & \"up\"", "focal_length": "25 mm", "field_stop": "20 mm"}])
    spec["about"]["name"] = "A & <B>"
    drawing = drawing_of(spec)
    assert any(text.plain == '<b>25 & "up"' for text in drawing.texts)
    assert drawing.root.findtext(f"{SVG}title") == "General arrangement of A & <B>"


def test_two_drawings_on_a_page_have_different_ids(design_of, telescope, reading):
    design = design_of(telescope(150, 8))
    pages = [draw(design, palette=SCREEN, form=form, **name) for form, name in
             (("wide", {}), ("upright", {}), ("wide", {"name": "cover"}))]
    ids = [element.get("id") for svg in pages for element in reading(svg).root.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) == 6
    assert "cover-title" in ids


def test_packet_engine_prints_the_drawing_at_its_scale(design_of, telescope, reading):
    """WeasyPrint sets the figures as text, and 100 mm of the drawing are 100 mm of paper."""
    from pypdf import PdfReader
    from weasyprint import HTML

    svg = draw(design_of(telescope(150, 8, "poles")), palette=PAPER, link=_link)
    page = f"<style>@page {{size: 277mm 190mm; margin: 0}} body {{margin: 0}}</style>{svg}"
    sheets = PdfReader(io.BytesIO(HTML(string=page).write_pdf())).pages
    assert len(sheets) == 1
    places = {}

    def seen(text, matrix, text_matrix, _font, _size):
        if text.strip():
            a, b, c, d, e, f = matrix
            x, y = text_matrix[4:]
            places[text.strip()] = (a * x + c * y + e, b * x + d * y + f)

    said = sheets[0].extract_text(visitor_text=seen)
    for words in ("focal length", "1200", "1032", "Plössl"):
        assert words in said
    drawn = {text.plain: text for text in reading(svg).texts}
    first, last = "25 mm Plössl", "Dimensions in millimetres; stations from the primary’s vertex"
    across = (places[last][0] - places[first][0], places[first][1] - places[last][1])
    wanted = (drawn[last].box[0] - drawn[first].box[0], drawn[last].box[3] - drawn[first].box[3])
    assert [value * 25.4 / 72 for value in across] == pytest.approx(wanted, abs=0.05)
    assert wanted[0] < -100
    assert wanted[1] > 80


def test_a_fixing_behind_the_mirror_is_told_as_a_distance(drawing_of, telescope):
    """A length on a drawing has no sign; in words too its datum is named."""
    spec = telescope(150, 5, "tube")
    spec["frame"] |= {"lower_fixing": "-70 mm", "length": "700 mm"}
    drawing = drawing_of(spec)
    said, = _figures(drawing)["frame.lower_fixing"]
    assert said.endswith("70 behind the face")
    assert "−" not in said
    assert "Lower fixing: 70 behind the primary’s face." in drawing.root.find("{http://www.w3.org/2000/svg}desc").text


def test_what_is_assumed_is_said(drawing_of, telescope):
    spec = telescope(150, 8, "poles")
    spec["diagonal"]["holder_diameter"] = "40 mm"
    for form in ("wide", "upright"):
        words = " ".join(text.plain for text in drawing_of(spec, form=form).texts)
        assert "sizes, the holder’s length and the vanes’ station assumed" in words
    spec["diagonal"]["holder_length"] = "70 mm"
    spec["spider"]["station"] = "1090 mm"
    words = " ".join(text.plain for text in drawing_of(spec).texts)
    assert "two dots: sizes assumed" in words
