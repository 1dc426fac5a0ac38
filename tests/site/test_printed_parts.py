"""Printed parts as a reader meets them: the tables, the pictures, the files; and a broken mesh on its page."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from dossier.publish import Options, publish_all
from tests.conftest import TEASEL

Read = Callable[[Path], Any]
SPEC = """\
format: 1
about: {name: Three prints}
readers: {currency: EUR}
primary: {aperture: 100 mm, focal_length: 800 mm}
diagonal: {minor_axis: 25 mm}
focuser: {mounting_radius: 70 mm, height: 50 mm}
printer: {x: 200 mm, y: 200 mm, z: 180 mm, spool_price: 18, spool_mass: 1 kg}
parts:
  - {ref: P8, name: Focuser board, get: print, cad: parts/make_meshes.py,
     print: {mesh: parts/focuser-board.stl, material: petg, fill: 0.4, walls: 4, line: 0.45 mm, skin: 1 mm}}
  - {ref: P32, name: Cell plate, get: print, cad: parts/make_meshes.py, mass: "{{ print.p32.mass }}",
     print: {mesh: parts/cell-plate.stl, material: petg, fill: 0.4, walls: 4, line: 0.45 mm, skin: 1 mm}}
  - {ref: P40, name: Feet, get: print, quantity: 3,
     print: {mesh: parts/foot.stl, material: petg, fill: 0.4, walls: 4, line: 0.45 mm, skin: 1 mm}}
"""
FILES = ("focuser-board.stl", "cell-plate.stl", "foot.stl", "make_meshes.py")
REFS = ("P8", "P32", "P40")


def section(page: str, heading: str) -> str:
    """The HTML under a heading, up to the next section."""
    return page.partition(f">{heading}</h2>")[2].partition("</section>")[0]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Some of the demo's parts, published whole, and torn: the focuser board cut off, the foot gone."""
    folder = tmp_path_factory.mktemp("printed")
    for name in ("whole", "torn"):
        (folder / name / "parts").mkdir(parents=True)
        (folder / name / "build.yaml").write_text(SPEC, "utf-8")
        for file in FILES:
            shutil.copy(TEASEL / "parts" / file, folder / name / "parts" / file)
    board = folder / "torn" / "parts" / "focuser-board.stl"
    board.write_bytes(board.read_bytes()[:5000])
    (folder / "torn" / "parts" / "foot.stl").unlink()
    publish_all((folder / "whole", folder / "torn"), folder / "out", Options(no_packet=True), lambda _: None,
                lambda _: None)
    return folder / "out"


@pytest.fixture(scope="module")
def printed(demo: Path) -> str:
    return section((demo / "whole" / "parts.html").read_text("utf-8"), "What is printed, and for how long?")


def test_rows_are_called_by_reference_and_name(printed: str) -> None:
    rows = re.findall(r'<th scope="row"[^>]*>(?:<[^>]+>)*([^<]+)', printed)
    assert rows == ["P8 Focuser board", "P32 Cell plate", "P40 Feet"] * 2


def test_times_are_called_estimates(printed: str) -> None:
    assert "Time, an estimate" in printed
    assert "These are estimates" in printed


def test_it_says_what_fits_and_what_can_be_changed(printed: str) -> None:
    assert "All fit the author’s printer." in printed
    assert printed.count(">make_meshes.py<") == 2
    assert printed.count(">none given<") == 1
    assert "Only the mesh is there, so to change the part it has to be drawn anew." in printed


def test_each_part_is_pictured_with_its_size_and_mass(demo: Path, printed: str) -> None:
    described = re.search(r'<desc id="printed-parts-wide-desc">([^<]*)</desc>', printed)
    assert described
    assert "P32 Cell plate: 180 × 180 × 42.3\u202fmm, 0.195\u202fkg." in described[1]
    for ref in REFS:
        file = demo / "whole" / "pictures" / f"part-{ref.lower()}.png"
        assert f"pictures/{file.name}" in printed
        with Image.open(file) as picture:
            assert picture.mode == "P"
        assert file.stat().st_size < 10_000


def test_the_pictures_take_the_themes_light_and_shade(printed: str) -> None:
    assert printed.count('fill="var(--shade, var(--ink))"') == 2 * len(REFS)
    assert printed.count('fill="var(--lit, var(--ground))"') == 2 * len(REFS)


def test_pictures_are_clear_beside_the_part_and_shaded_on_it(demo: Path) -> None:
    picture = Image.open(io.BytesIO((demo / "whole" / "pictures" / "part-p40.png").read_bytes())).convert("RGBA")
    pixels = np.asarray(picture, dtype=float)
    assert pixels[0, 0, 3] == 0
    solid = pixels[pixels[..., 3] == 255][:, 0]
    assert np.ptp(solid) > 150
    assert (pixels[..., 0] == pixels[..., 2]).all()


@pytest.mark.parametrize("name", ["focuser-board.stl", "cell-plate.stl", "make_meshes.py"])
def test_mesh_and_source_are_handed_out_with_their_hash(demo: Path, read: Read, name: str) -> None:
    site = demo / "whole"
    data = (TEASEL / "parts" / name).read_bytes()
    assert (site / "files" / "parts" / name).read_bytes() == data
    downloads = read(site / "downloads.html")
    assert f"files/parts/{name}" in {link["href"] for link in downloads.links}
    assert hashlib.sha256(data).hexdigest() in downloads.said
    assert f"files/parts/{name}" in {link["href"] for link in read(site / "parts.html").links}


def test_the_source_stands_beside_its_part_as_such(demo: Path) -> None:
    page = (demo / "whole" / "parts.html").read_text("utf-8")
    row = page.partition('id="part-P8"')[2].partition("</tr>")[0]
    assert re.search(r'<a href="files/parts/focuser-board.stl" download>focuser-board.stl</a>', row)
    assert re.search(r'<a href="files/parts/make_meshes.py" download>make_meshes.py \(editable source\)</a>', row)


def test_the_masses_of_printed_parts_lead_to_the_parts_list(demo: Path) -> None:
    found = json.loads((demo / "whole" / "results.json").read_text("utf-8"))["results"]
    assert found["print.p32.mass"]["unit"] == "kg"
    assert found["print.p32.plastic"]["unit"] == "cm3"
    assert found["print.p32.plastic"]["inputs"]["mesh_volume_mm3"]["key"] == "volume of parts/cell-plate.stl"
    with (demo / "whole" / "lists" / "parts.csv").open(encoding="utf-8") as listed:
        masses = {row["ref"]: row["mass_kg"] for row in csv.DictReader(listed)}
    assert float(masses["P32"]) == pytest.approx(found["print.p32.mass"]["value"], rel=1e-3)


def test_a_broken_and_a_missing_mesh_are_told_beside_the_part_and_the_rest_is_published(demo: Path) -> None:
    page = (demo / "torn" / "parts.html").read_text("utf-8")
    printed = section(page, "What is printed, and for how long?")
    assert "Left out: parts/focuser-board.stl is cut off: it holds 98 of the 1840 triangles that its head" in printed
    assert "Left out: parts/foot.stl is not in the build&#39;s folder." in printed
    assert "Left out of all sums, because the mesh cannot be used:" in printed
    assert "P8 Focuser board, P40 Feet" in printed
    assert "P32 Cell plate" in printed
    assert not (demo / "torn" / "pictures" / "part-p8.png").exists()
    assert (demo / "torn" / "pictures" / "part-p32.png").exists()
    assert "foot.stl (not in the build’s folder)" in page
    assert "parts/focuser-board.stl is cut off" in (demo / "torn" / "working.html").read_text("utf-8")
