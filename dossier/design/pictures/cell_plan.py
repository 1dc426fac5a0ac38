"""The mirror's cell as it is drawn: where supports, levers, pushes and clips stand, and how long the levers are.

Lengths in mm, angles in degrees from the focuser's side, clockwise seen from the sky; stations from the primary's
vertex, positive towards the sky.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier.calc.mechanics import balance, levers, mirror_cell
from dossier.calc.mechanics.supports import layout_of

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import Part
    from dossier.spec.model_structure import Cell, Clips, Posts, Push


@dataclass(frozen=True, slots=True)
class Circlet:
    """So many things evenly spaced on a circle about the axis, the first of them turned so far."""

    count: int
    radius_mm: float
    first_deg: float

    @property
    def angles_deg(self) -> tuple[float, ...]:
        """The angle of each."""
        return tuple(self.first_deg + 360 / self.count * index for index in range(self.count))


@dataclass(frozen=True, slots=True)
class LeverSizes:
    """What a builder marks out: a bar between its ends and how far from the axis it turns; a triangle's outer side,
    its depth to the inner point, its pivot inside the outer side, and how far from the axis it turns."""

    bar_mm: float | None = None
    bar_pivot_mm: float | None = None
    side_mm: float | None = None
    depth_mm: float | None = None
    pivot_offset_mm: float | None = None
    triangle_pivot_mm: float | None = None


@dataclass(frozen=True, slots=True)
class PlatePlan:
    """The plate that is pushed: stations of its faces (``back_mm`` is where the springs bear), half its width where it
    is said, whether it is square, and the radius of the hole in its middle, 0 where there is none."""

    front_mm: float
    back_mm: float
    half_mm: float | None
    square: bool
    hole_mm: float

    @property
    def reach_mm(self) -> float:
        """How far it reaches from the axis at most, 0 where that is not said."""
        return (self.half_mm or 0.0) * (math.sqrt(2) if self.square else 1.0)


@dataclass(frozen=True, slots=True)
class Block:
    """What stands or lies at the edge, the same at each place of its circle: from ``inner_mm`` to ``outer_mm`` along
    the radius, from station ``low_mm`` to ``high_mm``, ``width_mm`` wide along the rim where that is said."""

    places: Circlet
    inner_mm: float
    outer_mm: float
    low_mm: float
    high_mm: float
    width_mm: float | None
    lining_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class CellPlan:
    """All that is known of the cell. ``supports`` are the rings, inner first; triangles and bars are empty where the
    mirror rests on the supports themselves. ``spring`` is the stations of a mounted spring's upper and lower end.

    ``moving_mm`` is the station of the centre of mass of what moves on the springs, as the overhang has it, and
    ``disagree_mm`` how far from there the parts' own masses put it, where they say so. ``clip_clear_mm`` is the gap
    under the clips, None where it is not said: their ``clip`` then lies where it would touch.
    """

    blank_mm: float
    aperture_mm: float
    sagitta_mm: float
    thickness_mm: float | None
    centroid_mm: float | None
    supports: tuple[Circlet, ...]
    triangles: tuple[mirror_cell.Lever, ...]
    bars: tuple[mirror_cell.Lever, ...]
    sizes: LeverSizes
    pushes: Circlet | None
    on_plate: bool
    spring: tuple[float, float] | None
    clips: Circlet | None
    plate: PlatePlan | None = None
    screw: tuple[float, float, float] | None = None
    clip: Block | None = None
    clip_clear_mm: float | None = None
    post: Block | None = None
    moving_mm: float | None = None
    disagree_mm: float | None = None

    @property
    def reach_mm(self) -> float:
        """How far from the axis anything drawn from behind reaches."""
        return max([self.blank_mm / 2, self.plate.reach_mm if self.plate else 0.0,
                    *(block.outer_mm for block in (self.post, self.clip) if block)])

    @property
    def back_mm(self) -> float | None:
        """Station of the mirror's back."""
        return None if self.thickness_mm is None else self.sagitta_mm - self.thickness_mm


def cell_plan(design: Design) -> CellPlan | None:
    """The cell; None where the spec places nothing of it."""
    build, known = design.build, design.results
    if build.cell is None:
        return None
    supports = _supports(design, build.cell)
    pushes, clips = _circlet(build.cell.push), _circlet(build.cell.clips)
    if not (supports or pushes or clips):
        return None
    made = mirror_cell.levers(build.cell.points or 3, [ring.radius_mm for ring in supports]) if supports else ()
    sagitta, centroid = known["optics.sagitta"].number, known.get("cell.mirror_centroid")
    thickness = build.primary.edge_thickness
    back = None if thickness is None else sagitta - thickness
    plate = _plate(build.cell, back)
    by_mass = _spring(build.cell, build.parts, back)
    spring = _under(plate, build.cell) or by_mass
    moving = _moving(build.cell, spring)
    blank = build.primary.blank_diameter or build.primary.aperture
    return CellPlan(
        blank_mm=blank,
        aperture_mm=build.primary.aperture,
        sagitta_mm=sagitta,
        thickness_mm=thickness,
        centroid_mm=None if centroid is None else centroid.number,
        supports=supports,
        triangles=tuple(lever for lever in made if len(lever.carries) == 3),
        bars=tuple(lever for lever in made if len(lever.carries) == 2),
        sizes=_sizes(supports),
        pushes=pushes,
        on_plate=build.cell.push is not None and build.cell.push.against == "plate",
        spring=spring,
        clips=clips,
        plate=plate or _by_spring(build.cell, by_mass),
        screw=_screw(build.cell.push, plate or _by_spring(build.cell, by_mass)),
        clip=_clip(build.cell.clips, clips, sagitta, blank / 2),
        clip_clear_mm=build.cell.clips.clearance if build.cell.clips else None,
        post=_post(build.cell.posts, plate, blank / 2),
        moving_mm=moving,
        disagree_mm=None if moving is None or spring is None or by_mass is None else sum(by_mass) / 2 - sum(spring) / 2,
    )


def _plate(cell: Cell, back_mm: float | None) -> PlatePlan | None:
    """The plate where it is said how far behind the glass it stands and how thick it is."""
    said = cell.plate
    if said is None or back_mm is None or said.behind is None or said.thickness is None:
        return None
    return _faced(cell, back_mm - said.behind, back_mm - said.behind - said.thickness)


def _by_spring(cell: Cell, spring: tuple[float, float] | None) -> PlatePlan | None:
    """The plate where masses and overhang tell where the springs bear on it."""
    if cell.plate is None or cell.plate.thickness is None or spring is None or cell.push is None:
        return None
    return _faced(cell, spring[0] + cell.plate.thickness, spring[0]) if cell.push.against == "plate" else None


def _faced(cell: Cell, front_mm: float, back_mm: float) -> PlatePlan | None:
    said = cell.plate
    if said is None:
        return None
    across = said.diameter or said.side
    return PlatePlan(front_mm, back_mm, across / 2 if across else None, said.diameter is None and said.side is not None,
                     (said.hole or 0.0) / 2)


def _under(plate: PlatePlan | None, cell: Cell) -> tuple[float, float] | None:
    """The mounted spring under a plate that is said to be where it is."""
    push = cell.push
    if plate is None or push is None or push.against != "plate" or not push.spring or not push.spring.compressed_to:
        return None
    return plate.back_mm, plate.back_mm - push.spring.compressed_to


def _moving(cell: Cell, spring: tuple[float, float] | None) -> float | None:
    if spring is None or cell.push is None or cell.push.overhang is None:
        return None
    return sum(spring) / 2 + cell.push.overhang


def _screw(push: Push | None, plate: PlatePlan | None) -> tuple[float, float, float] | None:
    """Diameter of an adjusting screw, and the stations of its ends."""
    if push is None or plate is None or push.diameter is None or push.length is None:
        return None
    return push.diameter, plate.front_mm, plate.front_mm - push.length


def _clip(said: Clips | None, places: Circlet | None, sagitta_mm: float, half_mm: float) -> Block | None:
    """A clip's body over the shoulder of the glass."""
    if said is None or places is None or said.thickness is None or said.length is None:
        return None
    tip = places.radius_mm if said.overlap is None else half_mm - said.overlap
    low = sagitta_mm + (said.clearance or 0.0)
    return Block(places, tip, tip + said.length, low, low + said.thickness, said.width)


def _post(said: Posts | None, plate: PlatePlan | None, half_mm: float) -> Block | None:
    if said is None or plate is None or None in (said.count, said.clearance, said.reach, said.height):
        return None
    lining = said.lining or 0.0
    inner = half_mm + (said.clearance or 0.0) + lining
    places = Circlet(said.count or 0, inner, said.turned or 0.0)
    return Block(places, inner, said.reach or 0.0, plate.front_mm, plate.front_mm + (said.height or 0.0), said.width,
                 lining)


def _supports(design: Design, cell: Cell) -> tuple[Circlet, ...]:
    radii = design.results.get("cell.support_radii")
    if radii is None or cell.points is None:
        return ()
    layout = layout_of(cell.points)
    return tuple(Circlet(count, radius, math.degrees(start)) for count, radius, start in
                 zip(layout.counts, radii.numbers, layout.starts, strict=True))


def _circlet(section: Push | Clips | None) -> Circlet | None:
    if section is None or section.count is None or section.radius is None:
        return None
    return Circlet(section.count, section.radius, section.turned or 0.0)


def _sizes(supports: tuple[Circlet, ...]) -> LeverSizes:
    """Where every point carries the same."""
    counts, radii = [ring.count for ring in supports], [ring.radius_mm for ring in supports]
    if counts == [6]:
        bar, pivot = levers.neighbour_spacing_mm(radii[0], 6), levers.bar_pivot_mm(radii[0], 6)
        return LeverSizes(bar_mm=bar, bar_pivot_mm=pivot)
    if len(counts) < 2:
        return LeverSizes()
    share, (inner, outer) = levers.inner_point_share(1.0, 1.0), radii
    depth = levers.triangle_depth_mm(inner, outer, counts[1])
    pivot = levers.triangle_pivot_mm(inner, share, depth)
    triangle = LeverSizes(side_mm=levers.neighbour_spacing_mm(outer, counts[1]), depth_mm=depth,
                          pivot_offset_mm=levers.triangle_pivot_offset_mm(share, depth), triangle_pivot_mm=pivot)
    if counts[0] != 6:
        return triangle
    return replace(triangle, bar_mm=levers.neighbour_spacing_mm(pivot, 6), bar_pivot_mm=levers.bar_pivot_mm(pivot, 6))


def _spring(cell: Cell, parts: tuple[Part, ...], back_mm: float | None) -> tuple[float, float] | None:
    """Back from the glass where it bears on that; about its own plane where centre of mass and overhang tell it."""
    push = cell.push
    if push is None or push.spring is None or push.spring.compressed_to is None:
        return None
    length = push.spring.compressed_to
    if push.against != "plate":
        return None if back_mm is None else (back_mm, back_mm - length)
    moving = [part for part in parts if part.on_springs]
    if push.overhang is None or not moving or any(part.mass is None or part.station is None for part in moving):
        return None
    centre = balance.centre_of_mass_mm([part.quantity for part in moving], [part.mass or 0.0 for part in moving],
                                       [part.station or 0.0 for part in moving])
    middle = centre - push.overhang
    return middle + length / 2, middle - length / 2
