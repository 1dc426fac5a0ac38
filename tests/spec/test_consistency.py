"""References, prices, goals, stocks: what the keys of a spec must have in common."""

from __future__ import annotations

import pytest

from dossier.spec.defaults import slug
from tests.spec.conftest import Load, Say

MONEY = "readers: {currency: EUR}\n"

FAULTS = [
    ("parts: [{ref: P1, name: A}, {ref: P2, name: B}, {ref: P1, name: C}]",
     "parts[2].ref: is used twice, first at parts[0].ref (got P1)"),
    ("notes: [{id: N1, title: A}, {id: N1, title: B}]", "notes[1].id: is used twice, first at notes[0].id (got N1)"),
    ("parts: [{ref: P1, name: A}]\nnotes: [{id: N1, title: A, parts: [P1, P11]}]",
     "notes[0].parts[1]: is no reference of a part (got P11) — did you mean 'P1'?"),
    ("eyepieces: [{name: 25 mm Plössl}, {name: '25-mm PLOSSL'}]",
     "eyepieces[1].name: gives the same ID, 25-mm-plossl, as 25 mm Plössl at eyepieces[0].name; name them apart (got "
     "25-mm PLOSSL)"),
    ("eyepieces: [{name: окуляр}]",
     "eyepieces[0].name: needs a letter from a to z or a digit, from which its ID is made (got окуляр)"),
    ("parts: [{ref: P1, name: A, group: Finishing}, {ref: P2, name: B, group: finishing}]",
     "parts[1].group: gives the same ID, finishing, as Finishing at parts[0].group; write them alike or name them "
     "apart (got finishing)"),
    ("parts: [{ref: P1, name: A, cut: {from: ply, stock_length: 1 m, stock_width: 600 mm, pieces: [{length: 1 mm}]}}]",
     "parts[0].cut.pieces[0]: is a piece of sheet and needs width as well, such as width: 300 mm"),
    ("parts: [{ref: P1, name: A, cut: {from: ply, stock_length: 1 m, pieces: [{length: 1 mm, width: 1 mm}]}}, "
     "{ref: P2, name: B, cut: {from: ply, stock_length: 1 m, pieces: [{length: 1 mm}]}}]",
     "parts[1].cut.from: is a sheet at parts[0].cut and no sheet at parts[1].cut; name the stocks apart"),
    (MONEY + "parts: [{ref: P1, name: A, price: 3, cut: {from: rod, price_of: length, stock_length: 1 m, "
     "pieces: [{length: 1 mm}]}}, {ref: P2, name: B, price: 4, cut: {from: Rod, price_of: length, stock_length: 1 m, "
     "pieces: [{length: 1 mm}]}}]",
     "parts[1].price: is of a length of Rod and not the same as at parts[0].price (4, 3); say it once, or name the "
     "stocks apart"),
    (MONEY + "parts: [{ref: P1, name: A, price: 3, cut: {from: ply, price_of: length, stock_length: 1 m, "
     "stock_width: 600 mm, pieces: [{length: 1 mm, width: 1 mm}]}}]",
     "parts[0].cut.price_of: is length, but its stock is a sheet; leave it out"),
    ("parts: [{ref: P1, name: A, price: 3}, {ref: P2, name: B, price: 4}]",
     "parts[0].price: is a price, so readers.currency must say in what, such as EUR"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, price: 3}]}]",
     "parts[0].instead[0].price: is a price, so readers.currency must say in what, such as EUR"),
    ("goals: [{result: figure.strehl}]", "goals[0]: needs at_least or at_most, such as at_least: 0.8"),
    ("goals: [{result: figure.strehl, at_least: 0.8, at_most: 1}]",
     "goals[0]: has at_least and at_most; make two goals of it"),
    ("goals: [{result: a.b, at_least: 1}, {result: a.b, at_least: 2}]",
     "goals[1]: says at_least for a.b again, first at goals[0]"),
    ("goals: [{result: strehl, at_least: 1}]",
     "goals[0].result: wants the ID of a result such as figure.strehl (got strehl)"),
    ("goals: [{result: a.b, at_most: 3 zz}]", "goals[0].at_most: has an unknown unit, 'zz'"),
    ("goals: [{result: a.b, at_most: much}]",
     "goals[0].at_most: wants a number, or a text with a unit (got much)"),
    ("goals: [{result: a.b, at_most: .inf}]", "goals[0].at_most: must be a finite number (got inf)"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {primary.conik: -1}}]}]",
     "parts[0].instead[0].set.primary.conik: primary.conik is no key of the spec — did you mean 'primary.conic'?"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {primary.aperture: 200}}]}]",
     "parts[0].instead[0].set.primary.aperture: needs a unit, such as 150 mm (got 200)"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {primary: {conic: 0}}}]}]",
     "parts[0].instead[0].set.primary: cannot be changed as a whole; name one of its values"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {frame.material: {density: 1}}}]}]",
     "parts[0].instead[0].set.frame.material.density: needs a unit, such as 2230 kg/m^3 (got 1)"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {frame.material: {densty: 1 kg/m^3}}}]}]",
     "parts[0].instead[0].set.frame.material.densty: is no property of a material — did you mean 'density'?"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: {frame.material: {density: '{{ a.b }}'}}}]}]",
     "parts[0].instead[0].set.frame.material.density: wants a value of its own, not an expression"),
    ("parts: [{ref: P1, name: A, instead: [{name: B, set: [1]}]}]",
     "parts[0].instead[0].set: wants a map of keys such as {primary.conic: -1} (got a list)"),
    ("tolerances: {primary.focal_lenght: 6 mm}",
     "tolerances.primary.focal_lenght: primary.focal_lenght is no key of the spec — did you mean "
     "'primary.focal_length'?"),
    ("tolerances: {primary.focal_length: 6}", "tolerances.primary.focal_length: needs a unit, such as 150 mm (got 6)"),
    ("tolerances: {primary.focal_length: -6 mm}",
     "tolerances.primary.focal_length: must not be negative (got -6 mm)"),
    ("tolerances: {conditions.used_at: 6 mm}",
     "tolerances.conditions.used_at: is a length, wants a temperature such as 5 K (got 6 mm)"),
    ("tolerances: {about.name: 6 mm}", "tolerances.about.name: has no tolerance; name one of its values"),
    ("cell: {push: {force: 4 N, spring: {rate: 1 N/mm}}}",
     "cell.push.force: stands beside cell.push.spring, which sets the force already; remove one"),
    ("cell: {push: {spring: {rate: 1 N/mm, wire: 1 mm, mean_diameter: 9 mm, active_coils: 6, material: steel}}}",
     "cell.push.spring.rate: stands beside wire, from which the rate follows; remove one"),
    ("cell: {push: {spring: {wire: 1 mm, active_coils: 6, material: steel}}}",
     "cell.push.spring: has wire and so needs mean_diameter as well"),
    ("cell: {push: {spring: {wire: 1 mm, active_coils: 6, mean_diameter: 9 mm}}}",
     "cell.push.spring: has wire and so needs material as well, such as spring-steel"),
    ("parts: [{ref: P1, name: A, cut: {from: tube, stock_length: 2 m, pieces: []}}]",
     "parts[0].cut.pieces: wants at least one piece"),
    ("parts: [{ref: P1, name: A, cut: {from: tube, stock_length: 2 m, pieces: [{length: 2001 mm}]}}]",
     "parts[0].cut.pieces[0].length: is longer than its stock: 2001 mm from 2000 mm"),
    ("parts: [{ref: P1, name: A, cut: {from: tube, stock_length: 2 m, trim: 10 mm, pieces: [{length: 1995 mm}]}}]",
     "parts[0].cut.pieces[0].length: is longer than its stock: 1995 mm from 2000 mm less 10 mm of trim"),
    ("parts: [{ref: P1, name: A, cut: {from: ply, stock_length: 2 m, stock_width: 1 m, pieces: [{length: 1 m, "
     "width: 2 m}]}}]", "parts[0].cut.pieces[0].width: is wider than its stock: 2000 mm from 1000 mm"),
    ("parts: [{ref: P1, name: A, cut: {from: tube, stock_length: 2 m, pieces: [{length: 1 m, quantity: 0}]}}]",
     "parts[0].cut.pieces[0].quantity: must be at least 1 (got 0)"),
    ("parts: [{ref: P1, name: A, cut: {from: Tube, stock_length: 2 m, pieces: [{length: 1 m}]}}, {ref: P2, name: B, "
     "cut: {from: tube, stock_length: 3 m, pieces: [{length: 1 m}]}}]",
     "parts[1].cut.stock_length: is not the same as for the same stock at parts[0].cut (3000 mm, 2000 mm)"),
]


@pytest.mark.parametrize(("line", "message"), FAULTS)
def test_fault(problems: Say, least: str, line: str, message: str) -> None:
    said = problems(f"{least}{line}\n")
    assert any(text.partition(": ")[2].startswith(message) for text in said), said


def test_one_price_asks_for_the_currency_once(problems: Say, least: str) -> None:
    said = problems(least + "parts:\n" + "".join(f"  - {{ref: P{n}, name: A, price: {n}}}\n" for n in range(20)))
    assert len(said) == 1


def test_what_agrees(load: Load, least: str) -> None:
    build = load(least + MONEY + """\
goals:
  - {result: figure.strehl, at_least: 0.8}
  - {result: figure.strehl, at_most: "0.9"}
  - {result: figure.sag_difference, at_most: 0.5 um}
tolerances: {primary.focal_length: 6 mm, primary.conic: 0.05, conditions.used_at: 3 K, diagonal.offset: 1/16 in}
parts:
  - ref: P1
    name: Mirror
    price: 42.00
    instead:
      - name: Other
        price: 130
        set: {primary.conic: -1, primary.glass: soda-lime, "eyepieces[0].field_stop": 9 mm}
      - {name: Own, set: {frame.material: {name: our own, density: 700 kg/m^3, poissons_ratio: 0.3}}}
    cut: {from: tube, stock_length: 2 m, trim: 10 mm, pieces: [{length: 1990 mm}], shelf_stock: [{length: 1 m}]}
    holds: {thread: M4, engagement: 8 mm, in: petg, load: 40 N}
  - {ref: P2, name: Screw, price: 0, pack: 100, quantity: 12, spares: 0}
""").build
    assert [goal.at_most for goal in build.goals] == [None, 0.9, "0.5 um"]
    first = build.parts[0]
    assert first.cut is not None
    assert (first.cut.from_, first.cut.pieces[0].quantity, first.cut.shelf_stock[0].length) == ("tube", 1, 1000.0)
    assert first.holds is not None
    assert (first.holds.in_, first.holds.load) == ("petg", 40.0)
    assert first.instead[0].set["primary.conic"] == -1


@pytest.mark.parametrize(("name", "short"), [
    ("25 mm Plössl", "25-mm-plossl"), ("  A—B  ", "a-b"), ("Ø 20 Æ", "o-20-ae"), ("Straße", "strasse"), ("!!!", ""),
    ("aluminium tube 20x17", "aluminium-tube-20x17"),
])
def test_slug(name: str, short: str) -> None:
    assert slug(name) == short
