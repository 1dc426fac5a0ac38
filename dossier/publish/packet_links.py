"""Links of the site as they work on paper: a page to turn to, the number of a working, or nothing but their words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from urllib.parse import unquote

from dossier.views.links import WORKING
from dossier.views.packet_prose import anchor

_LINK = re.compile(r"<a\b([^<>]*)>(.*?)</a>", re.DOTALL)
_HREF = re.compile(r'\bhref="([^"]*)"')
_ID = re.compile(r'<[^<>]*\sid="([^"]*)"')
_ABROAD = re.compile(r"(?:https?:|mailto:)", re.IGNORECASE)


def places_in(html: str) -> frozenset[str]:
    """The places of a page that a link can lead to."""
    return frozenset(_ID.findall(html))


def on_paper(html: str, places: frozenset[str], refs: Mapping[str, str]) -> str:
    """The packet's HTML with every link led to one of the packet's places.

    A link to a working gets the working's number behind it (``refs``, by ID of the result), one to another sheet the
    number of its page. What is only on the site is printed as plain words.
    """

    def led(found: re.Match[str]) -> str:
        attributes, words = found.groups()
        href = _HREF.search(attributes)
        if href is None or _ABROAD.match(href[1]) or "own-link" in attributes:
            return found[0]
        if "footnote-backref" in attributes:  # on paper the eye goes back by itself
            return ""
        place = _place(unquote(href[1]), places)
        if not place:
            return words
        name = href[1].partition("#")[2] if href[1].startswith(f"{WORKING}#") else ""
        if name in refs:
            return f'{words}<a class="ref" href="#{place}">{refs[name]}</a>'
        return f'<a class="to" href="#{place}">{words}</a>'

    return _LINK.sub(led, html)


def _place(href: str, places: frozenset[str]) -> str:
    """Where an address of the site is in the packet: the place itself, else its sheet, else nowhere."""
    page, _, inner = href.partition("#")
    wanted = (anchor(page, inner) if inner else anchor(page), anchor(page)) if page else (inner,)
    return next((name for name in wanted if name in places), "")
