"""Two general arrangements laid over one another, vertex on vertex and at one scale: the older one in a light line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.arrangement_marks import axes, focal_plane
from dossier.drawings.arrangement_parts import mirror_back, parts, top_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import boxes
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    ON_PAPER,
    ON_PHONE,
    THIN,
    Box,
    Circle,
    Group,
    Pen,
    Polyline,
    Scene,
    Segments,
    Shape,
    Text,
    View,
    around,
)
from dossier.drawings.svg import render

if TYPE_CHECKING:
    from dossier.design.model import Design

_WIDTHS = {"wide": 180.0, "upright": 328.0}
_TALLEST = {"wide": 90.0, "upright": 520.0}
_LIGHT = Pen(THIN, "accent", 0.75)
_MARGIN = 0.4


def draw(old: Design, new: Design, *, form: Form = "wide", palette: Palette, name: str = "") -> str:
    """Both as SVG text: 180 mm wide, or upright and 328 px wide for a phone."""
    return render(scene(old, new, form, name), palette)


def scene(old: Design, new: Design, form: Form, name: str = "") -> Scene:
    """Both as a drawing that fills its width, without dimensions: those stand in the table of what changed."""
    before, after = arrangement_from(old), arrangement_from(new)
    medium = ON_PAPER if form == "wide" else ON_PHONE
    margin, scale = _MARGIN * medium.lettering, 0.1
    for _ in range(3):  # marks as large as lettering keep their size: the scale that fits is found in a few strides
        members = _both(before, after, View(scale, form == "upright"), form)
        drawn = around(boxes(members, medium))
        width, height = drawn.right - drawn.left, drawn.bottom - drawn.top
        fitting, scale = scale, scale * min((_WIDTHS[form] - 2 * margin) / width, _TALLEST[form] / height)
    left = (drawn.left + drawn.right - _WIDTHS[form]) / 2
    box = Box(left, drawn.top - margin, left + _WIDTHS[form], drawn.bottom + margin)
    return Scene(name or f"overlay-{form}", "Both general arrangements, one over the other",
                 description(old, new), medium, box, members, {"form": form, "scale": f"{fitting:.9g}"})


def description(old: Design, new: Design) -> str:
    """What is shown and what has moved, in words."""
    return (f"The general arrangement of {_named(new)} in full lines and that of {_named(old)} in light ones, at one "
            "scale, with the mirrors’ vertices on one point. What shows one line only is where it was.")


def _named(design: Design) -> str:
    revision = design.revision
    return f"{design.build.about.name}, {revision if revision.startswith('draft') else f'revision {revision}'}"


def _both(before: Arrangement, after: Arrangement, view: View, form: Form) -> tuple[Group, ...]:
    light = Group(tuple(_lightly(_telescope(before, view, form))), {"side": "old"}, _title("old"))
    full = Group(_telescope(after, view, form), {"side": "new"}, _title("new"))
    end = max(_end(before), _end(after))
    back = min(mirror_back(before) or 0.0, mirror_back(after) or 0.0)
    top = max(top_height(before), top_height(after))
    return (light, full, axes(after, view, back, end + 0.02 * end, top))


def _title(side: str) -> str:
    return "As it was" if side == "old" else "As it is"


def _telescope(a: Arrangement, view: View, form: Form) -> tuple[Group, ...]:
    medium = ON_PAPER if form == "wide" else ON_PHONE
    return (*parts(a, view, medium), focal_plane(a, view))


def _end(a: Arrangement) -> float:
    stations = (a.front_station, a.frame.upper_station if a.frame else None, a.focuser_station + (a.bore or 0.0))
    return max(station for station in stations if station is not None)


def _lightly(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """The same lines, narrow and light; no surfaces, hatching or words, which would hide what lies below."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield replace(shape, members=tuple(_lightly(shape.members)))
        elif isinstance(shape, Polyline | Circle) and shape.pen:
            yield replace(shape, pen=replace(_LIGHT, line=replace(shape.pen.line, wide=False)), wash=None)
        elif isinstance(shape, Polyline) and shape.closed:
            yield replace(shape, pen=_LIGHT, wash=None)
        elif isinstance(shape, Segments | Text):
            continue
