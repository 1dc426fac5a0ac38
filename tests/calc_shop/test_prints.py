"""Printed parts against a box, a cylinder and a list worked out on paper."""

from __future__ import annotations

import math

import pytest

from dossier.calc.shop.prints import (
    filament_m,
    fits_printer,
    kit_print_cost_money,
    kit_print_time_h,
    print_time_h,
    printed_cost_money,
    printed_mass_kg,
    printed_volume_cm3,
)


def test_printed_box_on_paper() -> None:
    """A cube of 20 mm: 8000 mm³, 1600 mm² of sides, 800 mm² of top and bottom; three walls of 0.4 mm and a skin of
    1 mm make 1920 + 800 mm³, a quarter of the rest is filled: 2720 + 1320 = 4040 mm³."""
    volume = printed_volume_cm3(8000, 1600, 800, 3, 0.4, 1.0, 0.25)
    assert volume == pytest.approx(4.04)
    assert printed_mass_kg(1250, volume) == pytest.approx(0.00505)
    assert print_time_h(4.04, 50, 0.4, 0.2, 0.5) == pytest.approx(2020 / 3600)
    assert printed_cost_money(0.05, 24, 1) == pytest.approx(1.2)


def test_filament_of_a_kilogram() -> None:
    """A kilogram of 1240 kg/m³ is 806.45 cm³; of 1.75 mm it is 335 m long, as spools are sold (common practice)."""
    assert filament_m(1e6 / 1240, 1.75) == pytest.approx(335, abs=0.5)
    assert filament_m(math.pi / 4 * 1.75**2, 1.75) == pytest.approx(1.0)


def test_what_is_thinner_than_its_walls_is_solid() -> None:
    assert printed_volume_cm3(8000, 1600, 800, 20, 0.4, 1.0, 0.25) == pytest.approx(8.0)


@pytest.mark.parametrize("fill", [0.0, 1.0])
def test_fill_goes_from_hollow_to_solid(fill: float) -> None:
    assert printed_volume_cm3(8000, 1600, 800, 3, 0.4, 1.0, fill) == pytest.approx(8.0 if fill else 2.72)


def test_sums_of_a_kit() -> None:
    """Three of 2 h with a spare, one of 5 h: 13 h. The same with 0.50 and 1.20: 3.20."""
    assert kit_print_time_h((3, 1), (1, 0), (2.0, 5.0)) == pytest.approx(13)
    assert kit_print_cost_money((3, 1), (1, 0), (0.5, 1.2)) == pytest.approx(3.2)


@pytest.mark.parametrize(("size", "fits"), [
    ((200, 150, 50), True), ((150, 240, 50), True), ((240, 190, 50), False), ((100, 100, 260), False),
])
def test_fits_printer(size: tuple[float, float, float], fits: bool) -> None:
    assert fits_printer(size, (250, 180, 250)) is fits


def test_part_without_a_size() -> None:
    with pytest.raises(ValueError, match="size x"):
        fits_printer((0, 1, 1), (1, 1, 1))
