"""Triangles out of the bytes of a mesh file. Each reader gives corners in millimetres, shape (triangles, 3, 3).

STL is read here. 3MF and OBJ go through trimesh, which is loaded only then, and are counted beforehand: a reader that
leaves something out or takes it twice would give a wrong mass without a word.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray

LARGEST_FILE, MOST_TRIANGLES = 30_000_000, 500_000

_HEAD, _RECORD = 84, np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
_CORNER, _FACET = rb"(?i)\bvertex\s+(\S+)\s+(\S+)\s+(\S+)", rb"(?i)\bfacet\s+normal\b"
_LOOP_END, _FACE_LINE = rb"(?i)\bendloop\b", rb"(?m)^\s*f\s+(.+)$"


class MeshFault(ValueError):
    """A mesh that cannot be used; the message follows the file's name."""


def too_many(count: int) -> None:
    """MeshFault where there are more triangles than are read."""
    if count > MOST_TRIANGLES:
        raise MeshFault(f"holds more than {MOST_TRIANGLES} triangles; export it with fewer")


def from_stl(data: bytes) -> NDArray[np.float32] | NDArray[np.float64]:
    """Binary STL where the length is what the head counts, else STL in letters. MeshFault for what is neither."""
    count = int.from_bytes(data[80:_HEAD], "little") if len(data) >= _HEAD else 0
    wanted = _HEAD + _RECORD.itemsize * count
    if len(data) >= _HEAD and len(data) == wanted:
        too_many(count)
        return np.frombuffer(data, _RECORD, count, _HEAD)["corners"]
    if data.lstrip()[:5].lower() == b"solid" and re.search(_FACET, data[:4096]):
        return _from_letters(data)
    if len(data) < _HEAD:
        raise MeshFault("is no STL file: it is too short")
    held = (len(data) - _HEAD) // _RECORD.itemsize
    if held < count:
        raise MeshFault(f"is cut off: it holds {held} of the {count} triangles that its head counts")
    raise MeshFault(f"is broken: its head counts {count} triangles, and there are {len(data) - wanted} bytes more")


def _from_letters(data: bytes) -> NDArray[np.float64]:
    facets, ended = (len(re.findall(pattern, data)) for pattern in (_FACET, _LOOP_END))
    too_many(facets)
    corners = re.findall(_CORNER, data)
    if len(corners) != 3 * facets or ended != facets or b"endsolid" not in data[-400:].lower():
        raise MeshFault(f"is cut off or broken: {facets} facets begin in it, and {len(corners)} corners stand in it")
    try:
        return np.array(corners).astype(np.float64).reshape(-1, 3, 3)
    except ValueError:
        raise MeshFault("has a corner whose place is not a number, or beyond all measure") from None


def from_obj(data: bytes) -> NDArray[np.float64]:
    """The faces of an OBJ file, polygons cut into triangles. Materials and other files it names are passed by."""
    text = data.replace(b"\r\n", b"\n").replace(b"\\\n", b"")
    faces = re.findall(_FACE_LINE, text)
    count = sum(max(len(face.split(b"#")[0].split()) - 2, 0) for face in faces)
    too_many(count)
    if not count:
        raise MeshFault("holds no faces")
    if any(b"-" in face for face in faces):
        raise MeshFault("counts the corners of its faces backwards, which is not read; export it as STL")
    made = [piece for piece in _trimesh_obj(text) if "faces" in piece]
    return _whole([_corners(piece["vertices"], piece["faces"]) for piece in made], count)


def from_3mf(data: bytes) -> NDArray[np.float64]:
    """What a 3MF file places on its build plate, in millimetres."""
    from dossier.spec import mesh_archive

    package = mesh_archive.opened(data)
    scene = _trimesh_3mf(package.plain)
    placed = [_moved(_corners(scene["geometry"][each["geometry"]]["vertices"],
                              scene["geometry"][each["geometry"]]["faces"]), np.asarray(each["matrix"]))
              for each in scene["graph"]]
    return _whole(placed, package.triangles) * package.unit_mm


def _corners(vertices: Any, faces: Any) -> NDArray[np.float64]:
    places, numbers = np.asarray(vertices, dtype=np.float64), np.asarray(faces)
    if places.ndim != 2 or places.shape[1] != 3 or numbers.ndim != 2 or numbers.shape[1] < 3:
        raise MeshFault("is broken: its corners or triangles cannot be told apart")
    if numbers.size and not 0 <= numbers.min() <= numbers.max() < len(places):
        raise MeshFault("is broken: a triangle names a corner that is not there")
    # Where all faces are polygons of one kind they come whole; each is cut into a fan.
    fans = [numbers[:, [0, at, at + 1]] for at in range(1, numbers.shape[1] - 1)]
    made: NDArray[np.float64] = places[np.concatenate(fans)]
    return made


def _moved(triangles: NDArray[np.float64], matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    with np.errstate(all="ignore"):
        turned: NDArray[np.float64] = triangles @ matrix[:3, :3].T + matrix[:3, 3]
    # A mirrored part has its facets the other way round.
    return turned[:, ::-1] if np.linalg.det(matrix[:3, :3]) < 0 else turned


def _whole(pieces: list[NDArray[np.float64]], count: int) -> NDArray[np.float64]:
    """All pieces as one, as many triangles as were counted."""
    found = sum(map(len, pieces))
    if found != count:
        raise MeshFault(f"cannot be read for certain: {found} of its {count} triangles were found; export it as STL")
    return np.concatenate(pieces)


def _trimesh_obj(text: bytes) -> list[dict[str, Any]]:
    try:
        from trimesh.exchange.obj import load_obj

        # Without materials and without a resolver there is nothing by which another file could be found.
        made: dict[str, Any] = load_obj(BytesIO(text), resolver=None, skip_materials=True)
        return list(made.get("geometry", {}).values())
    except Exception as error:  # whatever a reader raises, the file is what is broken
        raise MeshFault(f"is broken: {_short(error)}") from None


def _trimesh_3mf(plain: bytes) -> dict[str, Any]:
    try:
        from trimesh.exchange import threemf

        read: Callable[..., dict[str, Any]] = threemf.load_3MF
        made = read(BytesIO(plain), postprocess=False)
    except Exception as error:  # whatever a reader raises, the file is what is broken
        raise MeshFault(f"is broken: {_short(error)}") from None
    return made


def _short(error: Exception) -> str:
    """The first line of what a reader says, without addresses and at no great length."""
    said = (str(error).splitlines() or [""])[0][:80]
    return said or type(error).__name__
