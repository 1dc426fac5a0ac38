"""The build's own file, line by line: where every chain of working ends."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.views.site import Page


@dataclass(frozen=True, slots=True)
class Line:
    """One line: its anchor, its number, its text."""

    anchor: str
    number: str
    text: str


@dataclass(frozen=True, slots=True)
class Listing:
    """A file with numbered lines."""

    name: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class ListingView:
    """The sheet of the build spec, and of the measured values where there are any."""

    page: Page
    listings: tuple[Listing, ...]
    sha256: str


def listing(name: str, text: str, letter: str) -> Listing:
    """A file's lines; ``letter`` begins their anchors."""
    return Listing(name, tuple(Line(f"{letter}{number}", str(number), line)
                               for number, line in enumerate(text.splitlines(), start=1)))
