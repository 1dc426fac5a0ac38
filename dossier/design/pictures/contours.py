"""Level lines of a surface that is known on rings and spokes, joined into as few lines as there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from dossier.calc.optics.mirror import Floats

Point = tuple[float, float]
# A side of a cell: along a ring (0) or along a spoke (1), with its ring and its spoke.
_Side = tuple[int, int, int]


def level_lines(polar: Floats, radius: float, level: float) -> tuple[tuple[Point, ...], ...]:
    """Lines at this level, points (x, y) from the middle. A closed line ends where it began.

    ``polar`` is rings (axis to edge at ``radius``) × spokes (once round, the first again at the end).
    """
    crossings, joined = _crossings(polar, level)
    rings, spokes = len(polar) - 1, polar.shape[1] - 1

    def place(side: _Side) -> Point:
        along, ring, spoke = side
        at = crossings[side]
        r = radius * (ring + (0.0 if along == 0 else at)) / rings
        turn = 2 * np.pi * (spoke + (at if along == 0 else 0.0)) / spokes
        return float(r * np.cos(turn)), float(r * np.sin(turn))

    return tuple(tuple(place(side) for side in line) for line in _walked(joined))


def _crossings(polar: Floats, level: float) -> tuple[dict[_Side, float], dict[_Side, list[_Side]]]:
    """Where the level crosses the cells' sides, as a share of each, and which crossings belong together."""
    spokes = polar.shape[1] - 1
    # A level that a node meets exactly would touch a corner: it is taken as just below.
    above = polar > level
    corners = np.stack((above[:-1, :-1], above[:-1, 1:], above[1:, 1:], above[1:, :-1]))
    mixed = corners.any(axis=0) & ~corners.all(axis=0)
    crossings: dict[_Side, float] = {}
    joined: dict[_Side, list[_Side]] = {}
    for ring, spoke in np.argwhere(mixed):
        i, j = int(ring), int(spoke)
        after = (j + 1) % spokes
        ends = (((i, j), (i, j + 1)), ((i, j + 1), (i + 1, j + 1)), ((i + 1, j), (i + 1, j + 1)), ((i, j), (i + 1, j)))
        sides: tuple[_Side, ...] = ((0, i, j), (1, i, after), (0, i + 1, j), (1, i, j))
        met = []
        for side, (start, end) in zip(sides, ends, strict=True):
            if above[start] != above[end]:
                crossings[side] = float((level - polar[start]) / (polar[end] - polar[start]))
                met.append(side)
        if len(met) == 4 and (polar[i:i + 2, j:j + 2].mean() > level) != above[i, j]:
            # A saddle: the middle says which corners hang together.
            met = [met[3], *met[:3]]
        for one, other in zip(met[::2], met[1::2], strict=True):
            joined.setdefault(one, []).append(other)
            joined.setdefault(other, []).append(one)
    return crossings, joined


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
