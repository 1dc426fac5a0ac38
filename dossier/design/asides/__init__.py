"""Tables beside the results: what other choices, targets or positions would give, worked out when a page asks.

An aside is not a result of the build: it is not in ``results.json`` and no goal may name it. Its numbers are results of
formulas all the same, so that each column can show its working by its first row.
"""

from __future__ import annotations

from dataclasses import dataclass

from dossier.working import Given, Result

Entry = Result | Given | str | None


@dataclass(frozen=True, slots=True)
class AsideColumn:
    """A column's head. ``text`` columns hold words; in those to ``write`` in, readers put what they find."""

    title: str
    text: bool = False
    write: bool = False


@dataclass(frozen=True, slots=True)
class AsideRow:
    """A row: its name, an entry for each column (None where there is nothing to say), and a sentence on it. An
    ``amount`` is written into the name where that has ``{amount}``, in the reader's units."""

    name: str
    entries: tuple[Entry, ...]
    remark: str = ""
    amount: Given | None = None


@dataclass(frozen=True, slots=True)
class Aside:
    """A table: its title, what its rows are, its columns and rows, and sentences under it. ``works`` are columns whose
    working is shown, by number; all columns of results where it is None. ``differing`` keeps only the rows whose
    entries do not all read the same. ``works_by_row``: each row is a quantity of its own, whose working is shown by its
    first entry. ``stacks``: on a phone each row is a block of its own, since the columns have no room side by side."""

    title: str
    corner: str
    columns: tuple[AsideColumn, ...]
    rows: tuple[AsideRow, ...]
    notes: tuple[str, ...] = ()
    works: tuple[int, ...] | None = None
    differing: bool = False
    works_by_row: bool = False
    stacks: bool = False
