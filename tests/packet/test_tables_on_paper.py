"""How the theme's style sheets lay out tables and pictures on paper, read from the boxes of the layout."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

CSS = sorted((Path(__file__).parents[2] / "themes" / "drawing-office" / "css").glob("packet-*.css"))
MM = 96 / 25.4
REASONS = """<dl class="reasons">
<div><dt>P42 Laminate, textured, 400 by 400 mm, and 1.4 m of laminate edging 24 mm</dt><dd>Glossy sticks.</dd></div>
<div><dt>P43 Pivot bolt M8</dt><dd>Keeps the two boards in place.</dd></div></dl>"""
WRITTEN = """<table class="rows"><thead><tr><th>Measure</th><th class="number">Planned</th>
<th class="to-write">Found</th></tr></thead><tbody>
<tr><th>Focal length, mm</th><td class="number">1200</td><td class="to-write"></td></tr>
<tr><th>Thickness, mm</th><td class="number">25</td><td class="to-write"></td></tr></tbody></table>"""
PICTURE = '<svg width="180mm" height="60mm" viewBox="0 0 180 60"><path d="M0 0h9"/></svg>'


def _pages(body: str) -> list[Any]:
    from weasyprint import HTML

    style = ":root{--ink:black;--faint:gray;--rule:gray}@page{size:A4}"
    text = f"<html><style>{style}{''.join(file.read_text('utf-8') for file in CSS)}</style><body>{body}</body></html>"
    return [page._page_box for page in HTML(string=text).render().pages]


def _boxes(pages: list[Any], tag: str) -> Iterator[tuple[int, Any]]:
    return ((number, box) for number, page in enumerate(pages) for box in page.descendants()
            if str(box.element_tag).rpartition("}")[2] == tag and not type(box).__name__.startswith(("Line", "Text")))


@pytest.mark.parametrize("above", [49, 50, 51])
def test_a_name_of_two_lines_lies_over_no_other(above: int) -> None:
    """Also where the list goes on to another page, in the middle of it or of a line."""
    begin, row = '<dl class="reasons">', "<div><dt>P1</dt><dd>It is.</dd></div>"
    text = REASONS.replace(begin, begin + above * row)
    found = list(_boxes(_pages(text + REASONS), "dt"))
    for (page, one), (next_page, other) in itertools.pairwise(found):
        if page == next_page:
            assert other.position_y >= one.position_y + one.border_height() - 0.01
    assert max(box.height for _, box in found) > 5 * MM, "a name has two lines"


def test_what_is_found_has_room_to_be_written() -> None:
    cells = [box for _, box in _boxes(_pages(WRITTEN), "td")][1::2]
    assert len(cells) == 2
    for cell in cells:
        assert cell.border_width() >= 35 * MM
        assert cell.border_height() >= 5.5 * MM
        assert min(cell.border_left_width, cell.border_right_width) > 0


@pytest.mark.parametrize("above", [37, 38, 39])
def test_no_group_s_heading_stands_alone_at_the_foot_of_a_page(above: int) -> None:
    row = "<tr><td>P1</td><th>Screw</th></tr>"
    rows = row * above
    text = (f"<table class='parts'><tbody>{rows}</tbody><tbody><tr class='group-head'><th colspan='2'>Frame</th></tr>"
            f"{row * 30}</tbody></table>")
    found = [(number, box) for number, box in _boxes(_pages(text), "tr")]
    number, at = next((number, place) for place, (number, box) in enumerate(found)
                      if "group-head" in (box.element.get("class") or ""))
    assert found[at + 1][0] == number


def test_pictures_are_no_wider_than_the_text() -> None:
    pages = _pages(f"<p>Text</p><figure class='true-size to-compare'>{PICTURE}<figcaption>Seen.</figcaption></figure>")
    text = next(box for _, box in _boxes(pages, "p"))
    picture = next(box for _, box in _boxes(pages, "svg"))
    assert picture.position_x >= text.position_x - 0.01
    assert picture.width <= text.width + 0.01
    assert picture.height == pytest.approx(picture.width / 3, rel=0.01)
