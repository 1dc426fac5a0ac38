"""How the views of a mirror cell and the list of its signs share a sheet, or follow one another on a phone.

The section is seen from above: it stands below the plan in first-angle projection, above it in third-angle projection.
Only where neither leaves room is it a section removed from its place, beside the plan: its cutting line, arrows and
letters say from where it is seen.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from dossier.drawings import scales
from dossier.drawings.dimension import line_height
from dossier.drawings.figures.cell_views import CellViews
from dossier.drawings.figures.listing import Entry, listed
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.projection import projection_of
from dossier.drawings.scene import Box, Group, Medium, Point, Shape, Text, Words

# The list stands beside the views where it is left this much room, in type sizes; else below them. A sheet has room
# for a figure about so high.
_LEAST_LIST = 12.0
_GAP, _BETWEEN, _TALLEST = 2.2, 1.4, 40.0


@dataclass(frozen=True, slots=True)
class Section:
    """Where the section stands in the figure: its origin and its scale; None where there is none."""

    at: Point
    scale: float


Laid = tuple[tuple[Shape, ...], Section | None]


def laid_out(views: CellViews, entries: Sequence[Entry], width: float) -> Laid:
    """The first arrangement that has room, else the lowest of those that there are."""
    best: tuple[float, Laid] | None = None
    for laid in _arrangements(views, entries, width):
        box = extent(laid[0], views.medium)
        if box.right - box.left > width and best:
            continue
        if box.bottom - box.top <= _room(views):
            return laid
        best = min(best or (math.inf, laid), (box.bottom - box.top, laid), key=lambda each: each[0])
    assert best is not None, "the list may always stand below"
    return best[1]


def _arrangements(views: CellViews, entries: Sequence[Entry], width: float) -> Iterator[Laid]:
    levers = [Group(shapes, {"view": name}) for name, shapes in (("triangle", views.triangle()), ("bar", views.bar()))
              if shapes]
    made = (partial(_with_wide_section, least=1.01), _with_detail, partial(_with_wide_section, least=0.99),
            _with_section_beside, _with_heights)
    for arrange in made:
        laid = arrange(views, levers, entries, width)
        if laid:
            yield laid
    yield _one_below_the_other(views, levers, entries, width)


def _with_detail(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry], width: float) -> Laid | None:
    """Plan and section on the left; on the right the list and the section's end, enlarged."""
    main, section = _stacked(views, heights=False)
    box = extent(main, views.medium)
    left, room = _beside(views, box, width)
    if not _has_room(views, levers, room):
        return None
    column = _column(views, levers, entries, (left, box.top), room)
    top = extent(column, views.medium).bottom + _BETWEEN * views.size
    detail = _detail(views, (left, top), room, max(_TALLEST * views.size, box.bottom - box.top) - (top - box.top))
    return ((*main, *column, *detail), section) if detail else None


def _with_wide_section(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry],
                       width: float, *, least: float) -> Laid | None:
    """The plan with the list on its right, and in a row of its own the section as large as there is room, levers beside
    it.

    ``least`` is how many times as large as the plan it has to be.
    """
    size, medium = views.size, views.medium
    if medium.unit != "mm" or views.plan_of.back_mm is None:
        return None
    plan = (Group(views.plan(), {"view": "plan"}, "Plan from behind"),)
    box = extent(plan, medium)
    left, room = _beside(views, box, width)
    if not _has_room(views, (), room):
        return None
    upper = (*plan, *_column(views, (), entries, (left, box.top), room))
    top = extent(upper, medium).bottom + 0.8 * size + line_height(medium)
    for scale in _scales(views, width - medium.wide, least):
        shapes = views.section(scale).whole(heights=True)
        own = extent(shapes, medium)
        high = top + 0.6 * size + own.bottom - own.top - box.top
        if own.right - own.left > width - medium.wide or high > _room(views):
            continue
        # In line with the plan, as projection has it, or as far to the right as it must be to stay on the sheet.
        across = max(0.0, box.left - own.left)
        if across + own.right > box.left + width - medium.wide:
            continue
        at = (across, top + 0.6 * size - own.top)
        section = _titled(shapes, at, top, scale, views)
        drawn = extent(section, medium)
        beside = (drawn.right + _GAP * size, top - 0.7 * size)
        breadth = box.left + width - medium.wide - beside[0]
        if levers and breadth < max(_breadth(each, medium) for each in levers):
            continue
        placed = _column(views, levers, (), beside, breadth)
        if placed and extent(placed, medium).bottom - box.top > _room(views):
            continue
        down = _above(views, (*section, *placed), box.top, 0.8 * size)
        return (*upper, *moved((*section, *placed), 0.0, down)), Section((at[0], at[1] + down), scale)
    return None


def _above(views: CellViews, shapes: Sequence[Shape], top: float, gap: float) -> float:
    """How far down shapes are moved that were laid out below: not at all in first-angle projection, up to stand above
    this level in third-angle projection."""
    third = projection_of(views.measures.design) == "third"
    return top - gap - extent(shapes, views.medium).bottom if third else 0.0


def _with_section_beside(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry],
                         width: float) -> Laid | None:
    """The plan with the levers below it, and on the right the list with the section below it."""
    size, medium = views.size, views.medium
    if medium.unit != "mm" or views.plan_of.back_mm is None:
        return None
    plan = (Group(views.plan(), {"view": "plan"}, "Plan from behind"),)
    box = extent(plan, medium)
    left, room = _beside(views, box, width)
    if not _has_room(views, (), room) or any(_breadth(each, medium) > box.right - box.left for each in levers):
        return None
    under = _column(views, levers, (), (box.left, box.bottom + _BETWEEN * size), box.right - box.left)
    column = _column(views, (), entries, (left, box.top), room)
    top = extent(column, medium).bottom + 0.8 * size + line_height(medium)
    for scale in _scales(views, room, 0.99):
        shapes = views.section(scale).whole(heights=True)
        own = extent(shapes, medium)
        if own.right - own.left > room or top + 0.6 * size + own.bottom - own.top - box.top > _room(views):
            continue
        at = (left - own.left + (room - own.right + own.left) / 2, top + 0.6 * size - own.top)
        return (*plan, *under, *column, *_titled(shapes, at, top, scale, views)), Section(at, scale)
    return None


def _scales(views: CellViews, room: float, least: float) -> Iterator[float]:
    """Preferred scales at least so many times the plan's, the largest first, at which the bare section has room."""
    across = 2 * views.plan_of.reach_mm
    return (each for each in scales.PREFERRED if each >= least * views.scale and across * each <= room)


def _titled(shapes: Sequence[Shape], at: Point, title: float, scale: float, views: CellViews) -> tuple[Shape, ...]:
    """A section with its name above it, and its scale where that is not the sheet's."""
    enlarged = f" ({scales.ratio(scale)})" if scale > 1.01 * views.scale else ""
    section = Group(moved(shapes, *at), {"view": "section", "scale": f"{scale:.9g}"}, "Section")
    return Text((at[0], title), (Words(f"A–A{enlarged}"),), "middle"), section


def _room(views: CellViews) -> float:
    """How high a figure may be."""
    return _TALLEST * views.size if views.medium.unit == "mm" else math.inf


def _with_heights(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry], width: float) -> Laid | None:
    """Plan and section with all its dimensions on the left, the list on the right."""
    main, section = _stacked(views, heights=True)
    box = extent(main, views.medium)
    left, room = _beside(views, box, width)
    if not _has_room(views, levers, room):
        return None
    return (*main, *_column(views, levers, entries, (left, box.top), room)), section


def _one_below_the_other(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry], width: float) -> Laid:
    """What stands below the views is as wide as the sheet, and the views stand in its middle."""
    main, section = _stacked(views, heights=True)
    box = extent(main, views.medium)
    breadth = max(width - views.medium.wide, box.right - box.left)
    at = ((box.left + box.right - breadth) / 2, box.bottom + _BETWEEN * views.size)
    return (*main, *_column(views, levers, entries, at, breadth)), section


def _stacked(views: CellViews, *, heights: bool) -> Laid:
    """Plan and, below or above it, the section, about the middle of the plan."""
    size, plan = views.size, views.plan()
    shapes: tuple[Shape, ...] = (Group(plan, {"view": "plan"}, "Plan from behind"),)
    section = views.section().whole(heights=heights)
    if not section:
        return shapes, None
    box = extent(section, views.medium)
    title = extent(plan, views.medium).bottom + 0.8 * size + line_height(views.medium)
    down = title + 0.6 * size - box.top
    cut = (Text((0.0, title), (Words("A–A"),), "middle"), *moved(section, 0.0, down))
    lift = _above(views, cut, extent(plan, views.medium).top, 0.8 * size)
    name, *drawn = moved(cut, 0.0, lift)
    placed = Section((0.0, down + lift), views.scale)
    return (*shapes, name, Group(tuple(drawn), {"view": "section"}, "Section")), placed


def _beside(views: CellViews, box: Box, width: float) -> tuple[float, float]:
    """Where a column right of the views begins, and how wide it is: the figure's box is a line wider than all in it."""
    left = box.right + _GAP * views.size
    return left, width - views.medium.wide - (left - box.left)


def _has_room(views: CellViews, levers: Sequence[Group], room: float) -> bool:
    return room >= max([_LEAST_LIST * views.size, *(_breadth(each, views.medium) for each in levers)])


def _breadth(shape: Shape, medium: Medium) -> float:
    box = extent((shape,), medium)
    return box.right - box.left


def _column(views: CellViews, levers: Sequence[Group], entries: Sequence[Entry], at: Point,
            breadth: float) -> tuple[Shape, ...]:
    """Levers beside one another as far as there is room, and the list below them."""
    size = views.size
    placed: list[Shape] = []
    x, y, row = at[0], at[1], 0.0
    for group in levers:
        own = extent((group,), views.medium)
        high, wide = own.bottom - own.top, own.right - own.left
        if x > at[0] and x + wide > at[0] + breadth:
            x, y, row = at[0], y + row + 1.2 * size, 0.0
        placed += moved((group,), x - own.left, y - own.top)
        x, row = x + wide + _GAP * size, max(row, high)
    if levers:
        y += row + _BETWEEN * size
    return (*placed, *listed(entries, (at[0], y), breadth, views.medium))


def _detail(views: CellViews, at: Point, room: float, height: float) -> tuple[Shape, ...]:
    """The section's right end at the largest scale that has room, its upper left corner at ``at``; else nothing."""
    plan, size, medium = views.plan_of, views.size, views.medium
    if plan.plate is None or plan.pushes is None or not plan.plate.half_mm or plan.back_mm is None or (
            medium.unit != "mm"):
        return ()
    larger = [scale for scale in scales.PREFERRED if scale > 1.01 * views.scale]
    beside = 2.2 * (plan.screw[0] if plan.screw else 4.0)
    left_mm = max(min(plan.pushes.radius_mm - beside, 0.9 * plan.blank_mm / 2), 0.1)
    low = min(plan.plate.back_mm, *(plan.spring or ()), *(plan.screw[2:] if plan.screw else ()))
    for scale in larger:
        if (plan.reach_mm - left_mm) * scale > room or (plan.sagitta_mm - low) * scale > height:
            continue
        shapes = views.section(scale, left_mm).detail()
        box = extent(shapes, medium)
        words = f"A–A, right end ({scales.ratio(scale)})"
        head = 1.6 * size
        if box.right - box.left <= room and box.bottom - box.top + head <= height:
            across = at[0] - box.left + (room - (box.right - box.left)) / 2
            title = Text((at[0] + room / 2, at[1] + 0.7 * size), (Words(words),), "middle")
            return (title, Group(moved(shapes, across, at[1] + head - box.top),
                                 {"view": "detail", "scale": f"{scale:.9g}"}, "Right end of the section, enlarged"))
    return ()
