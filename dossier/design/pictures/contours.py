"""Level lines of a surface that is known on a grid, or on rings and spokes, joined into as few lines as there are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from dossier.calc.optics.mirror import Floats

Point = tuple[float, float]
# A side of a cell: along a row or ring (0), or along a column or spoke (1), with its row and its column.
_Side = tuple[int, int, int]


def level_lines(polar: Floats, radius: float, level: float) -> tuple[tuple[Point, ...], ...]:
    """Lines at this level, points (x, y) from the middle. A closed line ends where it began.

    ``polar`` is rings (axis to edge at ``radius``) × spokes (once round, the first again at the end).
    """
    crossings, joined = _crossings(polar, level, round_=True)
    rings, spokes = len(polar) - 1, polar.shape[1] - 1

    def place(side: _Side) -> Point:
        along, ring, spoke = side
        at = crossings[side]
        r = radius * (ring + (0.0 if along == 0 else at)) / rings
        turn = 2 * np.pi * (spoke + (at if along == 0 else 0.0)) / spokes
        return float(r * np.cos(turn)), float(r * np.sin(turn))

    return tuple(tuple(place(side) for side in line) for line in _walked(joined))


def grid_lines(x: Floats, y: Floats, heights: Floats, level: float) -> tuple[tuple[Point, ...], ...]:
    """Lines at this level of heights known at each y (rows) and x (columns), both rising. A closed line ends where it
    began; a line ends at the grid's edge, and where a height is not a number."""
    crossings, joined = _crossings(heights, level, round_=False)

    def place(side: _Side) -> Point:
        along, row, column = side
        at = crossings[side]
        if along == 0:
            return float(x[column] + at * (x[column + 1] - x[column])), float(y[row])
        return float(x[column]), float(y[row] + at * (y[row + 1] - y[row]))

    return tuple(tuple(place(side) for side in line) for line in _walked(joined))


def _crossings(heights: Floats, level: float, *, round_: bool) -> tuple[dict[_Side, float], dict[_Side, list[_Side]]]:
    """Where the level crosses the cells' sides, as a share of each, and which crossings belong together; ``round_``
    where the last column is the first again."""
    columns = heights.shape[1] - 1
    # A level that a node meets exactly would touch a corner: it is taken as just below.
    above, known = heights > level, np.isfinite(heights)
    mixed = _corners(above).any(axis=0) & ~_corners(above).all(axis=0) & _corners(known).all(axis=0)
    crossings: dict[_Side, float] = {}
    joined: dict[_Side, list[_Side]] = {}
    for row, column in np.argwhere(mixed):
        i, j = int(row), int(column)
        after = (j + 1) % columns if round_ else j + 1
        ends = (((i, j), (i, j + 1)), ((i, j + 1), (i + 1, j + 1)), ((i + 1, j), (i + 1, j + 1)), ((i, j), (i + 1, j)))
        sides: tuple[_Side, ...] = ((0, i, j), (1, i, after), (0, i + 1, j), (1, i, j))
        met = []
        for side, (start, end) in zip(sides, ends, strict=True):
            if above[start] != above[end]:
                crossings[side] = float((level - heights[start]) / (heights[end] - heights[start]))
                met.append(side)
        if len(met) == 4 and (heights[i:i + 2, j:j + 2].mean() > level) != above[i, j]:
            # A saddle: the middle says which corners hang together.
            met = [met[3], *met[:3]]
        for one, other in zip(met[::2], met[1::2], strict=True):
            joined.setdefault(one, []).append(other)
            joined.setdefault(other, []).append(one)
    return crossings, joined


def _corners(nodes: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """The four corners of each cell."""
    return np.stack((nodes[:-1, :-1], nodes[:-1, 1:], nodes[1:, 1:], nodes[1:, :-1]))


def below_along(x: Floats, y: Floats, heights: Floats, start: Point, end: Point, step: float,
                ) -> tuple[tuple[Point, Point], ...]:
    """The pieces of a straight line over which the surface lies below zero, and is a number; it is taken as bilinear
    between its nodes and looked at in steps of so great a share of the line."""
    shares = np.linspace(0.0, 1.0, max(2, math.ceil(1 / step) + 1))
    depth = bilinear(x, y, heights, start[0] + shares * (end[0] - start[0]), start[1] + shares * (end[1] - start[1]))
    pieces: list[tuple[float, float]] = []
    for at in range(len(shares) - 1):
        low, high = depth[at], depth[at + 1]
        if math.isnan(low) or math.isnan(high) or (low >= 0 and high >= 0):
            continue
        zero = shares[at] + (shares[at + 1] - shares[at]) * (low / (low - high) if low != high else 0.0)
        piece = (shares[at] if low < 0 else zero, shares[at + 1] if high < 0 else zero)
        if pieces and math.isclose(pieces[-1][1], piece[0], abs_tol=1e-12):
            piece = (pieces.pop()[0], piece[1])
        pieces.append(piece)

    def at_share(share: float) -> Point:
        return float(start[0] + share * (end[0] - start[0])), float(start[1] + share * (end[1] - start[1]))

    return tuple((at_share(a), at_share(b)) for a, b in pieces if b > a)


def bilinear(x: Floats, y: Floats, heights: Floats, at_x: Floats, at_y: Floats) -> Floats:
    """The surface at these places within its grid; not a number where a corner of the cell is none."""
    column = np.clip(np.searchsorted(x, at_x, side="right") - 1, 0, len(x) - 2)
    row = np.clip(np.searchsorted(y, at_y, side="right") - 1, 0, len(y) - 2)
    u = (at_x - x[column]) / (x[column + 1] - x[column])
    v = (at_y - y[row]) / (y[row + 1] - y[row])
    low = (1 - u) * heights[row, column] + u * heights[row, column + 1]
    high = (1 - u) * heights[row + 1, column] + u * heights[row + 1, column + 1]
    found: Floats = (1 - v) * low + v * high
    return found


def _walked(joined: dict[_Side, list[_Side]]) -> Iterator[list[_Side]]:
    """Every line from end to end, those that end at the edge first; a closed one begins and ends with the same."""
    left = {side: list(others) for side, others in joined.items()}
    starts = [side for side, others in joined.items() if len(others) == 1]
    for start in (*starts, *joined):
        line, here = [start], start
        while left[here]:
            after = left[here].pop()
            left[after].remove(here)
            line.append(after)
            here = after
        if len(line) > 1:
            yield line


def banded(heights: Floats, levels: Sequence[float]) -> Floats:
    """Between which levels each height lies: 0 below the lowest; not a number where the height is none."""
    return np.where(np.isnan(heights), np.nan, np.digitize(np.nan_to_num(heights), levels).astype(float))
