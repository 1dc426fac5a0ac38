"""Several builds and the page that lists them."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from dossier.design import work_out
from dossier.design.difficulty import SMALL_MACHINES, difficulty, skill_of
from dossier.errors import Unusable
from dossier.publish import Options, publish_all
from dossier.spec.load import load_build
from dossier.views.library import build_line, library_view


def quiet(_: str) -> None:
    """These tests do not look at the progress."""


def test_a_folder_of_builds_gets_an_index(small: Path, tmp_path: Path, read: Callable[[Path], Any]) -> None:
    second = Path(shutil.copytree(small, small.parent / "sandpiper"))
    spec = second / "build.yaml"
    spec.write_text(spec.read_text("utf-8").replace("name: Dunlin 114", "name: Sandpiper <b>"), "utf-8")
    out = tmp_path / "out"
    publish_all((small.parent,), out, Options(no_packet=True), quiet, quiet)
    page = read(out / "index.html")
    assert "Dunlin 114" in page.said
    assert "Sandpiper <b>" in page.said
    assert not page.fetched
    for link in page.links:
        if not link["href"].startswith("#"):
            assert (out / link["href"].partition("#")[0]).is_file()
    assert sorted(path.name for path in out.iterdir()) == ["dunlin-114", "index.html", "sandpiper"]


def test_a_foreign_index_stays(small: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "index.html").write_text("mine")
    with pytest.raises(Unusable, match="not written by dossier"):
        publish_all((small.parent,), out, Options(no_packet=True), quiet, quiet)
    assert (out / "index.html").read_text() == "mine"


def test_what_a_build_asks_of_its_maker(small: Path) -> None:
    """By the tools of its steps: the starter wants a jigsaw and a drill; without tools nothing is said."""
    design = work_out(load_build(small))
    asked = difficulty(design)
    assert asked.level == SMALL_MACHINES
    assert "cutting out with a jigsaw" in asked.skills
    assert "hand tools and small machines: jigsaw" in build_line(design)["asks"]
    bare = replace(design, steps=())
    assert difficulty(bare).level == 0
    assert build_line(bare)["asks"] == ""


@pytest.mark.parametrize(("tool", "skill", "level"), [
    ("drill, 4.5 mm, by hand", "drilling by hand", 1), ("hand drill with a bit of 3.2 mm", "drilling by hand", 1),
    ("drill press with a vice", "drilling", 2), ("circular saw with a guide rail", "power sawing", 3),
    ("hacksaw, 32 teeth to the inch", "sawing by hand", 1), ("3D printer, 220 × 220 mm", "printing in plastic", 2),
    ("router with a trammel", "routing", 3), ("two brushes", "painting and gluing", 1),
    ("kitchen scales", "measuring", 1),
])
def test_tools_and_their_skills(tool: str, skill: str, level: int) -> None:
    """Common practice, no source."""
    found = skill_of(tool)
    assert found is not None
    assert (found.name, found.level) == (skill, level)


def test_what_needs_no_name() -> None:
    assert skill_of("red torch") is None
    assert skill_of("a drilling priest") is None


def test_builds_in_two_currencies_are_not_ordered_by_cost(small: Path) -> None:
    line = build_line(work_out(load_build(small)))
    same, other = library_view([line, line]), library_view([line, {**line, "currency": "CAD"}])
    assert same.currency == line["currency"]
    assert other.currency == ""
    assert [row.label for row in same.rows][-3:] == ["Skills", "Limits missed", "Revision"]
