"""A mirror out of true, traced as it stands, against the field angle that it amounts to; the builder's view of it."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics import collimation, offaxis, pupil, rays, sight, wavefront
from dossier.calc.optics.fold import ARRIVES, IN_TRUE, Diagonal, Telescope, follow, starlight
from dossier.calc.optics.mirror import Floats, Mirror, depth
from dossier.calc.optics.rays import Pose

NM = 550.0
SLOW = Mirror(150, 1200, -1, 32)


def strehl_of(points: pupil.Points, path: Floats, mirror: Mirror) -> float:
    left = offaxis.refitted(mirror, points, path) * 1e6 / NM
    return float(abs(points.weight @ np.exp(2j * np.pi * left)) ** 2)


@pytest.mark.parametrize("mirror", [SLOW, Mirror(250, 1250, -1, 58), Mirror(200, 1400, -0.8, 40)])
def test_tilt_and_the_field_angle_it_amounts_to(mirror: Mirror) -> None:
    """Tilt by α; the star that stays in the middle of the field then stands 2α off the tube's axis."""
    points = pupil.annulus(mirror, 2, 64)
    for tilt in (1.0, 5.0):
        star = rays.star_direction(-2 * tilt / 60)
        focus = np.array([0.0, 0.0, mirror.focal_length_mm])
        path = rays.posed_path_mm(mirror, Pose(tilt_x_arcmin=tilt), points.x, points.y, star, focus)
        assert strehl_of(points, path, mirror) == pytest.approx(
            collimation.strehl_when_tilted(mirror, NM, tilt), abs=2e-4)


def test_the_tolerance_is_where_the_strehl_ratio_has_fallen() -> None:
    for mirror in (SLOW, Mirror(114, 900, 0, 25), Mirror(200, 1000, -1, 0)):
        tilt = collimation.tilt_that_costs(mirror, NM, 0.05)
        lost = (collimation.strehl_when_tilted(mirror, NM, 0.0) - collimation.strehl_when_tilted(mirror, NM, tilt))
        assert lost == pytest.approx(0.05, abs=1e-8)


def test_half_the_tilt_costs_about_a_quarter() -> None:
    for mirror in (SLOW, Mirror(114, 900, 0, 25), Mirror(250, 1250, -1, 58), Mirror(150, 1200, 0, 31)):
        tilt = collimation.tilt_that_costs(mirror, NM, 0.05)
        lost = collimation.strehl_when_tilted(mirror, NM, 0.0) - collimation.strehl_when_tilted(mirror, NM, tilt / 2)
        assert lost == pytest.approx(0.0125, rel=0.1)


def test_a_tilted_mirror_moves_a_star_by_twice_the_tilt() -> None:
    x, _ = rays.posed_at_plane(SLOW, Pose(tilt_x_arcmin=3.0), np.zeros(1), np.zeros(1), (0.0, 0.0, -1.0), 1200.0)
    assert x[0] == pytest.approx(1200 * np.tan(2 * np.radians(3 / 60)))
    assert 2 * collimation.axis_shift_mm(1200, 3.0) == pytest.approx(x[0], rel=1e-5)


def test_shift_and_turn_together_leave_a_sphere_as_it_was() -> None:
    """Turning a sphere about its centre of curvature changes nothing: a tilt and the shift that undoes it."""
    sphere = Mirror(114, 900, 0, 25)
    tilt = 20.0
    angle = np.radians(tilt / 60)
    pose = Pose(tilt_x_arcmin=tilt, shift_x_mm=-1800 * np.sin(angle), shift_z_mm=1800 * (1 - np.cos(angle)))
    points = pupil.annulus(sphere, 1, 32)
    turned = pose.matrix @ np.stack([points.x, points.y, depth(sphere, points.r2)]) + pose.shift[:, None]
    there = rays.at_plane(sphere, turned[0], turned[1], (0.0, 0.0, -1.0), 899.8)
    posed = rays.posed_at_plane(sphere, pose, points.x, points.y, (0.0, 0.0, -1.0), 899.8)
    assert posed[0] == pytest.approx(there[0], abs=1e-9)
    assert posed[1] == pytest.approx(there[1], abs=1e-9)


def test_screw_turns() -> None:
    """Three screws on 60 mm: one of them stands 90 mm from the line through the other two."""
    lift = 90 * np.tan(np.radians(7.7 / 60))
    assert collimation.screw_turns(60, 0.8, 7.7) == pytest.approx(lift / 0.8)


def test_a_plate_on_three_points_leans_by_the_tilt() -> None:
    """One of three screws turned: the normal of the plane through their ends against the axis."""
    turns = collimation.screw_turns(66, 1.0, 8.75)
    turned = np.radians([0, 120, 240])
    points = np.stack([66 * np.cos(turned), 66 * np.sin(turned), [turns * 1.0, 0, 0]], axis=1)
    normal = np.cross(points[1] - points[0], points[2] - points[0])
    lean = np.degrees(np.arccos(normal[2] / np.linalg.norm(normal))) * 60
    assert lean == pytest.approx(8.75, rel=1e-6)


@pytest.mark.parametrize("mirror", [SLOW, Mirror(250, 1250, -1, 58), Mirror(114, 900, 0, 25)])
def test_a_shifted_primary_costs_what_the_tilted_one_does(mirror: Mirror) -> None:
    """Traced as it stands, shifted; the star that it throws onto the tube's axis."""
    tilt = collimation.tilt_that_costs(mirror, NM, 0.05)
    shift = collimation.primary_shift_mm(collimation.axis_shift_mm(mirror.focal_length_mm, tilt))
    points = pupil.annulus(mirror, 2, 64)
    focus_mm = wavefront.highest_strehl(mirror, NM).focus_mm
    plane = mirror.focal_length_mm + focus_mm
    pose = Pose(shift_x_mm=shift)

    def path(angle: float, moved: Pose) -> Floats:
        return rays.posed_path_mm(mirror, moved, points.x, points.y, rays.star_direction(angle),
                                  np.array([0.0, 0.0, plane]))

    angle = np.degrees(np.arctan(shift / mirror.focal_length_mm))
    added = [offaxis.refitted(mirror, points, path(way * angle, pose) - path(0.0, IN_TRUE)) for way in (1, -1)]
    axis = path(0.0, IN_TRUE)
    strehl = max(abs(points.weight @ np.exp(2e6j * np.pi / NM * (axis + each))) ** 2 for each in added)
    assert wavefront.highest_strehl(mirror, NM).value - strehl == pytest.approx(0.05, abs=5e-4)


def test_a_beam_down_the_axis_comes_back_off_by_the_return_shift() -> None:
    """A ray from the focal plane to the vertex of the mirror as it stands, and back up to the same plane."""
    pose = Pose(tilt_x_arcmin=8.75)
    normal = pose.matrix @ np.array([0.0, 0.0, 1.0])
    back = rays.mirrored(np.array([[0.0], [0.0], [-1.0]]), normal[:, None])[:, 0]
    assert abs(back[0] / back[2]) * 1200 == pytest.approx(collimation.return_shift_mm(1200, 8.75), rel=1e-9)


def test_the_reflection_of_the_eye_stands_off_the_mark_by_the_return_shift() -> None:
    """From the focal plane: where on the primary the drawtube's end is met, its end taken at the eye itself."""
    telescope = Telescope(Mirror(150, 1200, -1, 35), Diagonal(35, 162, 0.0), Pose(tilt_x_arcmin=8.75), bore_mm=2,
                          drawtube_mm=1e-3)
    dot = middle(sight.outlines(telescope)["drawtube_again"])
    assert abs(dot[0]) * 1200 == pytest.approx(collimation.return_shift_mm(1200, 8.75), rel=2e-3)


@pytest.mark.parametrize("angle", [0.1, 0.5, 1.0])
@pytest.mark.parametrize("conic", [-1.0, 0.0])
def test_foci_of_a_narrow_pencil(angle: float, conic: float) -> None:
    """Coddington: f cos θ along the chief ray in the plane of the angle, f/cos θ across it."""
    theta = np.radians(angle)
    tangential, sagittal = offaxis.pencil_focuses_mm(Mirror(150, 1200, conic), angle)
    assert tangential == pytest.approx(1200 * (np.cos(theta) ** 2 - 1), abs=2e-5)
    assert sagittal == pytest.approx(0, abs=2e-5)
    field = 2 * 1200 * np.tan(theta)
    assert offaxis.edge_astigmatism_um(150, 1200, conic, field) == pytest.approx(1000 * tangential, abs=0.02)
    assert offaxis.edge_curvature_um(150, 1200, conic, field) == pytest.approx(500 * tangential, abs=0.02)


def outlines(pose: Pose = IN_TRUE, tip: float = 0.0, twist: float = 0.0, offset: float = 0.0) -> dict[str, Floats]:
    telescope = Telescope(Mirror(150, 1200, -1, 35), Diagonal(35, 162, offset, tip, twist), pose, bore_mm=31.75,
                          drawtube_mm=60)
    return sight.outlines(telescope)


def middle(outline: Floats) -> Floats:
    return np.asarray((outline.min(axis=1) + outline.max(axis=1)) / 2)


def test_view_of_a_telescope_in_true() -> None:
    seen = outlines()
    assert set(seen) == set(sight.OUTLINES)
    for name in ("drawtube", "primary", "centre_mark", "drawtube_again", "shadow"):
        assert middle(seen[name]) == pytest.approx([0, 0], abs=2e-4)
    assert seen["drawtube"].max() == pytest.approx(31.75 / 2 / 60)
    assert seen["primary"].max() == pytest.approx(75 / (1200 - 75**2 / 4800))
    # From the focus a paraboloid shows things above it as large as they are, at the mirror.
    height = 17.5 / (1200 - 17.5**2 / 4800)
    assert seen["shadow"][1].max() == pytest.approx(height, rel=1e-3)


def test_view_of_a_tilted_primary() -> None:
    """The reflections in it wander, the primary itself stays; by twice the tilt, seen from the focus."""
    straight, tilted = outlines(), outlines(Pose(tilt_x_arcmin=10.0))
    assert middle(tilted["primary"]) == pytest.approx(middle(straight["primary"]), abs=5e-5)
    moved = middle(tilted["shadow"]) - middle(straight["shadow"])
    rise = 2 * np.radians(10 / 60) * 1038 / 1200
    assert moved == pytest.approx([-rise, 0], abs=5e-5)
    across = middle(outlines(Pose(tilt_y_arcmin=10.0))["shadow"])
    assert abs(across[1]) == pytest.approx(rise, abs=5e-5)


@pytest.mark.parametrize("turn", [0.0, 50.0, 120.0, 200.0, 310.0])
def test_reflections_move_towards_the_side_of_the_mirror_that_is_raised(turn: float) -> None:
    """The raised side is found from where its rim is seen. A beam sent down the axis comes back on the other."""
    angle = np.radians(turn)
    pose = Pose(tilt_x_arcmin=10 * np.cos(angle), tilt_y_arcmin=10 * np.sin(angle))
    straight, tilted = outlines(), outlines(pose)
    rim = np.stack([np.cos(np.linspace(0, 2 * np.pi, 181)), np.sin(np.linspace(0, 2 * np.pi, 181)), np.zeros(181)])
    raised = int(np.argmax((pose.matrix @ (75 * rim))[2]))
    side = straight["primary"][:, raised] / np.linalg.norm(straight["primary"][:, raised])
    for name in ("drawtube_again", "shadow"):
        moved = middle(tilted[name]) - middle(straight[name])
        assert side @ moved / np.linalg.norm(moved) == pytest.approx(1, abs=0.02)
    back = rays.mirrored(np.array([[0.0], [0.0], [-1.0]]), (pose.matrix @ np.array([0.0, 0.0, 1.0]))[:, None])[:2, 0]
    assert back @ rim[:2, raised] < 0


def test_view_of_a_tipped_diagonal() -> None:
    """All that is seen in it moves, by about twice the tip along the tube and once for a twist across it."""
    tipped, twisted = outlines(tip=10.0), outlines(twist=10.0)
    assert abs(middle(tipped["primary"])[0]) == pytest.approx(2 * np.radians(10 / 60) * 1038 / 1200, rel=0.02)
    assert abs(middle(twisted["primary"])[1]) == pytest.approx(np.radians(10 / 60) * 1038 / 1200, rel=0.02)
    assert middle(tipped["drawtube"]) == pytest.approx([0, 0])


def test_offset_shows_the_shadow_off_the_middle() -> None:
    """Away from the focuser and towards the primary: seen in the primary it stands by so much to the mirror's end."""
    seen = outlines(offset=2.0)
    assert middle(seen["shadow"])[0] == pytest.approx(-2.0 / 1200, rel=0.02)


@pytest.mark.parametrize("way", ["tip", "twist"])
def test_turning_the_diagonal_moves_the_field_from_the_mirrors_axis(way: str) -> None:
    """The star on the mirror's axis leaves the middle of the field by the shift that the turn was worked out from."""
    turn = {"tip": collimation.diagonal_tip_arcmin, "twist": collimation.diagonal_twist_arcmin}[way](2.0, 162)
    turned = {"tip": (turn, 0.0), "twist": (0.0, turn)}[way]
    telescope = Telescope(Mirror(150, 1200, -1, 0), Diagonal(40, 162, 0.0, *turned))
    start = starlight(telescope, (0.0, 0.0, -1.0), 60, 150)
    traced = follow(telescope, start, np.broadcast_to(np.array([[0.0], [0.0], [-1.0]]), start.shape))
    through = traced.lost == ARRIVES
    moved = (np.mean(traced.u[through]), np.mean(traced.y[through]))
    assert np.abs(moved) == pytest.approx((2.0, 0.0) if way == "tip" else (0.0, 2.0), abs=0.03)


def test_refocusing_against_the_lens_equation() -> None:
    """1/f = 1/o + 1/i: an object so much nearer the lens than its focal length leaves light of that vergence."""
    focal_length, nearer = 25.0, 0.3
    image = 1 / (1 / focal_length - 1 / (focal_length - nearer))
    from_the_focal_point = image - focal_length  # where an eye at the lens's rear focus finds the image
    assert offaxis.refocus_dioptre(1000 * nearer, focal_length) == pytest.approx(-1000 / from_the_focal_point)


def test_spot_behind_the_eyepiece() -> None:
    """10 µm at 100 mm are a ten-thousandth of a radian, 0.34′; the diameter is twice the radius."""
    assert offaxis.spot_seen_arcmin(5.0, 100.0) == pytest.approx(60 * np.degrees(np.arctan(1e-4)))
