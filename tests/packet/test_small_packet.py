"""A small build on paper: sizes, dates, links, the same bytes each time."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from dossier.drawings.sheets.compose import sheets_of

# ISO 216, and the trade size of North America, upright; in mm.
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


@pytest.mark.parametrize("paper", SIZES)
def test_every_page_has_the_size_of_its_paper(small_packets, paper) -> None:
    for page in small_packets[paper].pages:
        assert page.size == pytest.approx(SIZES[paper], abs=0.02)


@pytest.mark.parametrize("paper", SIZES)
def test_the_cover_carries_the_fields_of_a_title_block(small_packets, paper) -> None:
    """The data fields of ISO 7200 (recalled)."""
    cover = small_packets[paper].pages[0].text
    for field in ("Legal owner Reed Bank Club", "Identification number SP-100", "Revision index draft",
                  "Date of issue 2026-03-04", "Title Sandpiper 100", "Document type Build packet",
                  "Creator Reed Bank Club", "Approval person A. Reed", "Language code en", "Sheet 1",
                  f"Number of sheets {len(small_packets[paper].pages)}", "Licence CERN-OHL-S-2.0"):
        assert field in cover
    assert "Caution: Never point it at the Sun" in cover
    assert "For 3 kits." in cover


@pytest.mark.parametrize("paper", SIZES)
def test_every_sheet_of_drawings_is_a_page_at_its_true_size(small_packets, small_design, paper) -> None:
    """Frame and measure have their lengths; the filing margin of 20 mm lies at the binding, left on a right page."""
    packet = small_packets[paper]
    assert len(packet.drawings) == len(sheets_of(small_design, paper)) > 2
    width, height = SIZES[paper]
    for page in packet.drawings:
        sides = {round(line.start[0], 2) for line in page.lines
                 if not line.is_level and line.length == pytest.approx(height - 20, abs=0.02)}
        right = 10 if packet.pages.index(page) % 2 == 0 else 20
        assert max(sides) == pytest.approx(width - right, abs=0.02)
        assert any(line.is_level and line.length == pytest.approx(width - 30, abs=0.02) for line in page.lines)
        assert any(line.is_level and line.length == pytest.approx(100, abs=0.02) for line in page.lines)
        assert f"Page {packet.pages.index(page) + 1} of {len(packet.pages)}" in page.text


def test_the_document_is_dated_by_the_design(small_packets) -> None:
    about = small_packets["A4"].reader.metadata
    assert about["/CreationDate"] == about["/ModDate"] == "D:20260304"
    assert about.title == "Sandpiper 100: build packet, revision draft"
    assert about.author == "Reed Bank Club"


def test_a_link_leads_to_its_place_and_one_to_the_site_is_only_words(small_packets) -> None:
    packet = small_packets["A4"]
    own, = packet.pages_of("A sheet of its own")
    targets = {annotation.get_object()["/Dest"] for annotation in own.page["/Annots"]
               if "/Dest" in annotation.get_object()}
    assert targets == {"step-cut", "own--second-place"}
    named = packet.reader.named_destinations
    step, = packet.pages_of("Step 1: Cut the wood")
    assert packet.reader.get_destination_page_number(named["step-cut"]) == packet.pages.index(step)
    assert "the spec and a club (https://example.org/club)" in own.text


def test_a_number_worked_out_names_its_working_and_one_that_was_said_does_not(small_packets) -> None:
    packet = small_packets["A4"]
    overview = " ".join(page.text for page in packet.pages_of("Overview"))
    assert re.search(r"Its focal ratio is 8\s?W\d+, its focal length 800 mm\.", overview)


def test_what_is_not_worked_out_is_gathered_by_what_it_wants(small_packets, small_design) -> None:
    text = " ".join(page.text for page in small_packets["A4"].pages_of("Working"))
    told = text.partition("What could not be worked out?")[2]
    said = {why for why in small_design.left_out.values() if why.startswith("the spec does not say")}
    assert told.count("the spec does not say") == len(said) < len(small_design.left_out)


def test_all_kits_are_bought_for_in_whole_packs(small_packets) -> None:
    """Three kits of seven screws are 21, which is three packs of ten: 12.00 at 4.00 a pack. Three mirrors are 90.00."""
    parts = " ".join(page.text for page in small_packets["A4"].pages_of("Parts and costs"))
    assert "Screws Priced by the pack of 10 buy 7 21 3 × 10 4.00 12.00 0.01" in parts
    assert re.search(r"Mirror, f/8\s?W\d+ buy 1 3 30\.00 90\.00 0\.5", parts)
    assert "3 kits; the mass of one 102.00" in parts
    # The shopping list for all of them.
    assert "What is bought where, for 3 kits?" in parts
    assert "Screws 21 3 packs of 10 9 4.00 12.00" in parts
    assert "All, for 3 kits 102.00" in parts
    assert parts.index("What does it cost?") < parts.index("What is it made of?")


@pytest.mark.long
def test_another_run_gives_the_same_bytes_whatever_the_clock_and_the_order_of_sets(
    small_folder: Path, small_packets: dict[str, Any],
) -> None:
    code = ("import sys; sys.path.insert(0, sys.argv[1]); import conftest; from pathlib import Path; "
            "from dossier.publish.packet import packet_pdf; design = conftest.small(Path(sys.argv[2])); "
            "sys.stdout.buffer.write(packet_pdf(conftest.Book(design, conftest.load_theme()), 'A4'))")
    surroundings = {**os.environ, "PYTHONHASHSEED": "7", "SOURCE_DATE_EPOCH": "1000000000"}
    done = subprocess.run([sys.executable, "-c", code, str(Path(__file__).parent), str(small_folder)],
                          env=surroundings, capture_output=True, check=True)
    assert done.stdout == small_packets["A4"].data
