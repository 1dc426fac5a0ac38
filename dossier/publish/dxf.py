"""A template as a DXF for a cutter: R2010, millimetres, y upwards, one layer for each thing that is done."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from dossier.drawings.templates.labels import HEIGHT
from dossier.drawings.templates.model import LAYERS, MEANING, Disc, Item, Label
from dossier.drawings.templates.sheet import box_with_words

if TYPE_CHECKING:
    from ezdxf.document import Drawing

VERSION, MILLIMETRES, METRIC = "R2010", 4, 1
# Colours of the AutoCAD Color Index, by which cutters tell layers apart.
COLOURS = {"cut": 1, "mark": 3, "engrave": 5, "text": 8, "check": 6}
# Signs that the stroke fonts of CAD programs write by codes of their own.
_CODES = str.maketrans({"⌀": "%%c", "°": "%%d", "±": "%%p", "\u202f": " ", "\u2009": " ", "\u00a0": " ", "−": "-"})


def as_dxf(items: Iterable[Item]) -> bytes:
    """These items as a DXF file: circles as CIRCLE, outlines as LWPOLYLINE, words as TEXT.

    The same items always give the same bytes.
    """
    from ezdxf import new, options

    known = tuple(items)
    # Otherwise the file carries the time and identifiers drawn by lot. The switch is the library's own, for all files.
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        drawing = new(VERSION, units=MILLIMETRES)
        drawing.header["$MEASUREMENT"] = METRIC
        for layer in LAYERS:
            drawing.layers.add(layer, color=COLOURS[layer]).description = MEANING[layer]
        for item in known:
            _add(drawing, item)
        _measure(drawing, known)
        for kind in sorted(drawing.entitydb.dxf_types_in_use()):  # else in the order of a set, another in each run
            drawing.classes.add_class(kind)
        out = io.StringIO()
        drawing.write(out)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode(drawing.output_encoding)


def _measure(drawing: Drawing, items: Sequence[Item]) -> None:
    """Say where the drawing lies, which programs zoom to and place the work by: extents, limits and first view."""
    box = box_with_words(items)
    low, high = (box.left, box.top), (box.right, box.bottom)
    space = drawing.modelspace()
    space.reset_extents((*low, 0.0), (*high, 0.0))
    space.reset_limits(low, high)
    wide, tall = box.right - box.left, box.bottom - box.top
    drawing.set_modelspace_vport(max(tall, wide), ((box.left + box.right) / 2, (box.top + box.bottom) / 2))


def _add(drawing: Drawing, item: Item) -> None:
    space, look = drawing.modelspace(), {"layer": item.layer}
    if isinstance(item, Disc):
        space.add_circle(item.centre, item.radius, dxfattribs=look)
    elif isinstance(item, Label):
        _letter(space, item)
    else:
        space.add_lwpolyline(item.points, close=item.closed, dxfattribs=look)


def _letter(space: Any, label: Label) -> None:
    from ezdxf.enums import TextEntityAlignment

    where = {"start": TextEntityAlignment.LEFT, "middle": TextEntityAlignment.CENTER, "end": TextEntityAlignment.RIGHT}
    text = space.add_text(label.plain.translate(_CODES), height=HEIGHT,
                          rotation=90 if label.turned else 0, dxfattribs={"layer": label.layer})
    text.set_placement(label.at, align=where[label.anchor])
