"""The mask's openings: each in its zone, of the zones' own edges, both sides alike, and a card that holds together."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage

from dossier.calc.optics import zone_mask

PIXELS = 601


def _shoelace(outline: tuple[tuple[float, float], ...]) -> float:
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise((*outline, outline[0]))) / 2


def _open(outline: tuple[tuple[float, float], ...], x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Which points lie inside an outline: each crossing of a ray to the right turns the answer about."""
    inside = np.zeros(x.shape, dtype=bool)
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        if y0 != y1:
            crosses = ((y0 > y) != (y1 > y)) & (x < x0 + (y - y0) / (y1 - y0) * (x1 - x0))
            inside ^= crosses
    return inside


@settings(max_examples=60, deadline=None)
@given(aperture=st.floats(60, 700), share=st.floats(0, 0.5))
def test_every_opening_lies_in_its_zone(aperture: float, share: float) -> None:
    edges = zone_mask.mask_edges_mm(aperture, share * aperture, zone_mask.mask_zones(aperture))
    made = zone_mask.windows(aperture, edges)
    assert [(window.inner_mm, window.outer_mm) for window in made] == list(pairwise(edges))
    for window in made:
        radii = [math.hypot(*point) for point in window.right]
        assert window.inner_mm - 1e-9 <= min(radii)
        assert max(radii) == pytest.approx(window.outer_mm)
        heights = {math.copysign(1, y) for _, y in window.right}
        assert heights == {1.0 if window.zone % 2 else -1.0}
        assert all(x > 0 for x, _ in window.right)
        assert window.left == tuple((-x, y) for x, y in window.right)
        assert abs(_shoelace(window.right)) > 0.002 * aperture**2 / len(made)
        if window.zone > 1:
            assert min(radii) == pytest.approx(window.inner_mm)


@pytest.mark.parametrize(("aperture", "shadow"), [(76, 0), (150, 31), (400, 96), (600, 120)])
def test_the_card_is_one_piece_and_each_opening_another(aperture: float, shadow: float) -> None:
    edges = zone_mask.mask_edges_mm(aperture, shadow, zone_mask.mask_zones(aperture))
    made = zone_mask.windows(aperture, edges)
    places = np.linspace(-0.54 * aperture, 0.54 * aperture, PIXELS)
    x, y = np.meshgrid(places, places)
    holes = np.zeros(x.shape, dtype=bool)
    for window in made:
        holes |= _open(window.right, x, y) | _open(window.left, x, y)
    assert ndimage.label((np.hypot(x, y) <= 0.54 * aperture) & ~holes)[1] == 1
    assert ndimage.label(holes)[1] == 2 * len(made)
    narrowest = ndimage.binary_erosion((np.hypot(x, y) <= 0.54 * aperture) & ~holes, iterations=3)
    assert ndimage.label(narrowest)[1] == 1, "a bridge is thinner than a hundredth of the aperture"


def test_area_of_an_opening_by_hand() -> None:
    """Zone of radii 50 and 60 in an aperture of 200: a ring's share of 26°, less what the bridge, 4 mm up, takes."""
    (window,) = zone_mask.windows(200, (50, 60))
    bridge = sum(sign * (4 * math.sqrt(r**2 - 16) / 2 + r**2 / 2 * math.asin(4 / r)) for sign, r in ((1, 60), (-1, 50)))
    sector = math.radians(26) / 2 * (60**2 - 50**2)
    assert _shoelace(window.right) == pytest.approx(sector - bridge, rel=1e-3)


@pytest.mark.parametrize(("call", "says"), [
    (lambda: zone_mask.zone_edge_mm(150, 150, 4, 1), "obstruction_diameter_mm 150 must lie between 0 and"),
    (lambda: zone_mask.zone_edge_mm(150, -1, 4, 1), "obstruction_diameter_mm -1 must lie between 0 and"),
    (lambda: zone_mask.zone_edge_mm(math.nan, 0, 4, 1), "aperture_mm must be above zero, not nan"),
    (lambda: zone_mask.zone_edge_mm(150, 30, 1, 1), "zones must be a whole number of 2 or more, not 1"),
    (lambda: zone_mask.mask_edges_mm(150, 30, math.inf), "zones must be a whole number of 2 or more, not inf"),
    (lambda: zone_mask.zone_edge_mm(150, 30, 4, 5), "zones_inside must lie between 0 and 4, not 5"),
    (lambda: zone_mask.windows(200, (1, 2)), "a zone that ends 2 mm from the middle has no room"),
])
def test_what_no_mask_can_have_is_refused(call, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        call()
