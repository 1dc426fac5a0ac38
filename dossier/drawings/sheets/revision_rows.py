"""The history of a sheet as rows of its revision table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.spec import letters

if TYPE_CHECKING:
    from dossier.design.model import Design

# A sheet has room for so many; earlier ones stand on the page of revisions.
MOST = 3


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """A revision: its letter, its date, what was changed."""

    letter: str
    date: str
    note: str


def revision_rows(design: Design) -> tuple[RevisionRow, ...]:
    """The latest revisions of a design, the newest first, with a draft above them where it is one."""
    rows = [RevisionRow(each.letter, each.date, each.note) for each in reversed(design.issued)]
    if not letters.is_letter(design.revision):
        rows.insert(0, RevisionRow("draft", design.date, "Not issued: work from an issued revision"
                                   if design.issued else "Not issued yet"))
    return tuple(rows[:MOST])
