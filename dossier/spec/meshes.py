"""The mesh of a printed part, read from STL, 3MF or OBJ: how big it is, what it holds, whether it is closed.

A mesh may be a stranger's: what it costs to read is bounded, it can name no other file, and whatever is wrong with it
comes out as one plain sentence.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dossier.spec import mesh_files
from dossier.spec.mesh_files import LARGEST_FILE, MOST_TRIANGLES, MeshFault

__all__ = ["LARGEST_FILE", "MOST_TRIANGLES", "MeshFault", "Solid", "inside", "solid"]

Triangles = NDArray[np.float32] | NDArray[np.float64]

# Beyond this a file is in another unit, or is no part of a telescope.
_LONGEST_M = 100
# What leans less than this from level is a top or a bottom: its normal stands within 45° of upright.
_LEVEL = 0.5**0.5
# A solid holds at least this share of its surface times its longest side; below it is rounding.
_LEAST_SHARE = 1e-7
_READERS: Mapping[str, Callable[[bytes], Triangles]] = {
    ".stl": mesh_files.from_stl, ".3mf": mesh_files.from_3mf, ".obj": mesh_files.from_obj,
}


@dataclass(frozen=True, eq=False)
class Solid:
    """A mesh in millimetres, as it lies on the printer's bed, z upwards.

    ``triangles`` is of shape (triangles, corners, xyz), corners anticlockwise seen from outside. ``size_mm`` is along
    x, y and z. ``level_surface_mm2`` is the part of the surface within 45° of level: its tops and bottoms.
    """

    triangles: Triangles
    volume_mm3: float
    surface_mm2: float
    level_surface_mm2: float
    size_mm: tuple[float, float, float]

    @cached_property
    def open_edges(self) -> int:
        """How many edges are not shared by exactly two triangles that run along them in opposite ways."""
        return _open_edges(self.triangles)

    @property
    def closed(self) -> bool:
        """Whether it encloses a volume without a gap, all its facets facing outwards."""
        return self.open_edges == 0


def inside(folder: Path, named: str) -> Path:
    """The file of this name in a build's folder, links followed. MeshFault where it lies outside."""
    root = os.path.realpath(folder)
    path = os.path.realpath(os.path.join(root, named))
    if not path.startswith(root + os.sep):
        raise MeshFault("lies outside the build's folder")
    return Path(path)


def solid(path: Path) -> Solid:
    """The mesh in this file, read once for as long as the file stays as it is.

    Raises MeshFault, with a message that follows the file's name, where there is no such file, it is too large, broken
    or of another kind, or no solid has the shape in it.
    """
    try:
        status = os.stat(path)
    except OSError:
        raise MeshFault("is not in the build's folder") from None
    if not stat.S_ISREG(status.st_mode):
        raise MeshFault("is no file")
    found = _known(str(path), status.st_mtime_ns, status.st_size)
    if isinstance(found, str):
        raise MeshFault(found)
    return found


@lru_cache(maxsize=48)
def _known(path: str, _changed: int, size: int) -> Solid | str:
    """The mesh, or what is wrong with it; both are remembered."""
    try:
        return _measured(_read(Path(path), size))
    except MeshFault as fault:
        return str(fault)
    except OSError as error:
        return f"cannot be read: {error.strerror}"


def _read(path: Path, size: int) -> Triangles:
    read = _READERS.get(path.suffix.lower())
    if read is None:
        raise MeshFault("is neither STL nor 3MF nor OBJ")
    if size > LARGEST_FILE:
        raise MeshFault(f"is larger than {LARGEST_FILE // 1_000_000} MB; export it with fewer triangles")
    with path.open("rb") as file:
        data = file.read(LARGEST_FILE)
    return read(data)


def _measured(triangles: Triangles) -> Solid:
    if not len(triangles):
        raise MeshFault("holds no triangles")
    # Numbers beyond all measure overflow here, and are then told by what they leave behind.
    with np.errstate(all="ignore"):
        # Row by row x, y and z of all corners: much the fastest way through memory.
        rows = np.ascontiguousarray(triangles.reshape(-1, 3).T, dtype=np.float64)
        low = rows.min(axis=1)
        size = rows.max(axis=1) - low
        # Counted from a corner of the box around it, so that a mesh far from the origin loses no digits.
        rows -= low[:, None]
        x, y, z = (row.reshape(-1, 3).T for row in rows)
        along, across = ((x[at] - x[0], y[at] - y[0], z[at] - z[0]) for at in (1, 2))
        nx = along[1] * across[2] - along[2] * across[1]
        ny = along[2] * across[0] - along[0] * across[2]
        nz = along[0] * across[1] - along[1] * across[0]
        doubled = np.sqrt(nx * nx + ny * ny + nz * nz)
        volume = float(x[0] @ nx + y[0] @ ny + z[0] @ nz) / 6
        surface = float(doubled.sum()) / 2
        level = float(doubled[np.abs(nz) > _LEVEL * doubled].sum()) / 2
    if not (np.isfinite(size).all() and np.isfinite([volume, surface]).all()):
        raise MeshFault("has a corner whose place is not a number, or beyond all measure")
    if size.max() > 1000 * _LONGEST_M:
        raise MeshFault(f"is longer than {_LONGEST_M} m, read in millimetres; export it in millimetres")
    if abs(volume) <= _LEAST_SHARE * surface * float(size.max()):
        raise MeshFault("encloses no volume; a surface alone cannot be printed")
    if volume < 0:
        raise MeshFault("is inside out; turn its facets round in the program that made it")
    return Solid(triangles, volume, surface, level, (float(size[0]), float(size[1]), float(size[2])))


def _open_edges(triangles: Triangles) -> int:
    numbers = _joined(triangles.reshape(-1, 3)).reshape(-1, 3)
    flat = (numbers[:, 0] == numbers[:, 1]) | (numbers[:, 1] == numbers[:, 2]) | (numbers[:, 2] == numbers[:, 0])
    numbers = numbers[~flat]
    starts, ends = numbers.ravel(), numbers[:, [1, 2, 0]].ravel()
    most = np.int64(len(triangles) * 3)
    edges, runs = np.unique(np.minimum(starts, ends) * most + np.maximum(starts, ends), return_inverse=True)
    forth = np.bincount(runs, starts < ends, minlength=len(edges))
    both = np.bincount(runs, minlength=len(edges))
    return int(np.count_nonzero((forth != 1) | (both != 2)))


def _joined(corners: Triangles) -> NDArray[np.int64]:
    """Each corner as the number of the distinct point that it is."""
    plain = corners + 0.0  # a plain zero for the negative one
    order = np.lexsort(plain.T)
    ordered = plain[order]
    fresh = np.concatenate(([False], (ordered[1:] != ordered[:-1]).any(axis=1)))
    numbers = np.empty(len(corners), dtype=np.int64)
    numbers[order] = np.cumsum(fresh)
    return numbers
