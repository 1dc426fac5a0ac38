"""The starter build with a photograph in it, published once, and a page to open it with."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page

from dossier.publish import Options, publish_all

STARTER = Path(__file__).parents[2] / "dossier" / "starter"
SHEETS = ("index.html", "safety.html", "optics.html", "structure.html", "parts.html", "drawings.html", "steps.html",
          "step-measure-the-mirror.html", "pictures.html", "working.html", "spec.html", "symbols.html", "sources.html",
          "downloads.html")
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
         "preload": False}  # it would ask for the style sheets once more, which a page opened from a file may not

# What stands there a hundred times is made by one template: a few of each say all there is to say.
SHORTEN = """for (const kind of ['.ledger > li', 'article.fact', '.listing > li', '.symbols > div', '.sources > li'])
    [...document.querySelectorAll(kind)].slice(8).forEach(one => one.remove());
[...document.querySelectorAll('.drawn')].slice(2).forEach(one => one.remove());"""


def quiet(_: str) -> None:
    """These tests do not look at the progress."""


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A published build, one of whose pages has a bright photograph, a table, a list and live numbers."""
    folder = tmp_path_factory.mktemp("browser")
    build = Path(shutil.copytree(STARTER, folder / "dunlin-114"))
    Image.new("RGB", (320, 200), (255, 255, 255)).save(build / "bright.png")
    (build / "pages" / "pictures.md").write_text(
        "---\ntitle: Pictures\n---\n\nThe image lies at {{ optics.intercept }} from the axis.\n\n"
        '![A white wall](bright.png "White, to be seen at night")\n\n'
        "Within a line: ![A white wall](bright.png)\n\n| a | b |\n|---|--:|\n| c | 1.5 |\n\n"
        "`build.yaml`\n\n> Said by somebody.\n", "utf-8")
    return publish_all((build,), folder / "out", Options(no_packet=True), quiet, quiet)[0]


def faults(page: Page) -> str:
    """What axe-core finds with the rules for WCAG 2.2 A and AA and its own for good practice, every fold open."""
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    page.evaluate(SHORTEN)
    found = Axe().run(page, options=RULES).response["violations"]
    return "\n".join(json.dumps([each["id"], [node["html"][:160] for node in each["nodes"]][:3]]) for each in found)


Open = Callable[..., Page]


@pytest.fixture
def open_sheet(browser: Browser, site: Path) -> Iterator[Open]:
    """Opens a sheet from its file at a width, in an appearance, and fails where the console complains or something is
    asked of the network."""
    contexts: list[BrowserContext] = []
    wrong: list[str] = []

    def run(sheet: str, width: int = 1280, appearance: str = "", device: str = "light", scripts: bool = True) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 900}, java_script_enabled=scripts,
                                      color_scheme="dark" if device == "dark" else "light")
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: wrong.append(f"{sheet}: {message.text}"))
        page.on("pageerror", lambda error: wrong.append(f"{sheet}: {error}"))
        page.on("request", lambda request: wrong.append(f"{sheet} asks for {request.url}")
                if not request.url.startswith(("file:", "data:")) else None)
        page.on("requestfailed", lambda request: wrong.append(f"{sheet} does not get {request.url}"))
        if appearance:
            page.add_init_script(f"localStorage.setItem('appearance', '{appearance}')")
        page.goto((site / sheet).as_uri())
        return page

    yield run
    for context in contexts:
        context.close()
    assert not wrong
