"""Bars from nothing: what each thing amounts to, drawn to one scale, name and amount beside it or, narrow, above."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.charts.rendered import MEDIA
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.scene import THIN, Box, Group, Pen, Polyline, Shape, Text, Wash, Words, around


@dataclass(frozen=True, slots=True)
class Bar:
    """One amount, not below zero: what it is, how it is written, and the result it is, if it is one."""

    name: str
    value: float
    written: str
    result: str = ""


def bars(amounts: Sequence[Bar], form: Form) -> tuple[tuple[Shape, ...], Box]:
    """A bar for each amount in the order given. ValueError for no amounts, or one below zero."""
    if not amounts or min(bar.value for bar in amounts) < 0:
        raise ValueError("bars want amounts of zero or more")
    medium, width = MEDIA[form]
    size, line, beside = medium.lettering, line_height(medium), form == "wide"
    row = 1.35 * line if beside else 2.0 * line
    written = max(width_of(bar.written, size) for bar in amounts)
    left = max(width_of(bar.name, size) for bar in amounts) + written + 1.6 * size if beside else 0.0
    longest = max(bar.value for bar in amounts) or 1.0
    shapes: list[Shape] = []
    for index, bar in enumerate(amounts):
        top = index * row
        base = top + (row / 2 if beside else 0.3 * row) + CAPITALS * size / 2
        high = top + (0.26 if beside else 0.62) * row
        low, right = high + (0.48 if beside else 0.28) * row, left + bar.value / longest * (width - left)
        shapes.append(Text((0.0, base), (Words(bar.name),)))
        shapes.append(Text((left - 0.6 * size if beside else width, base), (Words(bar.written, result=bar.result),),
                           "end"))
        shapes.append(Polyline(((left, high), (right, high), (right, low), (left, low)), Pen(THIN), Wash("ink"),
                               closed=True, data={"bar": bar.name}))
    shapes.append(Polyline(((left, 0.0), (left, len(amounts) * row)), Pen(THIN), data={"part": "zero"}))
    return (Group(tuple(shapes), {"part": "bars"}),), around(boxes(shapes, medium))
