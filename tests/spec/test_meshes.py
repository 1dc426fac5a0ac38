"""Meshes of known solids in every format; and what is broken, torn, huge or meant to do harm, each in one sentence."""

from __future__ import annotations

import io
import math
import os
import struct
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import numpy as np
import pytest
import trimesh

from dossier.spec import mesh_archive, mesh_files, meshes
from dossier.spec.meshes import MeshFault, Solid, inside, solid
from tests.conftest import PROJECT, TEASEL

Point = tuple[float, float, float]
Triangle = tuple[Point, Point, Point]
Read = Callable[[str, bytes], Solid]
SPACE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"


def box(x: float, y: float, z: float) -> list[Triangle]:
    """A box from the origin, its corners anticlockwise from outside."""
    p = [(i * x, j * y, k * z) for k in (0, 1) for j in (0, 1) for i in (0, 1)]
    quads = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
    return [(p[a], p[b], p[c]) for q in quads for a, b, c in ((q[0], q[1], q[2]), (q[0], q[2], q[3]))]


def prism(sides: int, radius: float, height: float) -> list[Triangle]:
    """An upright prism with so many sides, all its corners on a circle."""
    rim = [(radius * math.cos(2 * math.pi * k / sides), radius * math.sin(2 * math.pi * k / sides))
           for k in range(sides)]
    found: list[Triangle] = []
    for (ax, ay), (bx, by) in zip(rim, (*rim[1:], rim[0]), strict=True):
        found += [((0, 0, 0), (bx, by, 0), (ax, ay, 0)), ((0, 0, height), (ax, ay, height), (bx, by, height)),
                  ((ax, ay, 0), (bx, by, 0), (bx, by, height)), ((ax, ay, 0), (bx, by, height), (ax, ay, height))]
    return found


TETRAHEDRON: list[Triangle] = [((0, 0, 0), (0, 6, 0), (5, 0, 0)), ((0, 0, 0), (5, 0, 0), (0, 0, 7)),
                               ((0, 0, 0), (0, 0, 7), (0, 6, 0)), ((5, 0, 0), (0, 6, 0), (0, 0, 7))]


def binary(triangles: Iterable[Triangle], count: int | None = None) -> bytes:
    records = [struct.pack("<12fH", 0, 0, 0, *(x for corner in one for x in corner), 0) for one in triangles]
    return b" " * 80 + struct.pack("<I", len(records) if count is None else count) + b"".join(records)


def letters(triangles: Iterable[Triangle], keyword: Callable[[str], str] = str) -> bytes:
    lines = ["solid part"]
    for one in triangles:
        lines += [" facet normal 0 0 0", "  outer loop", *(f"   vertex {x} {y} {z}" for x, y, z in one), "  endloop",
                  " endfacet"]
    return "\n".join(keyword(line) for line in [*lines, "endsolid part", ""]).encode()


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


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def run(name: str, data: bytes) -> Solid:
        (tmp_path / name).write_bytes(data)
        return solid(tmp_path / name)
    return run


@pytest.fixture
def refused(read: Read) -> Callable[[str, bytes], str]:
    """What is said of a file that cannot be used."""
    def run(name: str, data: bytes) -> str:
        with pytest.raises(MeshFault) as raised:
            read(name, data)
        said = str(raised.value)
        assert len(said) < 160
        assert not said.endswith(".")
        assert "Traceback" not in said
        return said
    return run


# ---- known solids

@pytest.mark.parametrize("write", [binary, letters, lambda t: letters(t, str.upper)])
def test_a_cube(read: Read, write: Callable[[list[Triangle]], bytes]) -> None:
    found = read("cube.stl", write(box(20, 20, 20)))
    assert found.volume_mm3 == pytest.approx(8000)
    assert found.surface_mm2 == pytest.approx(2400)
    assert found.level_surface_mm2 == pytest.approx(800)
    assert found.size_mm == pytest.approx((20, 20, 20))
    assert found.triangles.shape == (12, 3, 3)
    assert found.closed


def test_a_tetrahedron(read: Read) -> None:
    """Three edges at right angles: a sixth of their product."""
    found = read("corner.stl", binary(TETRAHEDRON))
    assert found.volume_mm3 == pytest.approx(5 * 6 * 7 / 6)
    assert found.size_mm == pytest.approx((5, 6, 7))
    assert found.closed


def test_a_cylinder_comes_as_near_as_its_facets(read: Read) -> None:
    """A prism of 360 sides: n/2 r² sin(2π/n) h, 0.005 % under the cylinder's π r² h."""
    found = read("rod.stl", binary(prism(360, 15, 40)))
    assert found.volume_mm3 == pytest.approx(180 * 15**2 * math.sin(math.pi / 180) * 40, rel=1e-6)
    assert found.volume_mm3 == pytest.approx(math.pi * 15**2 * 40, rel=6e-5)
    assert found.surface_mm2 == pytest.approx(2 * math.pi * 15 * (15 + 40), rel=6e-5)
    assert found.level_surface_mm2 == pytest.approx(2 * math.pi * 15**2, rel=6e-5)
    assert found.closed


def test_a_mesh_far_from_the_origin_keeps_its_volume(read: Read) -> None:
    moved = [tuple((x + 1000, y - 2000, z + 500) for x, y, z in one) for one in box(20, 10, 5)]
    found = read("far.stl", letters(moved))
    assert found.volume_mm3 == pytest.approx(1000, rel=1e-9)


@pytest.mark.parametrize("path", sorted((TEASEL / "parts").glob("*.stl")), ids=lambda path: path.stem)
def test_the_demos_meshes_after_a_general_library(path: Path) -> None:
    found, other = solid(path), trimesh.load_mesh(path)
    assert found.volume_mm3 == pytest.approx(other.volume, rel=1e-5)
    assert found.surface_mm2 == pytest.approx(other.area, rel=1e-5)
    assert found.size_mm == pytest.approx(tuple(other.extents), abs=1e-4)
    assert found.closed
    assert other.is_watertight


# ---- torn

def test_a_hole_is_found(read: Read) -> None:
    found = read("hole.stl", binary(box(20, 20, 20)[1:]))
    assert not found.closed
    assert found.open_edges == 3


def test_a_facet_that_faces_inwards_is_found(read: Read) -> None:
    first, *rest = box(20, 20, 20)
    found = read("flipped.stl", binary([first[::-1], *rest]))
    assert not found.closed
    assert found.open_edges == 3


def test_a_facet_that_is_there_twice_is_found(read: Read) -> None:
    assert not read("twice.stl", binary([*box(20, 20, 20), box(20, 20, 20)[0]])).closed


def test_a_facet_without_width_tears_nothing(read: Read) -> None:
    assert read("sliver.stl", binary([*box(20, 20, 20), ((0, 0, 0), (0, 0, 0), (20, 0, 0))])).closed


def test_a_negative_zero_is_a_zero(read: Read) -> None:
    cube = box(9, 9, 9)
    signed = [tuple(tuple(-0.0 if part == 0 else part for part in corner) for corner in one) for one in cube[:6]]
    assert read("signed.stl", binary([*signed, *cube[6:]])).closed


# ---- what no solid has

@pytest.mark.parametrize(("name", "data", "said"), [
    ("flat.stl", binary([((0, 0, 0), (9, 0, 0), (0, 9, 0)), ((0, 0, 0), (0, 9, 0), (9, 0, 0))]), "encloses no volume"),
    ("inside-out.stl", binary([one[::-1] for one in box(9, 9, 9)]), "is inside out"),
    ("nan.stl", binary([((math.nan, 0, 0), (1, 0, 0), (0, 1, 0)), *box(9, 9, 9)]), "not a number"),
    ("endless.stl", binary([((math.inf, 0, 0), (1, 0, 0), (0, 1, 0)), *box(9, 9, 9)]), "beyond all measure"),
    ("overflow.stl", letters(box(1e200, 1e200, 1e200)), "beyond all measure"),
    ("vast.stl", binary(box(2e5, 10, 10)), "is longer than 100 m"),
    ("words.stl", letters(box(9, 9, 9)).replace(b"vertex 9", b"vertex nine", 1), "not a number"),
    ("nothing.stl", binary([]), "holds no triangles"),
    ("empty.stl", b"", "is too short"),
    ("short.stl", b"solid", "is too short"),
    ("part.step", b"ISO-10303-21;", "is neither STL nor 3MF nor OBJ"),
    ("page.stl", b"<!doctype html>" * 20, "is cut off|is broken"),
])
def test_what_cannot_be_used(refused: Callable[[str, bytes], str], name: str, data: bytes, said: str) -> None:
    assert any(each in refused(name, data) for each in said.split("|"))


@pytest.mark.parametrize("left", [84, 85, 133, 134, 400, 683])
def test_a_binary_file_that_is_cut_off(refused: Callable[[str, bytes], str], left: int) -> None:
    said = refused("cut.stl", binary(box(9, 9, 9))[:left])
    assert said == f"is cut off: it holds {(left - 84) // 50} of the 12 triangles that its head counts"


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9, 0.985])
def test_a_file_in_letters_that_is_cut_off(refused: Callable[[str, bytes], str], share: float) -> None:
    whole = letters(box(9, 9, 9))
    assert "cut off or broken" in refused("cut.stl", whole[:int(share * len(whole))])


def test_a_file_that_is_longer_than_it_says(refused: Callable[[str, bytes], str]) -> None:
    assert "50 bytes more" in refused("long.stl", binary([*box(9, 9, 9), box(9, 9, 9)[0]], count=12))


def test_no_file_a_folder_and_a_pipe(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.stl")
    for path, said in ((tmp_path / "none.stl", "is not in the build's folder"), (tmp_path, "is no file"),
                       (tmp_path / "pipe.stl", "is no file")):
        with pytest.raises(MeshFault, match=said):
            solid(path)


def test_a_link_that_leads_out_of_the_build(tmp_path: Path) -> None:
    (tmp_path / "build").mkdir()
    (tmp_path / "secret.stl").write_bytes(binary(box(9, 9, 9)))
    (tmp_path / "build" / "part.stl").symlink_to(tmp_path / "secret.stl")
    for named in ("part.stl", "../secret.stl", str(tmp_path / "secret.stl")):
        with pytest.raises(MeshFault, match="lies outside the build's folder"):
            inside(tmp_path / "build", named)


# ---- huge

def test_a_head_that_counts_thousands_of_millions_takes_no_room(refused: Callable[[str, bytes], str]) -> None:
    began = time.process_time()
    assert "is cut off: it holds 12 of the 4294967295" in refused("huge.stl", binary(box(9, 9, 9), count=2**32 - 1))
    assert time.process_time() - began < 0.5


@pytest.mark.parametrize("write", [binary, letters])
def test_more_triangles_than_are_read(refused: Callable[[str, bytes], str], monkeypatch: pytest.MonkeyPatch,
                                      write: Callable[[list[Triangle]], bytes]) -> None:
    monkeypatch.setattr(mesh_files, "MOST_TRIANGLES", 11)
    assert refused("many.stl", write(box(9, 9, 9))).startswith("holds more than 11 triangles")


def test_a_file_larger_than_is_read(tmp_path: Path) -> None:
    with (tmp_path / "large.stl").open("wb") as file:
        file.truncate(mesh_files.LARGEST_FILE + 1)
    with pytest.raises(MeshFault, match="is larger than 30 MB"):
        solid(tmp_path / "large.stl")


# ---- OBJ

def obj(triangles: Iterable[Triangle], head: str = "") -> bytes:
    corners = [corner for one in triangles for corner in one]
    lines = [f"v {x} {y} {z}" for x, y, z in corners]
    lines += [f"f {k + 1} {k + 2} {k + 3}" for k in range(0, len(corners), 3)]
    return f"{head}\n{chr(10).join(lines)}\n".encode()


def test_an_obj_cube(read: Read) -> None:
    found = read("cube.obj", obj(box(20, 10, 5)))
    assert found.volume_mm3 == pytest.approx(1000)
    assert found.closed


def test_an_obj_with_squares_and_textures(read: Read) -> None:
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
def test_a_3mf_cube_in_its_unit(read: Read, unit: str, times: float) -> None:
    found = read("cube.3mf", package(model(CUBE_OBJECT, ITEM, unit)))
    assert found.volume_mm3 == pytest.approx(1000 * times**3)
    assert found.size_mm == pytest.approx((10 * times,) * 3)
    assert found.closed


def test_a_3mf_turned_and_moved(read: Read) -> None:
    """A quarter turn about x lays the long side flat: rows of the transform are where x, y and z go."""
    item = '<item objectid="1" transform="1 0 0 0 0 1 0 -1 0 5 6 7"/>'
    found = read("laid.3mf", package(model(an_object(1, mesh_xml(box(10, 20, 30))), item)))
    assert found.size_mm == pytest.approx((10, 30, 20))
    assert found.volume_mm3 == pytest.approx(6000)


def test_a_3mf_mirrored(read: Read) -> None:
    item = '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>'
    assert read("mirrored.3mf", package(model(CUBE_OBJECT, item))).volume_mm3 == pytest.approx(1000)


def test_a_3mf_of_several_bodies(read: Read) -> None:
    """Two cubes as components of one object, placed twice: four thousand cubic millimetres."""
    pair = "".join(f'<component objectid="1" transform="1 0 0 0 1 0 0 0 1 {x} 0 0"/>' for x in (0, 20))
    objects = CUBE_OBJECT + an_object(2, f"<components>{pair}</components>")
    items = '<item objectid="2"/><item objectid="2" transform="1 0 0 0 1 0 0 0 1 0 50 0"/>'
    found = read("pair.3mf", package(model(objects, items)))
    assert found.volume_mm3 == pytest.approx(4000)
    assert found.size_mm == pytest.approx((30, 60, 10))
    assert found.closed


def test_a_3mf_that_is_written_by_a_general_library(read: Read) -> None:
    data = trimesh.creation.box(extents=(7, 8, 9)).export(file_type="3mf")
    assert read("written.3mf", data).volume_mm3 == pytest.approx(504)


def test_a_3mf_with_its_mesh_in_another_part(read: Read) -> None:
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


def test_what_is_no_model_is_not_even_unpacked(read: Read) -> None:
    data = package(model(CUBE_OBJECT, ITEM), more={"Metadata/picture.png": b" " * (mesh_archive.LARGEST_UNPACKED + 1)})
    assert read("thumbnail.3mf", data).volume_mm3 == pytest.approx(1000)


# ---- fast

def test_the_demos_meshes_are_read_at_once() -> None:
    """All seven in under 5 ms, at best of several; on an idle machine it takes a third of that."""
    paths = sorted((TEASEL / "parts").glob("*.stl"))
    times = []
    for _ in range(9):
        meshes._known.cache_clear()
        began = time.process_time()
        for path in paths:
            solid(path)
        times.append(time.process_time() - began)
    assert len(paths) == 7
    assert min(times) < 0.005


def test_a_file_is_read_again_when_it_has_changed(tmp_path: Path) -> None:
    path = tmp_path / "part.stl"
    path.write_bytes(binary(box(9, 9, 9)))
    first = solid(path)
    assert solid(path) is first
    path.write_bytes(binary(box(9, 9, 10)))
    os.utime(path, ns=(0, 0))
    assert solid(path).volume_mm3 == pytest.approx(810)


def test_stl_needs_no_library_of_meshes() -> None:
    code = ("import sys; from pathlib import Path; from dossier.spec.meshes import solid\n"
            f"solid(Path({str(TEASEL / 'parts' / 'foot.stl')!r}))\n"
            "print(*sorted({'trimesh', 'lxml', 'networkx', 'scipy', 'pyexpat', 'zipfile'} & set(sys.modules)))")
    done = subprocess.run([sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


def test_triangles_are_plain_numbers(read: Read) -> None:
    assert np.isfinite(read("cube.stl", binary(box(3, 3, 3))).triangles).all()
