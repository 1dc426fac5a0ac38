"""The spot matrix: where the rays of stars across the field land, at planes of focus before and behind the best.

All spots and the Airy circle about each are to one scale. Below the matrix runs the axis of focus, also to scale, with
the three best foci marked on it, each kept apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.design import pictures
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, DESCENT, boxes, width_of
from dossier.drawings.numerals import fixed, length_unit
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    ON_PAPER,
    ON_PHONE,
    OUTLINE,
    THIN,
    Anchor,
    Box,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Scene,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
)
from dossier.drawings.svg import render
from dossier.drawings.wrapping import wrapped
from dossier.notation import Readers, show

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.design.pictures import SpotMatrix

_MARGIN = 1.04
_GAP = 0.5


@dataclass(frozen=True, slots=True)
class _Grid:
    """Which columns are drawn, where the cells stand, how large they are and how large a micrometre is.

    ``chief`` is how far from a cell's left edge, as a share of its width, the chief ray lands.
    """

    medium: Medium
    width: float
    columns: tuple[int, ...]
    left: float
    side: float
    height: float
    pitch: float
    scale: float
    chief: float

    def cell(self, column: int) -> float:
        """The left edge of a column."""
        return self.left + column * self.pitch

    def focus(self, made: SpotMatrix, focus_mm: float) -> float:
        """Where a focus stands on the axis below, its columns in the middles of the cells."""
        first, last = made.focuses_mm[self.columns[0]], made.focuses_mm[self.columns[-1]]
        span = (len(self.columns) - 1) * self.pitch
        return self.cell(0) + self.side / 2 + (focus_mm - first) / (last - first) * span


def draw(design: Design, *, form: Form = "wide", palette: Palette) -> str:
    """The spot matrix of a design as SVG text: 180 mm wide, or 328 px with fewer columns for a phone."""
    return render(scene(design, form), palette)


def scene(design: Design, form: Form) -> Scene:
    """The spot matrix as a drawing."""
    made, readers = pictures.spot_matrix(design), design.build.readers
    grid = _grid(made, readers, form)
    shapes: list[Shape] = []
    y = 0.0
    for row in range(len(made.field_mm)):
        y = _row(shapes, made, readers, grid, row, y, form)
    below = list(_focus_axis(made, readers, grid, y + 0.5 * grid.medium.lettering))
    foot = around(boxes(below, grid.medium)).bottom
    below += _legend(made, grid, foot + 0.9 * line_height(grid.medium))
    # The cells lie within the width: their hundreds of rays need not be looked through for it.
    extent = around((Box(0.0, 0.0, grid.width, 0.0), *boxes(below, grid.medium))).grown(grid.medium.wide)
    shapes += below
    return Scene(f"spot-matrix-{form}", "Spots across the field and through focus", description(design), grid.medium,
                 extent, tuple(shapes), {"form": form, "scale": f"{grid.scale:.9g}"})


def caption() -> str:
    """What to see in it."""
    return ("Where the rays of one star land: on the axis, half-way out and at the edge of the judged field, from left "
            "to right with the focuser racked outwards. The circle is the Airy disc; spots well inside it look like "
            "points. The number under a spot is its RMS radius. The tube’s sky end is to the right.")


def description(design: Design) -> str:
    """The matrix in words, with its numbers."""
    made, readers = pictures.spot_matrix(design), design.build.readers
    rows = []
    for field, arcmin, row in zip(made.field_mm, made.field_arcmin, made.rms_um, strict=True):
        place = f"{_out(field, readers)} ({show(arcmin, 'arcmin').plain}) from it" if field else "on the axis"
        rows.append(f"{place} {', '.join(_um(float(value)) for value in row)}")
    focuses = ", ".join(_mm(focus, readers) for focus in made.focuses_mm)
    foci = "; ".join(f"{names} at {_mm(focus, readers)}" for names, focus in best_foci(made))
    return (f"RMS radius of the spots, in µm, at {focuses} from the paraxial focus, towards the sky: "
            f"{'; '.join(rows)}. Best foci on the axis: {foci}. The Airy disc is {_um(2 * made.airy_um)} µm across.")


def best_foci(made: SpotMatrix) -> list[tuple[str, float]]:
    """The three best foci by name, from the mirror outwards; those that lie in one place under one name."""
    foci, found = made.foci, list[tuple[list[str], float]]()
    span = made.focuses_mm[-1] - made.focuses_mm[0]
    for name, focus in sorted((("least RMS wavefront", foci.least_wavefront_mm),
                               ("highest Strehl ratio", foci.highest_strehl_mm),
                               ("smallest spot", foci.smallest_spot_mm)), key=lambda each: each[1]):
        if found and focus - found[-1][1] < 0.01 * span:
            found[-1][0].append(name)
        else:
            found.append(([name], focus))
    return [(", ".join(names[:-1]) + " and " + names[-1] if len(names) > 1 else names[0], focus)
            for names, focus in found]


def _grid(made: SpotMatrix, readers: Readers, form: Form) -> _Grid:
    medium, width = (ON_PAPER, 180.0) if form == "wide" else (ON_PHONE, 328.0)
    size = medium.lettering
    columns = tuple(range(len(made.focuses_mm))) if form == "wide" else (0, 2, 4)
    labels = [words for row in range(len(made.field_mm)) for words in _place(made, readers, row)]
    left = max(width_of(words, size) for words in labels) + 0.8 * size if form == "wide" else 0.0
    pitch = (width - left + _GAP * size) / len(columns)
    side = pitch - _GAP * size
    along, beside = made.spots[:, columns, 0], made.spots[:, columns, 1]
    before, after = (_MARGIN * max(1.5 * made.airy_um, float(reach)) for reach in (-along.min(), along.max()))
    scale = side / (before + after)
    height = 2 * scale * _MARGIN * max(1.5 * made.airy_um, float(abs(beside).max()))
    return _Grid(medium, width, columns, left, side, height, pitch, scale, before / (before + after))


def _row(shapes: list[Shape], made: SpotMatrix, readers: Readers, grid: _Grid, row: int, y: float,
         form: Form) -> float:
    """One row of cells from ``y`` downwards; gives where the next begins."""
    size, line = grid.medium.lettering, line_height(grid.medium)
    words = _place(made, readers, row)
    if form == "wide":
        middle = y + grid.height / 2
        for index, each in enumerate(words):
            base = middle + (index - (len(words) - 1) / 2) * line + CAPITALS * size / 2
            shapes.append(Text((0.0, base), (Words(each),)))
    else:
        shapes.append(Text((0.0, y + CAPITALS * size), (Words(", ".join(words)),)))
        y += 0.95 * line
    for place, column in enumerate(grid.columns):
        shapes.append(_cell(made, grid, row, column, (grid.cell(place), y)))
        base = y + grid.height + (0.25 + CAPITALS) * size
        number = Words(_um(float(made.rms_um[row, column])) + "\u202fµm")
        shapes.append(Text((grid.cell(place) + grid.side / 2, base), (number,), "middle"))
    return y + grid.height + (0.25 + CAPITALS + DESCENT + 0.35) * size


def _cell(made: SpotMatrix, grid: _Grid, row: int, column: int, corner: Point) -> Group:
    """The frame of one spot, the Airy circle about the chief ray, a dot for every ray."""
    (left, top), dot = corner, grid.medium.narrow
    right, foot = left + grid.side, top + grid.height
    middle = (left + grid.chief * grid.side, (top + foot) / 2)
    frame = ((left, top), (right, top), (right, foot), (left, foot))
    x, y = made.spots[row, column]
    dots = tuple(((middle[0] + along * grid.scale - dot / 2, middle[1] - beside * grid.scale),
                  (middle[0] + along * grid.scale + dot / 2, middle[1] - beside * grid.scale))
                 for along, beside in zip(x.tolist(), y.tolist(), strict=True))
    members = (Polyline(frame, Pen(THIN, "faint"), closed=True),
               Segments(dots, Pen(THIN), {"rays": f"{row}-{column}"}),
               Circle(middle, made.airy_um * grid.scale, Pen(THIN, "accent"), data={"airy": f"{row}-{column}"}))
    return Group(members, {"spot": f"{row}-{column}"})


def _place(made: SpotMatrix, readers: Readers, row: int) -> tuple[str, ...]:
    field = made.field_mm[row]
    if not field:
        return ("on the axis",)
    return (f"{_out(field, readers)} out", show(made.field_arcmin[row], "arcmin").plain)


def _focus_axis(made: SpotMatrix, readers: Readers, grid: _Grid, y: float) -> Iterator[Shape]:
    """The axis of focus under the columns with its figures, the best foci marked and named above it."""
    size, line = grid.medium.lettering, line_height(grid.medium)
    tick, tags = 0.35 * size, _tags(made, readers, grid)
    level = y + sum(len(tag.lines) for tag in tags) * line + 0.7 * size
    ends = (grid.focus(made, made.focuses_mm[grid.columns[0]]), grid.focus(made, made.focuses_mm[grid.columns[-1]]))
    lines = [((ends[0], level), (ends[1], level))]
    for column in grid.columns:
        x, base = grid.focus(made, made.focuses_mm[column]), level + tick + (0.3 + CAPITALS) * size
        lines.append(((x, level), (x, level + tick)))
        yield Text((x, base), (Words(_mm(made.focuses_mm[column], readers)),), "middle")
    yield Segments(tuple(lines), Pen(THIN), {"part": "focus-axis"})
    yield Text((grid.width, base + line), (Words("focus, from the paraxial one, towards the sky"),), "end")
    base = y + CAPITALS * size
    for tag in tags:
        yield from _pointer(tag, base - CAPITALS * size, level, size)
        for words in tag.lines:
            yield Text((tag.x + (0.4 if tag.anchor == "start" else -0.4) * size, base), (Words(words),), tag.anchor)
            base += line


@dataclass(frozen=True, slots=True)
class _Tag:
    """A best focus to be named: its place on the axis, its words in lines, on which side of it they stand."""

    names: str
    x: float
    lines: tuple[str, ...]
    anchor: Anchor


def _tags(made: SpotMatrix, readers: Readers, grid: _Grid) -> list[_Tag]:
    """The names of the foci from the highest down: to the side with more room, so that no line runs through a name."""
    size, foci = grid.medium.lettering, best_foci(made)
    places = [grid.focus(made, focus) for _, focus in foci]
    rightwards = sum(places) / len(places) < 0.55 * grid.width
    tags = []
    for (names, focus), x in zip(foci, places, strict=True):
        room = (grid.width - x if rightwards else x) - 0.4 * size
        lines = tuple(wrapped(f"{names}, {_mm(focus, readers)}", room, size))
        tags.append(_Tag(names, x, lines, "start" if rightwards else "end"))
    return tags if rightwards else tags[::-1]


def _pointer(tag: _Tag, top: float, level: float, size: float) -> Iterator[Shape]:
    """A pointer on the axis of focus, and the line up to its words."""
    x, head = tag.x, level - 0.55 * size
    yield Polyline(((x, head), (x, top)), Pen(THIN), data={"focus-line": tag.names})
    corners = ((x, level), (x - 0.22 * size, head), (x + 0.22 * size, head))
    yield Polyline(corners, None, Wash("ink"), closed=True, data={"focus": tag.names})


def _legend(made: SpotMatrix, grid: _Grid, y: float) -> Iterator[Shape]:
    """The scale of the spots."""
    size = grid.medium.lettering
    length = max(step * power for power in (1, 10, 100, 1000) for step in (1, 2, 5)
                 if step * power * grid.scale <= 0.8 * grid.side)
    end = length * grid.scale
    bar = (((0.0, y), (end, y)), ((0.0, y - 0.3 * size), (0.0, y + 0.3 * size)),
           ((end, y - 0.3 * size), (end, y + 0.3 * size)))
    yield Segments(bar, Pen(OUTLINE), {"part": "scale-bar", "length": f"{length}"})
    words = f"{length}\u202fµm; circle: Airy disc, {_um(2 * made.airy_um)}\u202fµm"
    yield Text((end + 0.6 * size, y + CAPITALS * size / 2), (Words(words),))


def _um(value: float) -> str:
    # The rounding of a perfect mirror's rays is not a spot.
    return show(value if value > 1e-6 else 0.0, "um").number


def _out(field: float, readers: Readers) -> str:
    return show(field, "mm", readers=readers).plain


def _mm(length: float, readers: Readers) -> str:
    """A place along the axis of focus or in the field, with as many decimals as its neighbours."""
    factor, unit = length_unit(readers)
    return f"{fixed(length * factor, 2 if unit == 'mm' else 4)}\u202f{unit}"
