"""Stray light: what the judged field sees, worked out by outlines, against lines of sight thrown at random."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import openings, straylight
from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Floats, Mirror
from dossier.calc.optics.straylight import Opening
from dossier.working import NoAnswer

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


def test_shroud_ends_where_the_worst_line_leaves_the_frame() -> None:
    ring, rim_to_focus = 2 * 223.8, 1200 - MIRROR.sagitta_mm
    top = straylight.shroud_top_mm(1200, rim_to_focus, 115, ring, 24)
    station = np.interp(115, [-12, ring / 2], [1200, MIRROR.sagitta_mm])
    assert top == pytest.approx(station)
    assert straylight.shroud_top_mm(1200, rim_to_focus, 400, ring, 24) == pytest.approx(MIRROR.sagitta_mm)
    assert straylight.shroud_length_mm(top, 300) == pytest.approx(top - 300)
    assert straylight.shroud_length_mm(top, 800) == 0


def test_no_line_leaves_the_frame_above_the_shroud() -> None:
    """Lines thrown at random and turned down by the diagonal: where each crosses the circle of the poles."""
    ring = 2 * straylight.seen_about_mirror(MIRROR, DIAGONAL, OPENING).radius_mm
    top = straylight.shroud_top_mm(1200, 1200 - MIRROR.sagitta_mm, 115, ring, 24)
    start, way = lines(400_000)
    hit, caught = meets_diagonal(start, way)
    hit, down = hit[:, caught], np.stack([way[2], way[1], way[0]])[:, caught]
    half = hit[0] * down[0] + hit[1] * down[1]
    square = down[0] ** 2 + down[1] ** 2
    reach = (-half + np.sqrt(half**2 - square * (hit[0] ** 2 + hit[1] ** 2 - 115**2))) / square
    stations = hit[2] + reach * down[2]
    assert stations.max() <= top
    assert stations.max() > 0.95 * top


def test_taut_cloth_comes_nearest_half_way_between_two_poles() -> None:
    """Points along the straight line from pole to pole."""
    for poles in (3, 4, 8):
        turn = 2 * np.pi / poles
        share = np.linspace(0, 1, 1001)
        x, y = 108 * (1 - share + share * np.cos(turn)), 108 * share * np.sin(turn)
        assert straylight.taut_radius_mm(108, poles, 20) == pytest.approx(np.hypot(x, y).min() + 10)
    with pytest.raises(NoAnswer, match="no inside"):
        straylight.taut_radius_mm(108, 2, 20)


def test_rings_in_a_tube_hide_its_wall_from_the_field() -> None:
    """Random lines from the field to random points of the wall: each meets a ring; below the last, none need to."""
    wall, field, sagitta = 90.0, 24.0, MIRROR.sagitta_mm
    top, rings = 700.0, list[tuple[float, float]]()
    while top > sagitta:
        opening = openings.least_opening_mm(150, 1200, sagitta, top, field)
        rings.append((top, opening / 2))
        top = straylight.next_ring_station_mm(1200, wall, field, top, opening)
    assert 2 < len(rings) < 40
    chance = np.random.default_rng(5)
    radius, turn = field / 2 * np.sqrt(chance.uniform(0, 1, 200_000)), chance.uniform(0, 2 * np.pi, (2, 200_000))
    start = np.stack([radius * np.cos(turn[0]), radius * np.sin(turn[0])])
    end, station = wall * np.stack([np.cos(turn[1]), np.sin(turn[1])]), chance.uniform(sagitta, 700.0, 200_000)

    def hidden(by: list[tuple[float, float]]) -> np.ndarray:
        stopped = np.zeros(200_000, bool)
        for place, opening in by:
            at_ring = np.hypot(*(end + (place - station) / (1200 - station) * (start - end)))
            stopped |= (place >= station) & (at_ring >= opening - 1e-9)
        return stopped

    assert hidden(rings).all()
    assert not hidden(rings[:1] + rings[2:]).all()


def test_beam_of_the_field_at_a_station_of_the_frame() -> None:
    """The incoming ray of a star at the edge of the field that lands on the rim is seen at the upper fixing."""
    angle = np.arctan(12 / 1200)
    height = 75 + (969 - MIRROR.sagitta_mm) * np.tan(angle)
    assert openings.beam_radius_mm(150, 1200, MIRROR.sagitta_mm, 969, 24) == pytest.approx(height)
