"""The fold: what the diagonal, the openings and the drawtube take, closed forms against rays followed one and all."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import illumination, openings, rays
from dossier.calc.optics.diagonal import full_offset_mm
from dossier.calc.optics.fold import (
    ARRIVES,
    DRAWTUBE,
    FRONT,
    PAST_DIAGONAL,
    SPIDER,
    Diagonal,
    Telescope,
    follow,
    starlight,
)
from dossier.calc.optics.mirror import Floats, Mirror

DIAGONALS = [
    (Mirror(114, 900, 0), Diagonal(25, 150, 0.74)), (Mirror(150, 1200, -1), Diagonal(32, 180, 0.0)),
    (Mirror(250, 1250, -1), Diagonal(58, 230, 2.74)), (Mirror(300, 1200, 0.5), Diagonal(70, 250, 6.0)),
    (Mirror(200, 800, -1), Diagonal(40, 210, 4.0)),  # too small even for the axis
]


def caught(mirror: Mirror, diagonal: Diagonal, field_x: float, field_y: float, across: int = 500) -> float:
    """Share of a fine square grid of points of the mirror whose rays to a point of the field meet the diagonal's face.

    Plain coordinates: the ray's meeting point with the plane x = z − (f − L), then the distance from the face's centre
    measured in the plane itself, along its long axis and across it.
    """
    places = ((np.arange(across) + 0.5) / across - 0.5) * mirror.aperture_mm
    x, y = (grid.ravel() for grid in np.meshgrid(places, places))
    on_mirror = np.hypot(x, y) <= mirror.aperture_mm / 2
    x, y = x[on_mirror], y[on_mirror]
    radius = 2 * mirror.focal_length_mm
    bulge = 1 + mirror.conic
    z = ((radius - np.sqrt(radius**2 - bulge * (x**2 + y**2))) / bulge if bulge else (x**2 + y**2) / (2 * radius))
    to = np.stack([field_x - x, field_y - y, mirror.focal_length_mm - z])
    station = mirror.focal_length_mm - diagonal.intercept_mm
    share = (z - station - x) / (to[0] - to[2])
    hit = np.stack([x, y, z]) + share * to
    off = hit - np.array([-diagonal.offset_mm, 0.0, station - diagonal.offset_mm])[:, None]
    long = (off[0] + off[2]) / np.sqrt(2)
    return float(np.mean((long / np.sqrt(2)) ** 2 + off[1] ** 2 <= (diagonal.minor_axis_mm / 2) ** 2))


@pytest.mark.parametrize(("mirror", "diagonal"), DIAGONALS)
@pytest.mark.parametrize("place", [(0.0, 0.0), (9.0, 0.0), (-14.0, 0.0), (0.0, 17.0), (20.0, -12.0), (-35.0, 5.0)])
def test_light_share(mirror: Mirror, diagonal: Diagonal, place: tuple[float, float]) -> None:
    found = illumination.light_share(diagonal, mirror, np.array([place[0]]), np.array([place[1]]))[0]
    assert found == pytest.approx(caught(mirror, diagonal, *place), abs=3e-4)


@pytest.mark.parametrize(("mirror", "diagonal"), DIAGONALS[:4])
def test_the_fully_lit_field_is_as_large_as_it_can_be(mirror: Mirror, diagonal: Diagonal) -> None:
    """Just inside, every azimuth has all the light; just outside, one does not."""
    radius = illumination.full_field_mm(mirror.aperture_mm, mirror.focal_length_mm, mirror.sagitta_mm,
                                        diagonal.intercept_mm, diagonal.minor_axis_mm, diagonal.offset_mm) / 2
    assert radius > 0
    azimuth = np.linspace(0, 2 * np.pi, 121)
    for factor, full in ((0.995, True), (1.01, False)):
        light = illumination.light_share(diagonal, mirror, radius * factor * np.cos(azimuth),
                                         radius * factor * np.sin(azimuth))
        assert bool(np.all(light > 1 - 1e-9)) is full


def test_a_diagonal_too_small_lights_nothing_fully() -> None:
    mirror, diagonal = DIAGONALS[4]
    assert illumination.full_field_mm(200, 800, mirror.sagitta_mm, 210, 40, 4.0) == 0
    assert 0 < illumination.light_share(diagonal, mirror, np.zeros(1), np.zeros(1))[0] < 1


def test_worst_azimuth_is_the_least_of_all() -> None:
    light = illumination.edge_light(250, 1250, -1, 230, 58, 2.745, 28)
    azimuth = np.linspace(0, 2 * np.pi, 241)
    every = illumination.light_share(Diagonal(58, 230, 2.745), Mirror(250, 1250), 14 * np.cos(azimuth),
                                     14 * np.sin(azimuth))
    assert light == pytest.approx(every.min(), abs=1e-6)


def test_full_offset_makes_the_ends_of_the_fold_alike() -> None:
    """With the exact offset the light falls off from the same radius on both sides, so the field is largest."""
    sagitta = Mirror(250, 1250).sagitta_mm
    offset = full_offset_mm(250, 1250 - sagitta, 230, 58)
    best = illumination.full_field_mm(250, 1250, sagitta, 230, 58, offset)
    for other in (offset - 0.2, offset + 0.2):
        assert illumination.full_field_mm(250, 1250, sagitta, 230, 58, other) < best


MIRROR = Mirror(150, 1200, -1, 35)
FOLD = Diagonal(35, 162, full_offset_mm(150, 1200 - MIRROR.sagitta_mm, 162, 35))


def followed(telescope: Telescope, angle_deg: float, azimuth_deg: float = 0.0, count: int = 300) -> Floats:
    direction = rays.star_direction(angle_deg, azimuth_deg)
    start = starlight(telescope, direction, count, 1.05 * telescope.mirror.aperture_mm)
    return np.asarray(follow(telescope, start, np.broadcast_to(np.array(direction)[:, None], start.shape)).lost)


def lost_share(lost: Floats, by: int) -> float:
    return float(np.mean(lost == by))


def angle_of(field_mm: float) -> float:
    return float(np.degrees(np.arctan(field_mm / 2 / MIRROR.focal_length_mm)))


@pytest.mark.parametrize("azimuth", [0.0, 70.0, 180.0])
def test_front_opening(azimuth: float) -> None:
    """The least opening for a judged field of 24 mm takes none of its light; one a millimetre smaller takes some."""
    least = openings.least_opening_mm(150, 1200, MIRROR.sagitta_mm, 1150, 24)
    for change, taken in ((0.01, False), (-1.0, True)):
        telescope = Telescope(MIRROR, FOLD, front_opening_mm=least + change, front_station_mm=1150)
        lost = followed(telescope, angle_of(24), azimuth)
        whole = followed(Telescope(MIRROR, FOLD), angle_of(24), azimuth)
        hit = (lost == FRONT) & (whole != 4)
        assert bool(hit.any()) is taken


def test_drawtube() -> None:
    """The field that the bore leaves alone, and the bore that a field needs, each from the other and from rays."""
    rim_to_focus = 1200 - MIRROR.sagitta_mm
    field = openings.bore_field_mm(150, rim_to_focus, 31.75, 60)
    assert openings.least_bore_mm(150, rim_to_focus, 60, field) == pytest.approx(31.75)
    wide = Diagonal(80, 162, 3.0)
    for factor, taken in ((0.99, False), (1.03, True)):
        telescope = Telescope(MIRROR, wide, bore_mm=31.75, drawtube_mm=60)
        assert bool((followed(telescope, angle_of(field * factor), 40.0) == DRAWTUBE).any()) is taken


def test_a_bore_that_shades_the_middle_leaves_no_field() -> None:
    assert openings.bore_field_mm(150, 1195, 5, 60) == 0


def test_vanes_take_their_share_of_the_annulus() -> None:
    """Vanes as thick as sixteen rays of the bundle, so that the one along its rows is sampled truly."""
    thickness = 16 * 1.05 * 150 / 800
    open_pupil = followed(Telescope(MIRROR, FOLD), 0.0, count=800) == ARRIVES
    lost = followed(Telescope(MIRROR, FOLD, vanes=3, vane_thickness_mm=thickness), 0.0, count=800)[open_pupil]
    # The diagonal's shadow stands a millimetre off the middle: one vane is that much longer, the others shorter.
    assert lost_share(lost, SPIDER) == pytest.approx(openings.vane_light_loss(150, 35, 3, thickness), rel=0.01)


def test_rays_followed_agree_with_the_share_of_light() -> None:
    telescope = Telescope(Mirror(150, 1200, -1, 0), FOLD)
    for azimuth, x, y in ((0.0, 12.0, 0.0), (180.0, -12.0, 0.0), (90.0, 0.0, 12.0)):
        lost = followed(telescope, angle_of(24), azimuth, 600)
        on_mirror = lost_share(lost, ARRIVES) + lost_share(lost, PAST_DIAGONAL)
        share = illumination.light_share(FOLD, telescope.mirror, np.array([x]), np.array([y]))[0]
        assert lost_share(lost, ARRIVES) / on_mirror == pytest.approx(share, abs=2e-3)


def test_stars_land_where_the_fold_puts_them() -> None:
    """A star whose light travels towards the focuser's side is imaged towards the sky end, by f tan θ."""
    telescope = Telescope(MIRROR, FOLD)
    for azimuth, u, y in ((0.0, 6.0, 0.0), (180.0, -6.0, 0.0), (90.0, 0.0, 6.0)):
        direction = rays.star_direction(angle_of(12), azimuth)
        start = starlight(telescope, direction, 60, 150)
        traced = follow(telescope, start, np.broadcast_to(np.array(direction)[:, None], start.shape))
        through = traced.lost == ARRIVES
        assert np.mean(traced.u[through]) == pytest.approx(u, abs=0.01)
        assert np.mean(traced.y[through]) == pytest.approx(y, abs=0.01)
