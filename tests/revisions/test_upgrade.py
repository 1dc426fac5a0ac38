"""The upgrade kit, on made-up builds: packs, prices, pieces sawn from old ones, what is left over, steps and checks."""

from __future__ import annotations

import pytest

from tests.revisions.conftest import Write, compared, issued

STEP = """\
---
title: {title}
parts: [{parts}]
needs: [{needs}]
checks: [{{what: {title} fits, target: "{target}", tolerance: 0.5 mm}}]
---

{body}
"""


def part(**keys: object) -> str:
    """One line of a parts list."""
    return "  - {" + ", ".join(f"{key}: {value}" for key, value in keys.items()) + "}\n"


def cut(length: float, quantity: int = 3, stock: str = "tube") -> str:
    return f"{{from: {stock}, stock_length: 2000 mm, pieces: [{{length: {length} mm, quantity: {quantity}}}]}}"


SCREWS = {"ref": "P1", "name": "Screws", "get": "buy", "price": 4.00, "pack": 25}
POLES = {"ref": "P2", "name": "Poles", "get": "make", "price": 15.00, "pack": 3, "quantity": 3}


@pytest.mark.parametrize(("before", "after", "bought"), [
    ({"quantity": 20}, {"quantity": 24}, []),                                    # five are left in the first pack
    ({"quantity": 20}, {"quantity": 24, "spares": 2}, [(1, 1, 4.00)]),           # one short: another whole pack
    ({"quantity": 20}, {"quantity": 80}, [(55, 3, 12.00)]),
    ({"quantity": 20}, {"quantity": 20, "price": 9.00}, []),                     # a dearer price buys nothing again
    ({"quantity": 20}, {"quantity": 20, "why": "sure", "supplier": "a shop"}, []),
    ({"quantity": 20}, {"quantity": 20, "name": "Longer screws"}, [(20, 1, 4.00)]),
    ({"quantity": 20, "get": "have"}, {"quantity": 20}, [(20, 1, 4.00)]),
    ({"quantity": 20}, {"quantity": 20, "get": "have"}, []),
])
def test_whole_packs_of_what_is_wanting(reed: Write, before: dict[str, object], after: dict[str, object],
                                        bought: list[tuple[int, int, float]]) -> None:
    folder = reed("parts:\n" + part(**SCREWS | before))
    issued(folder)
    reed("parts:\n" + part(**SCREWS | after))
    with compared(folder, "A") as (_, kit):
        assert [(line.pieces, line.packs, line.cost) for line in kit.buy] == bought
        assert kit.cost == sum(cost for _, _, cost in bought)


def test_what_is_left_over(reed: Write) -> None:
    folder = reed("parts:\n" + part(**SCREWS, quantity=20) + part(ref="P3", name="Clip", get="print", quantity=3)
                  + part(ref="P4", name="Wing nut", get="buy", quantity=4, price=1))
    issued(folder)
    reed("parts:\n" + part(**SCREWS | {"name": "Longer screws"}, quantity=20)
         + part(ref="P4", name="Wing nut", get="buy", quantity=3, price=1))
    with compared(folder, "A") as (_, kit):
        assert [(over.name, over.pieces, over.of_new_packs) for over in kit.left_over] == [
            ("Screws", 20, False), ("Clip", 3, False), ("Wing nut", 1, False), ("Longer screws", 5, True)]


@pytest.mark.parametrize(("old", "new", "sawn", "cost", "over"), [
    (cut(640), cut(636), [(636, 3, 640)], 0, []),                         # the old ones are sawn down
    (cut(640), cut(645), [(645, 3, None)], 15.00, [3]),                   # too short: new tube, and three old poles
    (cut(640), cut(636, stock="carbon tube"), [(636, 3, None)], 15.00, [3]),
    (cut(640), cut(640), [], 0, []),
])
def test_poles_are_sawn_from_the_old_ones_where_they_are_long_enough(
        reed: Write, old: str, new: str, sawn: list[object], cost: float, over: list[int]) -> None:
    folder = reed("parts:\n" + part(**POLES, cut=old))
    issued(folder)
    reed("parts:\n" + part(**POLES, cut=new))
    with compared(folder, "A") as (found, kit):
        assert [(line.length_mm, line.pieces, line.from_mm) for line in kit.saw] == sawn
        assert kit.cost == cost
        assert [line.pieces for line in kit.left_over] == over
        assert bool(found.cuts) == bool(sawn)


def test_a_part_without_a_price_is_named(reed: Write) -> None:
    folder = reed()
    issued(folder)
    reed("parts:\n" + part(ref="P7", name="Felt", get="buy") + part(ref="P8", name="Cap", get="have"))
    with compared(folder, "A") as (_, kit):
        assert kit.unpriced == ("P7",)
        assert [(line.ref, line.why) for line in kit.at_hand] == [("P8", "new")]


def test_steps_to_repeat_and_checks_to_redo(reed: Write) -> None:
    def build(focal: int, spring: str, body: str) -> dict[str, str]:
        steps = {
            "01-cell": STEP.format(title="Cell", parts="P1", needs="", target="flush", body="Press it in."),
            "02-rings": STEP.format(title="Rings", parts="P2", needs="", target="flush", body=body),
            "03-aim": STEP.format(title="Aim", parts="", needs="cell", target="central", body="Look."),
            "04-focus": STEP.format(title="Focus", parts="", needs="", target="{{ spec.primary.focal_length }}",
                                    body="It is {{ optics.focal_ratio }}."),
            "05-paint": STEP.format(title="Paint", parts="P2", needs="", target="dry", body="Twice."),
        }
        head = f"primary: {{aperture: 130 mm, focal_length: {focal} mm, conic: -1}}\n"
        parts = part(ref="P1", name=spring, get="buy", price=3) + part(ref="P2", name="Ring", get="make")
        return {**{f"pages/steps/{name}.md": text for name, text in steps.items()},
                "build.yaml": f"{HEAD_BUT_PRIMARY}{head}parts:\n{parts}"}

    folder = reed(**build(900, "Stiff spring", "Glue them."))
    issued(folder)
    reed(**build(910, "Soft spring", "Glue and screw them."))
    with compared(folder, "A") as (_, kit):
        assert {step.slug: step.why for step in kit.steps} == {
            "cell": ("parts",), "rings": ("text",), "focus": ("numbers",)}
        assert [(check.slug, check.target) for check in kit.checks] == [
            ("cell", "flush"), ("rings", "flush"), ("aim", "central"), ("focus", "910\u202fmm")]


HEAD_BUT_PRIMARY = """\
format: 1
about: {name: Reed 130}
readers: {units: metric, currency: EUR}
diagonal: {minor_axis: 36 mm}
focuser: {mounting_radius: 90 mm, height: 50 mm, travel: 30 mm}
"""


def test_new_stock_is_bought_by_the_length_and_once_for_the_parts_that_share_it(reed: Write) -> None:
    """Three poles of 700 mm want two lengths of 2 m, out of whose second come two struts of 600 mm as well."""
    struts = {"ref": "P3", "name": "Struts", "get": "make", "quantity": 2}
    folder = reed("parts:\n" + part(**POLES, cut=cut(640)) + part(**struts, cut=cut(400, 2)))
    issued(folder)
    reed("parts:\n" + part(**POLES, cut=cut(700)) + part(**struts, cut=cut(600, 2)))
    with compared(folder, "A") as (_, kit):
        assert [(line.ref, line.packs, line.stock, line.cost) for line in kit.buy] == [("P2", 2, "tube", 30.00)]


def test_a_size_said_at_last_makes_no_other_thing(reed: Write) -> None:
    ring = {"ref": "P9", "name": "Rings", "get": "make", "quantity": 2}
    folder = reed("parts:\n" + part(**ring))
    issued(folder)
    reed("parts:\n" + part(**ring, cut="{from: ply, stock_length: 1220 mm, stock_width: 610 mm, "
                                       "pieces: [{length: 250 mm, width: 250 mm, quantity: 2}]}"))
    with compared(folder, "A") as (_, kit):
        assert not any((kit.buy, kit.saw, kit.make, kit.left_over))
