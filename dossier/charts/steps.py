"""Steps down from 1: what each thing takes, drawn to one scale, with what is left beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.charts.axes import round_ticks
from dossier.charts.plot import GAP, HATCH, STRIP, TICK
from dossier.charts.rendered import MEDIA
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.numerals import fixed
from dossier.drawings.scene import (
    OUTLINE,
    THIN,
    Box,
    Group,
    Medium,
    Pen,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
    hatching,
)


@dataclass(frozen=True, slots=True)
class Step:
    """What takes, and what is left after it."""

    name: str
    left: float


@dataclass(frozen=True, slots=True)
class _Scale:
    """A stretch of the drawing on which values from ``low`` to 1 are laid."""

    low: float
    left: float
    right: float

    def at(self, value: float) -> float:
        return self.left + (value - self.low) / (1 - self.low) * (self.right - self.left)


def steps(taken: Sequence[Step], limit: float | None, form: Form, title: str) -> tuple[tuple[Shape, ...], Box]:
    """A bar for each step, from what was left to what is left, its name and that number beside it or, narrow, above.

    The scale runs from 1 downwards as far as needed, so that the length of a bar is what is lost.
    """
    medium, width = MEDIA[form]
    size, line = medium.lettering, line_height(medium)
    beside = form == "wide"
    names = max(width_of(step.name, size) for step in taken) + width_of("0.000", size) + 1.4 * size if beside else 0.0
    row = 1.35 * line if beside else 2.0 * line
    low = _lowest(taken, limit)
    scale = _Scale(low, names, width - width_of("1.0", size) / 2)
    top = 1.2 * line if limit is not None else 0.0
    foot = top + len(taken) * row + 0.3 * size
    # A phone's names stand on the side that the limit leaves free.
    to_left = limit is not None and scale.at(limit) > width / 2
    shapes: list[Shape] = [*_bars(taken, scale, top, row, beside, to_left, medium), *_axis(scale, foot, title, medium)]
    if limit is not None:
        shapes += _limit(limit, scale, top, foot, medium)
    return (Group(tuple(shapes), {"part": "steps"}),), around(boxes(shapes, medium))


def _lowest(taken: Sequence[Step], limit: float | None) -> float:
    least = min([step.left for step in taken] + ([limit] if limit is not None else []))
    return max(0.0, least - 0.15 * (1 - least) - 0.01)


def _bars(taken: Sequence[Step], scale: _Scale, top: float, row: float, beside: bool, to_left: bool,
          medium: Medium) -> list[Shape]:
    size, shapes = medium.lettering, list[Shape]()
    before = 1.0
    for index, step in enumerate(taken):
        y = top + index * row
        base = y + (row / 2 if beside else 0.3 * row) + CAPITALS * size / 2
        high = y + (0.3 if beside else 0.62) * row
        low = high + (0.4 if beside else 0.28) * row
        left, right = scale.at(step.left), scale.at(before)
        corners = ((left, high), (right, high), (right, low), (left, low))
        shapes.append(Polyline(corners, Pen(THIN), Wash("ink"), closed=True, data={"step": step.name}))
        # A phone's names stand between the bars, where such a line would run through them.
        if beside and index + 1 < len(taken):
            shapes.append(Polyline(((left, low), (left, high + row)), Pen(THIN), data={"line": "step"}))
        if beside:
            shapes.append(Text((0.0, base), (Words(step.name),)))
            shapes.append(Text((scale.left - 0.4 * size, base), (Words(fixed(step.left, 3)),), "end"))
        else:
            words = (Words(f"{step.name}: {fixed(step.left, 3)}"),)
            shapes.append(Text((0.0 if to_left else scale.right, base), words, "start" if to_left else "end"))
        before = step.left
    return shapes


def _axis(scale: _Scale, level: float, title: str, medium: Medium) -> list[Shape]:
    size = medium.lettering
    lines = [((scale.left, level), (scale.right, level))]
    base, texts = level + (TICK + GAP + CAPITALS) * size, list[Shape]()
    for value, text in round_ticks(scale.low, 1.0, 5):
        lines.append(((scale.at(value), level), (scale.at(value), level + TICK * size)))
        texts.append(Text((scale.at(value), base), (Words(text),), "middle"))
    texts.append(Text((scale.right, base + line_height(medium)), (Words(title),), "end"))
    return [Segments(tuple(lines), Pen(THIN), {"part": "axes"}), *texts]


def _limit(limit: float, scale: _Scale, top: float, foot: float, medium: Medium) -> list[Shape]:
    size, x = medium.lettering, scale.at(limit)
    strip = ((x, top), (x, foot), (x - STRIP * size, foot), (x - STRIP * size, top))
    words = Text((x, top - 0.4 * size), (Words(f"at least {fixed(limit, 2)}"),),
                 "start" if x < width_of("at least 0.00", size) / 2 else "middle")
    return [Segments(hatching(strip, HATCH * size), Pen(THIN), {"forbidden": "below"}),
            Polyline(strip[:2], Pen(OUTLINE), data={"limit": "below"}), words]
