"""What there is to take along: packet, drawings, results, the spec, and the files of the build's parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.design import Design
from dossier.views.prose import Said
from dossier.views.site import Page


@dataclass(frozen=True, slots=True)
class FileLine:
    """A file: its address, what it is, its size, and its SHA-256."""

    href: str
    name: str
    what: str
    size: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Shelf:
    """Files of one kind."""

    heading: str
    files: tuple[FileLine, ...]


@dataclass(frozen=True, slots=True)
class DownloadsView:
    """The sheet of downloads, and under which licence what may be used."""

    page: Page
    intro: tuple[Said, ...]
    shelves: tuple[Shelf, ...]
    licence: str
    prose_licence: str
    no_packet: bool


def downloads_view(design: Design, page: Page, intro: tuple[Said, ...], shelves: Sequence[Shelf],
                   has_packet: bool) -> DownloadsView:
    """The sheet of downloads."""
    about = design.build.about
    return DownloadsView(page, intro, tuple(shelf for shelf in shelves if shelf.files), about.licence or "",
                         about.prose_licence or "", not has_packet)


def size_words(count: int) -> str:
    """A number of bytes as a reader says it."""
    if count < 1000:
        return f"{count}\u202fB"
    if count < 999_500:
        return f"{count / 1000:.0f}\u202fkB"
    return f"{count / 1e6:.1f}\u202fMB"
