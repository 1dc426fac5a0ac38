"""The general arrangement lying on its side, for paper and wide screens: dimensioned, at a preferred scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dossier.drawings import scales
from dossier.drawings.arrangement import Arrangement
from dossier.drawings.arrangement_light import light
from dossier.drawings.arrangement_marks import (
    assumed,
    axes,
    balance,
    description,
    focal_plane,
    furthest,
    light_start,
    phrase,
    scale_bar,
    unfolded_focus,
)
from dossier.drawings.arrangement_parts import EYEPIECE_WIDTH, mirror_back, parts, top_height
from dossier.drawings.arrangement_spans import along_axis, heights
from dossier.drawings.dimension import LIFT, Dimensions, line_height
from dossier.drawings.lettering import CAPITALS, box_of_text, boxes, width_of
from dossier.drawings.scene import (
    ON_PAPER,
    Box,
    Group,
    Medium,
    Polyline,
    Scene,
    Shape,
    Text,
    View,
    Words,
    around,
    box_of,
    leaves,
)

_MARGIN = 1.5


@dataclass(frozen=True, slots=True)
class Side:
    """The side view with its dimensions, about the primary's vertex, and what they leave to be said in words."""

    shapes: tuple[Shape, ...]
    extent: Box
    said: tuple[tuple[Words, ...], ...]


def scene(a: Arrangement, width: float, height: float, dimensions: bool) -> Scene:
    """The largest preferred scale whose drawing fits the sheet; the smallest of the series where none does."""
    if not dimensions:
        return _picture(a, width)
    for reduction in scales.REDUCTIONS:
        made = _dimensioned(a, reduction, width)
        if made.box.right - made.box.left <= width + 1e-6 and made.box.bottom - made.box.top <= height:
            break
    return made


def _dimensioned(a: Arrangement, reduction: int, width: float) -> Scene:
    view, medium = View(1 / reduction), ON_PAPER
    drawn = side(a, view)
    extent = drawn.extent
    left = min(extent.left, (extent.left + extent.right - width) / 2)
    footer = _footer(a, view, reduction, extent, (left, left + width), (*_notes(a), *drawn.said))
    bottom = around(boxes(footer, medium)).bottom
    box = Box(left, extent.top - _MARGIN, max(left + width, extent.right), bottom + _MARGIN)
    return _scene(a, view, medium, box, (*drawn.shapes, *footer), reduction)


def side(a: Arrangement, view: View, *, rays: bool = True, names: bool = True) -> Side:
    """The telescope from the side on paper, dimensioned; with ``rays`` the light, with ``names`` the eyepiece's."""
    medium = ON_PAPER
    measured = along_axis(a, view)
    last = light_start(a, view, medium) if rays else furthest(a)
    axis_end = max(last, a.focal_length if measured.focus else 0.0)
    axis_end += medium.lettering / view.scale
    focus = [unfolded_focus(a, view, medium)] if measured.focus else []
    drawn = (*_telescope(a, view, axis_end, rays), *focus, balance(a, view, medium))
    outlines = _outlines(a, drawn, view, rays)
    labels = _labels(a, view, outlines) if names else []
    placed = Dimensions(medium, outlines, [box_of_text(label, medium.lettering) for label in labels])
    right, said = heights(a, view, axis_end)
    unplaced = [*placed.place("below", measured.below), *placed.place("above", measured.above),
                *placed.place("left", measured.left)]
    # The front ring's edge ends as high as the focuser's face: the face's extension line starts at the focuser itself.
    edges = tuple(boxes([group for group in drawn if group.data.get("part") == "front"], medium))
    placed.outlines = tuple(box for box in outlines if box not in edges)
    placed.taken += edges
    unplaced += placed.place("right", right)
    return Side((*drawn, *placed.shapes, Group(tuple(labels), {"part": "labels"})),
                around((*boxes(drawn, medium), *placed.taken)),
                (*measured.said, *said, *(_sentence(span.runs) for span in unplaced)))


def _picture(a: Arrangement, width: float) -> Scene:
    """The telescope alone, as large as the width allows."""
    view = View(0.1)
    for _ in range(2):
        # The second time at the scale that makes the first one fill the width.
        drawn = _telescope(a, view, light_start(a, view, ON_PAPER) + ON_PAPER.lettering / view.scale)
        extent = around(boxes(drawn, ON_PAPER))
        view = View(view.scale * (width - 2 * _MARGIN) / (extent.right - extent.left))
    left = (extent.left + extent.right - width) / 2
    box = Box(left, extent.top - _MARGIN, left + width, extent.bottom + _MARGIN)
    return _scene(a, view, ON_PAPER, box, drawn, 0)


def _scene(a: Arrangement, view: View, medium: Medium, box: Box, members: tuple[Shape, ...], reduction: int) -> Scene:
    data = {"scale": f"{view.scale:.9g}", "form": "wide"}
    if reduction:
        data["reduction"] = str(reduction)
    return Scene("general-arrangement-wide", f"General arrangement of {a.name}", description(a), medium, box, members,
                 data)


def _telescope(a: Arrangement, view: View, axis_end: float, rays: bool = True) -> tuple[Group, ...]:
    """Parts, light and axes, from back to front."""
    frame, *others = parts(a, view, ON_PAPER)
    mark = ON_PAPER.lettering / view.scale
    start = min(-mark, (mirror_back(a) or 0.0) - 0.6 * mark)
    beam = [light(a, view, light_start(a, view, ON_PAPER), ON_PAPER.arrow)] if rays else []
    return (frame, *beam, *others, focal_plane(a, view),
            axes(a, view, start, axis_end, top_height(a) + mark))


def _outlines(a: Arrangement, drawn: tuple[Group, ...], view: View, rays: bool) -> tuple[Box, ...]:
    """The boxes that dimensions start from: every part, the optical axis, and the light that comes in."""
    solid = [group for group in drawn if group.data.get("part") not in ("light", "axes", "unfolded-focus", "balance")]
    axis = [line for line in leaves(drawn) if isinstance(line, Polyline) and line.data.get("part") == "optical-axis"]
    beam = [(0.0, a.aperture / 2), (light_start(a, view, ON_PAPER), -a.aperture / 2)]
    return (*boxes([*solid, *axis], ON_PAPER), *([box_of(view.points(beam))] if rays else []))


def _labels(a: Arrangement, view: View, outlines: Iterable[Box]) -> list[Text]:
    """The eyepiece's name beside it, if there is room."""
    if not a.eyepiece or not a.bore:
        return []
    size = ON_PAPER.lettering
    x, y = view.at(a.focuser_station + a.bore * EYEPIECE_WIDTH / 2, a.intercept)
    label = Text((x + 0.5 * size, y - LIFT * size), (Words(a.eyepiece.name),))
    room = box_of_text(label, size)
    return [] if any(room.meets(outline) for outline in outlines) else [label]


def _footer(a: Arrangement, view: View, reduction: int, drawing: Box, sheet: tuple[float, float],
            notes: Sequence[tuple[Words, ...]]) -> tuple[Group, ...]:
    """Scale bar and notes under the drawing: in two columns, from the drawing's edge or the sheet's, else in one."""
    size, line = ON_PAPER.lettering, line_height(ON_PAPER)
    base = drawing.bottom + 0.9 * line + CAPITALS * size
    bar = scales.bar(view.scale, 50, a.length_unit)
    indent = bar.length_mm * view.scale + 0.6 * size
    first = (Words(f"{bar.words}; scale {scales.written(reduction)} in print"),)
    ordered = sorted(notes, key=_width, reverse=True)
    split = (len(ordered) + 1) // 2
    column = max([indent + _width(first), *map(_width, ordered[:split])]) + 1.5 * size
    needed = column + max(map(_width, ordered[split:]), default=0.0)
    lefts = [left for left in (drawing.left, sheet[0] + _MARGIN) if left + needed <= sheet[1] - _MARGIN]
    left = lefts[0] if lefts else drawing.left
    places = [(left, row + 1) for row in range(split if lefts else len(ordered))]
    places += [(left + column, row) for row in range(len(ordered) - len(places))]
    texts = [Text((left + indent, base), first)]
    texts += [Text((x, base + row * line), runs) for (x, row), runs in zip(places, ordered, strict=True)]
    top = base - CAPITALS * size + 0.15 * size
    return (scale_bar((left, top), bar.length_mm * view.scale, bar.steps, ON_PAPER),
            Group(tuple(texts), {"part": "notes"}))


def _sentence(runs: Sequence[Words]) -> tuple[Words, ...]:
    """The same words, beginning with a capital."""
    first, *rest = runs
    return (replace(first, text=first.text[:1].upper() + first.text[1:]), *rest)


def _width(runs: Sequence[Words]) -> float:
    return width_of("".join(run.text for run in runs), ON_PAPER.lettering)


def _notes(a: Arrangement) -> Iterator[tuple[Words, ...]]:
    yield (Words(f"Dimensions in {a.length_unit}; stations from the primary’s vertex"),)
    yield from in_words(a)


def in_words(a: Arrangement) -> Iterator[tuple[Words, ...]]:
    """What the side view means, in words."""
    where = ("offset ", "diagonal.offset", " towards primary, away from focuser") if a.offset else ("without offset",)
    yield phrase(a, "Diagonal ", "diagonal.minor_axis", " (minor axis), ", *where)
    if a.judged_field and "field.judged" in a.figures:
        yield phrase(a, "Rays of axis and field ⌀\u202f", "field.judged")
    if said := assumed(a):
        yield said
    if a.front_opening:
        yield phrase(a, "Front opening ⌀\u202f", "front.opening")
