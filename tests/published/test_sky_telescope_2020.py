"""*Sky & Telescope*, January 2020, pages 32 and 33: gratings over a telescope's aperture, at 560 nm.

Meshes are counted there in periods to the inch. Angles are printed to the arcsecond, "about" before some.
"""

import pytest

from dossier.calc.optics.focusing_mask import (
    first_order_arcsec,
    outer_orders_apart_arcsec,
    slot_pitch_mm,
    slot_tilt_deg,
)

WAVELENGTH_NM = 560


@pytest.mark.proves("first_order_arcsec", source="sky-telescope-2020", known="read")
@pytest.mark.parametrize(("to_the_inch", "printed_arcsec"), [(7, 32), (5, 23)])
def test_first_order_of_a_mesh(to_the_inch: int, printed_arcsec: int) -> None:
    assert round(first_order_arcsec(WAVELENGTH_NM, 25.4 / to_the_inch)) == printed_arcsec


@pytest.mark.proves("outer_orders_apart_arcsec", source="sky-telescope-2020", known="read")
@pytest.mark.parametrize(("pitch_mm", "tilt_deg", "printed_arcsec"), [(12.7, 20, 6), (25.4 / 7, 10, 11)])
def test_outer_two_of_three_first_orders(pitch_mm: float, tilt_deg: float, printed_arcsec: int) -> None:
    """Tilts of 40° from one outer set to the other, and of 10° to either side."""
    apart = outer_orders_apart_arcsec(first_order_arcsec(WAVELENGTH_NM, pitch_mm), tilt_deg)
    assert round(apart) == printed_arcsec


@pytest.mark.proves("slot_pitch_mm", source="sky-telescope-2020", known="read")
@pytest.mark.parametrize(("aperture_mm", "printed_arcsec"), [(60, 30), (500, 10)])
def test_pitch_puts_the_first_order_between_10_and_30_arcseconds(aperture_mm: float, printed_arcsec: int) -> None:
    """The finest and the coarsest mask. The periods are printed as "roughly 11 to 3.5 mm", for 10″ and 33″."""
    assert round(first_order_arcsec(WAVELENGTH_NM, slot_pitch_mm(WAVELENGTH_NM, aperture_mm))) == printed_arcsec


@pytest.mark.proves("slot_tilt_deg", source="sky-telescope-2020", known="read")
@pytest.mark.parametrize("to_the_inch", [5, 6, 7])
def test_tilt_for_meshes_of_five_to_seven(to_the_inch: int) -> None:
    """"The best tilt angle is roughly 10° to 20°"."""
    assert 10 <= slot_tilt_deg(first_order_arcsec(WAVELENGTH_NM, 25.4 / to_the_inch)) <= 20


def test_tilt_keeps_the_outer_two_apart_where_the_mesh_is_coarse() -> None:
    """"Maintain at least this 6-arcsecond separation"."""
    first = first_order_arcsec(WAVELENGTH_NM, 11)
    assert outer_orders_apart_arcsec(first, slot_tilt_deg(first)) == pytest.approx(6)
