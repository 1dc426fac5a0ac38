"""A template on sheets of paper: every sheet with both measuring bars, its letter, and the words that scaling is off.

A template that fits one sheet has its notes below it. A larger one has a first sheet with its notes and a plan of the
others, which overlap and carry the same marks where they join.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.lettering import in_known_signs
from dossier.drawings.scene import (
    HIDDEN,
    THIN,
    Box,
    Circle,
    Group,
    Pen,
    Point,
    Polyline,
    Scene,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
)
from dossier.drawings.templates.labels import FULL_SIZE, box_of_label
from dossier.drawings.templates.model import Item, Label, Template, box_of_items
from dossier.drawings.templates.sheet import (
    LINE,
    MEASURE,
    SCALING_OFF,
    Place,
    bars,
    box_with_words,
    height_of_lines,
    layered,
    lines,
    said,
    shape,
    titled,
)
from dossier.drawings.templates.tiling import OVERLAP, Grid, Tile, grid, name_of, seen
from dossier.drawings.wrapping import fitting

if TYPE_CHECKING:
    from dossier.design.model import Design

# ISO 216 and ANSI/ASME Y14.1 sizes, mm.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN, STRIP, _COLUMN = 10.0, 36.0, 122.0
# What is no larger than this is kept whole on one sheet where it can be.
_LARGEST_HOLE, _HOLE_TO_WORDS = 80.0, 4
_FOOT = {"strip": "foot"}
# Between template and notes; between the room and the strip, for the names of neighbours; a registration mark's radius.
_GAP, _BELOW, _MARK = 6.0, 5.0, 2.2


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper and the room on it above the strip with the bars, mm."""

    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        return self.width - 2 * MARGIN, self.foot - MARGIN - _BELOW

    @property
    def foot(self) -> float:
        """Where the strip begins, from the top."""
        return self.height - MARGIN - STRIP


def papers(name: str) -> tuple[Paper, Paper]:
    """The paper upright and lying."""
    short, long = PAPERS[name]
    return Paper(short, long), Paper(long, short)


def pages(template: Template, design: Design, paper: str) -> tuple[Scene, ...]:
    """The sheets of a template on this paper, upright or lying: whichever takes fewer, then cuts fewer holes."""
    box = box_with_words(template.items)
    for sheet in papers(paper):
        if (made := _on_one(template, design, box, sheet)) is not None:
            return (made,)
    whole = list(_better_whole(template))
    fitted = [(sheet, grid(box, *sheet.room, whole)) for sheet in papers(paper)]
    sheet, tiles = min(fitted, key=lambda each: (len(each[1].tiles), each[1].cuts))
    drawn = [(tile, tuple(seen(template.items, tile.window, FULL_SIZE.lettering))) for tile in tiles.tiles]
    shown = [(tile, items) for tile, items in drawn if items]
    names = {tile.name for tile, _ in shown}
    return (_plan(template, design, sheet, tiles, box, names),
            *(_tile(template, design, sheet, tiles, tile, items, names) for tile, items in shown))


def _better_whole(template: Template) -> Iterator[tuple[Box, int]]:
    """What should lie on one sheet: holes and centres above all, and words."""
    for item in template.items:
        if isinstance(item, Label):
            yield box_of_label(item), 1
        elif item.layer in ("cut", "mark"):
            hole = box_of_items([item])
            if max(hole.right - hole.left, hole.bottom - hole.top) < _LARGEST_HOLE:
                yield hole, _HOLE_TO_WORDS


def _on_one(template: Template, design: Design, box: Box, sheet: Paper) -> Scene | None:
    """The template in the middle of its sheet with the notes below, where both fit."""
    across, down = sheet.room
    words = said(template)
    wide, high, notes = box.right - box.left, box.bottom - box.top, height_of_lines(words, across) + 0.5 * LINE
    if wide > across or high + _GAP + notes > down:
        return None
    top = MARGIN + (down - high - _GAP - notes) / 2
    left = (sheet.width - wide) / 2
    shapes = list(layered(template.items, lambda point: (point[0] - box.left + left, box.bottom - point[1] + top)))
    foot = MARGIN + down - notes + LINE
    shapes.append(_words(words, across, foot))
    return _page(template, design, sheet, shapes, "one sheet", 0)


def _words(words: Sequence[str], across: float, top: float, room: float = 1e9) -> Group:
    labels = lines(words, MARGIN, -top, across, room)
    return Group(tuple(shape(label, _down) for label in labels), {"layer": "text"})


def _down(point: Point) -> Point:
    return (point[0], -point[1])


def _plan(template: Template, design: Design, sheet: Paper, tiles: Grid, box: Box, names: set[str]) -> Scene:
    """The first sheet: what it is, how the others are put together, and a plan of them."""
    across, down = sheet.room
    joined = "The template itself is on the sheet after this one." if len(names) == 1 else (
        f"Sheets {name_of(0, 0)} to {name_of(tiles.rows - 1, tiles.columns - 1)} overlap by {OVERLAP:g}\u202fmm. Cut "
        "one of two neighbours along the broken line, lay it on the other so that the ringed crosses meet, and tape "
        "them.")
    words = [titled(template), *said(template), joined]
    shapes: list[Shape] = [_words(words, across, MARGIN + LINE)]
    top = MARGIN + height_of_lines(words, across) + 2 * LINE
    whole = Box(tiles.tiles[0].window.left, tiles.tiles[-1].window.top, tiles.tiles[-1].window.right,
                tiles.tiles[0].window.bottom)
    room = MARGIN + down - top
    scale = min(across / (whole.right - whole.left), room / (whole.bottom - whole.top), 0.5)
    left = (sheet.width - scale * (whole.right - whole.left)) / 2

    def place(point: Point) -> Point:
        return (left + (point[0] - whole.left) * scale, top + (whole.bottom - point[1]) * scale)

    inner = [item for item in template.items if not isinstance(item, Label)]
    shapes.append(Group(tuple(shape(item, place, scale) for item in inner), {"plan": "template"}))
    for tile in tiles.tiles:
        if tile.name in names:
            shapes += _outlined(tile, tiles, place)
    return _page(template, design, sheet, shapes, "plan of the sheets", 0)


def _outlined(tile: Tile, tiles: Grid, place: Place) -> Iterator[Shape]:
    """A sheet in the plan: its part up to the joins, with its name in the corner."""
    core = _core(tile, tiles)
    (left, low), (right, high) = place((core.left, core.top)), place((core.right, core.bottom))
    yield Polyline(((left, high), (right, high), (right, low), (left, low)), Pen(HIDDEN, "accent"), closed=True,
                   data={"sheet": tile.name})
    x, y, wide = left + 0.6, high + 0.6, 0.6 * FULL_SIZE.lettering * len(tile.name) + 1.6
    yield Polyline(((x, y), (x + wide, y), (x + wide, y + 4.6), (x, y + 4.6)), None, Wash("ground"), closed=True)
    yield Text((x + wide / 2, y + 3.5), (Words(tile.name),), "middle", role="accent")


def _core(tile: Tile, tiles: Grid) -> Box:
    """A sheet's own part of the template: its window, half of the overlap cut off at each join."""
    window, half = tile.window, OVERLAP / 2
    return Box(window.left + half * (tile.column > 0), window.top + half * (tile.row < tiles.rows - 1),
               window.right - half * (tile.column < tiles.columns - 1), window.bottom - half * (tile.row > 0))


def _tile(template: Template, design: Design, sheet: Paper, tiles: Grid, tile: Tile, items: Sequence[Item],
          names: set[str]) -> Scene:
    """One sheet of many: its part of the template, its joins, and what stands beyond them."""
    window = tile.window

    def place(point: Point) -> Point:
        return (point[0] - window.left + MARGIN, window.bottom - point[1] + MARGIN)

    shapes: list[Shape] = [*layered(items, place), *_joins(tile, tiles, place, names)]
    return _page(template, design, sheet, shapes, f"sheet {tile.name}", len(names), tile.name)


def _joins(tile: Tile, tiles: Grid, place: Place, names: set[str]) -> Iterator[Group]:
    """The broken line and the crosses that a sheet shares with each neighbour, and the neighbour's name in the margin.
    """
    window, core = tile.window, _core(tile, tiles)
    middle_x, middle_y = (window.left + window.right) / 2, (window.top + window.bottom) / 2
    for down, across in ((0, -1), (0, 1), (-1, 0), (1, 0)):
        neighbour = name_of(tile.row + down, tile.column + across) if 0 <= tile.row + down < tiles.rows and (
            0 <= tile.column + across < tiles.columns) else ""
        if neighbour not in names:
            continue
        if across:
            x = core.left if across < 0 else core.right
            ends = ((x, window.top), (x, window.bottom))
            marks = tuple((x, window.top + share * (window.bottom - window.top)) for share in (1 / 6, 1 / 2, 5 / 6))
            edge = place((window.left if across < 0 else window.right, middle_y))
            name = Text((edge[0] + (-2.0 if across < 0 else 4.0), edge[1]), (Words(f"joins {neighbour}"),), "middle",
                        turned=True)
        else:
            y = core.bottom if down < 0 else core.top
            ends = ((window.left, y), (window.right, y))
            marks = tuple((window.left + share * (window.right - window.left), y) for share in (1 / 6, 1 / 2, 5 / 6))
            edge = place((middle_x, window.bottom if down < 0 else window.top))
            name = Text((edge[0], edge[1] + (-1.6 if down < 0 else 4.2)), (Words(f"joins {neighbour}"),), "middle")
        line = Polyline(tuple(place(point) for point in ends), Pen(HIDDEN), data={"line": "join"})
        yield Group((line, *(shape for mark in marks for shape in _cross(place(mark))), name),
                    {"join": "-".join(sorted((tile.name, neighbour)))})


def _cross(at: Point) -> tuple[Shape, Shape]:
    x, y = at
    arms = (((x - 2 * _MARK, y), (x + 2 * _MARK, y)), ((x, y - 2 * _MARK), (x, y + 2 * _MARK)))
    return (Circle(at, _MARK, Pen(THIN), data={"mark": "registration"}), Segments(arms, Pen(THIN)))


def _page(template: Template, design: Design, sheet: Paper, shapes: Sequence[Shape], which: str, number: int,
          tile: str = "") -> Scene:
    """A sheet with its strip: the bars, the words on scaling, whose it is and which sheet of how many."""
    top = sheet.foot
    strip: list[Shape] = [Polyline(((MARGIN, top), (sheet.width - MARGIN, top)), Pen(THIN))]
    strip += [shape(item, _down) for item in bars(MARGIN, -(top + 9.0))]
    strip += [shape(label, _down) for label in lines(
        (SCALING_OFF, MEASURE), MARGIN, -(top + STRIP - LINE - 2.0), sheet.width - 2 * MARGIN)]
    strip += _signed(template, design, sheet, top, which if not tile else f"sheet {tile} of {number}")
    name = f"template-{template.key}-{tile.lower() or 'sheet'}"
    return Scene(name, f"{template.title}, {which}", template.description, FULL_SIZE,
                 Box(0.0, 0.0, sheet.width, sheet.height), tuple(in_known_signs((*shapes, Group(tuple(strip), _FOOT)))),
                 {"template": template.key, "sheet": tile or which, "scale": "1"})


def _signed(template: Template, design: Design, sheet: Paper, top: float, which: str) -> Iterator[Text]:
    """What stands beside the bars: the template, the build, its revision and date, the parts that it is for, which
    sheet this is."""
    left = MARGIN + _COLUMN
    width, size = sheet.width - MARGIN - left, FULL_SIZE.lettering
    words = (template.title, design.build.about.name, f"revision {design.revision}, {design.date}",
             f"{'with' if template.tool else 'for'} {template.refs}" if template.parts else "", which)
    for row, line in enumerate(filter(None, words)):
        yield Text((left, top + 5.2 + row * LINE), (Words(fitting(line, width, size, 1)[0]),))
