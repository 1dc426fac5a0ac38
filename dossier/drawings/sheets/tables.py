"""What stands above the title block: notes, the parts table (ISO 7573) beside or below them, revisions across all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.figures.listing import broken
from dossier.drawings.figures.measures import Runs, plain
from dossier.drawings.figures.placing import moved
from dossier.drawings.lettering import CAPITALS, boxes
from dossier.drawings.scene import ON_PAPER, Box, Group, Shape, Text, Words, around
from dossier.drawings.sheets.paper import SIZE, rule
from dossier.drawings.sheets.revision_rows import RevisionRow
from dossier.drawings.wrapping import fitting

if TYPE_CHECKING:
    from dossier.spec.model_parts import Part

_PAD, _SIDE, _LINE, _GUTTER, _BETWEEN = 1.2, 1.4, 4.6, 5.0, 0.8
# How wide the parts table may be beside the notes, in shares of the drawing space.
_SHARES = (0.45, 0.4, 0.5, 0.56)
_ITEM, _QUANTITY = 14.0, 12.0
_MANY = 6
# In how many lines a cell may say what it says: whole first, shorter only where the figure has no room else.
WHOLE = 99
MOST_LINES = (WHOLE, 4, 3, 2, 1)


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of a table: its head, its width, whether it is set to the right."""

    head: str
    width: float
    number: bool = False


@dataclass(frozen=True, slots=True)
class _Block:
    """Shapes from their upper left corner, with their height."""

    groups: tuple[Group, ...]
    height: float

    def at(self, left: float, top: float) -> tuple[Group, ...]:
        return tuple(Group(moved(group.members, left, top), group.data) for group in self.groups)


def band(notes: Sequence[Runs], parts: Sequence[Part], revisions: Sequence[RevisionRow], space: Box, foot: float,
         most_lines: int = WHOLE) -> tuple[Group, ...]:
    """Notes, parts and revisions, standing on ``foot``, in the arrangement that is least high; no cell has more than
    ``most_lines``."""
    history = _history(revisions, space.right - space.left, most_lines)
    said = [note for note in notes if not plain(note).startswith("Dimensions in ")]
    best = min(_arranged(said, parts, space.right - space.left, max(2, most_lines)), key=lambda block: block.height)
    top = foot - history.height
    return (*best.at(space.left, top - best.height), *history.at(space.left, top))


def height_of(shapes: Sequence[Shape], foot: float) -> float:
    """How high a band stands above its foot."""
    return foot - min(foot, around(boxes(shapes, ON_PAPER)).top)


def _arranged(notes: Sequence[Runs], parts: Sequence[Part], width: float, most: int) -> Iterator[_Block]:
    """Notes beside the parts table, and where there are many parts above two tables side by side."""
    if not parts:
        yield _notes(notes, width)
        return
    for share in _SHARES:
        table, told = _parts(parts, share * width, most), _notes(notes, (1 - share) * width - _GUTTER)
        height = max(table.height, told.height)
        yield _Block((*told.at(0.0, 0.0), *table.at((1 - share) * width, height - table.height)), height)
    table, told = _parts(parts, width, most), _notes(notes, width)
    yield _Block((*told.groups, *table.at(0.0, told.height)), told.height + table.height)
    if len(parts) < _MANY:
        return
    half = (len(parts) + 1) // 2
    first, second = _parts(parts[:half], width / 2, most), _parts(parts[half:], width / 2, most)
    told = _notes(notes, width)
    height = max(first.height, second.height)
    yield _Block((*told.groups, *first.at(0.0, told.height), *second.at(width / 2, told.height)), told.height + height)


def _notes(notes: Sequence[Runs], width: float) -> _Block:
    if not notes:
        return _Block((), 0.0)
    base = _PAD + CAPITALS * SIZE
    members: list[Shape] = [Text((_SIDE, base), (Words("Notes"),), role="faint")]
    for note in notes:
        base += _BETWEEN
        for runs in broken(note, width - 2 * _SIDE, SIZE):
            base += _LINE
            members.append(Text((_SIDE, base), runs))
    return _Block((Group(tuple(members), {"part": "notes"}),), base + _PAD)


def _parts(parts: Sequence[Part], width: float, most: int) -> _Block:
    columns = (_Column("Item", _ITEM), _Column("Part", width - _ITEM - _QUANTITY), _Column("Qty", _QUANTITY, True))
    return _table(columns, [(part.ref, part.name, f"{part.quantity:g}") for part in parts], "parts", most, closed=True)


def _history(revisions: Sequence[RevisionRow], width: float, most: int) -> _Block:
    """Each revision by the first sentence of its note. The whole stands on the page of revisions."""
    columns = (_Column("Rev.", _ITEM), _Column("Date", 24.0), _Column("Change", width - _ITEM - 24.0))
    rows = [(row.letter, row.date, row.note.partition(". ")[0].rstrip(".")) for row in revisions]
    return _table(columns, rows, "revisions", most)


def _table(columns: Sequence[_Column], rows: Sequence[tuple[str, ...]], name: str, most: int, *,
           closed: bool = False) -> _Block:
    """A heading, a rule above each row, wide above the first; ``closed`` has a rule on the left too."""
    width, members, top = sum(column.width for column in columns), list[Shape](), 0.0
    for index, row in enumerate((tuple(column.head for column in columns), *rows)):
        members.append(rule((0.0, top), (width, top), wide=not index))
        lines = [fitting(said, column.width - 2 * _SIDE, SIZE, most)
                 for column, said in zip(columns, row, strict=True)]
        members.append(Group(tuple(_cells(columns, lines, top, index == 0)), {"row": row[0]} if index else {}))
        top += 2 * _PAD + CAPITALS * SIZE + _LINE * (max(map(len, lines)) - 1)
    if closed:
        members.append(rule((0.0, 0.0), (0.0, top)))
    return _Block((Group(tuple(members), {"part": f"{name}-table"}),), top)


def _cells(columns: Sequence[_Column], lines: Sequence[Sequence[str]], top: float, heading: bool) -> Iterator[Text]:
    left = 0.0
    for column, cell in zip(columns, lines, strict=True):
        x = left + (column.width - _SIDE if column.number else _SIDE)
        for row, words in enumerate(cell):
            base = top + _PAD + CAPITALS * SIZE + row * _LINE
            yield Text((x, base), (Words(words),), "end" if column.number else "start",
                       role="faint" if heading else "ink")
        left += column.width
