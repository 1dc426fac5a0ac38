"""What the packet is made of: links on paper, prose under its headings, the numbers of the workings."""

from __future__ import annotations

from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.publish.packet_links import on_paper, places_in
from dossier.spec.load import load_build
from dossier.views.markup import Html
from dossier.views.packet_prose import anchor, sections, with_own_names
from dossier.views.packet_working import chapters, references
from dossier.views.prose import Piece

PLACES = places_in('<p id="working--optics.focal_ratio"><section id="optics"><h2 id="optics--place"><b id="step-cut">')


@pytest.mark.parametrize(("site", "paper"), [
    ('<a class="number" href="working.html#optics.focal_ratio">8</a>',
     '8<a class="ref" href="#working--optics.focal_ratio">W3</a>'),
    ('<a class="number" href="spec.html#L4">150 mm</a>', "150 mm"),
    ('<a href="step-cut.html">the step</a>', '<a class="to" href="#step-cut">the step</a>'),
    ('<a href="optics.html#place">there</a>', '<a class="to" href="#optics--place">there</a>'),
    ('<a href="optics.html#lost">there</a>', '<a class="to" href="#optics">there</a>'),
    ('<a href="#optics--place">here</a>', '<a class="to" href="#optics--place">here</a>'),
    ('<a href="downloads.html">files</a>', "files"),
    ('<a class="footnote-backref" href="#fnref:1">back to the text</a>', ""),
    ('<a href="files/parts/a%20b.stl">the mesh</a>', "the mesh"),
    ('<a href="https://example.org/">abroad</a>', '<a href="https://example.org/">abroad</a>'),
    ('<a class="own-link" href="#later">x</a>', '<a class="own-link" href="#later">x</a>'),
    ('<code>&lt;a href="spec.html"&gt;</code>', '<code>&lt;a href="spec.html"&gt;</code>'),
])
def test_a_link_of_the_site_on_paper(site: str, paper: str) -> None:
    assert on_paper(site, PLACES, {"optics.focal_ratio": "W3"}) == paper


def test_a_passage_s_anchors_are_its_own() -> None:
    html = '<h2 id="by-day">By day</h2><p><a href="#by-day">up</a> <a href="parts.html#part-P1">a part</a> id="x"</p>'
    assert with_own_names(html, "collimation.html") == (
        '<h2 id="collimation--by-day">By day</h2><p><a href="#collimation--by-day">up</a> '
        '<a href="parts.html#part-P1">a part</a> id="x"</p>')
    assert anchor("collimation.html", "by-day") == "collimation--by-day"
    assert anchor("step-cut.html") == "step-cut"


def test_prose_stands_under_its_headings() -> None:
    pieces = [Piece(Html("<p>a</p>")), Piece(Html('<h2 id="b">B</h2>'), section="B"), Piece(Html("<p>c</p>")),
              Piece(Html("<p>d</p>"))]
    first, second = sections(pieces, "own.html")
    assert (first.heading, first.first, first.rest) == ("", "<p>a</p>", ())
    assert (second.heading, second.first, second.rest) == ('<h2 id="own--b">B</h2>', "<p>c</p>", ("<p>d</p>",))


def test_workings_are_numbered_without_a_gap(small_design) -> None:
    refs = references(small_design)
    assert set(refs) == set(small_design.results)
    assert list(refs.values()) == [f"W{number}" for number in range(1, len(refs) + 1)]


def test_a_long_parts_list_is_not_written_out_among_the_workings() -> None:
    """What the parts say stands in their list; workings that go in besides are named all the same."""
    design = work_out(load_build(Path(__file__).parents[2] / "content" / "alder-250"))
    proofs = {proof.anchor: proof for chapter in chapters(design, references(design)) for card in chapter.cards
              for proof in card.proofs}
    cost = proofs["working--parts.cost"]
    assert cost.from_parts
    assert not [member for member in cost.gathered if member.meaning.startswith("parts[")]
    assert len(cost.gathered) == len([name for name in design.results if name.startswith("cut.")]), "its cut plans"
