"""What every sheet of the site carries: its title block, the sheet index, and its neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from dossier.design import Design
from dossier.views.links import KNOWN_ISSUES, REVISIONS, WORKING

# The sheets of questions and results, each there where the spec says enough to answer one of its questions.
ANSWERS = {
    "optics.html": "Optics", "shows.html": "What it shows", "testing.html": "Testing the mirror",
    "collimation.html": "Collimation", "structure.html": "Structure", "mirror-cell.html": "Mirror cell",
    "mount.html": "Mount and balance", "workshop.html": "Workshop",
    "measured.html": "Measured",
}
_AFTER_STEPS = ("workshop.html", "measured.html")
SITE = {
    "index.html": "Overview", "safety.html": "Safety",
    **{href: title for href, title in ANSWERS.items() if href not in _AFTER_STEPS},
    "parts.html": "Parts and costs", "choices.html": "What if it were …?",
    "drawings.html": "Drawings", "templates.html": "Templates",
    "steps.html": "Build steps",
    **{href: ANSWERS[href] for href in _AFTER_STEPS},
    KNOWN_ISSUES: "Known issues", REVISIONS: "Revisions",
}
BACK = {
    "working.html": "Working", "spec.html": "Build spec", "symbols.html": "Symbols", "sources.html": "Sources",
    "downloads.html": "Downloads",
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """A line of the sheet index. ``inner`` are the sheets of a chapter, shown while one of the chapter is open."""

    href: str
    title: str
    number: str = ""
    current: bool = False
    inner: tuple[Sheet, ...] = ()


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What a sheet says of itself: whose it is, what it is, which of how many, and how old."""

    name: str
    title: str
    number: str
    count: str
    revision: str
    date: str
    owner: str
    licence: str


@dataclass(frozen=True, slots=True)
class Pointer:
    """Words with links after them, each an address and what it is called."""

    words: str
    links: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Notice:
    """A line above every sheet: how this revision stands to the last one issued, and where to go. ``more`` are lines
    below it."""

    words: str
    href: str
    link: str
    more: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """The frame of one page. ``print_line`` is the title block as one CSS string, for the foot of each printed page;
    ``working_number`` is the sheet that holds the workings, to which a printed number refers."""

    href: str
    lang: str
    title: str
    heading: str
    description: str
    block: TitleBlock
    index: tuple[Sheet, ...]
    before: Sheet | None
    after: Sheet | None
    print_line: str
    working_number: str
    notice: Notice | None = None
    feed: str = ""


@dataclass(frozen=True, slots=True)
class Extra:
    """A sheet that a build adds: a page of the author's own, a build step, or a step of its history."""

    href: str
    title: str


class Sheets:
    """The numbered sheets of one dossier, and the frame of each page."""

    def __init__(self, design: Design, own: Sequence[Extra] = (), inner: Mapping[str, Sequence[Extra]] | None = None,
                 without: Sequence[str] = (), notice: Notice | None = None, feed: str = "") -> None:
        within = {href: tuple(Sheet(each.href, each.title) for each in more) for href, more in (inner or {}).items()}
        chapters = [Sheet(href, title, inner=within.get(href, ())) for href, title in SITE.items()
                    if href not in without]
        chapters += [Sheet(extra.href, extra.title) for extra in own]
        chapters += [Sheet(href, title) for href, title in BACK.items() if href not in without]
        self._design, self._notice, self._feed = design, notice, feed
        self._chapters = _numbered(chapters)
        self._all = [sheet for chapter in self._chapters for sheet in (replace(chapter, inner=()), *chapter.inner)]

    @property
    def pages(self) -> tuple[str, ...]:
        """The addresses of all sheets, in order."""
        return tuple(sheet.href for sheet in self._all)

    def number(self, href: str) -> str:
        """The number of a sheet."""
        return next(sheet.number for sheet in self._all if sheet.href == href)

    def page(self, href: str, *, heading: str = "", description: str = "") -> Page:
        """The frame of the page at this address; its heading is the sheet's title where none is given."""
        at = next(index for index, sheet in enumerate(self._all) if sheet.href == href)
        sheet, about = self._all[at], self._design.build.about
        block = TitleBlock(about.name, sheet.title, sheet.number, str(len(self._all)), self._design.revision,
                           self._design.date, ", ".join(about.authors or ()), about.licence or "")
        return Page(
            href=href, lang=self._design.build.readers.language, heading=heading or sheet.title, block=block,
            title=about.name if href == "index.html" else f"{sheet.title} · {about.name}",
            description=description or about.summary or about.name,
            index=tuple(_opened(chapter, href) for chapter in self._chapters),
            before=self._all[at - 1] if at else None, after=self._all[at + 1] if at + 1 < len(self._all) else None,
            print_line=css_string(f"{about.name} · {sheet.title} · sheet {sheet.number} of {len(self._all)} · "
                                  f"revision {self._design.revision} · {self._design.date}"),
            working_number=self.number(WORKING), notice=self._notice, feed=self._feed,
        )


def css_string(text: str) -> str:
    """Text as the inside of a CSS string, every sign but letters and digits written by its code."""
    return "".join(sign if sign.isascii() and sign.isalnum() else f"\\{ord(sign):06x}" for sign in text)


def _numbered(chapters: Sequence[Sheet]) -> tuple[Sheet, ...]:
    count, numbered = 0, []
    for chapter in chapters:
        count += 1
        number = str(count)
        inner = []
        for sheet in chapter.inner:
            count += 1
            inner.append(replace(sheet, number=str(count)))
        numbered.append(replace(chapter, number=number, inner=tuple(inner)))
    return tuple(numbered)


def _opened(chapter: Sheet, href: str) -> Sheet:
    """The chapter as the index shows it on this page."""
    inside = any(sheet.href == href for sheet in chapter.inner)
    if chapter.href != href and not inside:
        return replace(chapter, inner=())
    inner = tuple(replace(sheet, current=sheet.href == href) for sheet in chapter.inner)
    return replace(chapter, current=chapter.href == href, inner=inner)
