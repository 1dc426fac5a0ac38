"""The general arrangement lying on its side, for paper and wide screens: dimensioned, at a preferred scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from dossier.drawings import scales
from dossier.drawings.arrangement import Arrangement
from dossier.drawings.arrangement_light import light
from dossier.drawings.arrangement_marks import (
    axes,
    balance,
    description,
    focal_length_fits,
    focal_plane,
    length_key,
    light_start,
    members_in_words,
    phrase,
    scale_bar,
    unfolded_focus,
)
from dossier.drawings.arrangement_parts import EYEPIECE_HEIGHT, EYEPIECE_WIDTH, mirror_back, parts
from dossier.drawings.dimension import LIFT, Dimensions, Span, crossing, fits, line_height, roomiest
from dossier.drawings.lettering import CAPITALS, box_of_text, boxes, width_of
from dossier.drawings.scene import (
    ON_PAPER,
    Box,
    Group,
    Medium,
    Scene,
    Shape,
    Text,
    View,
    Words,
    around,
    box_of,
)

_MARGIN = 1.0


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
    drawn = _telescope(a, view, medium, marks=True)
    outlines = _outlines(a, drawn, view)
    labels = _labels(a, view, outlines)
    placed = Dimensions(medium, outlines, [box_of_text(label, medium.lettering) for label in labels])
    below, above, right, said = _spans(a, view)
    unplaced = [*placed.place("below", below), *placed.place("above", above),
                *placed.place("left", [_aperture(a, view)]), *placed.place("right", right)]
    body = (*drawn, *placed.shapes, Group(tuple(labels), {"part": "labels"}))
    extent = around((*boxes(drawn, medium), *placed.taken))
    left = min(extent.left, (extent.left + extent.right - width) / 2)
    notes = (*_notes(a), *said, *(span.runs for span in unplaced))
    footer = _footer(a, view, reduction, extent, (left, left + width), notes)
    bottom = around(boxes(footer, medium)).bottom
    box = Box(left, extent.top - _MARGIN, max(left + width, extent.right), bottom + _MARGIN)
    return _scene(a, view, medium, box, (*body, *footer), reduction)


def _picture(a: Arrangement, width: float) -> Scene:
    """The telescope alone, as large as the width allows."""
    rough = around(boxes(_telescope(a, View(0.1), ON_PAPER, marks=False), ON_PAPER))
    scale = 0.1 * (width - 2 * _MARGIN) / (rough.right - rough.left)
    view = View(scale)
    drawn = _telescope(a, view, ON_PAPER, marks=False)
    extent = around(boxes(drawn, ON_PAPER))
    left = (extent.left + extent.right - width) / 2
    box = Box(left, extent.top - _MARGIN, left + width, extent.bottom + _MARGIN)
    return _scene(a, view, ON_PAPER, box, drawn, 0)


def _scene(a: Arrangement, view: View, medium: Medium, box: Box, members: tuple[Shape, ...], reduction: int) -> Scene:
    data = {"scale": f"{view.scale:.9g}", "form": "wide"}
    if reduction:
        data["reduction"] = str(reduction)
    return Scene("general-arrangement-wide", f"General arrangement of {a.name}", description(a), medium, box, members,
                 data)


def _telescope(a: Arrangement, view: View, medium: Medium, *, marks: bool) -> tuple[Group, ...]:
    """Parts, light and axes, from back to front; with ``marks``, what dimensions refer to."""
    start = light_start(a, view, medium)
    frame, *others = parts(a, view, medium)
    mark = medium.lettering / view.scale
    first = min(-mark, (mirror_back(a) or 0.0) - 0.6 * mark)
    last = _axis_end(a, view, marks=marks)
    drawn = (frame, light(a, view, start, medium.arrow), *others, focal_plane(a, view),
             axes(a, view, first, last, _top(a) + mark))
    focus = (unfolded_focus(a, view, medium),) if focal_length_fits(a) else ()
    return (*drawn, *focus, balance(a, view, medium)) if marks else drawn


def _axis_end(a: Arrangement, view: View, *, marks: bool) -> float:
    """Station at which the drawn axis ends: past the light, and past the unfolded focus where that is marked."""
    end = light_start(a, view, ON_PAPER)
    if marks and focal_length_fits(a):
        end = max(end, a.focal_length)
    return end + ON_PAPER.lettering / view.scale


def _top(a: Arrangement) -> float:
    return a.intercept + (a.bore or 0.0) * EYEPIECE_HEIGHT


def _outlines(a: Arrangement, drawn: tuple[Group, ...], view: View) -> tuple[Box, ...]:
    """The boxes that dimensions start from: every part, and the light that comes in."""
    solid = [group for group in drawn if group.data.get("part") not in ("light", "axes", "unfolded-focus", "balance")]
    beam = [(0.0, a.aperture / 2), (light_start(a, view, ON_PAPER), -a.aperture / 2)]
    return (*boxes(solid, ON_PAPER), box_of(view.points(beam)))


def _span(a: Arrangement, view: View, key: str, station: float | None, *words: str) -> Iterator[Span]:
    """A length from the primary's vertex along the axis, where it is known."""
    if station is not None and station > 0 and key in a.figures:
        yield Span(key, 0.0, station * view.scale, phrase(a, *words, key))


def _spans(a: Arrangement, view: View) -> tuple[list[Span], list[Span], list[Span], list[tuple[Words, ...]]]:
    """What is dimensioned below, above and on the right; and what is said in words because its line would cross."""
    below, focal = _stations(a, view), list(_span(a, view, "primary.focal_length", a.focal_length, "focal length "))
    top = _top(a) * view.scale + ON_PAPER.lettering
    above = [replace(span, end_foot=top) for span in _span(a, view, "focuser.station", a.focuser_station, "focuser ")]
    right, said = _right(a, view)
    length = _frame_length(a, view)
    if length and a.frame and a.frame.kind == "tube":
        below.append(length)
        length = None
    if focal_length_fits(a):
        below += focal
    else:
        said.append(phrase(a, "Focal length ", "primary.focal_length"))
    if length and a.frame and a.frame.kind == "poles" and not any(crossing(length, span) for span in above):
        above.append(length)
    elif length:
        said.append((Words("Frame: "), *length.runs))
    return below, above, right, said


def _stations(a: Arrangement, view: View) -> list[Span]:
    """Stations from the primary's vertex."""
    lower, upper = (a.frame.lower_station, a.frame.upper_station) if a.frame else (None, None)
    return [*_span(a, view, "frame.lower_fixing", lower, "lower fixing "),
            *_span(a, view, "balance.station", a.balance_station, "balance point "),
            *_span(a, view, "frame.upper_fixing", upper, "upper fixing "),
            *_span(a, view, "diagonal.station", a.diagonal_station, "diagonal "),
            *_span(a, view, "front.station", a.front_station, "front ")]


def _frame_length(a: Arrangement, view: View) -> Span | None:
    key = length_key(a)
    if a.frame is None or key not in a.figures:
        return None
    return Span(key, a.frame.lower_station * view.scale, a.frame.upper_station * view.scale, members_in_words(a, key))


def _aperture(a: Arrangement, view: View) -> Span:
    half = a.aperture / 2 * view.scale
    return roomiest(ON_PAPER, "primary.aperture", -half, half, phrase(a, "aperture ⌀\u202f", "primary.aperture"),
                    phrase(a, "⌀\u202f", "primary.aperture"))


def _right(a: Arrangement, view: View) -> tuple[list[Span], list[tuple[Words, ...]]]:
    """From the axis to the focal plane and to the focuser's face; the latter in words where its line is too short."""
    foot = _axis_end(a, view, marks=True) * view.scale
    side = a.focuser_station * view.scale
    plane = Span("optics.intercept", -a.intercept * view.scale, 0.0,
                 phrase(a, "focal plane ", "optics.intercept"), side, foot)
    key = "focuser.mounting_radius"
    face = roomiest(ON_PAPER, key, -a.mounting_radius * view.scale, 0.0, phrase(a, "focuser face ", key),
                    phrase(a, "face ", key))
    if fits(face, ON_PAPER):
        return [replace(face, start_foot=side, end_foot=foot), plane], []
    return [plane], [phrase(a, "Focuser face ", key, " from the axis")]


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
    column = max([indent + _width(first), *map(_width, ordered[:split])]) + 2 * size
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


def _width(runs: Sequence[Words]) -> float:
    return width_of("".join(run.text for run in runs), ON_PAPER.lettering)


def _notes(a: Arrangement) -> Iterator[tuple[Words, ...]]:
    yield (Words(f"Dimensions in {a.length_unit}; stations from the primary’s vertex"),)
    yield phrase(a, "Diagonal ", "diagonal.minor_axis", " (minor axis), offset ", "diagonal.offset",
                 " towards primary, away from focuser")
    if a.judged_field and "field.judged" in a.figures:
        yield phrase(a, "Rays of the axis and of a field ⌀\u202f", "field.judged")
    if a.bore:
        yield (Words("Chain outlines with two dots show a part’s place, not its size"),)
    if a.front_opening:
        yield phrase(a, "Front opening ⌀\u202f", "front.opening")
