"""The primary's glass against integrals taken by a general library."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from dossier.calc.mechanics.blank import centre_thickness_mm, mirror_centroid_mm
from dossier.calc.optics.diagonal import face_offset_mm, major_axis_mm
from dossier.calc.optics.first_order import sagitta_mm
from dossier.calc.optics.surface_allowance import surface_rms_limit_nm
from dossier.calc.optics.wavefront import surface_loss
from dossier.working import NoAnswer


@pytest.mark.parametrize("conic", [0.0, -1.0, -1.4, 0.5])
def test_centre_of_mass_by_rings(conic: float) -> None:
    """Rings of glass from the flat back up to the curve, and a flat shoulder outside the clear aperture."""
    aperture, focal, blank, edge = 150.0, 450.0, 158.0, 22.0
    sagitta = sagitta_mm(aperture, focal, conic)
    back = sagitta - edge

    def top(r: float) -> float:
        return sagitta_mm(2 * r, focal, conic) if r < aperture / 2 else sagitta

    def whole(of: object) -> float:
        inner, outer = quad(of, 0, aperture / 2), quad(of, aperture / 2, blank / 2)
        return float(inner[0] + outer[0])

    volume = whole(lambda r: 2 * math.pi * r * (top(r) - back))
    moment = whole(lambda r: math.pi * r * (top(r) ** 2 - back**2))
    assert mirror_centroid_mm(blank, edge, focal, conic, sagitta) == pytest.approx(moment / volume, rel=1e-9)


def test_a_flat_disc_balances_in_its_middle() -> None:
    assert mirror_centroid_mm(200, 30, 1e9, -1, 1e-9) == pytest.approx(-15)
    assert centre_thickness_mm(25, 1.2) == pytest.approx(23.8)


def test_the_allowance_spends_what_the_surface_loses() -> None:
    """Both ways: the loss of the allowed surface takes the smooth mirror to what is wanted."""
    allowed = surface_rms_limit_nm(0.93, 0.82, 520)
    assert 0.93 * surface_loss(allowed, 520) == pytest.approx(0.82)
    assert surface_rms_limit_nm(0.8, 0.8, 550) == 0


def test_no_polish_makes_up_for_a_bad_curve() -> None:
    with pytest.raises(NoAnswer, match="curve alone"):
        surface_rms_limit_nm(0.75, 0.8, 550)


def test_the_diagonal_seen_from_the_front_is_round() -> None:
    """A face of 1 : √2 at 45° projects to a circle; a point of its plane lies as far along the axis as across it."""
    assert major_axis_mm(31) * math.cos(math.radians(45)) == pytest.approx(31)
    assert face_offset_mm(0.9) == pytest.approx(math.hypot(0.9, 0.9))
