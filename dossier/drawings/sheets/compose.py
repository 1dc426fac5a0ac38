"""A sheet put together: frame, title block, tables, notes, and the figure at the largest preferred scale that fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings import scales
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.measures import Runs
from dossier.drawings.figures.placing import moved
from dossier.drawings.lettering import in_known_signs
from dossier.drawings.scene import ON_PAPER, Box, Group, Point, Scene, Shape, Words
from dossier.drawings.sheets import SHEETS, balloons, tables
from dossier.drawings.sheets.fields import Fields, fields_of
from dossier.drawings.sheets.general_tolerances import general_tolerances_note
from dossier.drawings.sheets.paper import CLEAR_OF_FRAME, Paper, border, paper_of
from dossier.drawings.sheets.revision_rows import revision_rows
from dossier.drawings.sheets.title_block import HEIGHT, title_block
from dossier.spec import notes

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import Part

# Bands of notes and tables with their heights, by their notes, their parts and in how many lines a cell may say it.
_Bands = dict[tuple[tuple[Runs, ...], tuple[str, ...], int], tuple[tuple[Group, ...], float]]
# Between the tables and the figure.
_ABOVE = 2.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a set: which of how many, what it shows, at which scale, and all of it as a scene of the paper."""

    kind: SheetKind
    number: int
    count: int
    scale: float
    figure: Figure
    balloons: tuple[Group, ...]
    parts: tuple[Part, ...]
    fields: Fields
    scene: Scene


@dataclass(frozen=True, slots=True)
class _Fitted:
    """A figure at a scale with its band of tables; ``free`` is the room that is left for it."""

    scale: float
    figure: Figure
    band: tuple[Group, ...]
    parts: tuple[Part, ...]
    free: Box
    balloons: balloons.Placed | None = None

    @property
    def lost(self) -> int:
        """How many parts found no room for their balloon."""
        return len(self.balloons.left_out) if self.balloons else 0

    @property
    def fits(self) -> bool:
        return _holds(self.free, self.figure.box)


def _holds(free: Box, box: Box) -> bool:
    """Whether a box has room in another."""
    return (box.right - box.left <= free.right - free.left + 1e-6
            and box.bottom - box.top <= free.bottom - free.top + 1e-6)


def sheets_of(design: Design, paper: str) -> tuple[Sheet, ...]:
    """Every sheet that the spec gives data for, numbered, on A4 or Letter."""
    sheet = paper_of(paper)
    fitted = [(kind, found) for kind in SHEETS.values() if (found := _fitted(kind, design, sheet)) is not None]
    return tuple(_composed(kind, found, design, sheet, number, len(fitted))
                 for number, (kind, found) in enumerate(fitted, start=1))


def _fitted(kind: SheetKind, design: Design, paper: Paper) -> _Fitted | None:
    """The figure at the largest preferred scale at which it, its tables and all its balloons have room.

    The larger the scale the more room a figure takes, so the scales are halved between until the place is found.
    """
    known: dict[int, _Fitted | None] = {}
    bands: _Bands = {}

    def at(place: int) -> _Fitted | None:
        if place not in known:
            known[place] = _laid_out(kind, design, paper, scales.PREFERRED[place], bands)
        return known[place]

    low, high = 0, len(scales.PREFERRED) - 1
    while low < high:
        middle = (low + high) // 2
        found = at(middle)
        if found is None:
            return None
        low, high = (low, middle) if found.fits else (middle + 1, high)
    first = at(low)
    if first is None:
        return None
    made = _ballooned(first)
    if made.lost and low + 1 < len(scales.PREFERRED):
        # One step smaller there is more bare paper.
        smaller = _ballooned(at(low + 1) or first)
        return smaller if smaller.lost < made.lost else made
    return made


def _laid_out(kind: SheetKind, design: Design, paper: Paper, scale: float, bands: _Bands) -> _Fitted | None:
    """The figure at a scale; ``bands`` are the tables made so far, which are the same at most scales."""
    space = paper.space
    figure = kind.make(design, ON_PAPER, scale, space.right - space.left - 2 * CLEAR_OF_FRAME)
    if figure is None:
        return None
    parts = _parts(design, figure.balloons)
    foot = space.bottom - HEIGHT
    told, issues = tuple(general_tolerances_note(design, figure.shapes)), tuple(_known_issues(design, parts))
    within, rows = space.grown(-CLEAR_OF_FRAME), revision_rows(design)

    def with_lines(most: int, said: Sequence[Runs]) -> _Fitted:
        notes = (*figure.notes, *said, *issues)
        key = notes, tuple(part.ref for part in parts), most
        if key not in bands:
            made = tables.band(notes, parts, rows, space, foot, most)
            bands[key] = made, tables.height_of(made, foot)
        band, height = bands[key]
        top = foot - height - _ABOVE
        return _Fitted(scale, figure, band, parts, Box(within.left, within.top, within.right, top))

    # What the author says is told in full wherever the figure leaves room for it; before it is cut, what a standard
    # says is left away.
    tried = with_lines(tables.WHOLE, told)
    # Where the figure alone is too large, no way to say it gives it room, and the shortest stands for all.
    alone = Box(within.left, within.top, within.right, foot - _ABOVE)
    for most in tables.MOST_LINES if _holds(alone, figure.box) else tables.MOST_LINES[-1:]:
        if tried.fits:
            break
        tried = with_lines(most, ())
    return tried


def _parts(design: Design, shown: Sequence[Balloon]) -> tuple[Part, ...]:
    refs = {balloon.ref for balloon in shown}
    return tuple(part for part in design.build.parts if part.ref in refs)


def _known_issues(design: Design, parts: Sequence[Part]) -> Iterator[Runs]:
    """What is known to be wrong with the parts that the sheet shows, by its names; the pages say what and what to do.
    """
    open_ = [note for note in design.build.notes if notes.status(note, design.revision) == "open"]
    named = [(note.id, [part.ref for part in parts if part.ref in note.parts]) for note in open_]
    said = [f"{name} ({', '.join(refs)})" for name, refs in named if refs]
    if said:
        yield (Words(f"Known issues of these parts: {', '.join(said)}."),)


def _ballooned(fitted: _Fitted) -> _Fitted:
    """The figure in the middle of its room, with its balloons round it."""
    box, free = fitted.figure.box, fitted.free
    across = (free.left + free.right - box.left - box.right) / 2
    down = max((free.top + free.bottom - box.top - box.bottom) / 2, free.top - box.top)
    shapes = moved(fitted.figure.shapes, across, down)

    def there_now(point: Point) -> Point:
        return (point[0] + across, point[1] + down)

    wanted = tuple(Balloon(each.ref, there_now(each.at), each.after and there_now(each.after),
                           tuple(map(there_now, each.also))) for each in fitted.figure.balloons)
    found = balloons.placed(wanted, free, shapes, ON_PAPER)
    there = Box(box.left + across, box.top + down, box.right + across, box.bottom + down)
    figure = Figure(fitted.figure.name, fitted.figure.description, shapes, there, wanted, fitted.figure.notes)
    return _Fitted(fitted.scale, figure, fitted.band, fitted.parts, free, found)


def _composed(kind: SheetKind, fitted: _Fitted, design: Design, paper: Paper, number: int, count: int) -> Sheet:
    fields = fields_of(design, kind, number, count, fitted.scale)
    circles = fitted.balloons.shapes if fitted.balloons else ()
    drawn: tuple[Shape, ...] = (
        Group(fitted.figure.shapes, {"figure": fitted.figure.name, "scale": f"{fitted.scale:.9g}"}),
        Group(circles, {"part": "balloons"}), *fitted.band, title_block(fields, paper.space))
    members = (*border(paper, design.build.readers.units == "inch", drawn), *drawn)
    scene = Scene(f"sheet-{kind.key}", f"{kind.title}, {design.build.about.name}", fitted.figure.description, ON_PAPER,
                  paper.whole, tuple(in_known_signs(members)),
                  {"sheet": kind.key, "scale": f"{fitted.scale:.9g}", "paper": paper.name})
    return Sheet(kind, number, count, fitted.scale, fitted.figure, circles, fitted.parts, fields, scene)
