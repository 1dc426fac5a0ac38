"""The sheet of drawings: every figure for wide screens and phones, where each number comes from, and its files."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from dossier.drawings.sheets.compose import sheets_of
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.themes import load_theme
from dossier.views.drawings import SET, projection_of_all

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def files(worked_out) -> dict[str, bytes]:
    """The starter's site, on Letter."""
    return Site(Book(worked_out, load_theme()), "Letter").files()


@pytest.fixture(scope="module")
def sheets(worked_out):
    return sheets_of(worked_out, "Letter")


@pytest.fixture(scope="module")
def sections(files, sheets) -> dict[str, str]:
    """What the page shows of each sheet."""
    page = files["drawings.html"].decode()
    parts = re.split(r'<section class="section drawn" id="([^"]+)"', page)
    found = dict(zip(parts[1::2], parts[2::2], strict=True))
    assert list(found) == [sheet.kind.key for sheet in sheets]
    return found


def test_every_sheet_stands_on_the_page_with_its_files(files, sheets, sections) -> None:
    listed = files["downloads.html"].decode()
    for sheet in sheets:
        shown = sections[sheet.kind.key]
        assert sheet.kind.caption.replace("’", "’") in shown
        assert f"Scale {sheet.fields.scale} on sheet {sheet.number} of {sheet.count}" in shown
        for form in ("pdf", "svg"):
            address = f"drawings/{sheet.kind.key}.{form}"
            assert f'href="{address}"' in shown
            assert f'href="{address}"' in listed
            assert files[address]
    assert f'href="{SET}"' in files["drawings.html"].decode()
    assert "Where does everything go" in files["drawings.html"].decode()


def test_the_page_says_which_projection_its_sheets_are_in(files, sheets, worked_out) -> None:
    """ISO 5456-2 (recalled) has the symbol on each sheet; the page says the same in words."""
    drawn = {sheet.fields.projection for sheet in sheets}
    assert drawn == {"first"}
    assert f"On {len(sheets)} sheets of Letter, in first-angle projection," in files["drawings.html"].decode()
    about = worked_out.build.about.model_copy(update={"projection": "third"})
    third = replace(worked_out, build=worked_out.build.model_copy(update={"about": about}))
    kinds = [sheet.fields.projection for sheet in sheets_of(third, "Letter")]
    assert projection_of_all(kinds) == "third-angle projection"
    assert projection_of_all([*kinds, "first"]) == "first-angle or third-angle projection, as each says"


def test_both_forms_of_a_figure_say_in_words_what_they_show(sections) -> None:
    for key, shown in sections.items():
        wide, upright = _drawings(shown)
        assert (wide.get("data-form"), upright.get("data-form")) == ("wide", "upright")
        for drawing in (wide, upright):
            assert len(drawing.find(f"{SVG}desc").text) > 60, key
            # Not an image: what can be pointed at must be reached.
            assert drawing.get("role") == "group"
            assert set(re.findall(r"#[0-9a-f]{6}", ET.tostring(drawing, "unicode"))) == set(), "colours by name only"


def test_a_figure_for_wide_screens_is_as_large_as_on_its_sheet(sheets, sections) -> None:
    for sheet in sheets:
        wide, upright = _drawings(sections[sheet.kind.key])
        assert float(wide.get("data-scale")) == pytest.approx(sheet.scale)
        assert wide.get("width").endswith("mm")
        assert float(wide.get("width").removesuffix("mm")) <= 186
        # A phone of 360 px leaves 328; lettering of 12.5 is then at least 11 px high.
        assert 328 <= float(upright.get("width")) <= 328 * 12.5 / 11 + 0.01
        balloons = {each.get("data-balloon") for each in wide.iter(f"{SVG}circle")} - {None}
        assert balloons == {part.ref for part in sheet.parts}


def test_every_number_of_a_drawing_leads_to_where_it_comes_from(worked_out, files, sections) -> None:
    pages = {name: files[name].decode() for name in ("working.html", "spec.html")}
    pointed = 0
    for key, shown in sections.items():
        told = shown.partition('<details class="further')[2]
        for drawing in _drawings(shown):
            for link in drawing.iter(f"{SVG}a"):
                page, _, place = link.get("href").partition("#")
                assert f'id="{place}"' in pages[page], link.get("href")
                text = next(each for each in link.iter() if each.get("data-result") or each.get("data-key"))
                name = ("data-result", text.get("data-result")) if text.get("data-result") else (
                    "data-key", text.get("data-key"))
                assert f'{name[0]}="{name[1]}"' in told, f"{key} does not tell of {name[1]}"
                pointed += 1
    assert pointed > 40
    assert worked_out.results["diagonal.station"].title in sections["general-arrangement"].replace("&#39;", "'")


def _drawings(shown: str) -> tuple[ET.Element, ET.Element]:
    wide, upright = re.findall(r"<svg.*?</svg>", shown, re.DOTALL)[:2]
    return ET.fromstring(wide), ET.fromstring(upright)
