"""The lists to take along and the manifest, read back as a spreadsheet or another program would."""

from __future__ import annotations

import csv
import io
import tomllib
from pathlib import Path

import pytest

from dossier.design import Design, work_out
from dossier.design.cut_plans import cut_plans
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.lists import harmless
from dossier.publish.themes import load_theme
from dossier.publish.write import put
from dossier.spec.load import load_build
from dossier.views.lists import lists
from dossier.views.shopping import shopping_list
from dossier.views.spoken import Spoken

DEMO = Path(__file__).parents[2] / "content" / "teasel-150"
# The first columns are a promise; others may follow.
COLUMNS = {
    "parts": "ref,name,group,get,quantity,price,cost,mass_kg",
    "shopping": "supplier,ref,name,needed,pack,packs,price,cost,left_over",
    "cuts": "stock,length_no,piece_mm,ref,offcut_mm",
}


def read(folder: Path, name: str) -> list[dict[str, str]]:
    text = (folder / "lists" / f"{name}.csv").read_bytes().decode("utf-8")
    assert text.startswith(COLUMNS[name])
    assert not text.startswith("\ufeff")
    return list(csv.DictReader(io.StringIO(text, newline="")))


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The files of the demo for eight kits, without the sites of its earlier revisions."""
    site = Site(Book(work_out(load_build(DEMO), kits=8), load_theme()))
    return put(tmp_path_factory.mktemp("lists"), "teasel-150", site.files(), site.copies())


def test_parts_add_up_to_the_results(demo: Path) -> None:
    worked = work_out(load_build(DEMO), kits=8)
    rows = read(demo, "parts")
    assert [row["ref"] for row in rows] == [part.ref for part in worked.build.parts]
    assert sum(float(row["cost"] or 0) for row in rows) == pytest.approx(worked.results["parts.cost"].number)
    masses = sum(int(row["quantity"]) * float(row["mass_kg"] or 0) for row in rows)
    assert masses == pytest.approx(worked.results["parts.mass"].number)


def test_shopping_buys_enough_for_all_kits_and_counts_what_is_left(demo: Path) -> None:
    worked = work_out(load_build(DEMO), kits=8)
    rows = read(demo, "shopping")
    assert {row["stock"]: int(row["packs"]) for row in rows if row["stock"]} == {
        plan.stock: plan.bought for plan in cut_plans(worked)}
    assert sum(float(row["cost"]) for row in rows) == pytest.approx(worked.results["parts.cost_all_kits"].number)
    for row in rows:
        needed, pack, packs = (int(row[name]) for name in ("needed", "pack", "packs"))
        assert int(row["left_over"]) == packs * pack - needed >= 0
        assert packs * pack - needed < pack, f"{row['ref']} buys a pack too many"
    assert [row["supplier"] for row in rows] == sorted(row["supplier"] for row in rows)


def test_cuts_name_every_piece(demo: Path) -> None:
    worked = work_out(load_build(DEMO), kits=8)
    rows = read(demo, "cuts")
    pieces = sum(8 * piece.quantity for part in worked.build.parts if part.cut for piece in part.cut.pieces)
    assert len(rows) == pieces
    lengths = {(row["stock"], row["length_no"]) for row in rows if not row["width_mm"]}
    sheets = {(row["ref"], row["piece_mm"], row["width_mm"]) for row in rows if row["width_mm"]}
    assert ("P24", "421", "262") in sheets
    assert not any(row["length_no"] or row["offcut_mm"] for row in rows if row["width_mm"])
    assert len(lengths) == sum(r.number for name, r in worked.results.items() if name.endswith(".lengths"))


UNPRICED = """format: 1
about: {name: Trial}
readers: {currency: EUR}
primary: {aperture: 150 mm, focal_length: 1200 mm}
diagonal: {minor_axis: 35 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm}
parts:
- {ref: P1, name: Mirror, get: buy, price: 60, supplier: "a shop, in town"}
- {ref: P6, name: Focuser, get: buy, quantity: 2, pack: 5, spares: 1, supplier: a shop}
- {ref: P7, name: Board, get: make}
- {ref: P8, name: Lid, get: have, price: 5}
- {ref: P9, name: Screws, get: buy, quantity: 7, pack: 10, price: 4}
"""


def without_a_price(folder: Path) -> Design:
    """Three kits of a build whose focuser has no price."""
    (folder / "build.yaml").write_text(UNPRICED)
    return work_out(load_build(folder), kits=3)


def test_what_has_no_price_stays_on_the_list(tmp_path: Path) -> None:
    worked = without_a_price(tmp_path)
    (shopping,) = [each for each in lists(worked) if each.name == "lists/shopping.csv"]
    found = {row[1]: dict(zip(shopping.columns, row, strict=True)) for row in shopping.rows}
    assert list(found) == ["P6", "P1", "P9"], "by supplier, what says none last"
    focuser = found["P6"]
    assert (focuser["needed"], focuser["packs"], focuser["left_over"]) == (9, 2, 1)
    assert (focuser["price"], focuser["cost"]) == (None, None)


def test_the_page_lists_by_shop_what_all_kits_take(tmp_path: Path) -> None:
    worked = without_a_price(tmp_path)
    listed = shopping_list(worked, Spoken(worked))
    assert (listed.kits, listed.without_price, listed.cost.text) == ("3 kits", "P6", "192.00")
    assert [(shop.name, [item.ref for item in shop.items], shop.cost.text) for shop in listed.shops] == [
        ("A shop", ["P1", "P6"], "180.00"), ("Where you find it", ["P9"], "12.00")]
    mirror, focuser = listed.shops[0].items
    assert (mirror.hint, mirror.needed, mirror.packs, mirror.sold) == ("in town", "3", "3", "")
    assert (focuser.needed, focuser.packs, focuser.sold, focuser.left_over, focuser.cost.text) == (
        "9", "2", "packs of 5", "1", "")


@pytest.mark.parametrize("cell", ["=1+1", "+cmd", "-2", "@SUM(A1)", "\tx", "\rx", " =1", "＝1"])
def test_no_cell_is_a_formula(cell: str) -> None:
    assert harmless(cell).startswith("'")
    assert harmless(cell)[1:] == cell


@pytest.mark.parametrize("cell", ["", "mirror", "1 1/4 in", "a=b", "Ø 5"])
def test_other_cells_stay_as_they_are(cell: str) -> None:
    assert harmless(cell) == cell


def test_the_manifest_is_toml_with_all_that_open_know_how_asks_for(demo: Path) -> None:
    told = tomllib.loads((demo / "okh.toml").read_text("utf-8"))
    for field in ("okhv", "name", "repo", "version", "license", "licensor", "documentation-language", "function"):
        assert told[field], field
    assert told["license"] == "CERN-OHL-S-2.0"
    named = [told["bom"], *told["manufacturing-instructions"], *told["source"], *told["export"]]
    named += [path for part in told["part"] for path in (*part.get("source", ()), *part.get("export", ()))]
    for path in named:
        assert (demo / path).is_file(), path


def test_a_plan_without_a_licence_has_no_manifest(small: Path, publish) -> None:
    spec = small / "build.yaml"
    kept = [line for line in spec.read_text("utf-8").splitlines() if not line.strip().startswith("licence:")]
    spec.write_text("\n".join(kept) + "\n", "utf-8")
    assert not (publish(small) / "okh.toml").exists()
