"""The index of several builds: each with its picture, its key figures and whether it does what is asked of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from dossier.design import Design
from dossier.drawings import general_arrangement
from dossier.drawings.palette import SCREEN
from dossier.views.markup import Html
from dossier.views.overview import KeyFigure, key_figures
from dossier.views.results import judged, verdict
from dossier.views.site import css_string
from dossier.views.spoken import Spoken


@dataclass(frozen=True, slots=True)
class LibraryPage:
    """The head of the index."""

    lang: str
    title: str
    description: str
    print_line: str
    working_number: str


@dataclass(frozen=True, slots=True)
class BuildLine:
    """One build of the library."""

    href: str
    name: str
    summary: str
    picture: Html
    key_figures: tuple[KeyFigure, ...]
    verdict: str
    revision: str
    date: str


@dataclass(frozen=True, slots=True)
class LibraryView:
    """The index of a library."""

    page: LibraryPage
    builds: tuple[BuildLine, ...]


def library_view(designs: Sequence[Design]) -> LibraryView:
    """The index of these designs, by name."""
    ordered = sorted(designs, key=lambda design: design.build.about.name.casefold())
    title = "Telescope plans"
    names = ", ".join(design.build.about.name for design in ordered)
    page = LibraryPage(ordered[0].build.readers.language, title, names, css_string(title), "")
    return LibraryView(page, tuple(_line(design) for design in ordered))


def _line(design: Design) -> BuildLine:
    folder = quote(design.loaded.name)
    about = design.build.about
    picture = general_arrangement.draw(design, form="wide", palette=SCREEN, dimensions=False)
    figures = tuple(KeyFigure(figure.label, figure.number, f"{folder}/{figure.href}") for figure in key_figures(design))
    return BuildLine(f"{folder}/index.html", about.name, Spoken(design).of_spec_plain(about.summary, "about.summary"),
                     Html(picture), figures, verdict(judged(design), design), design.revision, design.date)
