"""Packs, costs, masses and balance, against lists added up by hand. All parts and prices are invented."""

from __future__ import annotations

import re

import pytest

from dossier.notation.digits import digits_of, written
from dossier.views.packet_parts import parts_list
from dossier.views.parts import parts_view
from dossier.views.questions import QUESTIONS
from dossier.views.site import Sheets
from dossier.views.spoken import Spoken
from dossier.views.tables import by_row
from dossier.views.terminal import check_text
from dossier.views.words.buying import tell

PARTS = """\
readers: {currency: EUR}
mount: {kind: altaz, capacity: 4 kg, pivot: 300 mm}
parts:
  - {ref: A, name: Mirror, group: optics, get: buy, price: 40, mass: 1 kg, station: -10 mm}
  - {ref: B, name: Screws, group: hardware, get: buy, quantity: 6, pack: 10, price: 3, mass: 5 g}
  - {ref: C, name: Rings, group: frame, get: make, quantity: 2, mass: 0.5 kg, station: 1000 mm}
  - {ref: D, name: Eyepiece, group: optics, get: have, price: 30}
  - {ref: E, name: Base, group: mount, get: buy, price: 20, mass: 6 kg}
"""


def test_one_kit_pays_whole_packs_and_nothing_for_what_is_there(design):
    assert design(PARTS).results["parts.cost"].value == 40 + 3 + 20


def test_eight_kits_share_packs(design):
    worked = design(PARTS, kits=8)
    # 48 screws are five packs of ten, not eight.
    assert worked.results["parts.cost_all_kits"].value == 8 * 60 + 5 * 3
    assert worked.results["parts.cost"].value == 63
    assert {line.ref: line.all_packs for line in worked.parts}["B"] == 5


def test_the_mount_carries_all_but_itself(design):
    worked = design(PARTS)
    assert worked.results["mount.load"].value == pytest.approx(1 + 6 * 0.005 + 2 * 0.5)
    assert worked.results["mount.load_share"].value == pytest.approx(2.03 / 4)
    assert worked.results["parts.mass"].value == pytest.approx(8.03)


def test_balance_is_of_what_has_mass_and_station(design):
    worked = design(PARTS)
    assert worked.results["balance.station"].value == pytest.approx((1 * -10 + 1 * 1000) / 2)
    assert worked.results["balance.pivot_arm"].value == pytest.approx(495 - 300)


def test_groups_add_up_to_the_whole(design):
    worked = design(PARTS)
    groups = [result.number for name, result in worked.results.items() if name.startswith("parts.group_cost.")]
    assert sum(groups) == pytest.approx(worked.results["parts.cost"].number)


def test_what_rides_on_the_springs_is_added_up_from_the_parts(design):
    """Two parts of 0.6 kg and three bolts of 0.02 kg by hand; a mass that is typed goes before them."""
    parts = """parts:
- {ref: P1, name: Mirror, mass: 0.6 kg, on_springs: true}
- {ref: P2, name: Plate, mass: 0.6 kg, on_springs: true}
- {ref: P3, name: Bolt, mass: 0.02 kg, quantity: 3, on_springs: true}
- {ref: P4, name: Box, mass: 9 kg}
"""
    cell = "cell: {push: {count: 3, radius: 66 mm, against: plate}}\n"
    assert design(cell + parts).results["cell.moving_mass"].number == pytest.approx(1.26)
    typed = cell.replace("{push", "{moving_mass: 2 kg, push")
    assert design(typed + parts).results["cell.moving_mass"].number == 2


def test_a_price_says_how_old_it_is_and_of_what(design):
    """A part without a price says nothing of one."""
    worked = design("""readers: {currency: EUR}
parts:
- {ref: P1, name: Mirror, price: 40, priced_on: 2026-09-12}
- {ref: P2, name: Screws, price: 3, priced_on: 2026-09-14, pack: 10}
- {ref: P3, name: Nuts, price: 3, pack: 20}
- {ref: P4, name: Washers, price: 3}
- {ref: P5, name: Box, pack: 2}
""")
    view = parts_view(worked, Sheets(worked).page("parts.html"), (), (), Spoken(worked), str)
    assert [re.sub("<[^>]*>", "", row.priced) for group in view.groups for row in group.rows] == [
        "Priced on 2026-09-12", "Priced on 2026-09-14, by the pack of 10", "Priced by the pack of 20", "", ""]


def view_of(worked):
    return parts_view(worked, Sheets(worked).page("parts.html"), (), (), Spoken(worked), str)


def test_masses_stand_as_they_were_typed_and_money_with_two_decimals(design):
    """A mass that is worked out, here of a mirror of 1.0015 kg, is rounded as everywhere; 0.675 kg and 5 g are not."""
    view = view_of(design("""readers: {currency: EUR}
parts:
- {ref: P1, name: Side, mass: 0.675 kg, price: 0}
- {ref: P2, name: Screw, mass: 5 g, price: 3.5}
- {ref: P3, name: Mirror, mass: "{{ cell.mirror_mass }}"}
""", replace={"focal_length: 1200 mm}": "focal_length: 1200 mm, edge_thickness: 26 mm, glass: borosilicate}"}))
    rows = [row for group in view.groups for row in group.rows]
    assert [row.mass.text for row in rows] == ["0.675", "0.005", "1.00"]
    assert [row.price.text for row in rows] == ["0.00", "3.50", ""]


def test_spares_stand_beside_how_many(design):
    worked = design("parts:\n- {ref: P1, name: Screw, quantity: 6, spares: 2}\n- {ref: P2, name: Nut, spares: 1}"
                    "\n- {ref: P3, name: Box}\n", kits=3)
    view = view_of(worked)
    rows = [row for group in view.groups for row in group.rows]
    assert [(row.quantity, row.spares) for row in rows] == [("6", "and 2 spares"), ("1", "and 1 spare"), ("1", "")]
    assert view.list_note == "This list is of one kit. What 3 kits take is in the shopping lists below."
    paper = [(row.each, row.spares, row.needed) for group in parts_list(worked, view).groups for row in group.rows]
    assert paper == [("6", "and 2 spares", "24"), ("1", "and 1 spare", "6"), ("1", "", "3")]


def test_the_table_of_groups_ends_with_their_sum(design):
    worked = design(PARTS + "  - {ref: F, name: Felt, get: buy, price: 2}\n")
    cost = next(question for question in QUESTIONS if question.key == "cost")
    groups = [result for name, result in worked.results.items() if name.startswith("parts.group_cost.")]
    table = by_row(groups, worked, cost)
    last = table.rows[-1]
    assert (last.heading, last.cells[0].text, last.is_sum) == ("Cost of one kit", "65.00", True)
    assert last.remark == "What stands in no group is counted here too."
    assert table.columns[0].title == "Cost of one kit"


def test_a_sum_without_a_price_is_told_as_what_it_is_at_least(design):
    worked = design(PARTS.replace("get: buy, price: 40", "get: buy") + "goals: [{result: parts.cost, at_most: 99}]\n")
    assert tell(worked) == ("**Without a price: A Mirror.** Every sum that lacks one says what is spent at least. "
                            "The limit of at most 99.00\u202fEUR cannot be judged until it has one.")
    text = check_text(worked)
    assert "without a price: A Mirror\n" in text
    assert "not judged: parts.cost: A to buy without a price; parts.cost is at least 23.00 EUR" in text


def test_what_gains_has_its_sign():
    digits = digits_of("alternatives.cost_difference", "money")
    assert [written(value, digits).plain for value in (18, -18, 0, 0.004)] == [
        "+18.00", "\N{MINUS SIGN}18.00", "0.00", "0.00"]
    assert written(0.018, digits_of("", "money")).plain == "0.02"
