"""The packet: the whole dossier as one PDF, set by WeasyPrint, which gets to see nothing but what is handed to it."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

from dossier.drawings.sheets.compose import sheets_of
from dossier.publish import fonts
from dossier.publish.assets import Links, joined
from dossier.publish.html import render
from dossier.publish.packet_links import on_paper, places_in
from dossier.publish.packet_sheets import images_of, packet_of, palette_of
from dossier.publish.packet_source import Carried, carried
from dossier.publish.vector_pdf import draw_under
from dossier.views.markup import NOTHING
from dossier.views.packet import Packet, bound, drawing_anchor
from dossier.views.packet_working import references

if TYPE_CHECKING:
    from dossier.publish.book import Book

_BASE = "https://packet.invalid/"  # a name that cannot exist; only a base of a known scheme can be added to
_STYLE, _EPOCH = "packet.css", "SOURCE_DATE_EPOCH"
# PDF/A-3 is the edition of the archive's PDF that may carry any file inside it. Level u, not a: page margins
# are not marked as what they are, so that more would be claimed than is kept.
_OPTIONS = {"pdf_variant": "pdf/a-3u", "pdf_tags": True, "optimize_images": True, "dpi": 300}
_REMEDY = ("WeasyPrint needs the system library Pango: `sh dossier/setup.sh` installs it, or on Debian and Ubuntu "
           "`apt-get install libpango-1.0-0 libpangoft2-1.0-0`; the site is complete without it")
_TYPES = {".css": "text/css", ".woff2": "font/woff2", ".svg": "image/svg+xml", ".png": "image/png",
          ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".gif": "image/gif", ".webp": "image/webp"}


class NoPacket(Exception):
    """The packet cannot be made on this machine; the message says in one line why, and what would help."""


def packet_pdf(book: Book, paper: str | None = None) -> bytes:
    """The packet of a book on A4 or Letter; where ``paper`` is None, on what its readers use.

    The same book always gives the same bytes. Raises NoPacket where WeasyPrint cannot be loaded.
    """
    engine = _engine()
    with _dated(book.design.date):
        return _Press(engine, Sheets(book, paper), book).pdf()


@dataclass
class Sheets:
    """The packet's HTML in two parts, each with the other's pages left blank: ``front`` is cover and contents."""

    book: Book
    paper: str | None = None

    def __post_init__(self) -> None:
        paper = self.paper or self.book.design.build.readers.paper
        self.drawn = sheets_of(self.book.design, paper)
        self._view = packet_of(self.book, paper, self.drawn)
        self._refs = references(self.book.design)
        self.places = places_in(self._page("packet", self._view))

    def body(self, before: int) -> str:
        """All but the front, after this many pages. Cautions come first in it, so that their page is known."""
        return self._linked("packet", ((),) * before, safety_page=str(before + 1))

    def front(self, after: Sequence[Iterable[str]]) -> str:
        """The front, before as many pages as this, each of which holds the places of these names."""
        return self._linked("packet-front", tuple(tuple(sorted(places)) for places in after))

    def _linked(self, template: str, blanks: tuple[tuple[str, ...], ...], safety_page: str = "") -> str:
        view = replace(self._view, blanks=blanks, safety_page=safety_page)
        return on_paper(self._page(template, view), self.places, self._refs)

    def _page(self, template: str, view: Packet) -> str:
        return render(self.book.theme.templates, template, view, Links((_STYLE,), (), NOTHING, NOTHING, (), ""))


class _Press:
    """Sets the sheets. The contents need the pages' numbers, so the body is set before the front is set again. Asking
    the engine to do both at once makes it lay out again every page that the contents name."""

    def __init__(self, engine: Any, sheets: Sheets, book: Book) -> None:
        self._engine, self._sheets = engine, sheets
        faces = fonts.faces(beyond) if (beyond := fonts.beyond(sheets.body(0))) else fonts.faces()
        known: dict[str, bytes | Path] = {**book.files.copies, **images_of(book), _STYLE: _style(book).encode()}
        known |= {face.file: face.data for face in faces}
        self._palette = palette_of(book)
        self._fetcher, self._fonts = _only(known), engine.text.fonts.FontConfiguration()
        self._carried = [_attached(engine, each, book.design.date) for each in carried(book.design)]
        engine.CSS(string=_declared(faces), base_url=_BASE, url_fetcher=self._fetcher, font_config=self._fonts)

    def pdf(self) -> bytes:
        """The front's pages and the body's as one document.

        How many pages the front has is found by setting it first, as if one page had all the places that it names.
        """
        before, found = 0, len(self._set(self._sheets.front([self._sheets.places])).pages) - 1
        while before != found:
            before = found
            body = self._set(self._sheets.body(before))
            pages = body.pages[before:]
            front = self._set(self._sheets.front(_first_met(pages)))
            found = len(front.pages) - len(pages)
        whole = body.copy([*front.pages[:before], *pages])
        with warnings.catch_warnings():
            # The engine reads its colour profile and leaves the file to be closed by itself, which is warned of.
            warnings.simplefilter("ignore", ResourceWarning)
            pdf: bytes = whole.write_pdf(attachments=self._carried, finisher=self._draw, **_OPTIONS)
        return pdf

    def _draw(self, document: Any, pdf: Any) -> None:
        """The sheets of the drawing set on their pages, which the engine has left bare but for a page number; and each
        file that travels along named once, where the engine names it twice."""
        if "AF" in pdf.catalog:
            pdf.catalog["AF"][:] = dict.fromkeys(pdf.catalog["AF"])
        scenes = {drawing_anchor(sheet): sheet.scene for sheet in self._sheets.drawn}
        places = {number: scenes[name] for number, names in enumerate(_first_met(document.pages))
                  for name in names & set(scenes)}
        draw_under(pdf, {number: bound(scene, left=number % 2 == 1) for number, scene in places.items()},
                   self._palette)

    def _set(self, html: str) -> Any:
        page = self._engine.HTML(string=html, base_url=_BASE, url_fetcher=self._fetcher)
        return page.render(font_config=self._fonts, **_OPTIONS)


def _attached(engine: Any, file: Carried, day: str) -> Any:
    at = datetime.fromisoformat(day)
    return engine.Attachment(file_obj=BytesIO(file.data), name=file.name, description=file.what,
                             relationship=file.relation, created=at, modified=at)


def _engine() -> Any:
    """WeasyPrint. It looks for Pango when it is imported."""
    try:
        import weasyprint
    except (ImportError, OSError) as error:
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise NoPacket(f"no packet.pdf: {reason}. {_REMEDY}") from error
    return weasyprint


def _first_met(pages: Sequence[Any]) -> list[set[str]]:
    """For each page the places that begin on it. The engine names a place on every page that it runs on to."""
    met: set[str] = set()
    found = []
    for page in pages:
        found.append(set(page.anchors) - met)
        met |= found[-1]
    return found


@contextmanager
def _dated(day: str) -> Iterator[None]:
    """What is made meanwhile, the typeface's subset above all, is dated by this day instead of by the clock."""
    before = os.environ.get(_EPOCH)
    os.environ[_EPOCH] = str(int(datetime.fromisoformat(day).replace(tzinfo=UTC).timestamp()))
    try:
        yield
    finally:
        if before is None:
            del os.environ[_EPOCH]
        else:
            os.environ[_EPOCH] = before


def _style(book: Book) -> str:
    """The theme's style sheets for paper, and the paper's colours as custom properties."""
    colours = ";".join(f"--{role}:{colour}" for role, colour in book.theme.print_colours.items())
    return f":root{{{colours}}}\n{joined(book.theme.print_stylesheets)}"


def _declared(faces: Sequence[fonts.Face]) -> str:
    return "\n".join(f'@font-face{{font-family:"{fonts.FAMILY}";font-weight:{face.weight};font-style:{face.style};'
                     f'src:url("{face.file}")}}' for face in faces)


def _only(known: Mapping[str, bytes | Path]) -> Any:
    """A fetcher that hands out these files by their addresses and refuses every other address."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Known(URLFetcher):  # type: ignore[misc]  # WeasyPrint says no types of its own
        def fetch(self, url: str, headers: Any = None) -> Any:
            name = unquote(url.removeprefix(_BASE)) if url.startswith(_BASE) else ""
            if name not in known:
                raise ValueError("the packet holds nothing from elsewhere")
            found = known[name]
            data = found.read_bytes() if isinstance(found, Path) else found
            return URLFetcherResponse(url, data, {"Content-Type": _TYPES.get(Path(name).suffix.lower(), "text/plain")})

    return Known()
