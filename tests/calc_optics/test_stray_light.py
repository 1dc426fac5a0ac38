"""Stray light: what the judged field sees, worked out by outlines, against lines of sight thrown at random."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import straylight
from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Floats, Mirror
from dossier.calc.optics.straylight import Opening

MIRROR, DIAGONAL = Mirror(150, 1200, 0, 35), Diagonal(35, 162, 0.9)
OPENING = Opening(bore_mm=31.75, drawtube_mm=60, judged_field_mm=24, mounting_radius_mm=100)
STATION = 1200 - 162


def lines(count: int, opening: Opening = OPENING, diagonal: Diagonal = DIAGONAL) -> tuple[Floats, Floats]:
    """Starting points in the judged field and directions through the drawtube's end, (3, n), in the tube's frame."""
    chance = np.random.default_rng(11)

    def disc(diameter: float) -> tuple[Floats, Floats]:
        radius, angle = diameter / 2 * np.sqrt(chance.uniform(0, 1, count)), chance.uniform(0, 2 * np.pi, count)
        return radius * np.cos(angle), radius * np.sin(angle)

    (u, y), (v, w) = disc(opening.judged_field_mm), disc(opening.bore_mm)
    station = 1200 - diagonal.intercept_mm
    start = np.stack([np.full(count, diagonal.intercept_mm), y, station + u])
    end = np.stack([np.full(count, diagonal.intercept_mm - opening.drawtube_mm), w, station + v])
    return start, end - start


def meets_diagonal(start: Floats, way: Floats, diagonal: Diagonal = DIAGONAL) -> tuple[Floats, Floats]:
    station = 1200 - diagonal.intercept_mm
    share = (start[2] - station - start[0]) / (way[0] - way[2])
    hit = start + share * way
    off_x, off_y = hit[0] + diagonal.offset_mm, hit[1]
    return hit, off_x**2 + off_y**2 <= (diagonal.minor_axis_mm / 2) ** 2


def test_shield_covers_all_that_passes_the_diagonal() -> None:
    half = straylight.shield_half_length_mm(162, 100, 31.75, 60, 24)
    start, way = lines(400_000)
    _, caught = meets_diagonal(start, way)
    far = start + way * ((-100 - start[0]) / way[0])
    along, across = np.abs(far[2] - STATION)[~caught], np.abs(far[1])[~caught]
    assert along.max() <= half
    assert across.max() <= half
    assert along.max() > 0.96 * half


@pytest.mark.parametrize("opening", [OPENING, Opening(50.8, 80, 30, 100), Opening(20, 70, 10, 100)])
@pytest.mark.parametrize("diagonal", [DIAGONAL, Diagonal(50, 162, 2.0)])
def test_ring_covers_all_that_the_diagonal_shows(opening: Opening, diagonal: Diagonal) -> None:
    """Lines turned down by the diagonal: how far from the axis they cross the plane of the primary's rim."""
    seen = straylight.seen_about_mirror(MIRROR, diagonal, opening).radius_mm
    start, way = lines(400_000, opening, diagonal)
    hit, caught = meets_diagonal(start, way, diagonal)
    down = np.stack([way[2], way[1], way[0]])[:, caught]  # x and z change places at a mirror at 45°
    at_rim = hit[:, caught] + down * ((MIRROR.sagitta_mm - hit[2, caught]) / down[2])
    radius = np.hypot(at_rim[0], at_rim[1])
    assert radius.max() <= seen * (1 + 1e-9)
    assert radius.max() > 0.96 * seen


def test_ring_is_the_result_of_that_name() -> None:
    ring = straylight.mirror_ring_mm(150, 1200, 0, 162, 35, 0.9, 31.75, 60, 24)
    assert ring == pytest.approx(2 * straylight.seen_about_mirror(MIRROR, DIAGONAL, OPENING).radius_mm)


def test_the_bore_that_closes_the_sky_end_just_does() -> None:
    front = 60.0
    bore = straylight.widest_dark_bore_mm(162, 100, 60, 24, front)
    assert straylight.shield_half_length_mm(162, 100, bore, 60, 24) == pytest.approx(front)
    assert straylight.shield_beyond_front_mm(straylight.shield_half_length_mm(162, 100, bore, 60, 24), front) == (
        pytest.approx(0, abs=1e-9))
    assert straylight.widest_dark_bore_mm(162, 100, 60, 24, 0.0) == 0


def test_sights_are_open_until_they_are_shut() -> None:
    across, out, beside = straylight.sights(MIRROR, DIAGONAL, OPENING, STATION + 80.0, closed_tube=False)
    assert (across.is_open, out.is_open, beside.is_open) == (True, True, True)
    longer = straylight.sights(MIRROR, DIAGONAL, OPENING, STATION + across.shut_by_mm + 0.01, True,
                               beside.shut_by_mm + 0.01)
    assert not any(sight.is_open for sight in longer)
    stopped = Opening(out.shut_by_mm - 0.01, 60, 24, 100)
    assert not straylight.sights(MIRROR, DIAGONAL, stopped, STATION + 80.0, True)[1].is_open


def test_corners_lie_on_a_line_of_sight() -> None:
    """Straight to the diagonal, turned by 45° there, straight on: the drawn ray is a true one."""
    for sight in straylight.sights(MIRROR, DIAGONAL, OPENING, STATION + 80.0, closed_tube=False):
        (x0, z0), (x1, z1), (x2, z2) = sight.corners
        first, second = np.array([x1 - x0, z1 - z0]), np.array([x2 - x1, z2 - z1])
        if sight.past == "rim":
            assert x1 == pytest.approx(z1 - STATION)
            first = first[::-1]
        assert first / np.hypot(*first) == pytest.approx(second / np.hypot(*second), abs=1e-9)
        assert abs(z0 - STATION) <= 12 + 1e-9


def test_shroud_starts_where_the_worst_line_leaves_the_frame() -> None:
    ring, rim_to_focus = 2 * 223.8, 1200 - MIRROR.sagitta_mm
    foot = straylight.shroud_foot_mm(rim_to_focus, 115, ring, 24)
    height = np.interp(115, [-12, ring / 2], [rim_to_focus, 0])
    assert foot == pytest.approx(height)
    assert straylight.shroud_foot_mm(rim_to_focus, 400, ring, 24) == 0
