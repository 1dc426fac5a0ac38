"""The plate behind the mirror, from behind as the drawing of the cell shows it: its edge, its holes, and where
supports, pivots, springs, clips and posts stand on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.design.pictures.cell_plan import cell_plan
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.scene import Box, Point
from dossier.drawings.templates.labels import Clear, box_of_label
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template, around, box_of_items, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.sides import alike_from_behind, focuser_side, mirrored
from dossier.drawings.templates.wording import DIAMETER, degrees, length

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.design.pictures.cell_plan import Block, CellPlan, Circlet
    from dossier.spec.model_parts import DrawnAs
    from dossier.spec.model_structure import Cell, Plate, Push

_ARM = 3.5
_PLURALS = {"push": "pushes"}


@dataclass(frozen=True, slots=True)
class _Kind:
    """Things of one kind on one circle: their places on the template, their angles clockwise seen from the sky, the
    diameter of the hole that is drilled for each where the spec says one, the part that each is."""

    name: str
    radius: float
    angles_deg: tuple[float, ...]
    places: tuple[Point, ...]
    hole: float | None
    part: DrawnAs


def make(design: Design) -> Iterator[Template]:
    """The plate at full size; none where the spec says neither supports nor pushes nor clips."""
    plan, cell = cell_plan(design), design.build.cell
    if plan is None or cell is None:
        return
    kinds = list(_kinds(plan, cell))
    items: list[Item] = [*_outline(cell.plate), Disc("mark", (0.0, 0.0), plan.blank_mm / 2, "mirror"),
                         *cross((0.0, 0.0), 6.0, "optical axis")]
    rings = sorted({round(kind.radius, 6) for kind in kinds} - {round(plan.blank_mm / 2, 6), 0.0})
    items += [Disc("mark", (0.0, 0.0), radius, "circle of centres") for radius in rings]
    for kind in kinds:
        for place in kind.places:
            items += [*([Disc("cut", place, kind.hole / 2, kind.name)] if kind.hole else []),
                      *cross(place, _ARM, f"{kind.name} centre")]
    items += [*_at_pushes(plan, cell.push), *_footprints(plan)]
    side = focuser_side(box_of_items(items).bottom + 2.0, "seen from behind")
    items += [*_names(design, kinds, items, side), *side]
    listed = tuple(_listed(design, kind) for kind in kinds)
    yield Template(
        "cell-plate", "Plate of the mirror cell",
        "Laid on the back of the plate, it shows its edge, what is drilled, and where what holds the mirror stands.",
        tuple(items), _description(design, plan, cell.plate, listed),
        tuple(_notes(design, plan, cell, kinds, listed)),
        served(design, "plate", thick={"plate": cell.plate.thickness if cell.plate else None}))


def _kinds(plan: CellPlan, cell: Cell) -> Iterator[_Kind]:
    """Everything that stands on a circle. What levers turn on comes first: that is drilled, their ends are not."""
    levers = plan.bars or plan.triangles
    if levers:
        # A lever's own places have x towards the focuser's side and y clockwise from it, seen from the sky.
        places = tuple((-lever.pivot[1], lever.pivot[0]) for lever in levers)
        angles = tuple(math.degrees(math.atan2(lever.pivot[1], lever.pivot[0])) % 360 for lever in levers)
        yield _Kind("pivot", math.hypot(*places[0]), angles, places, cell.plate.pivot_hole if cell.plate else None,
                    "lever")
    known: list[tuple[str, Circlet | None, float | None, DrawnAs]] = [
        *(("support", ring, None, "pad") for ring in plan.supports),
        ("push", plan.pushes, cell.push.hole if cell.push else None, "push"), ("clip", plan.clips, None, "clip")]
    for name, circlet, hole, part in known:
        if circlet:
            places = mirrored([around(angle, circlet.radius_mm) for angle in circlet.angles_deg])
            yield _Kind(name, circlet.radius_mm, tuple(angle % 360 for angle in circlet.angles_deg), places, hole, part)


def _outline(plate: Plate | None) -> Iterator[Item]:
    """The plate's edge and the hole in its middle."""
    if plate is None:
        return
    if plate.diameter:
        yield Disc("cut", (0.0, 0.0), plate.diameter / 2, "plate")
    elif plate.side:
        half = plate.side / 2
        yield Outline("cut", ((-half, -half), (half, -half), (half, half), (-half, half)), name="plate")
    if plate.hole:
        yield Disc("cut", (0.0, 0.0), plate.hole / 2, "middle hole")


def _at_pushes(plan: CellPlan, push: Push | None) -> Iterator[Disc]:
    """Each adjusting screw where no hole is said for it, and the outside of its spring."""
    if push is None or plan.pushes is None:
        return
    spring, around_it = push.spring, None
    if spring and spring.mean_diameter and spring.wire and (spring.count or 1) == 1:
        around_it = spring.mean_diameter + spring.wire
    screw = push.diameter if push.hole is None else None
    for centre in mirrored([around(angle, plan.pushes.radius_mm) for angle in plan.pushes.angles_deg]):
        if screw:
            yield Disc("mark", centre, screw / 2, "screw")
        if around_it:
            yield Disc("mark", centre, around_it / 2, "spring")


def _footprints(plan: CellPlan) -> Iterator[Outline]:
    """What clips and posts cover of the plate, where the spec sizes them."""
    for name, block in (("clip, outline", plan.clip), ("post, outline", plan.post)):
        if block and block.width_mm:
            for angle in block.places.angles_deg:
                yield Outline("mark", mirrored(_footprint(block, angle, block.width_mm / 2)), name=name)


def _footprint(block: Block, angle_deg: float, half: float) -> list[Point]:
    angle = math.radians(angle_deg)
    return [(radius * math.sin(angle) + aside * math.cos(angle), radius * math.cos(angle) - aside * math.sin(angle))
            for radius, aside in ((block.inner_mm, -half), (block.inner_mm, half), (block.outer_mm, half),
                                  (block.outer_mm, -half))]


def _round_axis(disc: Disc) -> bool:
    return disc.centre == (0.0, 0.0)


def _names(design: Design, kinds: Sequence[_Kind], items: Sequence[Item], side: Sequence[Item]) -> Iterator[Label]:
    """What each mark is, with its hole or at least by its name, clear of all marks and, if it can be, of circles."""
    discs = [item for item in items if isinstance(item, Disc)]
    marks = [Box(*place, *place).grown(_reach(place, discs)) for kind in kinds for place in kind.places]
    marks += [box_of_label(item) for item in side if isinstance(item, Label)]
    marks += [Box(-6.0, -6.0, 6.0, 6.0), Box(-0.5, 0.0, 0.5, 1e3)]
    clear = Clear(marks, rings=sorted({disc.radius for disc in discs if _round_axis(disc)}))
    for kind in kinds:
        sized = f"{kind.name} {DIAMETER}{length(design, kind.hole)}" if kind.hole else kind.name
        for place in kind.places:
            yield from clear.beside(place, _reach(place, discs), (sized, kind.name, kind.name[0].upper()))


def _reach(place: Point, discs: Sequence[Disc]) -> float:
    """How far what is drawn at a place reaches."""
    return max([_ARM, *(disc.radius for disc in discs if disc.centre == place and not _round_axis(disc))])


def _listed(design: Design, kind: _Kind) -> str:
    """How many of a kind there are, on which circle, at which angles, with which holes, and their part."""
    number, named = len(kind.places), ", ".join(refs(design, kind.part))
    name = kind.name if number == 1 else _PLURALS.get(kind.name, f"{kind.name}s")
    where = f"{number} {name}" + (f" ({named})" if named else "")
    if kind.radius:
        where += f" on {DIAMETER}{length(design, 2 * kind.radius)}"
    at = ", ".join(degrees(angle) for angle in kind.angles_deg)
    many = len(kind.angles_deg) > 4
    where += f" from {degrees(kind.angles_deg[0])}" if many else f" at {at}"
    return where + (f", holes {DIAMETER}{length(design, kind.hole)}" if kind.hole else "")


def _description(design: Design, plan: CellPlan, plate: Plate | None, listed: Sequence[str]) -> str:
    edge = (f"plate {DIAMETER}{length(design, plate.diameter)}" if plate and plate.diameter else
            f"square plate of {length(design, plate.side)}" if plate and plate.side else "plate of no stated size")
    return (f"Seen from behind, the focuser’s side up: {edge}, mirror {DIAMETER}{length(design, plan.blank_mm)}; "
            f"{'; '.join(listed)}. Angles are clockwise seen from the sky.")


def _notes(design: Design, plan: CellPlan, cell: Cell, kinds: Sequence[_Kind], listed: Sequence[str]) -> Iterator[str]:
    points = [place for kind in kinds for place in kind.places if kind.name != "clip"]
    other = ("Its holes are the same from the front." if alike_from_behind(points) else
             "Never lay it on the front, the face to the mirror: there it would be the mirror image.")
    yield ("It is seen from behind, as the drawing of the mirror cell is: lay it on the face of the plate that looks "
           f"away from the mirror, the arrow to the focuser’s side. Angles run counter-clockwise here. {other}")
    yield "; ".join(listed) + "."
    yield from _holes(design, plan, cell)
    yield ("The broken outer circle is the mirror, "
           f"{DIAMETER}{length(design, plan.blank_mm)}. Prick the centres through the paper; drill square to the "
           "plate, clamped on a scrap. Wear eye protection.")


def _holes(design: Design, plan: CellPlan, cell: Cell) -> Iterator[str]:
    """What is drilled and what is not, and what the spec does not say."""
    plate, push = cell.plate, cell.push
    if plate is None or not (plate.diameter or plate.side):
        yield "No edge to cut is drawn: the plan does not say how large the plate is."
    said = []
    if plan.pushes and push and push.hole is None:
        said.append(f"the small ring at each push is its screw, {DIAMETER}{length(design, push.diameter)}: drill to "
                    "clear it" if push.diameter else "which hole a push takes is told by its screw")
    if plan.bars or plan.triangles:
        said.append("supports stand on the levers and are not drilled" + (
            "" if plate and plate.pivot_hole else "; which hole a pivot takes is told by its screw"))
    elif plan.supports:
        said.append("at supports nothing is drilled: pads stand there")
    if plan.supports:
        turned = "supports and pivots" if plan.bars or plan.triangles else "supports"
        said.append(f"the {turned} may be turned together so that screws clear one another")
    if said:
        words = "; ".join(said)
        yield f"{words[0].upper()}{words[1:]}."
