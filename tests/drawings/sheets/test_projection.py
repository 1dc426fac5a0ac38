"""Where views stand in first- and third-angle projection (ISO 5456-2, recalled)."""

from __future__ import annotations

import pytest

from dossier.drawings.projection import beside, side_of
from dossier.drawings.scene import Box

MAIN, VIEW = Box(0.0, 0.0, 40.0, 20.0), Box(-5.0, 2.0, 5.0, 18.0)


@pytest.mark.parametrize(("seen_from", "first", "third"), [
    ("left", "right", "left"), ("right", "left", "right"), ("above", "below", "above"), ("below", "above", "below")])
def test_third_angle_has_a_view_on_its_own_side_and_first_angle_on_the_other(seen_from, first, third):
    assert side_of(seen_from, "first") == first
    assert side_of(seen_from, "third") == third


@pytest.mark.parametrize(("seen_from", "projection", "box"), [
    ("right", "first", Box(-13.0, 2.0, -3.0, 18.0)), ("right", "third", Box(43.0, 2.0, 53.0, 18.0)),
    ("above", "first", Box(-5.0, 23.0, 5.0, 39.0)), ("above", "third", Box(-5.0, -19.0, 5.0, -3.0))])
def test_a_view_is_moved_along_one_axis_and_keeps_its_gap(seen_from, projection, box):
    across, down = beside(MAIN, VIEW, seen_from, projection, 3.0)
    assert Box(VIEW.left + across, VIEW.top + down, VIEW.right + across, VIEW.bottom + down) == box
    assert not box.meets(MAIN)
