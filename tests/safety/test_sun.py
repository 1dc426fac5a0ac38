"""The Sun on every dossier: on its first sheet, its safety sheet and the cover of its packet, whatever a build says."""

from __future__ import annotations

import json
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from dossier import shelf
from dossier.spec.schema import json_schema
from tests.conftest import PROJECT
from tests.safety.conftest import SPEC, Make, Publish, published

SUN, FIRE = shelf.cautions()["sun"], shelf.cautions()["fire"]
HIDING = {
    "an empty safety sheet": {"pages/safety.md": ""},
    "a style that hides it": {"pages/overview.md": "<style>.caution, .cautions { display: none !important }</style>\n",
                              "pages/safety.md": "<div style='position: fixed; inset: 0; background: #fff'>\n"},
    "a comment that is never closed": {"pages/overview.md": "Fine.\n\n<!-- \n", "pages/safety.md": "<!--\n"},
    "tags that are never closed": {"pages/safety.md": "<details><summary>x</summary>\n\n<template>\n<div hidden>\n",
                                   "pages/overview.md": "<textarea><title><iframe><noscript><select>\n"},
    "a script that removes it": {"pages/overview.md": "<script>document.body.textContent = ''</script>\n"},
    "a step that calls for no caution": {"pages/steps/01-look.md": "---\ntitle: Look\ncautions: []\n---\n\nLook.\n"},
}
NAMES = [{"name": "X", "summary": "--> </section><!--"}, {"name": "</title><plaintext>"}]
UNSEEN = {"script", "style", "template", "textarea", "title", "iframe", "noscript", "select"}


class Seen(HTMLParser):
    """The text of a page outside of comments and of what browsers do not show."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self._unseen: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in UNSEEN or (tag in ("section", "div") and "hidden" in dict(attrs)):
            self._unseen.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self._unseen and self._unseen[-1] == tag:
            self._unseen.pop()

    def handle_data(self, data: str) -> None:
        if not self._unseen:
            self.words.append(data)


def shows(page: str) -> bool:
    """Whether a page has the whole caution for everybody to read."""
    text = " ".join(" ".join(Seen(page).words).split())
    return all(" ".join(said.split()) in text for said in (SUN.title, SUN.can_happen, *SUN.do))


def test_every_telescope_has_the_sun_and_the_fire() -> None:
    assert SUN.always
    assert FIRE.always
    assert next(iter(shelf.cautions())) == "sun", "the gravest stands first"


@pytest.mark.parametrize("build", ["teasel-150", "starter"])
def test_on_the_builds_that_come_with_the_program(build: str, publish: Publish, request: pytest.FixtureRequest) -> None:
    site = (publish(PROJECT / "dossier" / "starter") if build == "starter"
            else request.getfixturevalue("teasel_site"))
    for sheet in ("index.html", "safety.html"):
        page = (site / sheet).read_text("utf-8")
        assert shows(page), sheet
        assert FIRE.title in page, sheet


@pytest.mark.parametrize("how", HIDING)
def test_no_prose_can_hide_it(make: Make, publish: Publish, how: str) -> None:
    site = publish(make(**HIDING[how]))
    assert shows((site / "index.html").read_text("utf-8"))
    assert shows((site / "safety.html").read_text("utf-8"))


@pytest.mark.parametrize("about", NAMES, ids=lambda about: about["name"])
def test_no_name_can_hide_it(make: Make, publish: Publish, about: dict[str, str]) -> None:
    site = publish(make(SPEC.replace("{name: Gift, authors: [Somebody]}", json.dumps(about))))
    assert shows((site / "index.html").read_text("utf-8"))
    assert shows((site / "safety.html").read_text("utf-8"))


@pytest.mark.long
def test_it_stands_on_the_cover_of_the_packet(make: Make, tmp_path: Path) -> None:
    """With everything at once that was tried against it above."""
    texts: dict[str, str] = {}
    for files in HIDING.values():
        texts |= {name: texts.get(name, "") + text for name, text in files.items()}
    site = published(make(**texts), tmp_path / "out", packet=True)
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(site / "packet.pdf").pages]
    for said in (SUN.title, *SUN.do):
        assert said in pages[0]
    assert SUN.can_happen.partition(". ")[0] in pages[0]
    assert any(FIRE.title in page for page in pages)


def test_no_key_of_the_spec_speaks_of_cautions() -> None:
    """A key that could add to them or take from them would have to be thought of here first."""
    for key in keys_of(json_schema()):
        assert not {"caution", "safety", "warning", "hazard", "hide", "suppress"} & set(key.lower().split("_")), key


def keys_of(schema: Any) -> Iterator[str]:
    """The names of all properties, at every depth."""
    if isinstance(schema, dict):
        for name, inner in schema.items():
            if name == "properties":
                yield from inner
            yield from keys_of(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from keys_of(inner)
