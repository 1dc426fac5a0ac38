"""The index of plans in a browser, opened from a file: filter, order, three side by side; and without scripts."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from dossier.design import work_out
from dossier.publish import Options
from dossier.publish.library import write_index
from dossier.spec.load import load_build
from dossier.views.library import build_line
from tests.browser.conftest import STARTER, faults

# Invented: name, aperture, mass, cost, level of tools, printer.
PLANS = (("Ash", 76, 1.5, 130, 1, False), ("Birch", 114, 2.8, 150, 2, False), ("Cedar", 150, 8.3, 343, 3, True),
         ("Durmast", 250, 19.6, None, 3, True))


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An index of four plans. Their own pages are not there."""
    folder = tmp_path_factory.mktemp("library")
    line = build_line(work_out(load_build(Path(shutil.copytree(STARTER, folder / "b")))))
    lines = [{**line, "folder": name.lower(), "name": name, "aperture_mm": aperture, "mass_kg": mass, "cost": cost,
              "level": level, "printer": printer} for name, aperture, mass, cost, level, printer in PLANS]
    return write_index(lines, folder / "out", Options())


def shown(page: Page) -> list[str]:
    return page.locator("[data-build]:visible h2").all_inner_texts()


def test_filter_order_and_side_by_side(index: Path, page: Page) -> None:
    page.goto(index.as_uri())
    assert shown(page) == ["Ash", "Birch", "Cedar", "Durmast"]
    page.fill("[data-least=aperture]", "100")
    assert shown(page) == ["Birch", "Cedar", "Durmast"]
    page.fill("[data-most=cost]", "200")
    assert shown(page) == ["Birch", "Durmast"]  # what a plan does not say is not held against it
    assert page.locator("[data-count]").inner_text() == "2 of 4 plans"
    page.fill("[data-most=mass]", "1")
    assert page.locator("[data-count]").inner_text() == "0 of 4 plans: empty a field or allow more"
    page.fill("[data-most=mass]", "")
    page.fill("[data-most=cost]", "")
    page.check("[data-no-printer]")
    assert shown(page) == ["Birch"]
    page.uncheck("[data-no-printer]")
    page.fill("[data-least=aperture]", "")
    page.select_option("[data-level]", "2")
    assert shown(page) == ["Ash", "Birch"]
    page.select_option("[data-level]", "")
    page.select_option("[data-order]", "cost")
    assert shown(page)[-1] == "Durmast"
    for key in ("ash", "cedar", "durmast"):
        page.check(f"[data-beside={key}]")
    assert page.locator("[data-beside=birch]").is_disabled()
    heads = page.locator("table.beside thead th:visible").all_inner_texts()
    assert heads == ["Ash", "Cedar", "Durmast"]
    page.uncheck("[data-beside=cedar]")
    assert page.locator("[data-beside=birch]").is_enabled()


def test_without_scripts_all_stand_side_by_side(index: Path, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(index.as_uri())
    assert len(shown(page)) == 4
    assert page.locator("table.beside thead th:visible").count() == 4
    assert page.locator("[data-library]").is_hidden()
    context.close()


def test_on_a_phone_nothing_is_wider_than_the_page(index: Path, browser: Browser) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 700})
    page = context.new_page()
    page.goto(index.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    context.close()


def test_nothing_is_found_by_the_accessibility_checker(index: Path, page: Page) -> None:
    page.goto(index.as_uri())
    assert not faults(page)
