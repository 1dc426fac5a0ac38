"""The packet: the whole dossier as one PDF, set by WeasyPrint, which gets to see nothing but what is handed to it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

from dossier.publish import fonts
from dossier.publish.assets import Links, joined
from dossier.publish.html import render
from dossier.publish.packet_links import on_paper
from dossier.publish.packet_sheets import packet_of
from dossier.views.markup import NOTHING
from dossier.views.packet_working import references

if TYPE_CHECKING:
    from dossier.publish.book import Book

_BASE = "https://packet.invalid/"  # a name that cannot exist; only a base of a known scheme can be added to
_STYLE, _FONTS = "packet.css", "typeface/"
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
    weasyprint = _engine()
    html = packet_html(book, paper)
    faces = fonts.faces(fonts.beyond(html))
    known: dict[str, bytes | Path] = {**book.files.copies, _STYLE: _style(book, faces).encode()}
    known |= {f"{_FONTS}{face.file}": face.data for face in faces}
    page = weasyprint.HTML(string=html, base_url=_BASE, url_fetcher=_only(known))
    pdf: bytes = page.write_pdf(pdf_tags=True, optimize_images=True, dpi=300)
    return pdf


def packet_html(book: Book, paper: str | None = None) -> str:
    """The packet as the one page of HTML that it is set from."""
    view = packet_of(book, paper or book.design.build.readers.paper)
    html = render(book.theme.templates, "packet", view, Links((_STYLE,), (), NOTHING, NOTHING, (), ""))
    return on_paper(html, references(book.design))


def _engine() -> Any:
    """WeasyPrint. It looks for Pango when it is imported."""
    try:
        import weasyprint
    except (ImportError, OSError) as error:
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise NoPacket(f"no packet.pdf: {reason}. {_REMEDY}") from error
    return weasyprint


def _style(book: Book, faces: tuple[fonts.Face, ...]) -> str:
    """The theme's style sheets for paper, after the typeface and the paper colours as custom properties."""
    declared = "\n".join(f'@font-face{{font-family:"{fonts.FAMILY}";font-weight:{face.weight};font-style:{face.style};'
                         f'src:url("{_FONTS}{face.file}")}}' for face in faces)
    colours = ";".join(f"--{role}:{colour}" for role, colour in book.theme.print_colours.items())
    return f"{declared}\n:root{{{colours}}}\n{joined(book.theme.print_stylesheets)}"


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
