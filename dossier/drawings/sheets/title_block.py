"""The title block: 180 mm wide on A4 along the foot of the drawing space, four rows, every field under its name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dossier.drawings.lettering import ASCENT, DESCENT, width_of
from dossier.drawings.scene import Box, Group, Shape, Text, Words
from dossier.drawings.sheets.fields import Fields
from dossier.drawings.sheets.paper import SIZE, rule
from dossier.drawings.sheets.projection import symbol
from dossier.drawings.wrapping import fitting

ROW = 9.0
HEIGHT = 4 * ROW
# Base lines of a field's name and of what it says below it; the next line of the same; what is kept at the sides.
_NAME, _SAID, _LINE, _SIDE = 3.4, 7.6, 4.4, 1.4
_PROJECTION = "Projection"
_TITLE = 1.4  # a title is 3.5 mm high, all other lettering 2.5 mm


@dataclass(frozen=True, slots=True)
class _Cell:
    """A field: its name, what it says, where it begins and ends in shares of the width, its first row and how many."""

    name: str
    said: str
    start: float
    end: float
    row: int
    rows: int = 1
    size: float = 1.0


def title_block(fields: Fields, space: Box) -> Group:
    """The block with its lower right corner in that of the drawing space."""
    top, share = space.bottom - HEIGHT, (space.right - space.left) / 180
    members: list[Shape] = [rule((space.left, top), (space.right, top), wide=True)]
    for cell in _cells(fields):
        left, right = space.left + cell.start * share, space.left + cell.end * share
        box = Box(left, top + cell.row * ROW, right, top + (cell.row + cell.rows) * ROW)
        members.append(Group(tuple(_filled(cell, box)), {"field": cell.name.lower().replace(" ", "-")}))
        if cell.row:
            members.append(rule((box.left, box.top), (box.right, box.top)))
        if cell.start:
            members.append(rule((box.left, box.top), (box.left, box.bottom)))
    return Group(tuple(members), {"part": "title-block"})


def _cells(f: Fields) -> Iterator[_Cell]:
    yield _Cell("Legal owner", f.owner, 0, 60, 0, 2)
    yield _Cell("Scale", f.scale, 0, 16, 2)
    yield _Cell("Dimensions in", f.unit, 16, 42, 2)
    yield _Cell(_PROJECTION, f.projection, 42, 60, 2, 2)
    yield _Cell("Licence", f.licence or "not said", 0, 42, 3)
    yield _Cell("Document type", f.document_type, 60, 94, 0)
    approved = _approval(f)
    yield _Cell("Created by", f.creator, 94, approved, 0)
    yield _Cell("Approved by", f.approved, approved, 180, 0)
    yield _Cell("Title", f.title, 60, 144, 1, 2, _TITLE)
    yield _Cell("Supplementary title", f.supplementary, 144, 180, 1, 1 if f.tolerances else 2)
    if f.tolerances:
        yield _Cell("General tolerances", f.tolerances, 144, 180, 2)
    yield _Cell("Identification number", f.number, 60, 102, 3)
    yield _Cell("Revision", f.revision, 102, 128, 3)
    yield _Cell("Date of issue", f.date, 128, 152, 3)
    yield _Cell("Lang.", f.language, 152, 164, 3)
    yield _Cell("Sheet", f"{f.sheet}/{f.sheets}", 164, 180, 3)


def _approval(f: Fields) -> float:
    """Where the approval begins: in line with the field below it, further right where the creators need the room."""
    if 94 + width_of(f.creator, SIZE) + 2 * _SIDE <= 144:
        return 144
    return max(144, 180 - max(width_of(text, SIZE) for text in (f.approved, "Approved by")) - 2 * _SIDE)


def _filled(cell: _Cell, box: Box) -> Iterator[Shape]:
    left, room = box.left + _SIDE, box.right - box.left - 2 * _SIDE
    yield Text((left, box.top + _NAME), (Words(cell.name),), role="faint")
    if cell.name == _PROJECTION:
        yield symbol(((box.left + box.right) / 2, (box.top + _NAME + box.bottom) / 2),
                     "third" if cell.said == "third" else "first")
        return
    base, line = box.top + _SAID + ASCENT * SIZE * (cell.size - 1), _LINE * max(1.0, 0.9 * cell.size)
    most = int((box.bottom - DESCENT * SIZE * cell.size - base) / line) + 1
    for number, words in enumerate(fitting(cell.said, room, SIZE * cell.size, most)):
        yield Text((left, base + number * line), (Words(words),), size=cell.size)
