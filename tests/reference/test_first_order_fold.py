"""The diagonal against its geometry worked out another way: rays as lines, SciPy's root finder and minimiser."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from dossier.calc.optics import diagonal

Telescope = tuple[float, float, float, float]
# Aperture, distance from rim to focus, intercept, minor axis. The first three with the offset worked out beforehand
# from the two extreme rays, the primary taken as flat.
WORKED: dict[Telescope, float] = {
    (114, 900, 150, 25): 0.742402, (150, 1200, 180, 32): 0.926331, (250, 1250, 230, 58): 2.736755,
}
TELESCOPES: list[Telescope] = [*WORKED, (200, 795, 260, 70), (150, 1198.8, 180, 35)]


def clearance_mm(telescope: Telescope, offset: float, field_height: float, side: int) -> float:
    """How far inside the diagonal's end, along its face, the extreme ray to this field height meets its plane.

    In the plane of the fold: x across the tube towards the focuser, z along it from the plane of the rim. ``side`` 1
    is the rim point and the field point nearer the focuser (the focal plane unfolded), and so the outer end.
    """
    aperture, rim_to_focus, intercept, minor_axis = telescope
    start = np.array([side * aperture / 2, 0.0])
    goal = np.array([side * field_height, rim_to_focus])
    # The face is the line x = z − (rim_to_focus − intercept).
    along = brentq(lambda t: _off_the_face(start + t * (goal - start), rim_to_focus - intercept), 0, 1, xtol=1e-15)
    met = start + along * (goal - start)
    end = -offset + side * minor_axis / 2
    return float(side * (end - met[0]))


def _off_the_face(point: np.ndarray, station: float) -> float:
    return float(point[0] - (point[1] - station))


def lit_height_mm(telescope: Telescope, offset: float, side: int) -> float:
    """The field height at which the extreme ray on this side just meets the diagonal's end."""
    return float(brentq(lambda height: clearance_mm(telescope, offset, height, side), -60, 60, xtol=1e-12))


@pytest.mark.parametrize("telescope", TELESCOPES)
def test_full_offset_lights_both_sides_alike(telescope: Telescope) -> None:
    aperture, rim_to_focus, intercept, minor_axis = telescope
    sought = brentq(lambda d: lit_height_mm(telescope, d, 1) - lit_height_mm(telescope, d, -1), -1, 12, xtol=1e-12)
    offset = diagonal.full_offset_mm(aperture, rim_to_focus, intercept, minor_axis)
    assert offset == pytest.approx(sought, abs=1e-9)


@pytest.mark.parametrize("telescope", TELESCOPES)
@pytest.mark.parametrize("offset", [0.0, 1.0, 4.0])
def test_fully_lit_field_in_the_plane_of_the_fold(telescope: Telescope, offset: float) -> None:
    aperture, rim_to_focus, intercept, minor_axis = telescope
    reach = min(lit_height_mm(telescope, offset, 1), lit_height_mm(telescope, offset, -1))
    field = diagonal.full_field_in_fold_mm(aperture, rim_to_focus, intercept, minor_axis, offset)
    assert field == pytest.approx(max(0.0, 2 * reach), abs=1e-9)


@pytest.mark.parametrize("telescope", WORKED)
def test_offsets_worked_out_beforehand(telescope: Telescope) -> None:
    aperture, focal_length, intercept, minor_axis = telescope
    offset = diagonal.full_offset_mm(aperture, focal_length, intercept, minor_axis)
    assert round(offset, 6) == WORKED[telescope]


@pytest.mark.parametrize(("aperture", "rim_to_focus", "intercept"),
                         [(200, 1200, 280), (150, 1198.8, 180), (300, 1180, 330)])
def test_least_minor_axis_catches_the_cone_all_round(aperture: float, rim_to_focus: float, intercept: float) -> None:
    """The cone's lines cut by the 45° plane, round the rim, and the smallest 1 : √2 ellipse that holds them."""
    round_the_rim = np.linspace(0, 2 * math.pi, 4001)
    slope = aperture / 2 / rim_to_focus
    # A line to the focus stands at slope × distance from the axis; on the face the distance is intercept − x.
    across = slope * intercept / (1 + slope * np.cos(round_the_rim))
    x, y = across * np.cos(round_the_rim), across * np.sin(round_the_rim)

    def needed(offset: float) -> float:
        return 2 * float(np.max(np.hypot(x + offset, y)))

    best = minimize_scalar(needed, bounds=(0, 20), method="bounded", options={"xatol": 1e-10})
    assert diagonal.least_minor_axis_mm(aperture, rim_to_focus, intercept) == pytest.approx(best.fun, rel=1e-6)
    assert diagonal.cone_cut_offset_mm(aperture, rim_to_focus, intercept) == pytest.approx(best.x, abs=1e-3)
    assert diagonal.cone_cut_minor_axis_mm(aperture, rim_to_focus, intercept) == pytest.approx(2 * np.max(y), rel=1e-6)
