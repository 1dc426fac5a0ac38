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
    from dossier.spec.model_structure import Cell, Clips, Push


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
class CellPlan:
    """All that is known of the cell. ``supports`` are the rings, inner first; triangles and bars are empty where the
    mirror rests on the supports themselves. ``spring`` is the stations of a mounted spring's upper and lower end."""

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
    return CellPlan(
        blank_mm=build.primary.blank_diameter or build.primary.aperture,
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
        spring=_spring(build.cell, build.parts, None if thickness is None else sagitta - thickness),
        clips=clips,
    )


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
