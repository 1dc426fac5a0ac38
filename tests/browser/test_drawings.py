"""Pointing at a number of a drawing: by pointer, by keyboard, by finger; nothing on the page moves."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Locator, Page

Open = Callable[..., Page]
# Where everything that is shown stands on the page.
PLACES = """[...document.querySelectorAll('main *')].filter(e => !e.closest('.slip') && e.checkVisibility())
    .map(e => Math.round(e.getBoundingClientRect().top + scrollY))"""


def _number(page: Page, form: str = "wide-form", words: str = "diagonal ") -> Locator:
    return page.locator(f"#general-arrangement .{form} svg a").filter(has_text=words).first


def test_a_pointed_number_shows_its_working_and_nothing_moves(open_sheet: Open) -> None:
    page = open_sheet("drawings.html", 1400)
    slip, number = page.locator(".slip"), _number(page)
    before = page.evaluate(PLACES)
    number.hover()
    assert "Station of the diagonal" in slip.inner_text()
    assert page.evaluate(PLACES) == before
    assert number.get_attribute("aria-describedby") == slip.get_attribute("id")
    # It stays while it is pointed at itself, so that its links can be followed, and goes when it is left.
    slip.hover()
    page.wait_for_timeout(400)
    assert slip.count() == 1
    page.mouse.move(5, 5)
    slip.wait_for(state="detached")
    assert number.get_attribute("aria-describedby") is None


def test_the_keyboard_reaches_numbers_and_escape_takes_the_slip_away(open_sheet: Open) -> None:
    page = open_sheet("drawings.html", 1400)
    _number(page).focus()
    assert page.locator(".slip").count() == 1
    page.keyboard.press("Escape")
    assert page.locator(".slip").count() == 0
    # A length that the author said leads to his line.
    said = page.locator("#general-arrangement .wide-form svg a:has([data-key])").first
    said.focus()
    assert "build.yaml:" in page.locator(".slip").inner_text()
    said.press("Enter")
    page.wait_for_url("**/spec.html#L*")


@pytest.mark.parametrize("appearance", ["light", "dark", "night"])
def test_a_tap_shows_it_within_the_screen(browser: Browser, site, appearance: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.add_init_script(f"localStorage.setItem('appearance', '{appearance}')")
    page.goto((site / "drawings.html").as_uri())
    _number(page, "upright").tap()
    slip = page.locator(".slip")
    box = slip.bounding_box()
    assert page.url.endswith("drawings.html")
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 360
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    ground = page.evaluate("getComputedStyle(document.querySelector('.slip')).backgroundColor")
    assert ground == page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.locator("h1").tap()
    assert slip.count() == 0
    context.close()


def test_without_scripts_a_number_is_a_link_to_its_working(open_sheet: Open) -> None:
    page = open_sheet("drawings.html", 1400, scripts=False)
    _number(page).click()
    assert page.url.endswith("working.html#diagonal.station")
