"""Balance and buying, against sums that a person does with a pencil."""

import math

import pytest

from dossier.calc.mechanics import balance, mount
from dossier.calc.shop import packs


def test_lever_of_two_weights_balances_between_them() -> None:
    """1 kg at one end and 3 kg at the other of 400 mm: a hundred millimetres from the heavy end."""
    assert balance.centre_of_mass_mm([1, 1], [1.0, 3.0], [0.0, 400.0]) == pytest.approx(300)


def test_pieces_count_as_often_as_they_stand_on_the_list() -> None:
    assert balance.centre_of_mass_mm([3, 1], [1.0, 3.0], [0.0, 400.0]) == pytest.approx(200)
    assert balance.total_mass_kg([3, 1, 12], [0.5, 2.25, 0.01]) == pytest.approx(3.87)


def test_balance_of_nothing_is_not_a_number() -> None:
    assert math.isnan(balance.centre_of_mass_mm([1, 2], [0.0, 0.0], [10.0, 20.0]))


def test_moment_of_a_kilogram_on_a_metre() -> None:
    assert balance.pivot_moment_n_m(1.0, 1000.0) == pytest.approx(9.80665)
    assert balance.pivot_moment_n_m(4.0, balance.pivot_arm_mm(400, 420)) < 0


def test_mount_that_carries_half_of_what_it_may() -> None:
    assert mount.load_share(3, 6) == 0.5


@pytest.mark.parametrize(("quantity", "kits", "pack", "bought"), [
    (1, 1, 1, 1), (3, 1, 10, 1), (10, 1, 10, 1), (11, 1, 10, 2), (3, 8, 10, 3), (12, 8, 100, 1), (0, 8, 10, 0),
])
def test_packs_are_bought_whole(quantity: float, kits: float, pack: float, bought: int) -> None:
    assert packs.pack_count(quantity, kits, pack) == bought


@pytest.mark.parametrize(("quantity", "kits", "pack"), [(0.1, 3, 0.1), (0.7, 1, 0.1), (1.1, 3, 3.3), (0.3, 1, 0.1)])
def test_rounding_of_decimals_buys_no_further_pack(quantity: float, kits: float, pack: float) -> None:
    assert packs.pack_count(quantity, kits, pack) == round(quantity * kits / pack)


def test_shopping_basket() -> None:
    """Mirror 42, six screws from a bag of ten at 3.50, three poles at 7.20: for one kit and for eight."""
    lists = [1, 6, 3], [0, 0, 0], [1, 10, 1], [42.00, 3.50, 7.20]
    assert packs.total_cost_money(*lists, 1, [], []) == pytest.approx(42 + 3.50 + 21.60)
    together = packs.total_cost_money(*lists, 8, [], [])
    assert together == pytest.approx(336 + 5 * 3.50 + 172.80)
    assert packs.cost_per_kit_money(together, 8) == pytest.approx(65.7875)
    assert packs.line_cost_money(packs.pack_count(6, 8, 10), 3.50) == pytest.approx(17.50)


def test_spares_fill_packs_too() -> None:
    """Eight kits of six screws are 48 in five bags of ten; one spare each makes 56 and a sixth bag."""
    assert packs.total_cost_money([6], [1], [10], [3.50], 8, [], []) == pytest.approx(21.00)


def test_lengths_are_paid_for_each() -> None:
    """A bag of screws at 3.50, two tubes of 15.40 and one strip of 4.20."""
    assert packs.total_cost_money([6], [0], [10], [3.50], 1, [2, 1], [15.40, 4.20]) == pytest.approx(38.50)
    assert packs.total_cost_money([], [], [], [], 1, [2], [15.40]) == pytest.approx(30.80)
