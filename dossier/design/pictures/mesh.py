"""A printed part as it lies on the bed, seen from above at an angle: what each picture point shows, by depth.

The view is isometric: x, y and z are shortened alike, so that one scale holds along every edge of the bed and straight
up. x runs to the right and down, y to the right and up, z up. What lies in front is found picture point by picture
point, so that no order of the facets can be wrong.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dossier.calc.optics.mirror import Floats
from dossier.design.prints import mesh_of, named
from dossier.spec.keys import value_at
from dossier.working import NoAnswer

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.meshes import Solid

Ints = NDArray[np.int64]

POINTS = 280
_FINER = 2
# To the right of the picture, up in it, and out of it towards the eye.
_VIEW: Floats = np.array([[1, 1, 0], [-1, 1, 2], [1, -1, 1]]) / np.sqrt([[2], [6], [3]])
_LIGHT: Floats = np.array([0.12, -0.50, 0.858])
_DARKEST = 0.38
# Two facets that meet at less than this are one curved surface, and no line parts them.
_SMOOTH = math.cos(math.radians(25))
_MARGIN = 0.03
# Picture points of all facets, hidden ones too; beyond this a mesh is not drawn.
_MOST_WORK, _AT_ONCE = 30_000_000, 1_500_000
_DEPTHS = 1 << 30


@dataclass(frozen=True, slots=True, eq=False)
class MeshView:
    """A part on its bed. Arrays are rows from the top, square.

    ``name`` is what the part goes by in its results, ``title`` its reference and name. ``cover`` is how much of a
    picture point the part covers, ``shade`` its brightness there, both 0 to 1. The bed's squares are ``square_mm`` wide
    and begin at the part's corner; ``across`` and ``along`` are the first and the last line in x and in y, counted from
    there. What is drawn, the bed too, fills ``height`` of the picture's side, as much above its middle as below.
    """

    name: str
    title: str
    solid: Solid
    shade: Floats
    cover: Floats
    square_mm: float
    across: tuple[int, int]
    along: tuple[int, int]
    centre: tuple[float, float]
    scale: float
    height: float

    def at(self, x_mm: float, y_mm: float, z_mm: float = 0.0) -> tuple[float, float]:
        """Where a place stands, as shares of the picture from its left and from its top; mm from the part's corner."""
        right, up = (float(axis @ (x_mm, y_mm, z_mm)) for axis in _VIEW[:2])
        return 0.5 + (right - self.centre[0]) * self.scale, 0.5 - (up - self.centre[1]) * self.scale


def mesh_views(design: Design) -> tuple[MeshView, ...]:
    """The printed parts of a design whose meshes can be read and are not too intricate to draw, in their order."""
    inch = design.build.readers.units == "inch"
    return tuple(view for name, key in named(design.build).items() if (view := _view(design, name, key, inch)))


def _view(design: Design, name: str, key: str, inch: bool) -> MeshView | None:
    part = value_at(design.build, key)
    try:
        solid = mesh_of(design.loaded, part.print.mesh)
    except NoAnswer:
        return None
    width, depth, height = solid.size_mm
    square = _square(max(width, depth, height / 2), inch)
    across, along = ((-1, math.ceil(size / square - 1e-6) + 1) for size in solid.size_mm[:2])
    centre, scale, height = _framed(solid, square, across, along)
    drawn = _drawn(solid, centre, scale)
    if drawn is None:
        return None
    return MeshView(name, f"{part.ref} {part.name}", solid, *drawn, square, across, along, centre, scale, height)


def _square(longest_mm: float, inch: bool) -> float:
    """The side of the bed's squares: the least of a round series that needs at most ten of them, mm."""
    unit = 25.4 / 4 if inch else 1.0
    steps = (unit * step * 10**power for power in range(-1, 6) for step in ((1, 2, 4) if inch else (1, 2, 5)))
    return next((step for step in steps if longest_mm <= 10 * step), longest_mm)


def _framed(solid: Solid, square: float, across: tuple[int, int],
            along: tuple[int, int]) -> tuple[tuple[float, float], float, float]:
    """The middle of the picture in the view's own mm, what share of its side one of these is, and what its height."""
    x, y, z = solid.size_mm
    corners = [(i * square, j * square, 0.0) for i in across for j in along]
    corners += [(i, j, z) for i in (0.0, x) for j in (0.0, y)]
    seen = np.array(corners) @ _VIEW[:2].T
    low, high = seen.min(axis=0), seen.max(axis=0)
    middle, reach = (low + high) / 2, high - low
    scale = (1 - 2 * _MARGIN) / float(reach.max())
    return (float(middle[0]), float(middle[1])), scale, float(reach[1]) * scale


@lru_cache(maxsize=64)
def _drawn(solid: Solid, centre: tuple[float, float], scale: float) -> tuple[Floats, Floats] | None:
    """Brightness and cover, or nothing where there is too much to draw."""
    side = POINTS * _FINER
    corners = solid.triangles - solid.triangles.reshape(-1, 3).min(axis=0).astype(float)
    seen = corners @ _VIEW.T
    places = np.stack([(seen[..., 0] - centre[0]) * scale + 0.5, 0.5 - (seen[..., 1] - centre[1]) * scale,
                       seen[..., 2] * scale], axis=-1) * side
    normals = np.cross(seen[:, 1] - seen[:, 0], seen[:, 2] - seen[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    facing = normals[:, 2] > 1e-9 * lengths if solid.closed else np.abs(normals[:, 2]) > 1e-9 * lengths
    facing &= lengths > 0
    places, normals = places[facing], normals[facing] / lengths[facing, None]
    front = _front(places, normals, side)
    if front is None:
        return None
    facets, depths = front
    bright = _lit(normals)[facets]
    there = facets >= 0
    bright[_lines(normals[facets], depths, there)] = 0.0
    cover = _coarser(there.astype(float))
    shade = np.divide(_coarser(np.where(there, bright, 0.0)), cover, out=np.zeros_like(cover), where=cover > 0)
    return shade, cover


def _lit(normals: Floats) -> Floats:
    """Brightness of facets under a light from the upper left; the inside of a surface is darker."""
    outward: Floats = normals @ _VIEW
    inside = normals[:, 2] < 0
    outward[inside] *= -1
    bright: Floats = _DARKEST + (1 - _DARKEST) * np.clip(outward @ _LIGHT, 0, 1)
    return np.where(inside, 0.6 * bright, bright)


def _front(places: Floats, normals: Floats, side: int) -> tuple[Ints, Floats] | None:
    """For each picture point the facet in front, −1 for none, and its depth. Nothing where there is too much to do."""
    tops, feet = places[..., 1].min(axis=1), places[..., 1].max(axis=1)
    first = np.clip(np.ceil(tops - 0.5), 0, side).astype(np.int64)
    rows = np.clip(np.ceil(feet - 0.5), 0, side).astype(np.int64) - first
    one, other = places[:, 1, :2] - places[:, 0, :2], places[:, 2, :2] - places[:, 0, :2]
    work = np.cumsum(np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2 + rows)
    if not len(work) or work[-1] > _MOST_WORK:
        return None
    buffer = np.full(side * side, -1, dtype=np.int64)
    depths = places[..., 2]
    least, span = float(depths.min()), float(np.ptp(depths)) or 1.0
    slope_x, slope_y = -normals[:, 0] / normals[:, 2], normals[:, 1] / normals[:, 2]
    for part in np.split(np.arange(len(places)), np.searchsorted(work, np.arange(_AT_ONCE, work[-1], _AT_ONCE))):
        for facet, x, y in _points(places, part, first, rows, side):
            start = places[facet, 0]
            depth = start[:, 2] + slope_x[facet] * (x + 0.5 - start[:, 0]) + slope_y[facet] * (y + 0.5 - start[:, 1])
            level = ((depth - least) / span).clip(0, 1) * (_DEPTHS - 1)
            np.maximum.at(buffer, y * side + x, level.astype(np.int64) << 32 | facet)
    found = buffer.reshape(side, side)
    facets = np.where(found < 0, -1, found & 0xFFFFFFFF)
    return facets, np.where(found < 0, -np.inf, (found >> 32) / (_DEPTHS - 1) * span)


def _points(places: Floats, part: Ints, first: Ints, rows: Ints, side: int) -> Iterator[tuple[Ints, Ints, Ints]]:
    """The picture points whose middle lies in these facets: facet, x and y of each."""
    facet, y = _spread(part, first[part], rows[part])
    if not len(facet):
        return
    level = y + 0.5
    ends = np.full((2, len(facet)), np.nan)
    for start, end in ((0, 1), (1, 2), (2, 0)):
        a, b = places[facet, start, :2], places[facet, end, :2]
        crossed = (a[:, 1] <= level) != (b[:, 1] <= level)
        rise = np.where(crossed, b[:, 1] - a[:, 1], 1.0)
        x = np.where(crossed, a[:, 0] + (level - a[:, 1]) / rise * (b[:, 0] - a[:, 0]), np.nan)
        ends = np.array([np.fmin(ends[0], x), np.fmax(ends[1], x)])
    left, right = np.clip(np.ceil(np.nan_to_num(ends) - 0.5), 0, side).astype(np.int64)
    numbers, x = _spread(np.arange(len(facet)), left, right - left)
    yield facet[numbers], x, y[numbers]


def _spread(items: Ints, starts: Ints, counts: Ints) -> tuple[Ints, Ints]:
    """Each item as often as it counts, beside it numbers that run up from its start."""
    ends = np.cumsum(counts)
    within = np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - counts, counts)
    return np.repeat(items, counts), np.repeat(starts, counts) + within


def _lines(normals: Floats, depths: Floats, there: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Where an edge is to be seen: the outline, a step in depth, or a crease. Each is three points wide."""
    lines = np.zeros_like(there)
    for axis in (0, 1):
        here, next_ = (tuple(slice(*ends) if at == axis else slice(None) for at in (0, 1)) for ends in
                       ((None, -1), (1, None)))
        both = there[here] & there[next_]
        slopes = [(-normals[place][..., 0] if axis else normals[place][..., 1])
                  / np.where(there[place], normals[place][..., 2], 1.0) for place in (here, next_)]
        with np.errstate(invalid="ignore"):
            step = np.abs(depths[next_] - depths[here] - (slopes[0] + slopes[1]) / 2)
        leans = np.abs(slopes[0]) + np.abs(slopes[1])
        crease = np.einsum("ijk,ijk->ij", normals[here], normals[next_]) < _SMOOTH
        edge = (there[here] ^ there[next_]) | (both & (crease | (step > 3.0 + leans)))
        lines[here] |= edge
        lines[next_] |= edge
    wider = lines.copy()
    wider[1:] |= lines[:-1]
    wider[:, 1:] |= lines[:, :-1]
    return wider & there


def _coarser(fine: Floats) -> Floats:
    """The mean over squares of fine points."""
    side = fine.shape[0] // _FINER
    made: Floats = fine.reshape(side, _FINER, side, _FINER).mean(axis=(1, 3))
    return made
