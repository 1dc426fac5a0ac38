"""A template as it is drawn: its layers in their lines, its measuring bars, its words; whole, or small for a page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    THIN,
    Box,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Scene,
    Shape,
    Text,
    Words,
    around,
)
from dossier.drawings.templates.labels import FULL_SIZE, box_of_label
from dossier.drawings.templates.model import (
    LAYERS,
    MEANING,
    Disc,
    Item,
    Label,
    Layer,
    Outline,
    Template,
    box_of_items,
)
from dossier.drawings.wrapping import wrapped

if TYPE_CHECKING:
    from dossier.design.model import Design

SMALL = Medium(unit="px", wide=1.2, narrow=0.6, lettering=12.5, arrow=8)
PENS: dict[Layer, Pen] = {"cut": Pen(OUTLINE), "mark": Pen(CENTRE), "engrave": Pen(THIN, "accent"), "text": Pen(THIN),
                          "check": Pen(THIN)}
LINE = 5.0
INCH = 25.4
# How a bar is divided: length in mm, its words, one step in mm, how many steps between the longer ticks.
BARS = ((100.0, "100\u202fmm", 5.0, 2), (4 * INCH, "4\u202fin", INCH / 4, 4))
SCALING_OFF = "Print at 100\u202f%, page scaling off, not “fit to page”."
MEASURE = "Measure both bars first: paper shrinks and stretches, and printers differ."
_NARROWEST, _GAP = 118.0, 9.0
_TOO_SHORT_FOR_DASHES = 14.0
_SMALL_WIDTH, _SMALL_HEIGHT = 300.0, 240.0

Place = Callable[[Point], Point]


def bars(left: float, base: float, apart: float = 9.0) -> Iterator[Item]:
    """The two measuring bars, one below the other, as combs with their length beside them; y upwards."""
    for row, (length, words, step, longer) in enumerate(BARS):
        y = base - row * apart
        yield Outline("check", ((left, y), (left + length, y)), False, f"bar {words}".replace("\u202f", " "))
        comb: list[Point] = []
        for tick in range(round(length / step) + 1):
            ends = tick in (0, round(length / step))
            x, height = left + tick * step, 3.5 if ends else 2.5 if tick % longer == 0 else 1.5
            comb += [(x, y), (x, y + height), (x, y)]
        yield Outline("check", tuple(comb), False, "ticks")
        yield Label((left + length + 2.5, y + 0.2), (Words(words),), layer="check")


def whole(template: Template, design: Design) -> tuple[Item, ...]:
    """Everything of a template in one piece, as a cutter takes it: below it the bars, its name and its notes."""
    box = box_of_items(template.items)
    width = max(_NARROWEST, box.right - box.left)
    left = (box.left + box.right - width) / 2
    base = min(box.top, *(label.at[1] for label in template.items if isinstance(label, Label)), box.top) - _GAP - 3.5
    words = [titled(template), signed(design), *said(template), MEASURE]
    items: list[Item] = [*template.items, *bars(left, base)]
    items += lines(words, left, base - 9.0 - 7.0, width)
    return tuple(items)


def titled(template: Template) -> str:
    """Its name, as it stands above its notes."""
    return f"{template.title}, full size"


def said(template: Template) -> tuple[str, ...]:
    """What stands beside or below it: which parts it is for, what for, and how it is used."""
    return (template.serves, template.use, *template.notes)


def signed(design: Design) -> str:
    """Whose it is and how old, so that an old one can be thrown away."""
    return f"{design.build.about.name} · revision {design.revision} · {design.date}"


def lines(paragraphs: Iterable[str], left: float, top: float, width: float, room: float = 1e9) -> list[Label]:
    """Paragraphs broken into lines, the first base line at ``top``, y upwards; as many as fit ``room``."""
    made: list[Label] = []
    y = top
    for paragraph in paragraphs:
        for line in wrapped(paragraph, width, FULL_SIZE.lettering):
            if top - y < room:
                made.append(Label((left, y), (Words(line),)))
            y -= LINE
        y -= 0.25 * LINE
    return made


def height_of_lines(paragraphs: Sequence[str], width: float) -> float:
    """Room that these paragraphs take."""
    count = sum(len(list(wrapped(each, width, FULL_SIZE.lettering))) for each in paragraphs)
    return count * LINE + 0.25 * LINE * len(paragraphs)


def box_with_words(items: Iterable[Item]) -> Box:
    """The box around all items and their lettering, y upwards (``top`` is the lowest y)."""
    known = list(items)
    found = [box_of_items([each]) for each in known if not isinstance(each, Label)]
    for each in known:
        if isinstance(each, Label):
            found.append(box_of_label(each))
    return around(found)


def scene(template: Template, design: Design) -> Scene:
    """The whole template at 1 : 1 in millimetres."""
    items = whole(template, design)
    box = box_with_words(items)
    paper = Box(box.left, -box.bottom, box.right, -box.top).grown(3.0)
    shapes = layered(items, lambda point: (point[0], -point[1]))
    return Scene(f"template-{template.key}", template.title, template.description, FULL_SIZE, paper, shapes,
                 {"scale": "1", "template": template.key})


def small(template: Template, number: int) -> Scene:
    """A small picture for a page, without words: what it looks like, not what to measure."""
    box = box_of_items(template.items)
    wide, high = box.right - box.left, box.bottom - box.top
    scale = min(_SMALL_WIDTH / wide, _SMALL_HEIGHT / high)
    shapes = layered((item for item in template.items if not isinstance(item, Label)),
                     lambda point: (point[0] * scale, -point[1] * scale), scale)
    edge = Box(box.left * scale, -box.bottom * scale, box.right * scale, -box.top * scale).grown(2.0)
    return Scene(f"small-{number}-{template.key}", template.title, template.description, SMALL, edge, shapes,
                 {"template": template.key, "scale": f"{scale:.6g}"})


def layered(items: Iterable[Item], place: Place, scale: float = 1.0) -> tuple[Group, ...]:
    """Items as shapes, those of each layer in a group of its own."""
    known = list(items)
    return tuple(Group(members, {"layer": layer}, f"{layer}: {MEANING[layer]}") for layer in LAYERS
                 if (members := tuple(shape(item, place, scale) for item in known if item.layer == layer)))


def shape(item: Item, place: Place, scale: float = 1.0) -> Shape:
    """One item in the line of its layer."""
    if isinstance(item, Label):
        return _text(item, place)
    pen, data = _pen(item), {"name": item.name} if item.name else {}
    if isinstance(item, Disc):
        return Circle(place(item.centre), item.radius * scale, pen, data=data)
    return Polyline(tuple(place(point) for point in item.points), pen, closed=item.closed, data=data)


def _pen(item: Disc | Outline) -> Pen:
    """The line of its layer; a mark too small for long dashes is drawn through, as ISO 128-2 has short centre lines."""
    if item.layer == "mark":
        box = box_of_items([item])
        if max(box.right - box.left, box.bottom - box.top) < _TOO_SHORT_FOR_DASHES:
            return Pen(THIN)
    return PENS[item.layer]


def _text(label: Label, place: Place) -> Text:
    return Text(place(label.at), label.runs, label.anchor, label.turned)
