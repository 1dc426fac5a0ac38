"""Several builds and the page that lists them."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from dossier.errors import Unusable
from dossier.publish import Options, publish_all


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
