"""The optical layout: mirrors, focal plane and light alone, with the rays of the axis and of the field's edges.

It is the general arrangement of the same telescope with everything left out that light does not touch.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_upright, arrangement_wide
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import box_of_text
from dossier.drawings.palette import Palette
from dossier.drawings.room import touches
from dossier.drawings.scene import Polyline, Scene, Text, leaves
from dossier.drawings.svg import Link, render

if TYPE_CHECKING:
    from dossier.design.model import Design


def draw(design: Design, *, form: Form = "wide", palette: Palette, width_mm: float = 277.0, height_mm: float = 160.0,
         link: Link | None = None) -> str:
    """The layout as SVG text, as ``general_arrangement.draw`` gives it."""
    return render(scene(design, form, width_mm, height_mm), palette, link)


def scene(design: Design, form: Form, width_mm: float = 277.0, height_mm: float = 160.0) -> Scene:
    """The layout as a drawing."""
    bare = _bare(arrangement_from(design))
    made = _made(bare, form, width_mm, height_mm)
    if _runs_through_lettering(made):
        # Rays of a field so wide that the diagonal misses them would run through the dimensions: the axis alone, then.
        figures = {key: words for key, words in bare.figures.items() if key != "field.judged"}
        made = _made(replace(bare, judged_field=None, figures=figures), form, width_mm, height_mm)
    return replace(made, name=f"optical-layout-{form}", title=f"Optical layout of {bare.name}")


def _made(bare: Arrangement, form: Form, width_mm: float, height_mm: float) -> Scene:
    if form == "upright":
        return arrangement_upright.scene(bare, True)
    return arrangement_wide.scene(bare, width_mm, height_mm, True)


def _runs_through_lettering(scene: Scene) -> bool:
    drawn = list(leaves(scene.members))
    texts = [box_of_text(shape, scene.medium.lettering) for shape in drawn if isinstance(shape, Text)]
    rays = [shape.points for shape in drawn if isinstance(shape, Polyline) and "ray" in shape.data]
    return any(touches(box, *stroke) for ray in rays for stroke in pairwise(ray) for box in texts)


def caption() -> str:
    """What to see in it."""
    return ("The way of the light, to scale: from the sky to the primary, back towards the focus, turned by the "
            "diagonal to the focal plane. Rays of the axis and, where the diagonal catches them, of both edges of the "
            "judged field.")


_MECHANICS = ("frame.upper_fixing", "frame.pole_length", "frame.tube_length", "balance.station",
              "frame.lower_fixing", "frame.outer_diameter", "frame.inner_diameter", "front.opening", "front.station")


def _bare(a: Arrangement) -> Arrangement:
    figures = {key: words for key, words in a.figures.items() if key not in _MECHANICS}
    return replace(a, figures=figures, frame=None, front_opening=None, front_station=None, balance_station=None,
                   bore=None, drawtube=None, vanes=0, pushes=None, clips=None, spring_length=None, eyepiece=None,
                   holder_diameter=None)
