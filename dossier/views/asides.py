"""Asides as tables of strings, each with the workings of its columns, and the question each stands under."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from dossier.design import Design
from dossier.design.asides import (
    Aside,
    AsideRow,
    Entry,
    bodies,
    cell,
    compare,
    doubles,
    field_edges,
    focusing,
    frame,
    heat,
    kits,
    measured,
    mirror,
    mount,
    pinch,
    prints,
    pushes,
    shadow,
    shows,
    springs,
    stray,
    testing,
    threads,
    turning,
    workshop,
)
from dossier.notation import Shown, show_result
from dossier.views import alternatives
from dossier.views.align import aligned
from dossier.views.goals import outcome_words
from dossier.views.links import working_of
from dossier.views.planned import given_words
from dossier.views.tables import Cell, Column, Row, Table
from dossier.views.workings import Work, work_of
from dossier.working import Given, Result

# A table of so many columns of numbers fits beside the margin.
_NARROW = 3

Made = Callable[[Design], Aside | None]
# The tables under each question, by its key, in their order. Each maker gives None where the spec does not say enough.
ASIDES: Mapping[str, tuple[Made, ...]] = MappingProxyType({
    "star-test": (testing.star_shifts,), "zones": (testing.zones,), "bench": (testing.readings,),
    "field": (field_edges.table,), "stray": (stray.rings, stray.stopped_down),
    "mirror": (mirror.table,), "alternatives": (alternatives.choices, alternatives.side_by_side),
    "sessions": (workshop.sessions, workshop.tools), "measured": (measured.values, measured.results),
    "to-measure": measured.SHEETS, "cuts": (kits.sheets,), "printed": (prints.table,),
    "eyepieces": (shows.eyepieces, shows.power_range), "limits": (shows.faint, shows.fine), "moon": (bodies.moon,),
    "planets": (bodies.planets, bodies.sizes), "doubles": (doubles.doubles,), "beside": (compare.beside,),
    "diagonal": (shadow.afforded,),
    "threads": (threads.fasteners, threads.sizes),
    "frame": (pushes.pushes, frame.materials),
    "cell": (cell.supports, cell.lever_sizes), "pinch": (pinch.table, pinch.screws), "springs": (springs.table,),
    "balance": (mount.altitudes, mount.exchanged), "tracking": (turning.crossing, turning.turning),
    "focusing": (focusing.mask,),
    "heat": (heat.times, heat.drifts, heat.softening),
})


@dataclass(frozen=True, slots=True)
class AsideTable:
    """A table beside the results, its title, the sentences under it, and how its columns are worked out."""

    title: str
    table: Table
    notes: tuple[str, ...]
    works: tuple[Work, ...]
    worked: str


@dataclass(slots=True)
class _Kept:
    """The tables of the design that was asked about last, by question: index, pages, sources and packet all ask."""

    design: Design | None = None
    tables: dict[str, tuple[AsideTable, ...]] = field(default_factory=dict)


_KEPT = _Kept()


def asides_for(design: Design, question: str) -> tuple[AsideTable, ...]:
    """The asides that stand under the question of this key."""
    if _KEPT.design is not design:
        _KEPT.design, _KEPT.tables = design, {}
    if question not in _KEPT.tables:
        made = (make(design) for make in ASIDES.get(question, ()))
        _KEPT.tables[question] = tuple(aside_table(aside, design) for aside in made if aside is not None and aside.rows)
    return _KEPT.tables[question]


def aside_table(aside: Aside, design: Design) -> AsideTable:
    """An aside with its numbers written out."""
    kept = [row for row in aside.rows if not aside.differing or _differs(row, design)]
    entries = [[row.entries[at] for row in kept] for at in range(len(aside.columns))]
    heads = tuple(Column(column.title, "" if column.text else _unit(down, design), not column.text, column.write)
                  for column, down in zip(aside.columns, entries, strict=True))
    cells = [_cells(down, design) for down in entries]
    mixed = any(len(_units(down, design)) > 1 for down in entries)
    rows = tuple(_row(row, tuple(column[at] for column in cells), _unit(row.entries, design) if mixed else "", design)
                 for at, row in enumerate(kept))
    wide = len(aside.columns) > _NARROW or any(column.text for column in aside.columns)
    works = tuple(work_of(each, design) for each in _shown_worked(aside, kept, entries))
    worked = f"How these are worked out, the first {'number of each row' if aside.works_by_row else 'row for all'}"
    return AsideTable(aside.title, Table(aside.title, aside.corner, heads, rows, wide, aside.stacks), aside.notes,
                      works, worked)


def _shown_worked(aside: Aside, rows: Sequence[AsideRow], columns: Sequence[Sequence[Entry]]) -> Iterator[Result]:
    """The results whose working stands beside the table: the first of each row, or of each column that is named."""
    named = range(len(columns)) if aside.works is None else aside.works
    for line in [row.entries for row in rows] if aside.works_by_row else [columns[at] for at in named]:
        first = next((entry for entry in line if isinstance(entry, Result)), None)
        if first is not None:
            yield first


def _row(row: AsideRow, cells: tuple[Cell, ...], unit: str, design: Design) -> Row:
    """A row; where a column has numbers of several units, each row says its own."""
    name = _named(row, design)
    return Row(f"{name}, {unit}" if unit else name, cells, remark=row.remark)


def _named(row: AsideRow, design: Design) -> str:
    amount = _shown(row.amount, design)
    return row.name.replace("{amount}", amount.plain) if amount else row.name


def _differs(row: AsideRow, design: Design) -> bool:
    return len({shown.plain if shown else "" for shown in (_shown(entry, design) for entry in row.entries)}) > 1


def _unit(column: Sequence[Entry], design: Design) -> str:
    units = _units(column, design)
    return units.pop() if len(units) == 1 else ""


def _units(column: Sequence[Entry], design: Design) -> set[str]:
    return {shown.unit for shown in (_shown(entry, design) for entry in column) if shown is not None}


def _shown(entry: Entry, design: Design) -> Shown | None:
    if isinstance(entry, Result):
        return show_result(entry, design.build.readers)
    if isinstance(entry, Given) and not isinstance(entry.value, tuple):
        return given_words(entry, design)
    return None


def _cells(column: Sequence[Entry], design: Design) -> list[Cell]:
    shown = [_shown(entry, design) for entry in column]
    places = aligned([each.number if each else "" for each in shown])
    return [_cell(entry, place.number, place.pad, design) for entry, place in zip(column, places, strict=True)]


def _cell(entry: Entry, number: str, pad: str, design: Design) -> Cell:
    if isinstance(entry, str):
        return Cell(entry)
    if not isinstance(entry, Result):
        return Cell(number, pad)
    href = working_of(entry.id) if entry.id in design.results else ""
    return Cell(number, pad, href, outcome_words(entry) if entry.goal else "")
