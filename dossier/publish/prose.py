"""The author's Markdown into clean HTML with live numbers.

Numbers are marked before Markdown sees the text and put in after cleaning (``views.spoken``). Cleaning keeps an allowed
list of tags; links and pictures stay inside the build's folder; what is missing is a problem with its file and line.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from html import escape, unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import quote, unquote

from dossier.errors import Problem, did_you_mean
from dossier.publish.files import BuildFiles
from dossier.views.markup import Html
from dossier.views.prose import Passage, Piece
from dossier.views.spoken import Spoken

LONGEST_PAGE = 400_000

_CELLS = {"align"}
_TAGS = {
    "a": {"href", "id", "class"}, "img": {"src", "alt", "title"}, "li": {"id"}, "sup": {"id"}, "div": {"class"},
    "th": _CELLS, "td": _CELLS, "ol": {"start"}, "abbr": {"title"}, **{f"h{level}": {"id"} for level in range(1, 7)},
    **{tag: set() for tag in ("p", "ul", "dl", "dt", "dd", "table", "thead", "tbody", "tr", "blockquote", "pre", "code",
                              "em", "strong", "b", "i", "sub", "hr", "br", "kbd", "del", "ins", "small", "caption")},
}
_CLASSES = {"div": {"footnote"}, "a": {"footnote-ref", "footnote-backref"}}
_IN_LINE = "frame frame-in-line"
_VOID = frozenset({"img", "hr", "br"})
_ABROAD = re.compile(r"^(https?:)?//|^mailto:", re.IGNORECASE)
_LINK_TEXT = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")


@dataclass(frozen=True, slots=True)
class Promise:
    """A link from prose to a place on the site, and where the author wrote it."""

    page: str
    anchor: str
    file: str
    line: int


@dataclass
class Writer:
    """Renders the prose of one build. ``pages`` tells the address of each Markdown file and of each page by name."""

    spoken: Spoken
    files: BuildFiles
    pages: Mapping[str, str]
    problems: list[Problem] = field(default_factory=list)
    promises: list[Promise] = field(default_factory=list)

    def passage(self, source: str, file: str, *, line: int = 1, page: str = "", prefix: str = "") -> Passage:
        """One text as blocks of HTML. ``file`` and ``line`` are where it begins, ``page`` where it will stand;
        ``prefix`` goes before every id, where several passages share a page."""
        if len(source) > LONGEST_PAGE:
            self.problems.append(Problem(file, 0, "", f"is longer than {LONGEST_PAGE:,} characters"))
            return Passage("", ())
        marked = self.spoken.marked(source, file, line)
        rewriter = _Rewriter(self, _Place(source, file, line, page, prefix), marked)
        rewriter.feed(_clean(_markdown(marked)))
        rewriter.close()
        return rewriter.passage()


@dataclass(frozen=True, slots=True)
class _Place:
    source: str
    file: str
    line: int
    page: str
    prefix: str

    def line_of(self, written: str) -> int:
        """The line on which the author wrote this address."""
        at = next((found for found in map(self.source.find, (written, unquote(written))) if found >= 0), 0)
        return self.line + self.source.count("\n", 0, at)


def _markdown(text: str) -> str:
    from markdown import Markdown
    from markdown.extensions.def_list import DefListExtension
    from markdown.extensions.fenced_code import FencedCodeExtension
    from markdown.extensions.footnotes import FootnoteExtension
    from markdown.extensions.sane_lists import SaneListExtension
    from markdown.extensions.tables import TableExtension
    from markdown.extensions.toc import TocExtension, slugify_unicode

    return Markdown(output_format="html", extensions=[
        TableExtension(use_align_attribute=True), FootnoteExtension(BACKLINK_TEXT="back to the text"),
        DefListExtension(), SaneListExtension(), FencedCodeExtension(), TocExtension(slugify=slugify_unicode),
    ]).convert(text)


def _clean(html: str) -> str:
    import nh3

    return nh3.clean(html, tags=set(_TAGS), attributes={tag: kept - {"class"} for tag, kept in _TAGS.items() if kept},
                     allowed_classes=_CLASSES, url_schemes={"http", "https", "mailto"}, link_rel=None,
                     clean_content_tags={"script", "style"})


class _Rewriter(HTMLParser):
    """Walks over clean HTML: cuts it into blocks, leads links to where things stand, frames pictures and tables."""

    def __init__(self, writer: Writer, place: _Place, marked: str) -> None:
        super().__init__(convert_charrefs=True)
        self._writer, self._place, self._marked = writer, place, marked
        self._pieces: list[Piece] = []
        self._out: list[str] = []
        self._open: list[str] = []
        self._level = 1
        self._title: list[str] | None = None
        self._heading = ""

    def passage(self) -> Passage:
        """What has been read, as blocks, and the text of a level-one heading that stood at its top."""
        self._cut()
        return Passage(self._heading, tuple(self._pieces))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if not self._open and tag not in ("a", "img", "br", "em", "strong", "code"):
            self._cut()
        values = {name: value or "" for name, value in attrs}
        if tag == "h1" and not self._pieces and not self._out:
            self._title = []
            return
        if tag not in _VOID:
            self._open.append(tag)
        self._out.append(self._start(tag, values))

    def handle_endtag(self, tag: str) -> None:
        if self._title is not None and tag == "h1":
            self._heading, self._title = self._writer.spoken.plain("".join(self._title)).strip(), None
            return
        if tag in _VOID:
            return
        self._out.append("</table></div>" if tag == "table" else f"</{self._named(tag)}>")
        if self._open:
            self._open.pop()
        if not self._open and tag not in ("a", "em", "strong", "code"):
            self._cut()

    def handle_data(self, data: str) -> None:
        if self._title is not None:
            self._title.append(data)
        elif data.strip() or self._out:
            self._out.append(escape(data, quote=False))

    def _cut(self) -> None:
        html = "".join(self._out).strip()
        self._out = []
        if html:
            spoken = self._writer.spoken
            section = spoken.plain(unescape(re.sub("<[^>]*>", "", html))) if html.startswith("<h2") else ""
            self._pieces.append(Piece(spoken.filled(_figures(html)), spoken.mentioned(html), section))

    def _named(self, tag: str) -> str:
        return f"h{self._level}" if re.fullmatch("h[1-6]", tag) else tag

    def _start(self, tag: str, values: dict[str, str]) -> str:
        if re.fullmatch("h[1-6]", tag):
            # One below the sheet's own heading at most, and never more than one step down at a time.
            self._level = min(max(int(tag[1]), 2), self._level + 1)
        if tag == "table":
            return '<div class="scroll" role="group" aria-label="Table" tabindex="0"><table>'
        changed = {name: self._writer.spoken.plain(value) for name, value in values.items()}
        if "id" in changed:
            changed["id"] = self._place.prefix + changed["id"]
        if tag == "a" and "href" in changed:
            changed |= self._link(changed["href"])
        if tag == "img":
            changed = self._picture(changed)
        if tag in ("th", "td"):
            changed = {"class": "number"} if changed.get("align") == "right" else {}
            changed |= {"scope": "col"} if tag == "th" else {}
        pairs = "".join(f' {name}="{escape(value)}"' for name, value in changed.items())
        start = f"<{self._named(tag)}{pairs}>"
        return f'<span class="{_IN_LINE}">{start}</span>' if tag == "img" else start

    def _link(self, href: str) -> dict[str, str]:
        if _ABROAD.match(href):
            return {"href": href, "rel": "noopener noreferrer"}
        path, _, anchor = href.partition("#")
        page = self._place.page if not path else self._page(unquote(path))
        if page is None:
            return {"href": self._file(path)}
        if not path:
            anchor = self._place.prefix + anchor
        if anchor:
            line = self._place.line_of(href)
            self._writer.promises.append(Promise(page, unquote(anchor), self._place.file, line))
        return {"href": (page if path else "") + (f"#{quote(unquote(anchor), safe=':.-_~')}" if anchor else "")}

    def _page(self, path: str) -> str | None:
        pages = self._writer.pages
        name = path.removeprefix("./")
        while name.startswith("../"):
            name = name[3:]
        return pages.get(name) or pages.get(Path(name).name if name.endswith(".md") else name)

    def _picture(self, values: dict[str, str]) -> dict[str, str]:
        src = values.get("src", "")
        if not values.get("alt", "").strip():
            self._complain(src, f"the picture {src} needs a text for those who cannot see it: ![text]({src})")
        if _ABROAD.match(src) or _LINK_TEXT.match(src):
            self._complain(src, f"the picture {src} lies elsewhere; put the file into the build's folder")
            return {"alt": values.get("alt", "")}
        return {**values, "src": self._file(src), "loading": "lazy"}

    def _file(self, path: str) -> str:
        try:
            return self._writer.files.published(unquote(path), self._place.file)
        except ValueError as error:
            hint = did_you_mean(unquote(path), self._writer.pages)
            self._complain(path, f"{error}{hint}")
            return "#"

    def _complain(self, written: str, message: str) -> None:
        self._writer.problems.append(Problem(self._place.file, self._place.line_of(written), "", message))


def _figures(html: str) -> Html:
    """A paragraph that holds one picture and nothing else is a figure; the picture's title is its caption."""
    found = re.fullmatch(rf'<p><span class="{_IN_LINE}">(<img [^>]*>)</span></p>', html)
    if not found:
        return Html(html)
    title = re.search(r' title="([^"]*)"', found[1])
    picture = found[1].replace(title[0], "") if title else found[1]
    caption = f"<figcaption>{escape(unescape(title[1]), quote=False)}</figcaption>" if title else ""
    return Html(f'<figure class="picture"><span class="frame">{picture}</span>{caption}</figure>')
