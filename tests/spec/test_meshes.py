"""Meshes of known solids as STL, and what is torn, broken or huge, each in one sentence."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import trimesh

from dossier.spec import mesh_files, meshes
from dossier.spec.meshes import MeshFault, Solid, inside, solid
from tests.conftest import PROJECT, TEASEL
from tests.spec.solids import TETRAHEDRON, Triangle, binary, box, letters, prism

ReadMesh = Callable[[str, bytes], Solid]

# ---- known solids

@pytest.mark.parametrize("write", [binary, letters, lambda t: letters(t, str.upper)])
def test_a_cube(read: ReadMesh, write: Callable[[list[Triangle]], bytes]) -> None:
    found = read("cube.stl", write(box(20, 20, 20)))
    assert found.volume_mm3 == pytest.approx(8000)
    assert found.surface_mm2 == pytest.approx(2400)
    assert found.level_surface_mm2 == pytest.approx(800)
    assert found.size_mm == pytest.approx((20, 20, 20))
    assert found.triangles.shape == (12, 3, 3)
    assert found.closed


def test_a_tetrahedron(read: ReadMesh) -> None:
    """Three edges at right angles: a sixth of their product."""
    found = read("corner.stl", binary(TETRAHEDRON))
    assert found.volume_mm3 == pytest.approx(5 * 6 * 7 / 6)
    assert found.size_mm == pytest.approx((5, 6, 7))
    assert found.closed


def test_a_cylinder_comes_as_near_as_its_facets(read: ReadMesh) -> None:
    """A prism of 360 sides: n/2 r² sin(2π/n) h, 0.005 % under the cylinder's π r² h."""
    found = read("rod.stl", binary(prism(360, 15, 40)))
    assert found.volume_mm3 == pytest.approx(180 * 15**2 * math.sin(math.pi / 180) * 40, rel=1e-6)
    assert found.volume_mm3 == pytest.approx(math.pi * 15**2 * 40, rel=6e-5)
    assert found.surface_mm2 == pytest.approx(2 * math.pi * 15 * (15 + 40), rel=6e-5)
    assert found.level_surface_mm2 == pytest.approx(2 * math.pi * 15**2, rel=6e-5)
    assert found.closed


def test_a_mesh_far_from_the_origin_keeps_its_volume(read: ReadMesh) -> None:
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

def test_a_hole_is_found(read: ReadMesh) -> None:
    found = read("hole.stl", binary(box(20, 20, 20)[1:]))
    assert not found.closed
    assert found.open_edges == 3


def test_a_facet_that_faces_inwards_is_found(read: ReadMesh) -> None:
    first, *rest = box(20, 20, 20)
    found = read("flipped.stl", binary([first[::-1], *rest]))
    assert not found.closed
    assert found.open_edges == 3


def test_a_facet_that_is_there_twice_is_found(read: ReadMesh) -> None:
    assert not read("twice.stl", binary([*box(20, 20, 20), box(20, 20, 20)[0]])).closed


def test_a_facet_without_width_tears_nothing(read: ReadMesh) -> None:
    assert read("sliver.stl", binary([*box(20, 20, 20), ((0, 0, 0), (0, 0, 0), (20, 0, 0))])).closed


def test_a_negative_zero_is_a_zero(read: ReadMesh) -> None:
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


def test_triangles_are_plain_numbers(read: ReadMesh) -> None:
    assert np.isfinite(read("cube.stl", binary(box(3, 3, 3))).triangles).all()
