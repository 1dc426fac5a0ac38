"""Drawings on the pages: one for wide screens and one, simpler, for a phone."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

from dossier.charts import FOLDER, PICTURES, Picture
from dossier.design import Design
from dossier.drawings import general_arrangement
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import SCREEN, Palette
from dossier.views.links import working_of
from dossier.views.markup import Html


class Draw(Protocol):
    """A drawing of a design as SVG: on its side within a sheet's width and height, or upright for a phone."""

    def __call__(self, design: Design, *, form: Form = "wide", palette: Palette, width_mm: float = ...,
                 height_mm: float = ..., link: Callable[[str], str] | None = None) -> str: ...


FORMS: tuple[Form, Form] = ("wide", "upright")


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing the program can make: its file's name, what it shows, the pages it stands on, how it is made."""

    key: str
    title: str
    pages: tuple[str, ...]
    draw: Draw
    wanted: Callable[[Design], bool]


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing on a page in both forms, its caption, and the file to take along, if any."""

    key: str
    caption: str
    wide: Html
    upright: Html
    href: str


DRAWINGS = (
    Drawing(
        "general-arrangement", "General arrangement, to scale. Stations run from the mirror’s face towards the sky.",
        ("index.html", "structure.html"), general_arrangement.draw, lambda design: True),
)


def drawings_for(design: Design) -> tuple[Drawing, ...]:
    """The drawings this design gives data for."""
    return tuple(drawing for drawing in DRAWINGS if drawing.wanted(design))


def figures(design: Design, page: str) -> tuple[Figure, ...]:
    """The drawings of one page."""
    return tuple(
        Figure(drawing.key, drawing.title, Html(drawing.draw(design, form="wide", palette=SCREEN, link=working_of)),
               Html(drawing.draw(design, form="upright", palette=SCREEN, link=working_of)), file_of(drawing))
        for drawing in drawings_for(design) if page in drawing.pages)


def pictures(design: Design, heading: str) -> tuple[Figure, ...]:
    """The charts and simulated views that help to answer the question with this heading, in their order."""
    return tuple(figure for picture in PICTURES.values() if heading.startswith(picture.question)
                 if (figure := _pictured(design, picture)) is not None)


def picture_files(design: Design) -> Mapping[str, bytes]:
    """The raster images that the site's pictures name, by address."""
    return {FOLDER + name: data for picture in PICTURES.values() for form in FORMS
            if (made := picture.make(design, SCREEN, form)) is not None for name, data in made.images.items()}


def _pictured(design: Design, picture: Picture) -> Figure | None:
    wide, upright = (picture.make(design, SCREEN, form) for form in FORMS)
    if wide is None or upright is None:
        return None
    return Figure(picture.key, f"{picture.title}. {wide.caption}", Html(wide.linked), Html(upright.linked), "")


def file_of(drawing: Drawing) -> str:
    """The address of a drawing as a file."""
    return f"drawings/{drawing.key}.svg"
