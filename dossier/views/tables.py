"""Tables as strings: heads with their unit, cells that lead somewhere, numbers on the decimal point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.design import Design
from dossier.notation import show_result
from dossier.views.align import aligned
from dossier.views.goals import outcome_words
from dossier.views.links import working_of
from dossier.views.questions import Question
from dossier.spec.model import slug
from dossier.working import Result


@dataclass(frozen=True, slots=True)
class Column:
    """A column's head: what stands in it, and its unit, once."""

    title: str
    unit: str = ""
    is_number: bool = True


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: a text or a number with its padding, where it leads, and what is asked of it, if anything."""

    text: str
    pad: str = ""
    href: str = ""
    outcome: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A row: its heading, and a cell for each column."""

    heading: str
    cells: tuple[Cell, ...]
    href: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption; ``corner`` is the head of the rows' headings."""

    caption: str
    corner: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


def by_row(results: Sequence[Result], design: Design, question: Question) -> tuple[Table, ...]:
    """Results such as ``eyepiece.<name>.<quantity>`` as a table: a row for each name, a column for each quantity."""
    names = list(dict.fromkeys(_middle(result) for result in results))
    quantities = list(dict.fromkeys(_last(result) for result in results))
    found = {(_middle(result), _last(result)): result for result in results}
    columns, cells = [], []
    for quantity in quantities:
        column = [found.get((name, quantity)) for name in names]
        columns.append(_head(next(result for result in column if result), design))
        cells.append(_cells(column, design))
    rows = tuple(Row(_called(name, results, design), tuple(column[index] for column in cells))
                 for index, name in enumerate(names))
    return (Table(question.heading, question.row_heading, tuple(columns), rows),)


def _middle(result: Result) -> str:
    return result.id.split(".", 1)[1].rsplit(".", 1)[0]


def _last(result: Result) -> str:
    return result.id.rsplit(".", 1)[1]


def _head(result: Result, design: Design) -> Column:
    return Column(result.title, show_result(result, design.build.readers).unit)


def _cells(column: Sequence[Result | None], design: Design) -> list[Cell]:
    shown = [show_result(result, design.build.readers).number if result else "" for result in column]
    return [Cell(place.number, place.pad, working_of(result.id), outcome_words(result)) if result else Cell("")
            for result, place in zip(column, aligned(shown), strict=True)]


def _called(name: str, results: Sequence[Result], design: Design) -> str:
    """What the build calls the thing behind this part of an ID: an eyepiece's name, a stock's."""
    build = design.build
    said = [eyepiece.name for eyepiece in build.eyepieces]
    said += [part.cut.from_ for part in build.parts if part.cut]
    return next((text for text in said if slug(text) == name), name)
