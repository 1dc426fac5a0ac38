"""Level lines and hatched regions of surfaces whose shape is known without any grid."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from dossier.design.pictures.contours import below_along, bilinear, grid_lines

X, Y = np.linspace(-2, 2, 41), np.linspace(-1.5, 1.5, 31)
BOWL = X[None, :] ** 2 + Y[:, None] ** 2


def test_a_bowl_s_level_lines_are_circles() -> None:
    line, = grid_lines(X, Y, BOWL, 1.0)
    assert line[0] == line[-1]
    assert [math.hypot(*point) for point in line] == pytest.approx([1.0] * len(line), abs=0.0015)
    area = 0.5 * sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise(line))
    assert abs(area) == pytest.approx(math.pi, rel=0.005)


def test_a_line_ends_at_the_edge_and_where_nothing_is_known() -> None:
    plane = np.broadcast_to(X[None, :], BOWL.shape).copy()
    whole, = grid_lines(X, Y, plane, 0.53)
    assert sorted((whole[0][1], whole[-1][1])) == [-1.5, 1.5]
    plane[15:18] = math.nan
    assert len(grid_lines(X, Y, plane, 0.53)) == 2
    assert grid_lines(X, Y, plane, 9.0) == ()


def test_a_saddle_is_not_crossed_by_its_own_lines() -> None:
    saddle = X[None, :] * Y[:, None]
    above, below = (grid_lines(X, Y, saddle, level) for level in (0.05, -0.05))
    assert len(above) == len(below) == 2
    for lines, sign in ((above, 1), (below, -1)):
        assert all(sign * x * y > -1e-12 for line in lines for x, y in line)


def test_the_part_of_a_line_that_lies_below() -> None:
    (start, end), = below_along(X, Y, BOWL - 1.0, (-2.0, 0.6), (2.0, 0.6), 1 / 400)
    assert (start[0], end[0]) == (pytest.approx(-0.8, abs=0.003), pytest.approx(0.8, abs=0.003))
    ring = np.abs(BOWL - 1.0) - 0.5
    assert len(below_along(X, Y, ring, (-2.0, 0.0), (2.0, 0.0), 1 / 400)) == 2
    assert below_along(X, Y, BOWL + 1, (-2.0, 0.0), (2.0, 0.0), 1 / 400) == ()


def test_between_nodes_a_surface_is_bilinear_and_unknown_beside_a_hole() -> None:
    twisted = 2 * X[None, :] - Y[:, None] + 3 * X[None, :] * Y[:, None]
    at_x, at_y = np.array([0.123, -1.999, 2.0]), np.array([0.456, 1.499, -1.5])
    assert bilinear(X, Y, twisted, at_x, at_y) == pytest.approx(2 * at_x - at_y + 3 * at_x * at_y)
    twisted[20, 21] = math.nan
    assert np.isnan(bilinear(X, Y, twisted, np.array([X[21] + 0.01]), np.array([Y[20] + 0.01]))).all()
