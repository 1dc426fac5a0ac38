"""Nothing on the site leads nowhere, and nothing comes from elsewhere."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import pytest

Reader = Callable[[Path], Any]


@pytest.fixture(scope="module", params=["bare", "published", "teasel_site"])
def site(request: pytest.FixtureRequest) -> Path:
    """The least that a spec may say, the starter build and the demo, published."""
    return Path(request.getfixturevalue(request.param))


def test_every_link_finds_its_file_and_its_place(site: Path, read: Reader) -> None:
    pages = {path.name: read(path) for path in site.glob("*.html")}
    lost = []
    for name, page in pages.items():
        for link in page.links:
            address = urlsplit(link["href"])
            if address.scheme or address.netloc:
                continue
            target = site / unquote(address.path or name)
            ids = pages[target.name].ids if target.name in pages else []
            if not target.is_file():
                lost.append(f"{name}: {link['href']}: no such file")
            elif address.fragment and unquote(address.fragment) not in ids:
                lost.append(f"{name}: {link['href']}: no such place")
    assert not lost
    assert sum(len(page.links) for page in pages.values()) > 200


def test_pages_fetch_only_files_of_the_site(site: Path, read: Reader) -> None:
    for path in site.glob("*.html"):
        page = read(path)
        for address in page.fetched:
            assert not urlsplit(address).scheme, f"{path.name} fetches {address}"
            assert (site / unquote(address)).is_file(), f"{path.name} fetches {address}"


def test_no_style_sheet_script_or_drawing_names_another_host(site: Path) -> None:
    known = {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}
    for path in [*site.glob("assets/*.css"), *site.glob("assets/*.js"), *site.glob("drawings/*.svg")]:
        text = path.read_text("utf-8")
        assert not set(re.findall(r"https?://[^\s\"')]+", text)) - known, path.name
        assert "@import" not in text, path.name
        assert all(found.startswith("data:") for found in re.findall(r"url\(([^)]*)\)", text)), path.name


def test_links_abroad_do_not_hand_over_the_window(site: Path, read: Reader) -> None:
    for path in site.glob("*.html"):
        for link in read(path).links:
            if urlsplit(link["href"]).scheme:
                assert "noopener" in link.get("rel", ""), (path.name, link)


def test_pages_are_html_without_a_parse_error(site: Path) -> None:
    from tinyhtml5.parser import HTMLParser

    for path in site.glob("*.html"):
        parser = HTMLParser()
        parser.parse(path.read_text("utf-8"))
        assert not parser.errors, (path.name, parser.errors[:3])


def test_names_on_a_page_are_given_once(site: Path, read: Reader) -> None:
    for path in site.glob("*.html"):
        ids = read(path).ids
        assert len(ids) == len(set(ids)), (path.name, sorted({name for name in ids if ids.count(name) > 1}))


def test_headings_go_down_one_step_at_a_time(site: Path, read: Reader) -> None:
    for path in site.glob("*.html"):
        levels = [int(tag[1]) for tag, _ in read(path).tags if re.fullmatch("h[1-6]", tag)]
        assert levels[0] == 1, path.name
        assert levels.count(1) == 1, path.name
        assert all(after <= before + 1 for before, after in pairwise(levels)), (path.name, levels)


def test_every_page_says_its_language_title_and_what_it_is(site: Path, read: Reader) -> None:
    titles = []
    for path in site.glob("*.html"):
        page = read(path)
        assert page.called("html")[0]["lang"] == "en"
        assert any(meta.get("name") == "description" and meta["content"] for meta in page.called("meta")), path.name
        titles.append(re.search("<title>(.*?)</title>", page.text, re.DOTALL)[1])
    assert len(titles) == len(set(titles))


def test_drawings_are_xml(site: Path) -> None:
    drawings = list(site.glob("drawings/*.svg"))
    assert drawings
    for path in drawings:
        assert ElementTree.parse(path).getroot().tag == "{http://www.w3.org/2000/svg}svg"


def test_every_number_shown_leads_to_its_working_or_its_line(site: Path, read: Reader) -> None:
    for path in site.glob("*.html"):
        for link in read(path).links:
            if link.get("class") == "number":
                assert re.match(r"(working\.html#|spec\.html#[LM]\d|working\.html)", link["href"]), (path.name, link)
