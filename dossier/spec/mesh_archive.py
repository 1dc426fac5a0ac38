"""A 3MF package looked through before it is read: how large it unpacks, what it holds, how often each thing is placed.

After the 3MF Core Specification: a ZIP of XML parts; ``model`` has the unit, an ``object`` a mesh or components, and
``build`` the items that are printed. An object may be placed by many others, so that a small file can stand for more
triangles than there is room for; they are counted without being made.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from pyexpat import ExpatError
from xml.parsers import expat

from dossier.spec.mesh_files import MeshFault, too_many

LARGEST_UNPACKED = 60_000_000
_MOST_PARTS, _MOST_PLACED, _DEEPEST = 1000, 5000, 40
_UNITS_MM = {"micron": 0.001, "millimeter": 1.0, "centimeter": 10.0, "inch": 25.4, "foot": 304.8, "meter": 1000.0}

_Object = tuple[str, str]  # the part of the package it stands in, and its number there


@dataclass(frozen=True, slots=True)
class Package:
    """A package that may be read: its models alone in a plain ZIP, the unit, the triangles that it places."""

    plain: bytes
    unit_mm: float
    triangles: int


def opened(data: bytes) -> Package:
    """The package in these bytes. Raises MeshFault where it is broken, or would unpack beyond what is read."""
    parts = dict(_models(data))
    root = next((name for name in parts if "3d/3dmodel.model" in name.lower()), None)
    if root is None:
        raise MeshFault("is no 3MF file: it has no 3D/3dmodel.model")
    looked = _Looked(root)
    for name, text in parts.items():
        looked.through(name, text)
    plain = BytesIO()
    with zipfile.ZipFile(plain, "w") as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    unit = _UNITS_MM.get(looked.unit)
    if unit is None:
        raise MeshFault("has a unit of length that 3MF does not know")
    return Package(plain.getvalue(), unit, looked.placed())


def _models(data: bytes) -> Iterator[tuple[str, bytes]]:
    """The parts with models in them. No more is unpacked than is read, whatever the package says of its sizes."""
    left = LARGEST_UNPACKED
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            if len(archive.infolist()) > _MOST_PARTS:
                raise MeshFault(f"has more than {_MOST_PARTS} parts in its package")
            for name in dict.fromkeys(archive.namelist()):
                if not name.lower().endswith(".model"):
                    continue
                with archive.open(name) as part:
                    text = part.read(left + 1)
                left -= len(text)
                if left < 0:
                    raise MeshFault(f"unpacks to more than {LARGEST_UNPACKED // 1_000_000} MB")
                yield name, text
    except MeshFault:
        raise
    except Exception:  # a broken package shows itself in a dozen ways
        raise MeshFault("is broken: its package cannot be unpacked") from None


@dataclass
class _Looked:
    """What stands in the models of a package."""

    root: str
    unit: str = "millimeter"
    _meshes: dict[_Object, int] = field(default_factory=dict)
    _components: dict[_Object, list[_Object]] = field(default_factory=dict)
    _items: list[_Object] = field(default_factory=list)

    def through(self, part: str, text: bytes) -> None:
        """Go through one part. MeshFault where it is broken or defines entities."""
        reader = expat.ParserCreate(namespace_separator=" ")
        reader.StartDoctypeDeclHandler = _refuse
        current: list[_Object] = [(part, "")]

        def begins(tag: str, said: dict[str, str]) -> None:
            name = tag.rpartition(" ")[2]
            if name == "triangle":
                self._meshes[current[0]] = self._meshes.get(current[0], 0) + 1
            elif name == "object":
                current[0] = (part, said["id"])
            elif name == "component":
                self._components.setdefault(current[0], []).append(self._named(part, said))
            elif name == "item" and part == self.root:
                self._items.append(self._named(part, said))
            elif name == "model" and part == self.root:
                self.unit = said.get("unit", self.unit)

        reader.StartElementHandler = begins
        try:
            reader.Parse(text, True)
        except (ExpatError, KeyError):
            raise MeshFault("is broken: a model in its package is no XML, or lacks what 3MF asks for") from None

    @staticmethod
    def _named(part: str, said: dict[str, str]) -> _Object:
        path = next((value for key, value in said.items() if key.rpartition(" ")[2] == "path"), part)
        return path.strip("/"), said["objectid"]

    def placed(self) -> int:
        """How many triangles all items on the plate come to. MeshFault where they are too many, or go in a ring."""
        known: dict[_Object, tuple[int, int]] = {}
        found = [self._count(item, known, 0) for item in self._items]
        triangles, times = (sum(column) for column in zip(*found, strict=True)) if found else (0, 0)
        if not triangles:
            raise MeshFault("holds no triangles")
        too_many(triangles)
        if times > _MOST_PLACED:
            raise MeshFault(f"places objects more than {_MOST_PLACED} times")
        return triangles

    def _count(self, each: _Object, known: dict[_Object, tuple[int, int]], depth: int) -> tuple[int, int]:
        """Triangles of an object with all that it places, and how many objects those are."""
        if depth > _DEEPEST:
            raise MeshFault("is broken: its objects hold one another without an end")
        if each not in known:
            inner = [self._count(other, known, depth + 1) for other in self._components.get(each, ())]
            known[each] = (self._meshes.get(each, 0) + sum(count for count, _ in inner),
                           1 + sum(times for _, times in inner))
        return known[each]


def _refuse(*_: object) -> None:
    raise MeshFault("declares a document type, in which XML can hide what it likes; export it again")
