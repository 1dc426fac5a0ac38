"""What a builder sees down the drawtube: the circles by which the mirrors are set, to scale, in true and out of it.

The eye is at the focal plane. Everything is drawn by the angle under which it is seen; the sky end of the tube is to
the right, as for somebody who looks down the focuser with the sky on the right hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.design import pictures
from dossier.drawings.clipping import clipped
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    HIDDEN,
    ON_PAPER,
    ON_PHONE,
    OUTLINE,
    THIN,
    Box,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Scene,
    Shape,
    Text,
    Wash,
    Words,
    around,
)
from dossier.drawings.svg import render
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.design.pictures import SightView, View

# How far the nearer views reach, in widths of what is seen of the diagonal.
_NEARER, _WHOLE = 1.12, 1.06


@dataclass(frozen=True, slots=True)
class _Look:
    """How an outline is drawn, and what it is called."""

    pen: Pen
    wash: Wash | None
    words: str


# From the back to the front, as they lie over one another.
_LOOKS: Mapping[str, _Look] = {
    "drawtube": _Look(Pen(OUTLINE), None, "end of the drawtube"),
    "diagonal": _Look(Pen(OUTLINE), Wash("glass"), "edge of the diagonal"),
    "primary": _Look(Pen(THIN), Wash("ground"), "rim of the primary, in the diagonal"),
    "drawtube_again": _Look(Pen(HIDDEN), None, "the drawtube, in both mirrors"),
    "shadow": _Look(Pen(THIN), Wash("ink", 0.3), "the diagonal, in both mirrors"),
    "centre_mark": _Look(Pen(OUTLINE, "accent"), None, "mark on the primary’s middle"),
}

# The eye sees the diagonal through the drawtube, the primary in the diagonal, and the rest in the primary.
_THROUGH: Mapping[str, tuple[str, ...]] = {
    "drawtube": (), "diagonal": ("drawtube",), "primary": ("diagonal", "drawtube"),
    **dict.fromkeys(("drawtube_again", "shadow", "centre_mark"), ("primary", "diagonal", "drawtube")),
}


def draw(design: Design, *, form: Form = "wide", palette: Palette) -> str | None:
    """The views as SVG text: 180 mm wide, or 328 px for a phone. None where bore or drawtube are not given."""
    made = scene(design, form)
    return render(made, palette) if made else None


def scene(design: Design, form: Form) -> Scene | None:
    """The views as a drawing: the whole of the true one, then all three nearer."""
    made = pictures.sight_views(design)
    if made is None:
        return None
    medium, width, columns = (ON_PAPER, 180.0, 4) if form == "wide" else (ON_PHONE, 328.0, 2)
    gutter = 0.7 * medium.lettering
    side = (width - (columns - 1) * gutter) / columns
    shapes: list[Shape] = []
    for index, (view, nearer, words) in enumerate(_panels(made)):
        left = (index % columns) * (side + gutter)
        top = (index // columns) * (side + 2.9 * line_height(medium))
        shapes += _panel(view, nearer, words, Box(left, top, left + side, top + side), medium)
    foot = around(boxes(shapes, medium)).bottom + 0.4 * medium.lettering
    shapes += _key(foot, width, medium, 2 if form == "wide" else 1)
    extent = around((Box(0.0, 0.0, width, 0.0), *boxes(shapes, medium))).grown(medium.wide)
    return Scene(f"sight-{form}", "The view down the drawtube", description(design), medium, extent, tuple(shapes),
                 {"form": form})


def caption(design: Design) -> str:
    """What to see in it."""
    told = ("What you see with your eye at the focal plane. Set the diagonal first, until its edge stands evenly in "
            "the drawtube’s end and the primary’s rim evenly in it; then tilt the primary until the mark stands in the "
            "middle of the drawtube’s reflection.")
    if design.results["diagonal.offset"].number > 0:
        return (f"{told} The diagonal’s own reflection stays a little off, towards the primary: that is its offset, "
                "not a fault.")
    return (f"{told} The diagonal has no offset: its own reflection stands in the middle, and its edge a little off, "
            "towards the sky, because its upper end is nearer to the eye.")


def description(design: Design) -> str:
    """The views in words, with their numbers; empty where nothing can be said."""
    made = pictures.sight_views(design)
    if made is None:
        return ""
    tolerance = (f" A tilt of {show(made.tolerance_arcmin, 'arcmin').plain} costs 0.05 of Strehl ratio."
                 if made.tolerance_arcmin is not None else "")
    primary, diagonal = (show(value, "arcmin").number.split(".")[0] for value in (
        made.primary_out_arcmin, made.diagonal_out_arcmin))
    mark = show(made.mark_mm, "mm", readers=design.build.readers).plain
    true = made.views[0]
    hidden = (" The drawtube’s end hides the edge of the diagonal or some of it."
              if float(abs(true.outlines["diagonal"]).max()) > _drawtube(true) else "")
    but = f" but the diagonal’s {'reflection' if design.results['diagonal.offset'].number > 0 else 'edge'}"
    return (f"Four views down the drawtube, to scale: all in true, the same nearer, the primary tilted by {primary}′, "
            f"the diagonal tipped by {diagonal}′. In true the mark of {mark} on the primary’s middle stands in the "
            f"middle of everything{but}.{hidden}{tolerance}")


def _panels(made: SightView) -> Iterator[tuple[View, bool, tuple[str, str]]]:
    true, primary, diagonal = made.views
    yield true, False, ("in true", "the whole view")
    yield true, True, ("in true", "nearer")
    yield primary, True, ("primary tilted", f"by {made.primary_out_arcmin:.0f}′")
    yield diagonal, True, ("diagonal tipped", f"by {made.diagonal_out_arcmin:.0f}′")


def _panel(view: View, nearer: bool, words: tuple[str, str], box: Box, medium: Medium) -> Iterator[Shape]:
    """One view in a round field, its words below."""
    end = _drawtube(view)
    reach = _NEARER * min(end, float(abs(view.outlines["diagonal"]).max())) if nearer else _WHOLE * end
    middle, half = ((box.left + box.right) / 2, (box.top + box.bottom) / 2), (box.right - box.left) / 2
    members: list[Shape] = []
    for name, look in _LOOKS.items():
        points = _seen(view, name)
        if points and not (nearer and name == "drawtube"):
            placed = tuple((middle[0] + u * half / reach, middle[1] - v * half / reach) for u, v in points)
            members.append(Polyline(placed, look.pen, look.wash, closed=True, data={"outline": name}))
    yield Group(tuple(members), {"view": view.state, "nearer": "yes" if nearer else "no",
                                 "scale": f"{half / reach:.9g}"})
    size = medium.lettering
    for row, line in enumerate(words):
        yield Text((middle[0], box.bottom + (0.35 + CAPITALS) * size + row * line_height(medium)), (Words(line),),
                   "middle")


def _seen(view: View, name: str) -> tuple[Point, ...]:
    """What is seen of an outline through all that it is seen through, as tangents; every other point is enough."""
    points = _points(view, name)
    for window in _THROUGH[name]:
        points = clipped(points, _points(view, window)) if points else ()
    return points


def _points(view: View, name: str) -> tuple[Point, ...]:
    along, across = view.outlines[name]
    return tuple(zip(along.tolist(), across.tolist(), strict=True))[:-1:2]


def _drawtube(view: View) -> float:
    """The radius of the drawtube's end, as it is seen."""
    return float(abs(view.outlines["drawtube"]).max())


def _key(top: float, width: float, medium: Medium, columns: int) -> Iterator[Shape]:
    """How each outline is drawn, with its words."""
    size, line = medium.lettering, line_height(medium)
    per_column = -(-len(_LOOKS) // columns)
    for index, (name, look) in enumerate(_LOOKS.items()):
        left = (index // per_column) * width / columns
        base = top + CAPITALS * size + (index % per_column + 0.5) * 1.1 * line
        middle = base - CAPITALS * size / 2
        corners = ((left, middle - 0.28 * size), (left + 2.2 * size, middle - 0.28 * size),
                   (left + 2.2 * size, middle + 0.28 * size), (left, middle + 0.28 * size))
        yield Polyline(corners, look.pen, look.wash, closed=True, data={"key": name})
        yield Text((left + 2.8 * size, base), (Words(look.words),))
