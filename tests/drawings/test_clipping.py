"""What of one outline is seen through another."""

from __future__ import annotations

import math

import pytest

from dossier.drawings.clipping import clipped

SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))


def area(outline):
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]),
                                                                      strict=True))) / 2


def circle(x, y, radius, count=90):
    return tuple((x + radius * math.cos(2 * math.pi * step / count), y + radius * math.sin(2 * math.pi * step / count))
                 for step in range(count))


@pytest.mark.parametrize("window", [SQUARE, SQUARE[::-1]])
def test_overlap_of_squares(window):
    assert area(clipped([(x + 1, y + 1) for x, y in SQUARE], window)) == pytest.approx(1)


def test_overlap_of_circles_is_a_lens():
    """Two circles of radius 1, their middles 1 apart: 2π/3 − √3/2."""
    lens = clipped(circle(0, 0, 1, 720), circle(1, 0, 1, 720))
    assert area(lens) == pytest.approx(2 * math.pi / 3 - math.sqrt(3) / 2, rel=1e-3)


def test_what_lies_inside_stays_and_what_lies_outside_goes():
    small = circle(0.1, 0, 0.2)
    assert clipped(small, circle(0, 0, 1)) == small
    assert area(clipped(circle(0, 0, 1), small)) == pytest.approx(area(small))
    assert clipped(small, circle(5, 0, 1)) == ()
