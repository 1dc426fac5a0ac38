"""The mask for the knife-edge test, to scale: a card with an opening to each side for every zone, and what each is.

Neighbouring zones open on either side of the level diameter, so that their edges can meet and the card still holds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.design import pictures
from dossier.drawings import scales
from dossier.drawings.arrangement_marks import scale_bar
from dossier.drawings.dimension import Dimensions, Span, line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, box_of_text, boxes
from dossier.drawings.numerals import length_unit, plain_length
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    ON_PAPER,
    ON_PHONE,
    OUTLINE,
    PHANTOM,
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
    View,
    Wash,
    Words,
    around,
)
from dossier.drawings.svg import render
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.design.pictures import ZoneMask

_WIDTHS = {"wide": 180.0, "upright": 328.0}
# How much room the card has, in the medium's unit; on paper its scale is a preferred one.
_ROOM = {"wide": 108.0, "upright": 300.0}
# Where the columns of the list end, in type sizes from its left: zone, from, to, read at.
_COLUMNS = {"wide": (2.2, 6.8, 11.0, 17.0), "upright": (2.6, 9.0, 15.4, 24.0)}
_LABEL_OFF = 0.85


def draw(design: Design, *, form: Form = "wide", palette: Palette) -> str:
    """The mask as SVG text: 180 mm wide, or 328 px for a phone."""
    return render(scene(design, form), palette)


def scene(design: Design, form: Form) -> Scene:
    """The mask as a drawing: the card, its scale, and the list of its zones."""
    mask, medium = pictures.zone_mask_of(design), ON_PAPER if form == "wide" else ON_PHONE
    view, reduction = _view(mask, form)
    shapes: list[Shape] = [*_card(mask, view)]
    card = around(boxes(shapes, medium))
    shapes += _numbers(mask, view, medium)
    shapes += _aperture(design, mask, view, card, medium)
    foot = around(boxes(shapes, medium)).bottom + 0.6 * medium.lettering
    shapes += _scale(design, view, reduction, (card.left, foot), medium)
    left, top = ((card.right + 1.6 * medium.lettering, card.top) if form == "wide"
                 else (card.left, around(boxes(shapes, medium)).bottom + 1.2 * medium.lettering))
    shapes += _list(design, mask, left, top, medium, _COLUMNS[form])
    drawn = around(boxes(shapes, medium))
    spare = (_WIDTHS[form] - (drawn.right - drawn.left)) / 2
    extent = Box(drawn.left - spare, drawn.top, drawn.right + spare, drawn.bottom)
    margin = 0.3 * medium.lettering
    box = Box(extent.left, extent.top - margin, extent.right, extent.bottom + margin)
    return Scene(f"zone-mask-{form}", "The mask for the knife-edge test", description(design), medium, box,
                 tuple(shapes), {"form": form, "scale": f"{view.scale:.9g}"})


def caption() -> str:
    """What to see in it."""
    return ("A card to hang before the mirror on the bench. Each zone has an opening to the left and one to the right; "
            "neighbours stand above and below the level diameter so that the card holds together. All zones have the "
            "same area. Broken: the clear aperture and the edge of the diagonal’s shadow, inside of which nothing of "
            "the mirror is used.")


def description(design: Design) -> str:
    """The mask in words, with its numbers."""
    mask, readers = pictures.zone_mask_of(design), design.build.readers
    edges, centres = ([show(each, "mm", readers=readers).number for each in radii]
                      for radii in (mask.edges_mm, mask.centres_mm))
    zones = "; ".join(f"zone {zone} from {inner} to {outer}, read at {centre}" for zone, (inner, outer, centre)
                      in enumerate(zip(edges[:-1], edges[1:], centres, strict=True), start=1))
    return (f"Mask for a clear aperture of {plain_length(mask.aperture_mm, readers)}, to scale, with "
            f"{len(centres)} zones of equal area. Radii in {length_unit(readers)[1]}: {zones}.")


def _view(mask: ZoneMask, form: Form) -> tuple[View, int]:
    """Filling the room on a phone; on paper at the largest preferred scale that has room."""
    if form == "upright":
        return View(_ROOM[form] / mask.card_mm), 0
    fitting = (reduction for reduction in scales.REDUCTIONS if mask.card_mm / reduction <= _ROOM[form])
    reduction = next(fitting, scales.REDUCTIONS[-1])
    return View(1 / reduction), reduction


def _card(mask: ZoneMask, view: View) -> Iterator[Shape]:
    card, middle = mask.card_mm / 2, view.at(0.0, 0.0)
    yield Circle(middle, card * view.scale, Pen(OUTLINE), Wash("glass"), {"part": "card"})
    reach = 1.04 * card
    yield Polyline(view.points(((-reach, 0.0), (reach, 0.0))), Pen(CENTRE), data={"part": "level"})
    yield Polyline(view.points(((0.0, -reach), (0.0, reach))), Pen(CENTRE), data={"part": "upright"})
    for window in mask.windows:
        outlines = tuple(Polyline(view.points(outline), Pen(OUTLINE), Wash("ground"), True, {"window": side})
                         for side, outline in (("right", window.right), ("left", window.left)))
        yield Group(outlines, {"zone": str(window.zone)}, f"Zone {window.zone}")
    yield Circle(middle, mask.aperture_mm / 2 * view.scale, Pen(HIDDEN), data={"part": "aperture"})
    if mask.shadow_mm:
        yield Circle(middle, mask.shadow_mm * view.scale, Pen(PHANTOM), data={"part": "shadow"})


def _numbers(mask: ZoneMask, view: View, medium: Medium) -> Iterator[Shape]:
    """The number of each zone at the end of its right opening, where there is room for it; the rim's zone first."""
    taken: list[Box] = []
    size = medium.lettering
    for window in reversed(mask.windows):
        far = max(window.right, key=lambda point: abs(point[1]) / point[0])
        angle = math.atan2(far[1], far[0])
        middle = (window.inner_mm + window.outer_mm) / 2
        x, y = view.at(middle * math.cos(angle), middle * math.sin(angle))
        side = math.copysign(1.0, angle)
        at = (x - _LABEL_OFF * size * abs(math.sin(angle)),
              y - side * _LABEL_OFF * size * math.cos(angle) + CAPITALS * size / 2)
        text = Text(at, (Words(str(window.zone)),), "middle")
        box = box_of_text(text, size)
        if not any(box.meets(other) for other in taken):
            taken.append(box)
            yield text


def _aperture(design: Design, mask: ZoneMask, view: View, card: Box, medium: Medium) -> Sequence[Group]:
    words = Words(f"⌀\u202f{plain_length(mask.aperture_mm, design.build.readers)}", key="primary.aperture")
    half = mask.aperture_mm / 2 * view.scale
    dimensions = Dimensions(medium, (card,))
    dimensions.place("below", [Span("primary.aperture", -half, half, (words,))])
    return dimensions.shapes


def _scale(design: Design, view: View, reduction: int, at: Point, medium: Medium) -> Iterator[Shape]:
    unit, size = "inches" if design.build.readers.units == "inch" else "millimetres", medium.lettering
    bar = scales.bar(view.scale, 50 if reduction else 120, unit)
    length = bar.length_mm * view.scale
    yield scale_bar((at[0], at[1] + 0.15 * size), length, bar.steps, medium)
    said = f"{bar.words}; scale {scales.written(reduction)} in print" if reduction else bar.words
    yield Text((at[0] + length + 0.6 * size, at[1] + CAPITALS * size), (Words(said),))


def _list(design: Design, mask: ZoneMask, left: float, top: float, medium: Medium,
          columns: Sequence[float]) -> Iterator[Shape]:
    """Each zone in a line: where it begins and ends and the radius it is read at."""
    readers, size = design.build.readers, medium.lettering
    heads = ("zone", "from", "to", f"read at, {length_unit(readers)[1]}")
    rows = [heads, *((str(window.zone), *(show(each, "mm", readers=readers).number
                                          for each in (window.inner_mm, window.outer_mm, centre)))
                     for window, centre in zip(mask.windows, mask.centres_mm, strict=True))]
    for row, cells in enumerate(rows):
        base = top + CAPITALS * size + row * line_height(medium) + (0.4 * size if row else 0.0)
        for column, cell in zip(columns, cells, strict=True):
            yield Text((left + column * size, base), (Words(cell),), "end")
    rule = top + CAPITALS * size + 0.42 * size
    ends = ((left, rule), (left + columns[-1] * size, rule))
    yield Polyline(ends, Pen(THIN), data={"part": "rule"})
