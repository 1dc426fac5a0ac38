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
            "cell": ("parts",), "focus": ("numbers",)}
        assert {step.slug: step.why for step in kit.read} == {"rings": ("text",)}
        assert next(step.numbers for step in kit.steps if step.slug == "focus") == (
            ("Focus fits", "900\u202fmm", "910\u202fmm"), ("", "6.92", "7"))
        assert [(check.slug, check.target) for check in kit.checks] == [
            ("cell", "flush"), ("aim", "central"), ("focus", "910\u202fmm")]


HEAD_BUT_PRIMARY = """\
format: 1
about: {name: Reed 130}
readers: {units: metric, currency: EUR}
diagonal: {minor_axis: 36 mm}
focuser: {mounting_radius: 90 mm, height: 50 mm, travel: 30 mm}
"""


def test_new_stock_is_bought_by_the_length_and_once_for_the_parts_that_share_it(reed: Write) -> None:
    """Three poles of 700 mm want two lengths of 2 m, out of whose second come two struts of 600 mm as well."""
    def by_length(*pieces: int) -> str:
        return cut(*pieces).replace("{from", "{price_of: length, from", 1)

    struts = {"ref": "P3", "name": "Struts", "get": "make", "quantity": 2}
    folder = reed("parts:\n" + part(**POLES, cut=by_length(640)) + part(**struts, cut=by_length(400, 2)))
    issued(folder)
    reed("parts:\n" + part(**POLES, cut=by_length(700)) + part(**struts, cut=by_length(600, 2)))
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


def told(slug: str, *, parts: str = "", needs: str = "", more: str = "", target: str = "flush",
         body: str = "Do it.") -> str:
    """One step with one check."""
    return (f"---\ntitle: {slug}\nparts: [{parts}]\nneeds: [{needs}]\n{more}"
            f"checks: [{{what: {slug}, target: \"{target}\", tolerance: 2 mm}}]\n---\n\n{body}\n")


def test_a_workshop_step_bears_on_what_uses_the_pieces_made_anew(reed: Write) -> None:
    """A new side of the rocker is painted and hung again; a cage that is painted on the same day is not."""
    steps = {"pages/steps/1-cut.md": told("cut", parts="P1, P2", more="makes: [P1, P2]\n"),
             "pages/steps/2-rocker.md": told("rocker", parts="P1", needs="cut", more="wait: 12 h\n"),
             "pages/steps/3-cage.md": told("cage", parts="P2", needs="cut", more="wait: 12 h\n"),
             "pages/steps/4-paint.md": told("paint", needs="rocker, cage", more="wait: 48 h\n"),
             "pages/steps/5-focuser.md": told("focuser", needs="paint"),
             "pages/steps/6-hang.md": told("hang", needs="rocker, focuser"),
             "pages/steps/7-aim.md": told("aim", needs="hang")}
    made = "parts:\n" + part(ref="P1", name="{side}", get="make") + part(ref="P2", name="Ring", get="make")
    folder = reed(made.replace("{side}", "Low side"), **steps)
    issued(folder)
    reed(made.replace("{side}", "High side"))
    with compared(folder, "A") as (_, kit):
        assert [step.slug for step in kit.steps] == ["cut", "rocker"]
        assert [check.slug for check in kit.checks] == ["cut", "rocker", "paint", "hang", "aim"]


@pytest.mark.parametrize(("target", "done", "checked"), [("901 mm", [], ["a", "b"]), ("905 mm", ["a"], ["a", "b"])])
def test_a_target_that_moves_within_its_tolerance_is_only_measured_again(reed: Write, target: str, done: list[str],
                                                                         checked: list[str]) -> None:
    folder = reed(**{"pages/steps/1-a.md": told("a", target="900 mm"),
                     "pages/steps/2-b.md": told("b", needs="a", target="1 mm"),
                     "pages/steps/3-c.md": told("c", body="Some {{ optics.focal_ratio }}.")})
    issued(folder)
    reed(**{"pages/steps/1-a.md": told("a", target=target),
            "pages/steps/3-c.md": told("c", body="It is {{ optics.focal_ratio }}.")})
    with compared(folder, "A") as (_, kit):
        assert [step.slug for step in kit.steps] == done
        assert [check.slug for check in kit.checks] == checked[:1 + len(done)]
        assert ("c", ("text",)) in [(step.slug, step.why) for step in kit.read]


def test_what_is_glued_to_a_replaced_piece_is_used_once_more(reed: Write) -> None:
    """Plug and glue go with the old poles; the ring that they are bolted to stays, and so does the screw."""
    poles = "parts:\n" + part(ref="P1", name="{pole}", get="make") + part(
        ref="P2", name="Plug", get="make", mass="6 g") + part(ref="P3", name="Epoxy", get="buy") + part(
        ref="P4", name="Ring", get="make", mass="90 g") + part(ref="P5", name="Screw", get="buy", mass="5 g")
    folder = reed(poles.replace("{pole}", "Carbon pole"), **{
        "pages/steps/1-cut.md": told("cut", parts="P1, P2", more="makes: [P1, P2]\n"),
        "pages/steps/2-plug.md": told("plug", parts="P1, P2, P3", needs="cut", more="wait: 24 h\n"),
        "pages/steps/3-stand.md": told("stand", parts="P1, P4, P5", needs="plug")})
    issued(folder)
    reed(poles.replace("{pole}", "Aluminium pole"))
    with compared(folder, "A") as (_, kit):
        assert [step.slug for step in kit.steps] == ["cut", "plug", "stand"]
        assert [(once.ref, once.steps) for once in kit.once_more] == [("P2", (2,)), ("P3", (2,))]


def test_what_was_at_hand_is_left_over_too(reed: Write) -> None:
    folder = reed("parts:\n" + part(ref="P1", name="Valve springs", get="have", quantity=3))
    issued(folder)
    reed("parts:\n" + part(ref="P1", name="Soft springs", get="buy", quantity=3, pack=5, price=3))
    with compared(folder, "A") as (_, kit):
        assert [(over.name, over.pieces) for over in kit.left_over] == [("Valve springs", 3), ("Soft springs", 2)]


def test_one_more_out_of_a_pack_is_taken_from_it(reed: Write) -> None:
    feet = {"ref": "P1", "name": "Feet", "get": "buy", "pack": 8, "price": 2}
    folder = reed("parts:\n" + part(**feet, quantity=3), **{"pages/steps/1-feet.md": told("feet", parts="P1")})
    issued(folder)
    reed("parts:\n" + part(**feet, quantity=10))
    with compared(folder, "A") as (_, kit):
        assert [(line.ref, line.pieces) for line in kit.from_packs] == [("P1", 5)]
        assert [(line.pieces, line.packs) for line in kit.buy] == [(2, 1)]
        assert [step.slug for step in kit.steps] == ["feet"]


def test_an_old_piece_is_reworked_where_the_plan_says_how(reed: Write) -> None:
    mat = {"ref": "P1", "get": "make", "price": 5.90, "quantity": 1}
    folder = reed("parts:\n" + part(**mat, name="Mat 648 mm"), **{"pages/steps/1-mat.md": told("mat", parts="P1")})
    issued(folder, 1)
    reed("parts:\n" + part(**mat, name="Mat 640 mm", from_old="Cut 8 mm off."))
    issued(folder, 2)
    reed("parts:\n" + part(**mat, name="Mat 700 mm", from_old="Cut 8 mm off."))
    with compared(folder, "A", "B") as (_, kit):
        assert [(line.ref, line.old_name, line.how, line.pieces) for line in kit.rework] == [
            ("P1", "Mat 648 mm", "Cut 8 mm off.", 1)]
        assert (kit.buy, kit.make, kit.left_over, kit.cost) == ((), (), (), 0)
        assert [step.slug for step in kit.steps] == ["mat"]
    with compared(folder, "B") as (_, kit):  # what was said for B is not said for what follows
        assert (kit.rework, kit.cost) == ((), 5.90)
