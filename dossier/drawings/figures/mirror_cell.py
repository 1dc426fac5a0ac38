"""The mirror cell: plan from behind, section, levers, and what every sign stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from dossier.design.pictures.cell_plan import Circlet, cell_plan
from dossier.drawings.dimension import line_height
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.cell_views import CellViews
from dossier.drawings.figures.listing import Entry, listed
from dossier.drawings.figures.measures import RADIUS, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.scene import Group, Medium, Point, Shape, Text, Words

if TYPE_CHECKING:
    from dossier.design.model import Design

# The list stands beside the views where it is left this much room, in type sizes; else below them.
_LEAST_LIST = 12.0
_GAP = 2.2


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """The cell; None where the spec places nothing of it."""
    plan = cell_plan(design)
    if plan is None:
        return None
    views = CellViews(plan, Measures(design), medium, scale)
    main, section_at = _main(views)
    entries = tuple(_entries(views))
    shapes = _laid_out(views, main, entries, width)
    return Figure("mirror-cell", _description(views, entries), shapes, extent(shapes, medium).grown(medium.wide / 2),
                  tuple(_balloons(views, section_at)), tuple(_notes(views)))


def _main(views: CellViews) -> tuple[tuple[Shape, ...], float]:
    """Plan and, below it, the section, about the middle of the plan; and how low the section's vertex lies."""
    size, plan = views.size, views.plan()
    shapes: tuple[Shape, ...] = (Group(plan, {"view": "plan"}, "Plan from behind"),)
    section = views.section()
    if not section:
        return shapes, 0.0
    box = extent(section, views.medium)
    title = extent(plan, views.medium).bottom + 0.8 * size + line_height(views.medium)
    down = title + 0.6 * size - box.top
    return (*shapes, Text((0.0, title), (Words("A–A"),), "middle"),
            Group(moved(section, 0.0, down), {"view": "section"}, "Section")), down


def _laid_out(views: CellViews, main: tuple[Shape, ...], entries: Sequence[Entry], width: float) -> tuple[Shape, ...]:
    """Levers and list to the right of the views where there is room, else below them."""
    medium, size = views.medium, views.size
    box = extent(main, medium)
    levers = [(group, extent(group, medium)) for name, shapes in (("triangle", views.triangle()), ("bar", views.bar()))
              if shapes for group in ((Group(shapes, {"view": name}),),)]
    left = box.right + _GAP * size
    # The figure's box is a line's width larger than what it holds.
    room = width - medium.wide - (left - box.left)
    beside = room >= max([_LEAST_LIST * size, *(each.right - each.left for _, each in levers)])
    at = (left, box.top) if beside else (box.left, box.bottom + 1.4 * size)
    breadth = room if beside else max(width - medium.wide, box.right - box.left)
    if not beside:
        # What stands below is as wide as the sheet, and the views stand in its middle.
        at = ((box.left + box.right - breadth) / 2, at[1])
    placed: list[Shape] = [*main]
    x, y, row = at[0], at[1], 0.0
    for group, own in levers:
        high, wide = own.bottom - own.top, own.right - own.left
        if x > at[0] and x + wide > at[0] + breadth:
            x, y, row = at[0], y + row + 1.2 * size, 0.0
        placed += moved(group, x - own.left, y - own.top)
        x, row = x + wide + _GAP * size, max(row, high)
    if levers:
        y += row + 1.4 * size
    placed += listed(entries, (at[0], y), breadth, medium)
    return tuple(placed)


def _entries(views: CellViews) -> Iterator[Entry]:
    """What each sign is, how many there are, and where."""
    plan, measures = views.plan_of, views.measures
    for ring, circlet in enumerate(plan.supports):
        words = phrase(f"{circlet.count} supports on ", RADIUS, views.radius(ring),
                       *_where(circlet, measures, "cell.points"))
        yield Entry(words, partial(_sign, signs.support, views.medium))
    sizes = plan.sizes
    if plan.triangles and sizes.triangle_pivot_mm is not None:
        pivot = views.length(sizes.triangle_pivot_mm, key="cell.points")
        yield Entry(phrase(f"{len(plan.triangles)} triangles turn on ", RADIUS, pivot),
                    partial(_sign, signs.pivot, views.medium))
    if plan.bars and sizes.bar_pivot_mm is not None:
        pivot = views.length(sizes.bar_pivot_mm, key="cell.points")
        yield Entry(phrase(f"{len(plan.bars)} bars turn on ", RADIUS, pivot),
                    partial(_sign, signs.bar_pivot if plan.triangles else signs.pivot, views.medium))
    if plan.pushes:
        radius = measures.length(plan.pushes.radius_mm, "cell.push.radius")
        what = "pushes on the cell’s plate" if plan.on_plate else "pushes on the glass"
        yield Entry(phrase(f"{plan.pushes.count} {what}, ", RADIUS, radius,
                           *_where(plan.pushes, measures, "cell.push.turned"), *_spring(measures)),
                    partial(_sign, signs.push, views.medium))
    if plan.clips:
        radius = measures.length(plan.clips.radius_mm, "cell.clips.radius")
        yield Entry(phrase(f"{plan.clips.count} clips on the face, ", RADIUS, radius,
                           *_where(plan.clips, measures, "cell.clips.turned")),
                    partial(_sign, signs.clip, views.medium))
    if plan.centroid_mm is not None and plan.thickness_mm is not None:
        behind = views.length(-plan.centroid_mm, result="cell.mirror_centroid")
        yield Entry(phrase("centre of mass of the glass, ", behind, " behind the middle of its face"),
                    partial(_sign, signs.balance, views.medium))


def _sign(sign: Callable[[Point, Medium], Sequence[Shape]], medium: Medium, at: Point) -> Sequence[Shape]:
    return sign(at, medium)


def _where(circlet: Circlet, measures: Measures, key: str) -> Iterator[Words | str]:
    """The angles of a few, of many the first and the step."""
    if circlet.count <= 3:
        for index, angle in enumerate(circlet.angles_deg):
            yield " at " if index == 0 else ", "
            yield measures.angle(round(angle % 360, 6), key)
    else:
        yield from (" from ", measures.angle(round(circlet.first_deg, 6), key), ", every ",
                    measures.angle(360 / circlet.count, key))


def _spring(measures: Measures) -> Iterator[Words | str]:
    """The spring of a push, as far as it is said."""
    cell = measures.design.build.cell
    spring = cell.push.spring if cell and cell.push else None
    if spring is None:
        return
    if spring.free_length is not None and spring.compressed_to is not None:
        yield from (", spring ", measures.length(spring.free_length, "cell.push.spring.free_length"),
                    " long, mounted at ", measures.length(spring.compressed_to, "cell.push.spring.compressed_to"))
    if "cell.spring_rate" in measures.design.results:
        yield from (", rate ", measures.result("cell.spring_rate", unit=True))


def _notes(views: CellViews) -> Iterator[Runs]:
    plan = views.plan_of
    yield sentence("angles run from the focuser’s side, clockwise seen from the sky; in this view from behind, "
                   "counter-clockwise")
    if plan.thickness_mm is not None:
        yield sentence("supports, pushes and clips are turned into the right half of section A–A")
    if plan.supports:
        yield sentence("the supports may be turned together to any angle: the plan sets none")
    if plan.on_plate and plan.pushes:
        where = "" if plan.spring or plan.thickness_mm is None else "; nor does the plan say where its springs stand"
        yield sentence(f"the plate between pushes and supports is not drawn: the plan does not size it{where}")
    if plan.supports and plan.triangles:
        yield sentence("levers are drawn by the lines between their points; let every joint rock freely")


def _description(views: CellViews, entries: Sequence[Entry]) -> str:
    plan, measures = views.plan_of, views.measures
    said = [f"Mirror cell from behind, to scale, lengths in {measures.unit}: blank ⌀ "
            f"{measures.length(plan.blank_mm, views.blank_key).text}"]
    if plan.thickness_mm is not None:
        said[0] += f", {measures.length(plan.thickness_mm, 'primary.edge_thickness').text} thick at its edge"
    said += [_capital(plain(entry.runs)) for entry in entries]
    sizes = plan.sizes
    if sizes.side_mm and sizes.depth_mm and sizes.pivot_offset_mm:
        side, depth, pivot = (views.length(mm).text for mm in (sizes.side_mm, sizes.depth_mm, sizes.pivot_offset_mm))
        said.append(f"Triangle: outer side {side}, depth {depth}, pivot {pivot} inside the outer side")
    if sizes.bar_mm:
        said.append(f"Bar: {views.length(sizes.bar_mm).text} between its ends, pivot in its middle")
    return ". ".join(said) + "."


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _balloons(views: CellViews, section_at: float) -> Iterator[Balloon]:
    """Parts that the author says are drawn as what is shown here."""
    plan, design = views.plan_of, views.measures.design
    places: list[tuple[Sequence[str], Point]] = []
    if plan.thickness_mm is not None and plan.back_mm is not None:
        middle = (views.level(plan.sagitta_mm) + views.level(plan.back_mm)) / 2 + section_at
        places.append((refs(design, "primary"), (-0.6 * views.half, middle)))
    else:
        places.append((refs(design, "primary"), views.polar(0.8 * plan.blank_mm / 2, 225.0)))
    if plan.supports:
        ring = plan.supports[-1]
        places.append((refs(design, "pad"), views.polar(ring.radius_mm, ring.angles_deg[-1])))
    if plan.pushes:
        places.append((refs(design, "spring"), _spring_at(views, plan.pushes, section_at)))
    for circlet, found in ((plan.pushes, refs(design, "push")), (plan.clips, refs(design, "clip"))):
        if circlet:
            places.append((found, views.polar(circlet.radius_mm, circlet.angles_deg[1 % circlet.count])))
    for named, at in places:
        yield from (Balloon(ref, at) for ref in named)




def _spring_at(views: CellViews, pushes: Circlet, section_at: float) -> Point:
    """The spring in the section where it is drawn there, else where the last push stands in the plan."""
    if views.plan_of.spring is None or not views.springs_drawn:
        return views.polar(pushes.radius_mm, pushes.angles_deg[-1])
    upper, lower = views.plan_of.spring
    return (pushes.radius_mm * views.scale, views.level((upper + lower) / 2) + section_at)


SHEET = SheetKind(
    "mirror-cell", "Mirror cell", "Assembly drawing",
    "Where the mirror is held, seen from behind with the focuser’s side up: supports, the levers that share its "
    "weight, the pushes with their springs, the clips. The section shows the same radii turned into one half.",
    make)
