"""The demo's packet, page by page: what a workshop must find in it, where the contents say it is."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from dossier.design import Design, work_out
from dossier.shelf import cautions
from dossier.spec.load import load_build
from dossier.views.packet_working import references
from dossier.views.results import FOR_SEVERAL_KITS
from dossier.views.shopping import bought

pytestmark = pytest.mark.long  # the demo with its packet takes a minute to publish
FOOT = re.compile(r"Page (\d+) of (\d+)")


@pytest.fixture(scope="module")
def design() -> Design:
    return work_out(load_build(Path(__file__).parents[2] / "content" / "teasel-150"))


def _plain(text: str) -> str:
    """Without spaces, which a line's end may or may not leave."""
    return re.sub(r"\s", "", text)


def test_every_page_but_the_cover_says_whose_it_is_how_old_and_which_of_how_many(teasel_packet, design) -> None:
    pages = teasel_packet.pages
    assert len(pages) > 40
    for number, page in enumerate(pages[1:], start=2):
        # A drawing has a title block of its own.
        name, drawn = design.build.about.name, "Supplementary title" in page.text
        assert (f"Supplementary title {name}" if drawn else f"Dossier {name} Sheet title") in page.text
        assert f"Revision {design.revision} Date {'of issue ' if drawn else ''}{design.date}" in page.text
        assert FOOT.findall(page.text) == [(str(number), str(len(pages)))]
    assert f"Number of sheets {len(pages)}" in pages[0].text


def test_the_contents_name_the_page_that_carries_each_sheet_question_and_step(teasel_packet, design) -> None:
    contents = " ".join(page.text for page in teasel_packet.pages_of("Contents"))
    found = re.findall(r"([^.…]+?)\s*\.{3,}\s*(\d+)", contents)
    assert len(found) > 15 + len(design.steps)
    for title, number in found:
        name = _plain(re.sub(r"^What is in this packet\?", "", title.strip()))
        name = re.sub(r"^\d+", "", name)
        assert name in _plain(teasel_packet.pages[int(number) - 1].text), (title, number)


def test_the_links_of_the_contents_agree_with_the_printed_numbers(teasel_packet) -> None:
    reader = teasel_packet.reader
    page = teasel_packet.pages_of("Contents")[0]
    targets = [annotation.get_object()["/Dest"] for annotation in page.page["/Annots"]]
    named = reader.named_destinations
    led = [reader.get_destination_page_number(named[target]) + 1 for target in dict.fromkeys(targets)]
    printed = [int(number) for number in re.findall(r"\.{3,}\s*(\d+)", page.text)]
    assert led == printed


def test_safety_comes_before_everything_else(teasel_packet, design) -> None:
    contents = teasel_packet.pages_of("Contents")
    assert contents[0] is teasel_packet.pages[1], "after the cover"
    first = teasel_packet.pages[1 + len(contents)]
    assert first in teasel_packet.pages_of("Safety")
    said = _plain(" ".join(page.text for page in teasel_packet.pages_of("Safety")))
    for topic in design.cautions:
        caution = cautions()[topic]
        assert _plain(caution.title) in said
        assert _plain(caution.can_happen) in said
        assert all(_plain(line) in said for line in caution.do)
    assert "Never point it at the Sun" in teasel_packet.pages[0].text


def test_every_part_stands_in_the_list_with_a_box_of_4_mm(teasel_packet, design) -> None:
    pages = teasel_packet.pages_of("Parts and costs")
    said = _plain(" ".join(page.text for page in pages))
    for part in design.build.parts:
        assert _plain(f"{part.ref}") in said
        assert _plain(part.name.partition("{{")[0]) in said
    # And once more where it is bought.
    assert _boxes(pages) == len(design.build.parts) + len(bought(design))


def _boxes(pages: list[Any]) -> int:
    """Squares with an outer edge of 4.00 mm."""
    return sum(1 for page in pages for width, height in page.boxes
               if width == pytest.approx(4, abs=0.01) and height == pytest.approx(4, abs=0.01))


def test_each_step_is_a_sheet_of_its_own_with_what_it_needs_and_a_place_to_sign(teasel_packet, design) -> None:
    names = {part.ref: part.name for part in design.build.parts}
    for step in design.steps:
        pages = teasel_packet.pages_of(f"Step {step.number}: {step.title}")
        assert 1 <= len(pages) <= 2
        said = _plain(" ".join(page.text for page in pages))
        assert _plain(f"{step.number} {step.title}") in said
        for wanted in ("Done by", "Looked over by", "Date", *step.tools, *step.consumables, *step.record):
            assert _plain(wanted) in said
        for ref in step.parts:
            assert _plain(f"{ref}") in said
            assert _plain(names[ref].partition("{{")[0]) in said
        for check in step.checks:
            assert _plain(check.what) in said
        for topic in step.cautions:
            assert _plain(cautions()[topic].can_happen.partition(". ")[0]) in said
            assert all(_plain(line.partition(". ")[0]) in said for line in cautions()[topic].do)
            assert all(_plain(each) in said for line in cautions()[topic].do
                       for each in re.findall(r"(?:Never|Do not|Leave) [^.]*\.", line)), "what must not be done"
        laid_out = len(step.parts) + len(step.tools) + len(step.consumables)
        assert _boxes(pages) == laid_out + len(step.checks)


def test_a_step_leads_to_the_page_of_the_cautions_in_full(teasel_packet, design) -> None:
    first = teasel_packet.pages.index(teasel_packet.pages_of("Safety")[0]) + 1
    concerned = [step for step in design.steps if step.cautions]
    assert len(concerned) > 10
    for step in concerned:
        said = " ".join(page.text for page in teasel_packet.pages_of(f"Step {step.number}: {step.title}"))
        assert said.count(f"In full on the safety sheet, from page {first}.") == 1


def test_steps_follow_one_another_in_order(teasel_packet, design) -> None:
    first = [teasel_packet.pages.index(teasel_packet.pages_of(f"Step {step.number}: {step.title}")[0])
             for step in design.steps]
    assert first == sorted(set(first))


def test_each_result_stands_on_a_sheet_and_its_working_is_there_under_its_number(teasel_packet, design) -> None:
    sheets = " ".join(page.text for page in teasel_packet.pages if "Sheet title Working" not in page.text)
    proofs = " ".join(page.text for page in teasel_packet.pages_of("Working"))
    for name, ref in references(design).items():
        assert name in FOR_SEVERAL_KITS or re.search(rf"{ref}\b", sheets), (name, ref)
        assert re.search(rf"\b{ref}\b", proofs)
    assert f"W{len(design.results) + 1}" not in proofs
    assert "build.yaml:" in proofs


def test_the_drawing_is_true_to_the_scale_it_states(teasel_packet, design) -> None:
    """On the general arrangement, the first sheet, the line to the front is as long as the scale says."""
    page = teasel_packet.drawings[0]
    assert "General arrangement" in page.text
    scale = int(re.search(r"1\s?:\s?(\d+)", page.text)[1])
    level = [line.length for line in page.lines if line.is_level]
    for length in (design.build.front.station, design.results["diagonal.station"].number):
        assert any(found == pytest.approx(length / scale, abs=0.02) for found in level)


def test_lettering_in_a_picture_is_as_large_as_the_text(teasel_packet) -> None:
    """Pictures shrink from a sheet's width to the text's; the sheets of drawings, with their 2.5 mm, do not."""
    letterings = [each for page in teasel_packet.pages[1:] for each in page.letterings]
    pictures = [each.size for each in letterings if 0.9 < each.unit < 1.001]
    text = Counter(round(each.size, 2) for each in letterings if each.unit < 0.3).most_common(1)[0][0]
    assert len(pictures) > 40
    assert min(pictures) >= text


def test_only_the_theme_s_typeface_is_used_and_it_is_embedded(teasel_packet) -> None:
    fonts = {str(font.get_object()["/BaseFont"]): font.get_object() for page in teasel_packet.reader.pages
             for font in page["/Resources"]["/Font"].values()}
    assert fonts
    for name, font in fonts.items():
        assert re.fullmatch(r"/[A-Z]{6}\+(Source-Sans(-Semi-Bold|-Italic)?|DossierSans)", name)
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
        assert {"/FontFile2", "/FontFile3"} & set(descriptor)


def test_it_can_be_heard_and_found_its_way_in(teasel_packet, design) -> None:
    root = teasel_packet.reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    kinds, silent = _structure(root["/StructTreeRoot"])
    assert {"/H1", "/H2", "/Table", "/TH", "/TD", "/L", "/Figure", "/Link"} <= kinds
    assert not silent, "a figure without words"
    titles = [str(item.title) for item in teasel_packet.reader.outline if not isinstance(item, list)]
    assert [title for title in titles if re.match(r"\d+ ", title)] == [
        f"{step.number} {step.title}" for step in design.steps]


def _structure(root: Any) -> tuple[set[str], list[Any]]:
    """The kinds of all structure elements, and the figures that no text stands for."""
    kinds: set[str] = set()
    silent = []
    waiting = [root]
    while waiting:
        element = waiting.pop()
        element = element.get_object() if hasattr(element, "get_object") else element
        if isinstance(element, list):
            waiting += element
        elif isinstance(element, dict):
            kind = element.get("/S")
            kinds |= {str(kind)} if kind else set()
            if kind == "/Figure" and not element.get("/Alt"):
                silent.append(element)
            if "/K" in element:
                waiting.append(element["/K"])
    return kinds, silent
