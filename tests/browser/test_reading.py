"""Every sheet can be read: on a phone and on a wide screen, by keyboard, with a screen reader, without scripts."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import SHEETS, faults

Open = Callable[..., Page]


@pytest.mark.parametrize("width", [320, 360, 1100, 1600])
def test_no_sheet_is_wider_than_its_screen(open_sheet: Open, width: int) -> None:
    page = open_sheet("index.html", width)
    for sheet in SHEETS:
        page.goto(page.url.rsplit("/", 1)[0] + f"/{sheet}")
        page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, sheet
        assert page.evaluate("document.fonts.check('16px \"Source Sans\"')")


@pytest.mark.parametrize(("width", "appearance", "sheets"), [
    (360, "light", ("index.html", "optics.html", "parts.html", "step-measure-the-mirror.html", "spec.html")),
    (360, "night", ("index.html", "pictures.html")),
    *(pytest.param(width, appearance, SHEETS, marks=pytest.mark.long)
      for width, appearance in ((360, "light"), (1600, "dark"))),
])
def test_nothing_is_found_by_the_accessibility_checker(open_sheet: Open, width: int, appearance: str,
                                                       sheets: tuple[str, ...]) -> None:
    page = open_sheet("index.html", width, appearance=appearance)
    for sheet in sheets:
        page.goto(page.url.rsplit("/", 1)[0] + f"/{sheet}")
        assert not faults(page), sheet


@pytest.mark.long
@pytest.mark.parametrize(("width", "appearance"), [(360, "light"), (1600, "dark")])
def test_nor_in_the_demo_whose_sheets_have_more_on_them(teasel_site: Path, open_sheet: Open, width: int,
                                                        appearance: str) -> None:
    """One step stands for all of them."""
    page = open_sheet("index.html", width, appearance=appearance)
    steps = sorted(teasel_site.glob("step-*.html"))
    for path in sorted(set(teasel_site.glob("*.html")) - set(steps[1:])):
        page.goto(path.as_uri())
        assert not faults(page), path.name


def test_the_first_key_leads_past_the_frame(open_sheet: Open) -> None:
    page = open_sheet("optics.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the sheet"
    assert page.locator(".skip").bounding_box()["width"] > 40
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "sheet"


def test_what_has_the_focus_can_be_seen(open_sheet: Open) -> None:
    page = open_sheet("optics.html")
    for _ in range(12):
        page.keyboard.press("Tab")
        style = page.evaluate_handle("getComputedStyle(document.activeElement)")
        assert style.evaluate("style => [style.outlineStyle, style.outlineWidth]") == ["solid", "2px"]


def test_working_stands_beside_on_a_wide_screen_and_folds_on_a_phone(open_sheet: Open) -> None:
    wide = open_sheet("pictures.html", 1600)
    number, working = wide.locator("main a.number").first, wide.locator("[data-working-of]").first
    assert working.bounding_box()["x"] > number.bounding_box()["x"] + 300
    assert abs(working.bounding_box()["y"] - number.bounding_box()["y"]) < 40
    assert not wide.locator("details.note > summary").first.is_visible()
    narrow = open_sheet("pictures.html", 360)
    working = narrow.locator("[data-working-of]").first
    assert not working.is_visible()
    narrow.locator("details.note > summary").first.click()
    assert working.is_visible()


def test_pointing_at_a_number_marks_its_working(open_sheet: Open) -> None:
    page = open_sheet("pictures.html", 1600)
    page.locator("main a.number").first.hover()
    assert "pointed" in (page.locator("[data-working-of]").first.get_attribute("class") or "")
    page.locator("h1").hover()
    assert "pointed" not in (page.locator("[data-working-of]").first.get_attribute("class") or "")


def test_on_a_phone_a_number_opens_its_working_and_then_leads_to_it(open_sheet: Open) -> None:
    page = open_sheet("pictures.html", 360)
    number = page.locator("main a.number").first
    number.click()
    assert page.locator("[data-working-of]").first.is_visible()
    number.click()
    page.wait_for_url("**/working.html#optics.intercept")
    assert page.locator("[id='optics.intercept']").is_visible()


def test_without_scripts_everything_is_there(open_sheet: Open) -> None:
    page = open_sheet("pictures.html", 1600, scripts=False)
    assert page.locator("[data-working-of]").first.is_visible()
    page.locator("main a.number").first.click()
    page.wait_for_url("**/working.html#optics.intercept")
    phone = open_sheet("index.html", 360, scripts=False)
    phone.get_by_text("Sheets", exact=True).click()
    phone.get_by_role("link", name="Safety").first.click()
    phone.wait_for_url("**/safety.html")


def test_the_drawing_is_redrawn_for_a_phone(open_sheet: Open) -> None:
    wide, narrow = open_sheet("index.html", 1600), open_sheet("index.html", 360)
    assert wide.locator(".wide-form svg").is_visible()
    assert not wide.locator(".upright svg").is_visible()
    assert narrow.locator(".upright svg").is_visible()
    assert not narrow.locator(".wide-form svg").is_visible()
    smallest = narrow.eval_on_selector_all(".upright svg text", """all => Math.min(...all.map(text => {
        const drawing = text.ownerSVGElement;
        const scale = drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
        return parseFloat(getComputedStyle(text).fontSize) * scale;
    }))""")
    assert smallest >= 11


def test_decimal_points_stand_in_one_line(open_sheet: Open) -> None:
    page = open_sheet("optics.html", 1600)
    ends = page.eval_on_selector_all("#question-sharpness ~ .ledger .entry-value a", """all => all.map(link => {
        const text = link.firstChild, at = text.data.indexOf('.');
        const range = document.createRange();
        range.setStart(text, 0);
        range.setEnd(text, at < 0 ? text.length : at);
        return range.getBoundingClientRect().right;
    })""")
    assert len(ends) > 4
    assert max(ends) - min(ends) < 1


def test_the_demo_opens_without_a_complaint(teasel_site: Path, page: Page) -> None:
    wrong: list[str] = []
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("requestfailed", lambda request: wrong.append(request.url))
    for path in sorted(teasel_site.glob("*.html")):
        page.goto(path.as_uri())
        for width in (360, 1600):
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path.name
    assert not wrong


def test_on_a_phone_a_table_shows_that_it_goes_on_or_has_a_block_for_each_row(teasel_site: Path,
                                                                             open_sheet: Open) -> None:
    page = open_sheet("index.html", 360)
    stacked = 0
    for sheet in ("parts.html", "workshop.html", "shows.html"):
        page.goto((teasel_site / sheet).as_uri())
        for table in page.locator(".scroll.stacks").all():
            assert table.evaluate("e => e.scrollWidth <= e.clientWidth"), sheet
            label = table.locator("td[data-label]").first
            assert label.evaluate("e => getComputedStyle(e, '::before').content") != "none"
            stacked += 1
    assert stacked >= 3
    wide = page.locator(".scroll:not(.stacks)").evaluate_all(
        "all => all.filter(e => e.scrollWidth > e.clientWidth + 40).length")
    assert wide, "the last sheet has a table that goes on beyond its edge"
    edge = page.locator(".scroll:not(.stacks)").first
    kept = edge.evaluate("e => getComputedStyle(e).backgroundAttachment")
    assert kept == "local, local, scroll, scroll", "covers move with the table, shades stay at the edges"
