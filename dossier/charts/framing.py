"""From a finished plot to a picture: the box about it, its text alternative, its SVG."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from dossier.charts.plot import Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import boxes
from dossier.drawings.palette import Palette
from dossier.drawings.scene import Box, Scene, Shape, around
from dossier.drawings.svg import number, render

# A phone's plot is taller for its width.
_TALLER = {"wide": 1.0, "upright": 1.45}
_MARGIN = 0.3


def height_of(form: Form, share: float) -> float:
    """The height of a plot's field, as a share of the width in the wide form."""
    return MEDIA[form][1] * share * _TALLER[form]


def chart(plot: Plot, key: str, title: str, caption: str, alt: str, form: Form, palette: Palette,
          below: Callable[[Box], Sequence[Shape]] | None = None) -> Rendered:
    """A plot as a picture; ``below`` is told the box that it fills and gives what stands under it.

    The SVG's ``data-x`` and ``data-y`` say what its axes measure: two values, two places.
    """
    shapes, box = plot.finished()
    under = below(box) if below else ()
    shapes, box = (*shapes, *under), around((box, *boxes(under, plot.medium)))
    field, x, y = plot.field, plot.x, plot.y
    data = {"x": f"{x.low:.9g} {x.high:.9g} {number(field.left)} {number(field.right)}",
            "y": f"{y.low:.9g} {y.high:.9g} {number(field.bottom)} {number(field.top)}"}
    return figure(shapes, box, key, title, caption, alt, form, palette, data)


def figure(shapes: Sequence[Shape], box: Box, key: str, title: str, caption: str, alt: str, form: Form,
           palette: Palette, data: dict[str, str] | None = None) -> Rendered:
    """Shapes as a picture of the form's width."""
    medium, width = MEDIA[form]
    margin = _MARGIN * medium.lettering
    whole = Box(min(0.0, box.left), box.top - margin, max(width, box.right), box.bottom + margin)
    scene = Scene(f"{key}-{form}", title, alt, medium, whole, tuple(shapes), {"form": form, **(data or {})})
    return Rendered(render(scene, palette), caption, alt)


def said(words: str) -> str:
    """Words with a capital to begin with."""
    return words[:1].upper() + words[1:]
