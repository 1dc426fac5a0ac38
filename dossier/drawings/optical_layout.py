"""The optical layout: mirrors, focal plane and light alone, with the rays of the axis and of the field's edges.

It is the general arrangement of the same telescope with everything left out that light does not touch.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_upright, arrangement_wide
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import box_of_text
from dossier.drawings.palette import Palette
from dossier.drawings.room import touches
from dossier.drawings.scene import Medium, Polyline, Scene, Shape, Text, leaves
from dossier.drawings.svg import Link, render

if TYPE_CHECKING:
    from dossier.design.model import Design


def draw(design: Design, *, form: Form = "wide", palette: Palette, width_mm: float = 277.0, height_mm: float = 160.0,
         link: Link | None = None) -> str:
    """The layout as SVG text, as ``general_arrangement.draw`` gives it."""
    return render(scene(design, form, width_mm, height_mm), palette, link)


def scene(design: Design, form: Form, width_mm: float = 277.0, height_mm: float = 160.0) -> Scene:
    """The layout as a drawing."""
    plan = bare(arrangement_from(design))
    made = _made(plan, form, width_mm, height_mm)
    if runs_through_lettering(made.members, made.medium):
        made = _made(of_the_axis(plan), form, width_mm, height_mm)
    return replace(made, name=f"optical-layout-{form}", title=f"Optical layout of {plan.name}")


def of_the_axis(plan: Arrangement) -> Arrangement:
    """The rays of the axis alone, where those of a field so wide that the diagonal misses them run through lettering.
    """
    figures = {key: words for key, words in plan.figures.items() if key != "field.judged"}
    return replace(plan, judged_field=None, figures=figures)


def _made(plan: Arrangement, form: Form, width_mm: float, height_mm: float) -> Scene:
    if form == "upright":
        return arrangement_upright.scene(plan, True)
    return arrangement_wide.scene(plan, width_mm, height_mm, True)


def runs_through_lettering(members: Iterable[Shape], medium: Medium) -> bool:
    """Whether a ray does."""
    drawn = list(leaves(members))
    texts = [box_of_text(shape, medium.lettering) for shape in drawn if isinstance(shape, Text)]
    rays = [shape.points for shape in drawn if isinstance(shape, Polyline) and "ray" in shape.data]
    return any(touches(box, *stroke) for ray in rays for stroke in pairwise(ray) for box in texts)


def caption() -> str:
    """What to see in it."""
    return ("The way of the light, to scale: from the sky to the primary, back towards the focus, turned by the "
            "diagonal to the focal plane. Rays of the axis and, where the diagonal catches them, of both edges of the "
            "judged field.")


_MECHANICS = ("frame.upper_fixing", "frame.pole_length", "frame.tube_length", "balance.station",
              "frame.lower_fixing", "frame.outer_diameter", "frame.inner_diameter", "front.opening", "front.station")


def bare(a: Arrangement) -> Arrangement:
    """What light touches, alone."""
    figures = {key: words for key, words in a.figures.items() if key not in _MECHANICS}
    return replace(a, figures=figures, frame=None, front_opening=None, front_station=None, balance_station=None,
                   bore=None, drawtube=None, vanes=0, pushes=None, clips=None, spring_length=None, eyepiece=None,
                   holder_diameter=None)
