"""The mirror cell: plan from behind, section, levers, and what every sign stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from dossier.design.pictures.cell_plan import Circlet, cell_plan
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.cell_layout import Section, laid_out
from dossier.drawings.figures.cell_views import CellViews
from dossier.drawings.figures.listing import Entry
from dossier.drawings.figures.measures import DIAMETER, RADIUS, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import extent
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.scene import Medium, Point, Shape, Words

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

# A plate whose place disagrees with the masses by more, in mm, is told of.
_DISAGREE = 3.0


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """The cell; None where the spec places nothing of it."""
    plan = cell_plan(design)
    if plan is None:
        return None
    views = CellViews(plan, Measures(design), medium, scale)
    entries = tuple(_entries(views))
    shapes, section_at = laid_out(views, entries, width)
    return Figure("mirror-cell", _description(views, entries), shapes, extent(shapes, medium).grown(medium.wide / 2),
                  tuple(_balloons(views, section_at)), tuple(_notes(views)))


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
                           *_where(plan.clips, measures, "cell.clips.turned"), *_clip_words(views)),
                    partial(_sign, signs.clip, views.medium))
    if plan.plate and plan.plate.half_mm:
        yield Entry(phrase(*_plate(views)))
    if plan.post:
        yield Entry(phrase(*_posts(views)))
    if plan.on_plate and plan.moving_mm is not None and plan.thickness_mm is not None:
        push = measures.design.build.cell.push if measures.design.build.cell else None
        over = measures.length(push.overhang or 0.0 if push else 0.0, "cell.push.overhang")
        yield Entry(phrase("centre of mass of what the springs carry, ", over, " before their middle"),
                    partial(_sign, signs.balance, views.medium))
    elif plan.centroid_mm is not None and plan.thickness_mm is not None:
        behind = views.length(-plan.centroid_mm, result="cell.mirror_centroid")
        yield Entry(phrase("centre of mass of the glass, ", behind, " behind the middle of its face"),
                    partial(_sign, signs.balance, views.medium))


def _plate(views: CellViews) -> Iterator[Words | str]:
    """What of the plate may have no room on a dimension line."""
    measures, cell = views.measures, views.measures.design.build.cell
    if cell is None or cell.plate is None:
        return
    said = cell.plate
    yield "plate"
    if said.thickness:
        yield from (" ", measures.length(said.thickness, "cell.plate.thickness"), " thick")
    if said.behind:
        yield from (", ", measures.length(said.behind, "cell.plate.behind"), " behind the glass")
    if said.hole:
        yield from (", hole ", DIAMETER, measures.length(said.hole, "cell.plate.hole"))


def _posts(views: CellViews) -> Iterator[Words | str]:
    measures, cell, post = views.measures, views.measures.design.build.cell, views.plan_of.post
    if cell is None or cell.posts is None or post is None:
        return
    said = cell.posts
    yield from (f"{post.places.count} posts", *_where(post.places, measures, "cell.posts.turned"), ", ",
                measures.length(said.clearance or 0.0, "cell.posts.clearance"), " clear of the glass")
    if said.lining:
        yield from (", lined ", measures.length(said.lining, "cell.posts.lining"))
    yield from (", out to ", RADIUS, measures.length(post.outer_mm, "cell.posts.reach"))
    if said.width:
        yield from (", ", measures.length(said.width, "cell.posts.width"), " wide")
    yield from (", ", measures.length(said.height or 0.0, "cell.posts.height"), " high")


def _clip_words(views: CellViews) -> Iterator[Words | str]:
    cell = views.measures.design.build.cell
    if cell is None or cell.clips is None:
        return
    for name, said, words in (("width", cell.clips.width, " wide"), ("clearance", cell.clips.clearance, " clear")):
        if said:
            yield from (", ", views.measures.length(said, f"cell.clips.{name}"), words)


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
        yield sentence("what stands on circles is turned into the right half of section A–A")
    if plan.supports:
        freely = "; let every joint of the levers rock freely" if plan.triangles or plan.bars else ""
        yield sentence(f"the supports may be turned together to any angle{freely}")
    sized = plan.plate is not None and plan.plate.half_mm is not None
    if plan.on_plate and plan.pushes and not sized:
        where = "" if plan.spring or plan.thickness_mm is None else "; nor does the plan say where its springs stand"
        yield sentence(f"the plate between pushes and supports is not drawn: the plan does not size it{where}")
    if plan.on_plate and plan.spring and plan.thickness_mm is not None:
        yield sentence("chain line with two dots below the springs: what they stand on")
    if plan.clip and plan.clip_clear_mm is None:
        yield sentence("clips do not touch the glass; how far clear they stand is not said here, so their outline is a "
                       "chain line")
    if plan.disagree_mm is not None and abs(plan.disagree_mm) > _DISAGREE:
        apart = views.length(abs(plan.disagree_mm), key="cell.push.overhang")
        yield sentence("by the masses of the parts list the springs’ plane lies ", apart, " from where it is drawn: "
                       "one of the two is wrong")


def _description(views: CellViews, entries: Sequence[Entry]) -> str:
    plan, measures = views.plan_of, views.measures
    said = [f"Mirror cell from behind, to scale, lengths in {measures.unit}: blank ⌀ "
            f"{measures.length(plan.blank_mm, views.section().blank_key).text}"]
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


def _balloons(views: CellViews, placed: Section | None) -> Iterator[Balloon]:
    """Parts that the author says are drawn as what is shown here."""
    plan, design = views.plan_of, views.measures.design
    places: list[tuple[Sequence[str], Point]] = []
    if placed and plan.back_mm is not None:
        places += _in_section(views, placed, plan.back_mm)
    else:
        places.append((refs(design, "primary"), views.polar(0.8 * plan.blank_mm / 2, 225.0)))
        if plan.pushes:
            places.append((refs(design, "spring"), views.polar(plan.pushes.radius_mm, plan.pushes.angles_deg[-1])))
    if plan.supports:
        ring = plan.supports[-1]
        places.append((refs(design, "pad"), views.polar(ring.radius_mm, ring.angles_deg[-1])))
    if levers := (*plan.triangles, *plan.bars):
        lever = levers[len(plan.triangles) - 1]
        (x, y), (far_x, far_y) = lever.pivot, lever.carries[0]
        places.append((refs(design, "lever"), views.of_lever(((x + far_x) / 2, (y + far_y) / 2))))
    clip = (plan.clip.inner_mm + plan.clip.outer_mm) / 2 if plan.clip and plan.clip.width_mm else None
    circles: tuple[tuple[Circlet | None, DrawnAs, float | None], ...] = (
        (plan.pushes, "push", None), (plan.clips, "clip", clip))
    for circlet, thing, middle in circles:
        if circlet:
            radius = circlet.radius_mm if middle is None else middle
            places.append((refs(design, thing), views.polar(radius, circlet.angles_deg[1 % circlet.count])))
    for named, at in places:
        yield from (Balloon(ref, at) for ref in named)


def _in_section(views: CellViews, placed: Section, back_mm: float) -> Iterator[tuple[Sequence[str], Point]]:
    """Glass, plate and spring where they are cut."""
    plan, design = views.plan_of, views.measures.design
    section = views.section(placed.scale)

    def at(radius_mm: float, station_mm: float) -> Point:
        return placed.at[0] + radius_mm * placed.scale, placed.at[1] + section.level(station_mm)

    yield refs(design, "primary"), at(-0.3 * plan.blank_mm, (plan.sagitta_mm + back_mm) / 2)
    if plan.plate and plan.plate.half_mm:
        yield refs(design, "plate"), at(-0.75 * plan.plate.half_mm, (plan.plate.front_mm + plan.plate.back_mm) / 2)
    if plan.pushes and plan.spring and section.springs_drawn:
        x, y = section.spring_tip()
        yield refs(design, "spring"), (placed.at[0] + x, placed.at[1] + y)
    elif plan.pushes:
        yield refs(design, "spring"), views.polar(plan.pushes.radius_mm, plan.pushes.angles_deg[-1])


SHEET = SheetKind(
    "mirror-cell", "Mirror cell", "Assembly drawing",
    "Where the mirror is held, seen from behind with the focuser’s side up: supports, the levers that share its "
    "weight, the pushes with their springs, the clips. The section shows the same radii turned into one half.",
    make)
