"""Pictures of the workshop: where the money goes, and which piece is sawn from which length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from dossier.charts.bars import Bar, bars
from dossier.charts.framing import figure
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design.cut_plans import CutPlan, SawnLength, cut_plans
from dossier.design.money import group_costs
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    OUTLINE,
    THIN,
    Group,
    Medium,
    Pen,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
    hatching,
)
from dossier.drawings.wrapping import wrapped
from dossier.notation import Readers, show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

_HATCH = 0.45


def cost_by_group(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """What each group of the parts list costs, the dearest first."""
    readers, costs = design.build.readers, group_costs(design)
    if len(costs) < 2:
        return None
    shown = [Bar(name, cost.number, show_result(cost, readers).plain, cost.id) for name, cost in costs]
    told, whole = ", ".join(f"{bar.name} {bar.written}" for bar in shown), design.results["parts.cost"]
    share = f"{100 * shown[0].value / whole.number:.0f}\u202f%"
    caption = f"One kit, group by group. The dearest, {shown[0].name}, takes {share} of the whole."
    alt = f"Cost of one kit by group: {told}; together {show_result(whole, readers).plain}."
    shapes, box = bars(shown, form)
    return figure(shapes, box, "cost-by-group", "Where the money goes", caption, alt, form, palette)


@dataclass(frozen=True, slots=True)
class _Row:
    """Lengths that are sawn alike: their numbers, and the first of them."""

    numbers: tuple[int, ...]
    length: SawnLength


def cut_plan(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Every length of stock as it is sawn, to scale along its length; lengths sawn alike are drawn once."""
    plans = cut_plans(design)
    if not plans:
        return None
    medium, width = MEDIA[form]
    shapes: list[Shape] = []
    top = 0.0
    longest = max(length.stock_mm for plan in plans for length in plan.lengths)
    for plan in plans:
        drawn, top = _stock(plan, design, top, width, longest, medium)
        shapes.append(Group(tuple(drawn), {"stock": plan.stock}))
    kits = "one kit" if design.kits == 1 else f"{design.kits} kits"
    caption = (f"Sawn for {kits}, to scale along the length. Each piece with the part it is for; hatched is what is "
               "trimmed off first, a gap is a saw cut, the open end is what is left over.")
    return figure(shapes, around(boxes(shapes, medium)), "cut-plan", "Which piece from which length", caption,
                  " ".join(_told(plan, design.build.readers) for plan in plans), form, palette)


def _stock(plan: CutPlan, design: Design, top: float, width: float, longest: float,
           medium: Medium) -> tuple[list[Shape], float]:
    size, line = medium.lettering, line_height(medium)
    shapes: list[Shape] = []
    for text in wrapped(_heading(plan), width, size):
        top += line
        shapes.append(Text((0.0, top - 0.25 * line), (Words(text),)))
    for row in _alike(plan.lengths):
        drawn, top = _length(row, plan, design, top + 0.15 * line, width / longest, width, medium)
        shapes += drawn
    return shapes, top + 0.9 * line


def _heading(plan: CutPlan) -> str:
    bought = f"{plan.bought} to buy" if plan.bought else "none to buy"
    shelf = len(plan.lengths) - plan.bought
    fewest = "" if plan.proved else f"; no plan needs fewer than {plan.bound}, a better one was not found in time"
    return f"{plan.stock}: {bought}" + (f", {shelf} from the shelf" if shelf else "") + fewest


def _alike(lengths: Sequence[SawnLength]) -> Iterator[_Row]:
    for _, same in groupby(lengths, key=lambda length: (length.stock_mm, length.pieces, length.bought)):
        rows = tuple(same)
        yield _Row(tuple(length.number for length in rows), rows[0])


def _length(row: _Row, plan: CutPlan, design: Design, top: float, scale: float, width: float,
            medium: Medium) -> tuple[list[Shape], float]:
    """One bar with its pieces, above it which lengths it stands for and what is left over."""
    size, line = medium.lettering, line_height(medium)
    length, readers = row.length, design.build.readers
    shapes: list[Shape] = []
    for text in wrapped(_row_words(row, readers), width, size):
        top += line
        shapes.append(Text((0.0, top - 0.25 * line), (Words(text),)))
    high, low = top, top + 1.25 * size
    end, at = length.stock_mm * scale, plan.trim_mm * scale
    corners = ((0.0, high), (end, high), (end, low), (0.0, low))
    shapes.append(Polyline(corners, Pen(THIN), closed=True, data={"length": str(row.numbers[0])}))
    if plan.trim_mm:
        trim = ((0.0, high), (at, high), (at, low), (0.0, low))
        shapes.append(Segments(hatching(trim, _HATCH * size), Pen(THIN), {"part": "trim"}))
    for same in _runs(length):
        drawn, at = _run(same, at, high, low, scale, plan.kerf_mm * scale, medium)
        shapes += drawn
    return shapes, low


def _runs(length: SawnLength) -> Iterator[tuple[float, str, int]]:
    """Neighbouring pieces of one size for one part: size, part, how many."""
    for (size, ref), same in groupby(length.pieces, key=lambda piece: (piece.length_mm, piece.ref)):
        yield size, ref, len(tuple(same))


def _run(same: tuple[float, str, int], at: float, high: float, low: float, scale: float, kerf: float,
         medium: Medium) -> tuple[list[Shape], float]:
    length, ref, count = same
    size, start = medium.lettering, at
    shapes: list[Shape] = []
    for _ in range(count):
        corners = ((at, high), (at + length * scale, high), (at + length * scale, low), (at, low))
        shapes.append(Polyline(corners, Pen(OUTLINE), Wash("glass"), closed=True,
                               data={"ref": ref, "length-mm": f"{length:g}"}))
        at += length * scale + kerf
    one = length * scale
    if width_of(ref, size) < one - 0.6 * size:
        base = (high + low) / 2 + CAPITALS * size / 2
        shapes += [Text((start + index * (one + kerf) + one / 2, base), (Words(ref),), "middle")
                   for index in range(count)]
    return shapes, at


def _row_words(row: _Row, readers: Readers) -> str:
    """Which lengths, what comes out of each, what is left over."""
    first, last = row.numbers[0], row.numbers[-1]
    which = f"length {first}" if first == last else f"lengths {first} to {last}, each"
    where = "" if row.length.bought else f", {_size(row.length.stock_mm, readers)} from the shelf"
    pieces = ", ".join(f"{count} × {_size(size, readers)} ({ref})" for size, ref, count in _runs(row.length))
    return f"{which}{where}: {pieces}; left over {_size(row.length.left_over_mm, readers)}"


def _size(length_mm: float, readers: Readers) -> str:
    """A length to the tenth of a millimetre that is sawn to, without zeros that nobody typed."""
    return show(length_mm, "mm", readers=readers).plain if readers.units == "inch" else f"{length_mm:.7g}\u202fmm"


def _told(plan: CutPlan, readers: Readers) -> str:
    return f"{_heading(plan)}. {'. '.join(_row_words(row, readers) for row in _alike(plan.lengths))}."
