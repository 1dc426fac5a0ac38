"""The table of indications of an optical drawing: columns for both surfaces and for what lies between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.drawings.dimension import line_height
from dossier.drawings.figures.listing import broken
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import CAPITALS, DESCENT
from dossier.drawings.scene import THIN, Circle, Medium, Pen, Point, Polyline, Shape, Text, Words

# What stands at the head of a row of which the coating's sign is drawn.
COATING = "(λ)"
# Columns stand beside one another from this many type sizes on; else one list below the other.
_LEAST_TABLE = 27.0
_SHARES = (0.25, 0.28, 0.47)
_BETWEEN_COLUMNS, _BETWEEN_ROWS = 0.8, 0.25


@dataclass(frozen=True, slots=True)
class Column:
    """What is indicated of one surface, or of what lies between both."""

    head: str
    rows: tuple[Runs, ...]


def table_of(columns: Sequence[Column], at: Point, width: float, medium: Medium) -> tuple[Shape, ...]:
    """Three columns beside one another between rules; one list below the other where they have no room."""
    size = medium.lettering
    if width < _LEAST_TABLE * size:
        return _stacked(columns, at, width, medium)
    shapes: list[Shape] = []
    widths = [share * width - _BETWEEN_COLUMNS * size for share in _SHARES]
    heads = [broken((Words(column.head),), room, size) for column, room in zip(columns, widths, strict=True)]
    head = _head(medium) + (max(map(len, heads)) - 1) * line_height(medium)
    x, lowest = at[0], at[1]
    for column, lines, room, share in zip(columns, heads, widths, _SHARES, strict=True):
        shapes += _lines(lines, x, at[1] + (CAPITALS + 0.45) * size, medium)
        drawn, bottom = _rows(column, (x, at[1] + head), room, medium)
        shapes += drawn
        lowest = max(lowest, bottom)
        x += share * width
    return (*shapes, *(_rule(at[0], y, width) for y in (at[1], at[1] + head, lowest + 0.3 * size)))


def _stacked(columns: Sequence[Column], at: Point, width: float, medium: Medium) -> tuple[Shape, ...]:
    shapes: list[Shape] = []
    y, size = at[1], medium.lettering
    # The face first: on a narrow screen the flat back may wait.
    for column in reversed(columns):
        shapes += _lines([(Words(column.head),)], at[0], y + (CAPITALS + 0.45) * size, medium)
        drawn, bottom = _rows(column, (at[0], y + _head(medium)), width, medium)
        shapes += (*drawn, *(_rule(at[0], rule, width) for rule in (y, y + _head(medium))))
        y = bottom + 0.7 * size
    return tuple(shapes)


def _head(medium: Medium) -> float:
    return (CAPITALS + DESCENT + 0.75) * medium.lettering


def _rule(left: float, y: float, width: float) -> Polyline:
    return Polyline(((left, y), (left + width, y)), Pen(THIN), data={"part": "rule"})


def _lines(lines: Sequence[Runs], x: float, base: float, medium: Medium) -> list[Shape]:
    return [Text((x, base + number * line_height(medium)), runs) for number, runs in enumerate(lines)]


def _rows(column: Column, at: Point, width: float, medium: Medium) -> tuple[list[Shape], float]:
    """The rows from the upper left corner, and how low they reach."""
    size, line = medium.lettering, line_height(medium)
    base, shapes = at[1] + (CAPITALS + 0.45) * size, list[Shape]()
    for row in column.rows:
        coating = row[0].text == COATING
        indent = 1.6 * size if coating else 0.0
        if coating:
            centre = (at[0] + 0.62 * size, base - CAPITALS * size / 2)
            shapes += [Circle(centre, 0.6 * size, Pen(THIN), data={"part": "coating"}),
                       Text((centre[0], base), (Words("λ"),), "middle")]
        for runs in broken(row[1:] if coating else row, width - indent, size):
            shapes.append(Text((at[0] + indent, base), runs))
            base += line
        base += _BETWEEN_ROWS * size
    return shapes, base - line - _BETWEEN_ROWS * size + DESCENT * size
