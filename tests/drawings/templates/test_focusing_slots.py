"""The focusing mask as it is cut: rectangles no smaller than a knife can follow, in a card that hangs together."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest
from scipy import ndimage

from dossier.calc.optics.slots import focusing_slots
from dossier.design.pictures.focusing import focusing_mask_of
from tests.drawings.templates.conftest import Drawn, drawn, every_trial, trial

Point = tuple[float, float]


def _slots(name: str) -> list[Drawn]:
    return [each for each in drawn(name, "focusing-mask") if each.name.startswith("slot")]


def _sides(slot: Drawn) -> list[float]:
    return [math.dist(one, other) for one, other in pairwise((*slot.points, slot.points[0]))]


@every_trial
def test_every_slot_is_a_rectangle_of_half_the_pitch_and_long_enough_to_cut(name: str) -> None:
    pitch = focusing_mask_of(trial(name)).pitch.number
    assert len(_slots(name)) > 10
    for slot in _slots(name):
        assert len(slot.points) == 4
        (x0, y0), (x1, y1), (x2, y2), _ = slot.points
        assert (x1 - x0) * (x2 - x1) + (y1 - y0) * (y2 - y1) == pytest.approx(0, abs=0.005 * max(_sides(slot)))
        width, long = sorted(_sides(slot))[0], sorted(_sides(slot))[-1]
        assert width == pytest.approx(pitch / 2, abs=0.004)
        assert long >= 1.5 * width - 0.004


@every_trial
def test_no_two_slots_are_nearer_than_a_bar_is_wide(name: str) -> None:
    """Straight-edged openings are nearest at a corner of one of them."""
    pitch, slots = focusing_mask_of(trial(name)).pitch.number, _slots(name)
    for one, other in combinations(slots, 2):
        if math.dist(one.centre, other.centre) < 3 * pitch + (max(_sides(one)) + max(_sides(other))) / 2:
            near = min(_to_edge(corner, each.points) for here, each in ((one, other), (other, one))
                       for corner in here.points)
            assert near > pitch / 2 - 0.01, (one, other)


def _to_edge(point: Point, outline: tuple[Point, ...]) -> float:
    return min(_to_segment(point, start, end) for start, end in pairwise((*outline, outline[0])))


def _to_segment(point: Point, start: Point, end: Point) -> float:
    length = math.dist(start, end)
    along = sum((point[at] - start[at]) * (end[at] - start[at]) for at in (0, 1)) / length**2
    share = min(1.0, max(0.0, along))
    return math.dist(point, (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))


@pytest.mark.parametrize("name", ["tube-76", "truss-400"])
def test_the_mask_is_one_piece_even_with_a_third_of_every_bar_cut_away(name: str) -> None:
    """On a grid of points: what is left of the card after the slots is one region, and so it is after the knife has
    strayed by a sixth of a bar to either side."""
    step = focusing_mask_of(trial(name)).pitch.number / 12
    (card,) = [each for each in drawn(name, "focusing-mask") if each.name == "card"]
    edge = np.arange(-card.radius, card.radius, step)
    x, y = np.meshgrid(edge, edge)
    left = np.hypot(x, y) < card.radius
    for slot in _slots(name):
        left &= ~_within(x, y, slot)
    assert ndimage.label(left)[1] == 1
    strayed = ndimage.binary_erosion(left)
    assert ndimage.label(strayed)[1] == 1
    assert strayed.sum() < left.sum()


def _within(x: np.ndarray, y: np.ndarray, slot: Drawn) -> np.ndarray:
    """Which points lie in a convex outline, given counter-clockwise."""
    inside = np.ones_like(x, dtype=bool)
    for (x0, y0), (x1, y1) in pairwise((*slot.points, slot.points[0])):
        inside &= (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) > 0
    return inside


@pytest.mark.parametrize("hub", [0.0, 20.0, 60.0])
def test_slots_keep_to_the_aperture_and_out_of_the_hub(hub: float) -> None:
    for slot in focusing_slots(100, hub, 5, 20):
        assert max(math.hypot(*corner) for corner in slot.outline) <= 50 + 1e-9
        assert _to_edge((0.0, 0.0), slot.outline) >= hub / 2 - 1e-9 or hub == 0
