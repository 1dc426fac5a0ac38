"""Solids of known volume as triangles, their corners anticlockwise seen from outside, and as STL."""

from __future__ import annotations

import math
import struct
from collections.abc import Callable, Iterable

Point = tuple[float, float, float]
Triangle = tuple[Point, Point, Point]


def box(x: float, y: float, z: float) -> list[Triangle]:
    """A box from the origin, its corners anticlockwise from outside."""
    p = [(i * x, j * y, k * z) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    quads = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
    return [(p[a], p[b], p[c]) for q in quads for a, b, c in ((q[0], q[1], q[2]), (q[0], q[2], q[3]))]


def prism(sides: int, radius: float, height: float) -> list[Triangle]:
    """An upright prism with so many sides, all its corners on a circle."""
    rim = [(radius * math.cos(2 * math.pi * k / sides), radius * math.sin(2 * math.pi * k / sides))
           for k in range(sides)]
    found: list[Triangle] = []
    for (ax, ay), (bx, by) in zip(rim, (*rim[1:], rim[0]), strict=True):
        found += [((0, 0, 0), (bx, by, 0), (ax, ay, 0)), ((0, 0, height), (ax, ay, height), (bx, by, height)),
                  ((ax, ay, 0), (bx, by, 0), (bx, by, height)), ((ax, ay, 0), (bx, by, height), (ax, ay, height))]
    return found


TETRAHEDRON: list[Triangle] = [((0, 0, 0), (0, 6, 0), (5, 0, 0)), ((0, 0, 0), (5, 0, 0), (0, 0, 7)),
                               ((0, 0, 0), (0, 0, 7), (0, 6, 0)), ((5, 0, 0), (0, 6, 0), (0, 0, 7))]


def binary(triangles: Iterable[Triangle], count: int | None = None) -> bytes:
    records = [struct.pack("<12fH", 0, 0, 0, *(x for corner in one for x in corner), 0) for one in triangles]
    return b" " * 80 + struct.pack("<I", len(records) if count is None else count) + b"".join(records)


def letters(triangles: Iterable[Triangle], keyword: Callable[[str], str] = str) -> bytes:
    lines = ["solid part"]
    for one in triangles:
        lines += [" facet normal 0 0 0", "  outer loop", *(f"   vertex {x} {y} {z}" for x, y, z in one), "  endloop",
                  " endfacet"]
    return "\n".join(keyword(line) for line in [*lines, "endsolid part", ""]).encode()
