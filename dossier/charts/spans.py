"""Widths to compare below a plot, on the scale of its horizontal axis, each with its words in it or beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from dossier.drawings.dimension import line_height
from dossier.drawings.lettering import CAPITALS, width_of
from dossier.drawings.scene import THIN, Box, Group, Medium, Pen, Point, Segments, Text, Words
from dossier.drawings.wrapping import wrapped

# In type sizes: half an end tick, the room on either side of words.
_TICK, _GAP = 0.35, 0.45


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the axis from ``low`` to ``high``, its name in the SVG, its words."""

    name: str
    low: float
    high: float
    words: str


def spans(wanted: Sequence[Span], place: Callable[[float], float], below: Box, medium: Medium) -> Iterator[Group]:
    """The spans in rows below this box, which is as wide as they may be; ``place`` gives where a value stands."""
    level, row = below.bottom + 0.6 * line_height(medium), line_height(medium)
    for span in wanted:
        ends = (place(span.low), place(span.high))
        texts, room, rows = _lettered(span.words, ends, below, medium)
        level += rows * row
        yield Group((Segments(tuple(_line(ends, room, level, medium)), Pen(THIN), {"span": span.name}),
                     *(Text((x, level + CAPITALS * medium.lettering / 2 - up * row), (Words(words),), "middle")
                       for x, up, words in texts)), {"part": "span"})


_Texts = list[tuple[float, int, str]]


def _lettered(words: str, ends: tuple[float, float], below: Box, medium: Medium) -> tuple[_Texts, float, int]:
    """Words as (middle, rows above the line, text), the room they need within the line, the rows that the span takes.
    """
    size = medium.lettering
    width, gap = width_of(words, size), _GAP * size
    if width + 4 * gap < ends[1] - ends[0]:
        return [((ends[0] + ends[1]) / 2, 0, words)], width + 2 * gap, 1
    if ends[1] + gap + width < below.right:
        return [(ends[1] + gap + width / 2, 0, words)], 0.0, 1
    lines = list(wrapped(words, below.right - below.left, size))
    middle = (below.left + below.right) / 2
    return [(middle, len(lines) - at, line) for at, line in enumerate(lines)], 0.0, 1 + len(lines)


def _line(ends: tuple[float, float], room: float, level: float, medium: Medium) -> Iterator[tuple[Point, Point]]:
    size, middle = medium.lettering, (ends[0] + ends[1]) / 2
    for x in ends:
        yield (x, level - _TICK * size), (x, level + _TICK * size)
    yield (ends[0], level), (middle - room / 2, level)
    yield (middle + room / 2, level), (ends[1], level)
