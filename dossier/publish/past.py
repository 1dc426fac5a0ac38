"""What a site says of its build's history: what changed from step to step, what is the latest, and the news of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import ExitStack
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from dossier.revisions.difference import difference
from dossier.revisions.side import WORKING, Side, side
from dossier.revisions.upgrade import upgrade
from dossier.spec import letters
from dossier.spec.issued import Issued
from dossier.views import history
from dossier.views.history import ChangeView

if TYPE_CHECKING:
    from dossier.publish.book import Book

_ATOM = "http://www.w3.org/2005/Atom"
Render = Callable[[str, object], str]


def changes(book: Book) -> Mapping[str, ChangeView]:
    """The pages that tell what changed, by address; none on the pages of an earlier revision. Raises Unusable."""
    if book.place.up:
        return {}
    steps, folder = history.steps_of(book.design), book.design.loaded.folder
    with ExitStack() as opened:
        sides: dict[str, Side] = {}
        for name in dict.fromkeys(name for step in steps for name in step):
            sides[name] = opened.enter_context(side(folder, name if letters.is_letter(name) else WORKING))
        notes = {each.letter: each.note for each in book.place.issued}
        return {href: history.change_view(book.sheets.page(href), difference(sides[old], sides[new]),
                                          upgrade(sides[old], sides[new]), sides[old].design, sides[new].design,
                                          notes.get(new, ""))
                for old, new in steps for href in [history.change_page(old, new)]}


def announced(book: Book, render: Render) -> dict[str, bytes]:
    """The feed of revisions, and the address that always leads to the latest; of a build's root alone."""
    if book.place.up or not book.place.issued:
        return {}
    last = book.place.issued[-1]
    return {history.FEED: feed(book), history.LATEST: render("latest", history.latest_view(book.design, last)).encode()}


def feed(book: Book) -> bytes:
    """The revisions as an Atom feed (RFC 4287), the newest first."""
    about, home = book.design.build.about, history.home_address(book.design)
    ElementTree.register_namespace("", _ATOM)
    root = ElementTree.Element(f"{{{_ATOM}}}feed")
    _add(root, "title", f"{about.name}: revisions")
    _add(root, "id", _identity(book, ""))
    _add(root, "updated", _moment(book.place.issued[-1]))
    for author in about.authors or (about.name,):
        _add(_add(root, "author"), "name", author)
    if home:
        _add(root, "link", rel="self", href=f"{home}{history.FEED}")
        _add(root, "link", href=home)
    for each in reversed(book.place.issued):
        entry = _add(root, "entry")
        _add(entry, "title", f"{about.name}, revision {each.letter}")
        _add(entry, "id", _identity(book, each.letter))
        _add(entry, "updated", _moment(each))
        _add(entry, "link", href=f"{home}{history.permanent(each.letter)}")
        _add(entry, "summary", each.note)
    ElementTree.indent(root)
    text: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _identity(book: Book, letter: str) -> str:
    """A name that stays: the permanent address, or where the build says no address of its own the hash it was frozen
    with."""
    if home := history.home_address(book.design):
        return f"{home}{history.permanent(letter) if letter else history.FEED}"
    chosen = next((each for each in book.place.issued if each.letter == letter), book.place.issued[0])
    return f"urn:sha256:{chosen.sha256}{'' if letter else ':all'}"


def _moment(each: Issued) -> str:
    return f"{each.date}T00:00:00Z"


def _add(parent: ElementTree.Element, name: str, text: str = "", **attributes: str) -> ElementTree.Element:
    child = ElementTree.SubElement(parent, f"{{{_ATOM}}}{name}", attributes)
    child.text = text or None
    return child
