"""D. J. Schroeder, *Astronomical Optics*, chapter 5: a sphere against the paraboloid, 200 mm f/6."""

import pytest

from dossier.calc.optics.sphere import (
    longitudinal_aberration_third_order_mm,
    sag_difference_nm,
    wavefront_pv_third_order_wave,
)


@pytest.mark.proves("sag_difference_nm", source="schroeder-2000", known="recalled")
def test_sag_difference_of_a_sphere() -> None:
    """r⁴/8R³ gives 904 nm. That is the first term; the second is r²/2R² of it, 0.8 nm, which the exact form has too."""
    assert round(sag_difference_nm(200, 1200, 0) - 0.8) == 904


@pytest.mark.proves("wavefront_pv_third_order_wave", source="schroeder-2000", known="recalled")
def test_wavefront_of_a_sphere_at_best_focus() -> None:
    """D/2048F³ at 550 nm."""
    assert wavefront_pv_third_order_wave(200, 6, 0, 0.55) == pytest.approx(0.822, abs=0.005)


@pytest.mark.proves("longitudinal_aberration_third_order_mm", source="schroeder-2000", known="recalled")
def test_edge_of_a_sphere_focuses_nearer_the_mirror() -> None:
    """r²/4R, towards the mirror: 100²/(4 × 2400) = 1.04 mm."""
    assert round(longitudinal_aberration_third_order_mm(200, 1200, 0), 2) == -1.04
