"""Tables as strings: heads with their unit, cells that lead somewhere, numbers on the decimal point."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from dossier.design import Design
from dossier.design.prints import named as printed
from dossier.design.threads import held
from dossier.notation import show_result
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.views.align import aligned
from dossier.views.goals import outcome_words
from dossier.views.links import working_of
from dossier.views.questions import Question
from dossier.working import Result

# A table of so many columns of numbers fits beside the margin.
_NARROW = 3
_IF = "_if_"
_LEAST_MONEY = 0.001  # less is the rounding of binary fractions


@dataclass(frozen=True, slots=True)
class Column:
    """A column's head: what stands in it, and its unit, once; ``to_write`` is left empty for the reader's pen."""

    title: str
    unit: str = ""
    is_number: bool = True
    to_write: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: a text or a number with its padding, where it leads, and what is asked of it, if anything."""

    text: str
    pad: str = ""
    href: str = ""
    outcome: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A row: its heading, a cell for each column, and a sentence under it. ``case`` is what the row says of another
    case of what its ``heading`` names, which stands in the row above already; ``is_sum`` is of the last of a table
    whose rows it adds up."""

    heading: str
    cells: tuple[Cell, ...]
    href: str = ""
    remark: str = ""
    case: str = ""
    is_sum: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption; ``corner`` is the head of the rows' headings. One that ``stacks`` has a block for each
    row where a screen is narrow."""

    caption: str
    corner: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    wide: bool = False
    stacks: bool = False

    @property
    def span(self) -> str:
        """How many columns a row has, its heading counted."""
        return str(len(self.columns) + 1)


def in_rows(result_id: str, question: Question) -> bool:
    """Whether this result is one of a table of this question."""
    return bool(question.rows) and result_id.startswith(f"{question.rows}.")


def by_row(results: Sequence[Result], design: Design, question: Question) -> Table:
    """Results such as ``eyepiece.<name>.<quantity>`` as a table: a row for each name, a column for each quantity.

    What becomes of a quantity in another case, ``<quantity>_if_<case>``, is a row of its own below the name's: side by
    side the cases would make more columns than a page has room for.
    """
    found = {(name_in(result.id, question.rows), *_quantity(result.id, question.rows).partition(_IF)[::2]): result
             for result in results}
    names = dict.fromkeys(name for name, _, _ in found)
    lines = [(name, case) for name in names for case in dict.fromkeys(case for own, _, case in found if own == name)]
    columns, cells = [], []
    for quantity in dict.fromkeys(quantity for _, quantity, _ in found):
        column = [found.get((name, quantity, case)) for name, case in lines]
        columns.append(_head(next(result for result in column if result), design, question))
        cells.append(_cells(column, design))
    rows = tuple(Row(called(name, design, question.rows), tuple(column[index] for column in cells),
                     case=_case(found, name, case) if case else "") for index, (name, case) in enumerate(lines))
    rows = (*rows, *_sum(results, rows, design, question))
    return Table(question.heading, question.row_heading, tuple(columns), rows, len(columns) > _NARROW)


def _sum(results: Sequence[Result], rows: Sequence[Row], design: Design, question: Question) -> Iterator[Row]:
    """The last row of a table of one column, where one result adds it up."""
    whole = design.results.get(question.sum)
    if whole is None:
        return
    rest = whole.number - sum(result.number for result in results)
    remark = "What stands in no group is counted here too." if abs(rest) > _LEAST_MONEY else ""
    shown = show_result(whole, design.build.readers).number
    pad = aligned([*(row.cells[0].text for row in rows), shown])[-1].pad
    yield Row(whole.title, (Cell(shown, pad, working_of(whole.id)),), remark=remark, is_sum=True)


def _case(found: Mapping[tuple[str, str, str], Result], name: str, case: str) -> str:
    """What a case is called: what its results' titles say beyond those of the plain ones."""
    pairs = ((result, found.get((own, quantity, ""))) for (own, quantity, which), result in found.items()
             if own == name and which == case)
    return next((result.title.removeprefix(plain.title).lstrip(", ") for result, plain in pairs if plain), case)


def name_in(result_id: str, rows: str) -> str:
    """The row that a result belongs to: ``25-mm-plossl`` of ``eyepiece.25-mm-plossl.magnification``."""
    return result_id.removeprefix(f"{rows}.").partition(".")[0]


def called(name: str, design: Design, rows: str) -> str:
    """What the build calls the thing behind a part of an ID: an eyepiece's name, a stock's, a group's; a
    printed part's or a fastener's reference and name."""
    build = design.build
    if rows == "print" and name in (parts := printed(build)):
        part = value_at(build, parts[name])
        return f"{part.ref} {part.name}"
    if rows == "thread":
        return next((f"{part.ref} {part.name}" for own, _, part in held(build) if own == name), name)
    said = [eyepiece.name for eyepiece in build.eyepieces]
    said += [part.cut.from_ for part in build.parts if part.cut]
    said += [part.group for part in build.parts if part.group]
    return next((text for text in said if slug(text) == name), name)


def _quantity(result_id: str, rows: str) -> str:
    return result_id.removeprefix(f"{rows}.").partition(".")[2]


def _head(result: Result, design: Design, question: Question) -> Column:
    title = result.title if _quantity(result.id, question.rows) else result.formula.title
    if question.sum in design.results:
        title = design.results[question.sum].title
    return Column(title, show_result(result, design.build.readers).unit)


def _cells(column: Sequence[Result | None], design: Design) -> list[Cell]:
    shown = [show_result(result, design.build.readers).number if result else "" for result in column]
    return [Cell(place.number, place.pad, working_of(result.id), outcome_words(result)) if result else Cell("")
            for result, place in zip(column, aligned(shown), strict=True)]
