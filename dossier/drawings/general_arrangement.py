"""The general arrangement: a telescope from the side, in section through the plane of the fold, to scale."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from dossier.drawings import arrangement_upright, arrangement_wide
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.palette import Palette
from dossier.drawings.svg import Link, render

if TYPE_CHECKING:
    from dossier.design.model import Design

Form = Literal["wide", "upright"]


def draw(design: Design, *, form: Form = "wide", palette: Palette, width_mm: float = 277.0, height_mm: float = 160.0,
         dimensions: bool = True, link: Link | None = None, name: str = "") -> str:
    """The general arrangement of a design as SVG text.

    ``wide`` lies on its side, at the largest preferred scale that fits a sheet's ``width_mm`` × ``height_mm``; its
    lettering is 2.5 mm high. ``upright`` points up, drawn 328 px wide for a phone, with fewer dimensions. Without
    ``dimensions`` it is a picture that fills its width, at no stated scale. ``link`` gives the address of a result's
    working, by its ID; figures are then links. ``name`` begins the element IDs, which have to be unique on a page; it
    is ``general-arrangement-`` and the form where left out.
    """
    return drawn(arrangement_from(design), form=form, palette=palette, width_mm=width_mm, height_mm=height_mm,
                 dimensions=dimensions, link=link, name=name)


def drawn(arrangement: Arrangement, *, form: Form = "wide", palette: Palette, width_mm: float = 277.0,
          height_mm: float = 160.0, dimensions: bool = True, link: Link | None = None, name: str = "") -> str:
    """``draw`` for an arrangement as plain data."""
    if form == "upright":
        scene = arrangement_upright.scene(arrangement, dimensions)
    else:
        scene = arrangement_wide.scene(arrangement, width_mm, height_mm, dimensions)
    return render(replace(scene, name=name or scene.name), palette, link)
