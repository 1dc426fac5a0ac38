"""Light, dark and night: chosen, kept, without a flash, and at night nothing but dim red."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

Open = Callable[..., Page]
GROUNDS = {"light": "rgb(252, 250, 245)", "dark": "rgb(15, 24, 34)", "night": "rgb(0, 0, 0)"}
SHEETS = ((360, "index.html"), (1600, "optics.html"), (1600, "parts.html"), (360, "step-measure-the-mirror.html"),
          (360, "pictures.html"), (1600, "pictures.html"), (1600, "spec.html"))


def ground(page: Page) -> str:
    """The colour behind the text."""
    return str(page.evaluate("getComputedStyle(document.body).backgroundColor"))


@pytest.mark.parametrize("device", ["light", "dark"])
@pytest.mark.parametrize("scripts", [True, False])
def test_at_first_the_device_decides(open_sheet: Open, device: str, scripts: bool) -> None:
    page = open_sheet("index.html", device=device, scripts=scripts)
    assert page.locator(".appearance").is_visible() is scripts
    shown = Image.open(io.BytesIO(page.screenshot())).convert("RGB").getpixel((2, 2))
    assert f"rgb{shown}" == GROUNDS[device]


@pytest.mark.parametrize("chosen", ["light", "dark", "night"])
def test_what_the_reader_chooses_is_kept_from_sheet_to_sheet(open_sheet: Open, chosen: str) -> None:
    page = open_sheet("index.html", device="light" if chosen != "light" else "dark")
    page.get_by_role("button", name=chosen.capitalize()).click()
    assert ground(page) == GROUNDS[chosen]
    page.get_by_role("link", name="Optics", exact=False).first.click()
    page.wait_for_url("**/optics.html")
    # The browser may hand its memory to a new process a moment late; then the page is told of it.
    page.wait_for_function("colour => getComputedStyle(document.body).backgroundColor === colour", arg=GROUNDS[chosen],
                           timeout=5000)
    assert page.get_by_role("button", name=chosen.capitalize()).get_attribute("aria-pressed") == "true"
    frame = page.eval_on_selector_all("meta[name=theme-color]", "all => all.map(meta => [meta.content, meta.media])")
    assert {(colour, media) for colour, media in frame} == {({"light": "#fcfaf5", "dark": "#0f1822",
                                                              "night": "#000000"}[chosen], "all")}


def test_choosing_it_again_follows_the_device(open_sheet: Open) -> None:
    page = open_sheet("index.html", device="dark")
    page.get_by_role("button", name="Light").click()
    assert ground(page) == GROUNDS["light"]
    page.get_by_role("button", name="Light").click()
    assert ground(page) == GROUNDS["dark"]
    assert page.evaluate("localStorage.getItem('appearance')") is None


def test_something_foreign_in_the_browsers_memory_changes_nothing(open_sheet: Open) -> None:
    page = open_sheet("index.html", appearance="x\"]) evil")
    assert ground(page) == GROUNDS["light"]


def test_the_ground_is_right_before_any_style_sheet_has_come(browser: Browser, site: Path) -> None:
    """Style sheets are held back: what the head itself says must already paint the night black."""
    context = browser.new_context(color_scheme="light")
    page = context.new_page()
    page.add_init_script("localStorage.setItem('appearance', 'night')")
    page.route("**/*.css", lambda route: route.abort())
    page.goto((site / "index.html").as_uri())
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(0, 0, 0)"
    order = page.eval_on_selector_all("head > *", "all => all.map(one => one.tagName + (one.rel || ''))")
    assert order.index("SCRIPT") < order.index("STYLE") < order.index("LINKstylesheet")
    context.close()


def channels(page: Page) -> tuple[int, int, int]:
    """The brightest red, green and blue anywhere on the whole sheet."""
    picture: Any = Image.open(io.BytesIO(page.screenshot(full_page=True))).convert("RGB")
    red, green, blue = (highest for _, highest in picture.getextrema())
    return red, green, blue


@pytest.mark.parametrize(("width", "sheet"), SHEETS)
def test_night_shows_nothing_but_dim_red(open_sheet: Open, sheet: str, width: int) -> None:
    page = open_sheet(sheet, width, appearance="night")
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    red, green, blue = channels(page)
    assert (green, blue) == (0, 0)
    assert 0xE0 <= red <= 0xF0


def test_night_shows_nothing_brighter_when_things_are_pointed_at(open_sheet: Open) -> None:
    page = open_sheet("pictures.html", appearance="night")
    page.keyboard.press("Tab")
    page.evaluate("getSelection().selectAllChildren(document.querySelector('main'))")
    page.locator("a.number").first.hover()
    red, green, blue = channels(page)
    assert (green, blue) == (0, 0)
    assert red <= 0xF0


def test_a_photograph_is_dimmer_at_night_than_the_ink(open_sheet: Open) -> None:
    page = open_sheet("pictures.html", appearance="night")
    for picture in page.locator("main img").all():
        shown = Image.open(io.BytesIO(picture.screenshot())).convert("RGB")
        red, green, blue = shown.getpixel((shown.width // 2, shown.height // 2))
        assert (green, blue) == (0, 0)
        assert 0x40 <= red <= 0xD8


def test_paper_is_white_whatever_the_screen_shows(open_sheet: Open) -> None:
    for appearance, device in (("night", "light"), ("dark", "light"), ("", "dark")):
        page = open_sheet("optics.html", appearance=appearance, device=device)
        page.emulate_media(media="print")
        assert ground(page) == "rgb(255, 255, 255)"
        assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
        assert not page.locator(".appearance").is_visible()
