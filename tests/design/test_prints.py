"""Printed parts from mesh to mass, time and cost, against a box worked out on paper; what is left out, and why."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from dossier.design import Design, work_out
from dossier.design.asides.prints import printed, table
from dossier.design.pictures.mesh import mesh_views
from dossier.design.plan import plan_for
from dossier.design.worksheet import Worksheet
from dossier.errors import Unusable
from dossier.spec.load import load_build
from tests.conftest import TEASEL
from tests.spec.solids import binary, box

HEAD = "readers: {currency: EUR}\n"
PRINTER = ("printer: {x: 200 mm, y: 200 mm, z: 200 mm, speed: 50 mm/s, layer: 0.2 mm, spool_price: 20, "
           "spool_mass: 1 kg}\n")
PART = ("  - {ref: B1, name: Block, get: print, quantity: 3, spares: 1, print: {mesh: parts/box.stl, material: petg, "
        "fill: 0.25, walls: 2, line: 0.5 mm, skin: 1 mm}}\n")


Make = Callable[..., Design]


@pytest.fixture
def made(build: Callable[..., Path]) -> Make:
    """A build with these lines of YAML and a mesh of a box, 20 × 30 × 40 mm where nothing else is said."""

    def run(*more: str, mesh: bytes | None = None, kits: int = 1) -> Design:
        folder = build(*more)
        (folder / "parts").mkdir(exist_ok=True)
        (folder / "parts" / "box.stl").write_bytes(binary(box(20, 30, 40)) if mesh is None else mesh)
        return work_out(load_build(folder), kits=kits)

    return run


def test_a_box_on_paper(made: Make) -> None:
    """20 × 30 × 40 mm: 24 cm³. Sides 4000 mm² with two lines of 0.5 mm, 4000 mm³; top and bottom 1200 mm² with a skin
    of 1 mm, 1200 mm³; a quarter of the remaining 18,800 mm³ is 4700. Plastic 9.9 cm³, of 1270 kg/m³ 12.573 g; at
    50 mm/s × 0.5 mm × 0.2 mm × ½ = 2.5 mm³/s it takes 3960 s; at 20 a kilogram it costs 0.25."""
    found = made(HEAD, PRINTER, "parts:\n", PART).results
    assert found["print.b1.plastic"].number == pytest.approx(9.9)
    assert found["print.b1.mass"].number == pytest.approx(0.012573)
    assert found["print.b1.filament"].number == pytest.approx(9900 / (np.pi * 0.875**2) / 1000)
    assert found["print.b1.time"].number == pytest.approx(1.1)
    assert found["print.b1.cost"].number == pytest.approx(0.25146)
    assert found["parts.print_time"].number == pytest.approx(4 * 1.1)
    assert found["parts.print_cost"].number == pytest.approx(4 * 0.25146)
    assert "an estimate" in found["print.b1.time"].title
    assert "an estimate" in found["parts.print_time"].title


def test_edges_counted_twice_make_it_a_little_heavy(made: Make) -> None:
    """Exactly, 18 × 28 × 38 mm = 19,152 mm³ are filled by a quarter and 4848 mm³ are solid: 9.636 cm³ in all."""
    found = made(HEAD, PRINTER, "parts:\n", PART).results
    assert 1.0 < found["print.b1.plastic"].number / 9.636 < 1.03


def test_what_is_usual_says_that_nobody_said_it(made: Make) -> None:
    part = PART.replace(", skin: 1 mm", "")
    found = made(HEAD, "parts:\n", part).results
    inputs = found["print.b1.time"].inputs
    for name, value in (("speed_mm_per_s", 50), ("layer_mm", 0.2), ("busy", 0.5)):
        assert (inputs[name].value, inputs[name].origin) == (value, "default")
        assert inputs[name].said == "common practice, no source"
    assert found["print.b1.plastic"].inputs["skin_mm"].value == 1.0
    assert found["print.b1.plastic"].inputs["skin_mm"].said == "as thick as the walls"


def test_the_parts_own_layer_goes_before_the_printers(made: Make) -> None:
    found = made(HEAD, PRINTER, "parts:\n", PART.replace("skin: 1 mm", "skin: 1 mm, layer: 0.4 mm")).results
    assert found["print.b1.time"].number == pytest.approx(0.55)


def test_a_mass_that_is_worked_out_is_counted_as_a_typed_one(made: Make) -> None:
    part = PART.replace("get: print,", "get: print, station: 100 mm, mass: '{{ print.b1.mass }}',")
    found = made(HEAD, PRINTER, "parts:\n", part)
    assert found.build.parts[0].mass == pytest.approx(0.012573)
    assert found.results["parts.mass"].number == pytest.approx(3 * 0.012573)
    assert found.results["balance.station"].number == pytest.approx(100)


def test_a_price_may_be_taken_from_the_spool(made: Make) -> None:
    spool = "  - {ref: S, name: Spool, get: buy, price: '{{ spec.printer.spool_price }}'}\n"
    assert made(HEAD, PRINTER, "parts:\n", PART, spool).results["parts.cost"].number == 20


@pytest.mark.parametrize(("part", "wanting"), [
    (PART.replace("walls: 2, ", ""), "parts[0].print.walls"), (PART.replace("fill: 0.25, ", ""), "parts[0].print.fill"),
    (PART.replace("line: 0.5 mm, ", ""), "parts[0].print.line"),
    (PART.replace("material: petg, ", ""), "parts[0].print.material"),
])
def test_what_the_spec_does_not_say_is_left_out_with_its_name(made: Make, part: str, wanting: str) -> None:
    found = made(HEAD, PRINTER, "parts:\n", part)
    assert found.left_out["print.b1.mass"] == f"the spec does not say {wanting}"
    assert wanting in str(table(found))


def test_without_a_spool_there_is_a_mass_and_no_cost(made: Make) -> None:
    found = made(HEAD, "printer: {x: 200 mm, y: 200 mm, z: 200 mm}\n", "parts:\n", PART)
    assert found.left_out["print.b1.cost"] == "the spec does not say printer.spool_price"
    assert "parts.print_cost" in found.left_out
    assert "parts.print_time" in found.results


def test_a_price_of_a_spool_wants_a_currency(made: Make) -> None:
    with pytest.raises(Unusable, match=r"printer\.spool_price: is a price, so readers\.currency must say in what"):
        made(PRINTER, "parts:\n", PART)


@pytest.mark.parametrize("key", ["speed: 0 mm/s", "speed: 50 mm", "busy: 1.2", "layer: 0.2", "spool_mass: 0 kg"])
def test_a_printer_that_cannot_be(made: Make, key: str) -> None:
    with pytest.raises(Unusable, match=rf"printer\.{key.partition(':')[0]}"):
        made(f"printer: {{x: 200 mm, y: 200 mm, z: 200 mm, {key}}}\n")


CUT_OFF = binary(box(20, 30, 40))[:300]


@pytest.mark.parametrize(("mesh", "why"), [
    (CUT_OFF, "parts/box.stl is cut off: it holds 4 of the 12 triangles that its head counts"),
    (b"", "parts/box.stl is no STL file: it is too short"),
    (binary([one[::-1] for one in box(9, 9, 9)]),
     "parts/box.stl is inside out; turn its facets round in the program that made it"),
])
def test_a_broken_mesh_leaves_out_its_part_alone(made: Make, mesh: bytes, why: str) -> None:
    found = made(HEAD, PRINTER, "parts:\n", PART, "  - {ref: M, name: Mirror, get: buy, price: 30, mass: 1 kg}\n",
                 mesh=mesh)
    rows = [f"print.b1.{row}" for row in ("plastic", "mass", "filament", "time", "cost")]
    assert [found.left_out[row] for row in rows] == [why] * 5
    assert found.left_out["parts.print_time"] == why
    assert found.results["parts.cost"].number == 30
    aside = table(found)
    assert aside
    assert [row.remark for row in aside.rows] == [f"Left out: {why}."]
    assert mesh_views(found) == ()


def test_a_missing_mesh_is_told_and_the_others_are_summed(made: Make) -> None:
    lost = PART.replace("B1", "B2").replace("box.stl", "lost.stl")
    found = made(HEAD, PRINTER, "parts:\n", PART, lost)
    assert found.left_out["print.b2.mass"] == "parts/lost.stl is not in the build's folder"
    assert found.results["parts.print_time"].number == pytest.approx(4 * 1.1)
    assert [each.fault for each in printed(found)] == ["", "parts/lost.stl is not in the build's folder"]


def test_a_mass_that_needs_a_broken_mesh_is_an_error_at_the_line_of_the_mesh(made: Make) -> None:
    part = PART.replace("get: print,", "get: print, mass: '{{ print.b1.mass }}',")
    with pytest.raises(Unusable) as raised:
        made(HEAD, PRINTER, "parts:\n", part, mesh=CUT_OFF)
    (problem,) = raised.value.problems
    assert problem.key == "parts[0].print.mesh"
    assert problem.line > 0
    assert "parts/box.stl is cut off" in problem.message
    assert problem.message.endswith(f"; parts[0].mass at line {problem.line} needs it")


def test_a_mesh_that_lies_outside_is_not_read(made: Make, tmp_path_factory: pytest.TempPathFactory,
                                              tmp_path: Path) -> None:
    outside = tmp_path_factory.mktemp("outside") / "box.stl"
    outside.write_bytes(binary(box(9, 9, 9)))
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "link.stl").symlink_to(outside)
    found = made(HEAD, PRINTER, "parts:\n", PART.replace("box.stl", "link.stl"))
    assert found.left_out["print.b1.mass"] == "parts/link.stl lies outside the build's folder"


def test_references_that_read_alike_keep_apart(made: Make) -> None:
    found = made(HEAD, PRINTER, "parts:\n", PART, PART.replace("B1", "b1"), PART.replace("B1", "B.1"))
    assert {name for name in found.results if name.endswith(".mass") and name.startswith("print")} == {
        "print.b1.mass", "print.b1-2.mass", "print.b-1.mass"}


def test_a_build_without_printed_parts_has_no_word_of_them(made: Make) -> None:
    found = made("parts: [{ref: M, name: Mirror, mass: 1 kg}]")
    assert not [name for name in (*found.results, *found.left_out) if "print" in name]
    assert table(found) is None


# ---- the table of meshes

def test_what_is_torn_or_too_large_says_so(made: Make) -> None:
    found = made(HEAD, PRINTER.replace("z: 200 mm", "z: 30 mm"), "parts:\n", PART, mesh=binary(box(20, 30, 40)[2:]))
    aside = table(found)
    assert aside
    (row,) = aside.rows
    assert [entry.value for entry in row.entries[:3]] == [20, 30, 40]
    assert row.entries[3:] == ("no", "no", "none given")
    assert "4 edges are not shared by two facets" in row.remark
    assert "larger than the author’s printer" in row.remark
    assert "has to be drawn anew" in row.remark


def test_what_is_whole_and_fits_says_nothing_more(made: Make) -> None:
    part = PART.replace("get: print,", "get: print, cad: parts/box.step,")
    aside = table(made(HEAD, PRINTER, "parts:\n", part))
    assert aside
    (row,) = aside.rows
    assert row.entries[3:] == ("yes", "yes", "box.step")
    assert row.remark == ""


def test_a_printed_part_without_a_mesh_is_listed_too(made: Make) -> None:
    aside = table(made("parts: [{ref: C, name: Cap, get: print}]"))
    assert aside
    assert aside.rows[0].remark == "No mesh is given, so nothing can be said of its size and mass."


# ---- the picture

def test_a_box_is_drawn_where_it_stands(made: Make) -> None:
    """In an isometric view the three visible faces of a cube are rhombs of one size; each has one brightness."""
    (view,) = mesh_views(made(HEAD, PRINTER, "parts:\n", PART, mesh=binary(box(40, 40, 40))))
    solid = view.cover > 0.99
    side = 40 * np.sqrt(2 / 3) * view.scale * len(view.cover)
    assert solid.sum() == pytest.approx(3 * side**2 * np.sin(np.pi / 3), rel=0.02)
    levels, counts = np.unique(view.shade[solid].round(3), return_counts=True)
    faces = levels[counts > 0.2 * solid.sum()]
    assert len(faces) == 3
    for at, place in (((20, 20, 40), faces[2]), ((20, 0, 20), faces[1]), ((40, 20, 20), faces[0])):
        left, down = view.at(*at)
        assert view.shade[int(down * len(view.shade)), int(left * len(view.shade))] == pytest.approx(place, abs=1e-3)


def test_what_lies_in_front_hides_what_lies_behind(made: Make) -> None:
    """A wall before a plate: at the wall's foot its face is seen, whichever of the two stands first in the file."""
    plate = box(40, 40, 2)
    wall = [[(x, y, z) for x, y, z in one] for one in box(40, 4, 30)]
    shades = []
    for order in (plate + wall, wall + plate):
        (view,) = mesh_views(made(HEAD, PRINTER, "parts:\n", PART, mesh=binary(order)))
        left, down = view.at(20, 0, 10)
        shades.append(view.shade[int(down * len(view.shade)), int(left * len(view.shade))])
        behind = view.at(20, 20, 2)
        assert view.shade[int(behind[1] * len(view.shade)), int(behind[0] * len(view.shade))] < 0.8
    assert shades[0] == shades[1]


def test_a_part_too_intricate_to_draw_is_passed_by(made: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("dossier.design.pictures.mesh._MOST_WORK", 1000)
    found = made(HEAD, PRINTER, "parts:\n", PART, mesh=binary(box(17, 18, 19)))
    assert mesh_views(found) == ()
    assert "print.b1.mass" in found.results


def test_rows_of_printed_parts_cost_little_time() -> None:
    """All of the demo's, meshes known, in less than a tenth of what working out all the rest takes."""
    design = work_out(load_build(TEASEL))
    plan = plan_for(design.loaded)
    rows = [name for name in plan if name.startswith("print.")]
    times: dict[str, list[float]] = {"print": [], "rest": []}
    for _ in range(7):
        sheet = Worksheet(design.loaded, plan)
        began = time.process_time()
        for name in rows:
            sheet.result(name)
        middle = time.process_time()
        for name in design.results:
            sheet.result(name)
        times["print"].append(middle - began)
        times["rest"].append(time.process_time() - middle)
    assert len(rows) == 35
    assert min(times["print"]) < 0.1 * min(times["rest"])
