"""The author's prose on paper: its blocks under the headings that hang beside them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from dossier.views.markup import Html
from dossier.views.prose import Piece

_TAG = re.compile(r"<[^<>]*>")
_OWN = re.compile(r' (id|href)="(#?)([^"]*)"')


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, or none at the top of a passage, and the blocks under it, the first of which stays with it."""

    heading: Html
    first: Html
    rest: tuple[Html, ...]


def sections(pieces: Iterable[Piece], page: str) -> tuple[Section, ...]:
    """Blocks of prose under their headings of the second level. ``page`` is where the passage stands on the site."""
    found: list[tuple[Html, list[Html]]] = [(Html(""), [])]
    for piece in pieces:
        html = with_own_names(piece.html, page)
        if piece.section:
            found.append((html, []))
        else:
            found[-1][1].append(html)
    return tuple(Section(heading, Html("".join(blocks[:1])), tuple(blocks[1:])) for heading, blocks in found
                 if heading or blocks)


def with_own_names(html: str, page: str) -> Html:
    """A passage's own anchors under names that no other sheet of the packet uses, and its own links led to them."""
    return Html(_TAG.sub(lambda tag: _OWN.sub(lambda name: _named(name, page), tag[0]), html))


def anchor(page: str, place: str = "") -> str:
    """The packet's name of a page of the site, or of a place on it."""
    stem = page.removesuffix(".html")
    return f"{stem}--{place}" if place else stem


def _named(found: re.Match[str], page: str) -> str:
    attribute, hash_sign, place = found.groups()
    if attribute == "id":
        return f' id="{anchor(page, place)}"'
    return f' href="#{anchor(page, place)}"' if hash_sign else found[0]
