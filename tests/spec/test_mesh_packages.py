"""Meshes in OBJ and 3MF: known solids, broken files, and files that mean harm, each in one sentence."""

from __future__ import annotations

import io
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import pytest
import trimesh

from dossier.spec import mesh_archive
from dossier.spec.meshes import Solid
from tests.conftest import PROJECT
from tests.spec.solids import TETRAHEDRON, Triangle, box

ReadMesh = Callable[[str, bytes], Solid]
SPACE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"


def package(model: str, name: str = "3D/3dmodel.model", more: dict[str, bytes] | None = None) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, model)
        for other, data in (more or {}).items():
            archive.writestr(other, data)
    return file.getvalue()


def mesh_xml(triangles: Sequence[Triangle]) -> str:
    corners = [corner for one in triangles for corner in one]
    vertices = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in corners)
    faces = "".join(f'<triangle v1="{3 * k}" v2="{3 * k + 1}" v3="{3 * k + 2}"/>' for k in range(len(triangles)))
    return f"<mesh><vertices>{vertices}</vertices><triangles>{faces}</triangles></mesh>"


def model(objects: str, items: str, unit: str = "millimeter", before: str = "") -> str:
    return (f'<?xml version="1.0" encoding="UTF-8"?>{before}<model unit="{unit}" xmlns="{SPACE}">'
            f"<resources>{objects}</resources><build>{items}</build></model>")


def an_object(number: int, inner: str) -> str:
    return f'<object id="{number}" type="model">{inner}</object>'


CUBE_OBJECT, ITEM = an_object(1, mesh_xml(box(10, 10, 10))), '<item objectid="1"/>'


# ---- OBJ

def obj(triangles: Iterable[Triangle], head: str = "") -> bytes:
    corners = [corner for one in triangles for corner in one]
    lines = [f"v {x} {y} {z}" for x, y, z in corners]
    lines += [f"f {k + 1} {k + 2} {k + 3}" for k in range(0, len(corners), 3)]
    return f"{head}\n{chr(10).join(lines)}\n".encode()


def test_an_obj_cube(read: ReadMesh) -> None:
    found = read("cube.obj", obj(box(20, 10, 5)))
    assert found.volume_mm3 == pytest.approx(1000)
    assert found.closed


def test_an_obj_with_squares_and_textures(read: ReadMesh) -> None:
    corners = [(i * 4, j * 5, k * 6) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    quads = [(1, 3, 4, 2), (5, 6, 8, 7), (1, 2, 6, 5), (3, 7, 8, 4), (1, 5, 7, 3), (2, 4, 8, 6)]
    text = "\n".join([*(f"v {x} {y} {z}" for x, y, z in corners), "vt 0 0", "vn 0 0 1",
                      *("f " + " ".join(f"{c}/1/1" for c in quad) for quad in quads)])
    found = read("box.obj", text.encode())
    assert found.volume_mm3 == pytest.approx(120)
    assert len(found.triangles) == 12


@pytest.mark.parametrize(("data", "said"), [
    (b"v 0 0 0\nv 1 0 0\nv 0 1 0\n", "holds no faces"), (b"nothing of the kind", "holds no faces"),
    (b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\n", "counts the corners of its faces backwards"),
    (b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", "is broken"), (b"v 0 0\nv 1 0\nf 1 2 1\n", "is broken"),
    (b"f 1 2 3\n", "is broken|cannot be read"), (b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf a b c\n", "is broken|cannot be read"),
    (b"\xff\xfe\x00v" * 50 + b"\nf 1 2 3\n", "is broken|cannot be read"),
])
def test_a_broken_obj(refused: Callable[[str, bytes], str], data: bytes, said: str) -> None:
    assert any(each in refused("broken.obj", data) for each in said.split("|"))


def test_an_obj_reads_no_file_that_it_names(tmp_path: Path) -> None:
    """Every file that is opened while a mesh is read is told; of the build's there is the mesh alone."""
    for name in ("colours.mtl", "other.obj"):
        (tmp_path / name).write_text("newmtl paint\nmap_Kd /etc/hostname\n")
    head = (f"mtllib colours.mtl\nmtllib {tmp_path}/colours.mtl\ncall other.obj\ncsh touch {tmp_path}/harm\n"
            "usemtl paint\n")
    (tmp_path / "part.obj").write_bytes(obj(box(9, 9, 9), head))
    code = ("import sys; from pathlib import Path; import trimesh.exchange.obj; from dossier.spec.meshes import solid\n"
            "opened = []\n"
            "sys.addaudithook(lambda event, words: opened.append(f'{event} {words[0]}') if event in "
            "('open', 'subprocess.Popen', 'os.system', 'socket.connect') else None)\n"
            f"print(solid(Path({str(tmp_path / 'part.obj')!r})).volume_mm3); print(*opened, sep='\\n')")
    done = subprocess.run([sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=True)
    volume, *opened = done.stdout.split("\n")
    assert float(volume) == pytest.approx(729)
    assert [each for each in opened if str(tmp_path) in each or "etc" in each or not each.startswith("open")] == [
        f"open {tmp_path / 'part.obj'}", ""]
    assert not (tmp_path / "harm").exists()


# ---- 3MF

@pytest.mark.parametrize(("unit", "times"), [("millimeter", 1), ("inch", 25.4), ("centimeter", 10), ("micron", 1e-3)])
def test_a_3mf_cube_in_its_unit(read: ReadMesh, unit: str, times: float) -> None:
    found = read("cube.3mf", package(model(CUBE_OBJECT, ITEM, unit)))
    assert found.volume_mm3 == pytest.approx(1000 * times**3)
    assert found.size_mm == pytest.approx((10 * times,) * 3)
    assert found.closed


def test_a_3mf_turned_and_moved(read: ReadMesh) -> None:
    """A quarter turn about x lays the long side flat: rows of the transform are where x, y and z go."""
    item = '<item objectid="1" transform="1 0 0 0 0 1 0 -1 0 5 6 7"/>'
    found = read("laid.3mf", package(model(an_object(1, mesh_xml(box(10, 20, 30))), item)))
    assert found.size_mm == pytest.approx((10, 30, 20))
    assert found.volume_mm3 == pytest.approx(6000)


def test_a_3mf_mirrored(read: ReadMesh) -> None:
    item = '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>'
    assert read("mirrored.3mf", package(model(CUBE_OBJECT, item))).volume_mm3 == pytest.approx(1000)


def test_a_3mf_of_several_bodies(read: ReadMesh) -> None:
    """Two cubes as components of one object, placed twice: four thousand cubic millimetres."""
    pair = "".join(f'<component objectid="1" transform="1 0 0 0 1 0 0 0 1 {x} 0 0"/>' for x in (0, 20))
    objects = CUBE_OBJECT + an_object(2, f"<components>{pair}</components>")
    items = '<item objectid="2"/><item objectid="2" transform="1 0 0 0 1 0 0 0 1 0 50 0"/>'
    found = read("pair.3mf", package(model(objects, items)))
    assert found.volume_mm3 == pytest.approx(4000)
    assert found.size_mm == pytest.approx((30, 60, 10))
    assert found.closed


def test_a_3mf_that_is_written_by_a_general_library(read: ReadMesh) -> None:
    data = trimesh.creation.box(extents=(7, 8, 9)).export(file_type="3mf")
    assert read("written.3mf", data).volume_mm3 == pytest.approx(504)


def test_a_3mf_with_its_mesh_in_another_part(read: ReadMesh) -> None:
    """The production extension: an object's component is found in another part of the package."""
    space = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
    component = f'<components><component xmlns:p="{space}" objectid="1" p:path="/3D/Objects/one.model"/></components>'
    data = package(model(an_object(2, component), '<item objectid="2"/>'),
                   more={"3D/Objects/one.model": model(CUBE_OBJECT, "").encode()})
    assert read("production.3mf", data).volume_mm3 == pytest.approx(1000)


def test_a_3mf_of_which_something_would_be_taken_twice(refused: Callable[[str, bytes], str]) -> None:
    """Two objects of one other part: a reader that mixes them up is caught by the count."""
    space = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
    inner = "".join(f'<component xmlns:p="{space}" objectid="{n}" p:path="/3D/Objects/two.model"/>' for n in (1, 3))
    other = CUBE_OBJECT + an_object(3, mesh_xml(TETRAHEDRON))
    data = package(model(an_object(2, f"<components>{inner}</components>"), '<item objectid="2"/>'),
                   more={"3D/Objects/two.model": model(other, "").encode()})
    assert "cannot be read for certain" in refused("mixed.3mf", data)


def ring() -> str:
    inner = [an_object(n, f'<components><component objectid="{m}"/></components>') for n, m in ((1, 2), (2, 1))]
    return model("".join(inner), ITEM)


def doubling(levels: int) -> str:
    """Every object holds the one before twice, so that a few hundred bytes stand for 2ⁿ cubes."""
    inner = [an_object(n, f'<components>{2 * f"<component objectid=@{n - 1}@/>"}</components>'.replace("@", '"'))
             for n in range(2, levels + 2)]
    return model(CUBE_OBJECT + "".join(inner), f'<item objectid="{levels + 1}"/>')


ENTITIES = ('<!DOCTYPE model [<!ENTITY a "0123456789"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">'
            '<!ENTITY f SYSTEM "file:///etc/hostname">]>')


@pytest.mark.parametrize(("name", "data", "said"), [
    ("entities", package(model(CUBE_OBJECT, ITEM, before=ENTITIES)), "declares a document type"),
    ("utf-16", package(model(CUBE_OBJECT, ITEM, before=ENTITIES).replace("UTF-8", "UTF-16").encode("utf-16")),
     "declares a document type"),
    ("hidden", package(model(CUBE_OBJECT, ITEM), more={"3D/other.model": f"{ENTITIES}<model/>".encode()}),
     "declares a document type"),
    ("ring", package(ring()), "hold one another without an end"),
    ("doubling", package(doubling(30)), "holds more than 500000 triangles"),
    ("no-model", package("<model/>", name="readme.txt"), "has no 3D/3dmodel.model"),
    ("no-zip", b"PK\x03\x04 and no more", "cannot be unpacked"),
    ("cut", package(model(CUBE_OBJECT, ITEM))[:-60], "cannot be unpacked"),
    ("no-xml", package("<model"), "is no XML"),
    ("no-item", package(model(CUBE_OBJECT, "")), "holds no triangles"),
    ("lost", package(model(CUBE_OBJECT, '<item objectid="9"/>')), "holds no triangles"),
    ("no-id", package(model(f"<object>{mesh_xml(TETRAHEDRON)}</object>", ITEM)), "lacks what 3MF asks for"),
    ("unit", package(model(CUBE_OBJECT, ITEM, "furlong")), "has a unit of length that 3MF does not know"),
    ("corner", package(model(CUBE_OBJECT.replace('v1="0"', 'v1="999"'), ITEM)), "is broken"),
    ("minus", package(model(CUBE_OBJECT.replace('v1="0"', 'v1="-2"'), ITEM)), "is broken"),
    ("words", package(model(CUBE_OBJECT.replace('x="10"', 'x="ten"'), ITEM)), "is broken"),
    ("not-a-number", package(model(CUBE_OBJECT.replace('x="10"', 'x="nan"', 1), ITEM)), "not a number"),
    ("transform", package(model(CUBE_OBJECT, '<item objectid="1" transform="1 2"/>')), "is broken"),
    ("flat", package(model(CUBE_OBJECT, '<item objectid="1" transform="0 0 0 0 0 0 0 0 0 0 0 0"/>')), "no volume"),
])
def test_a_3mf_that_is_broken_or_means_harm(refused: Callable[[str, bytes], str], name: str, data: bytes,
                                            said: str) -> None:
    began = time.process_time()
    assert said in refused(f"{name}.3mf", data)
    assert time.process_time() - began < 3


def test_a_3mf_that_unpacks_beyond_all_measure(refused: Callable[[str, bytes], str]) -> None:
    """A hundred megabytes of blanks fit into a hundred kilobytes."""
    data = package(model(CUBE_OBJECT, ITEM), more={"3D/blank.model": b" " * (mesh_archive.LARGEST_UNPACKED + 1)})
    assert len(data) < 200_000
    assert "unpacks to more than 60 MB" in refused("bomb.3mf", data)


def test_what_is_no_model_is_not_even_unpacked(read: ReadMesh) -> None:
    data = package(model(CUBE_OBJECT, ITEM), more={"Metadata/picture.png": b" " * (mesh_archive.LARGEST_UNPACKED + 1)})
    assert read("thumbnail.3mf", data).volume_mm3 == pytest.approx(1000)
