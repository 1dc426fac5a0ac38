"""The published builds' own mirror cell, primary, diagonal and spider: there, legible, with their parts named."""

from __future__ import annotations

from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.drawings.figures import diagonal_spider, mirror_blank, mirror_cell
from dossier.spec.load import load_build

ROOT = Path(__file__).parents[3]
BUILDS = sorted(path.parent for path in (ROOT / "content").glob("*/build.yaml"))
KINDS = {"mirror-cell": mirror_cell, "mirror-blank": mirror_blank, "diagonal-spider": diagonal_spider}


@pytest.mark.parametrize("where", ["paper", "phone"])
@pytest.mark.parametrize("key", KINDS)
@pytest.mark.parametrize("folder", BUILDS, ids=lambda path: path.name)
def test_each_build_has_it(drawn_page, folder, key, where):
    design = work_out(load_build(folder))
    page = drawn_page(KINDS[key].make, design, where)
    page.legible()
    assert KINDS[key].SHEET.key == page.figure.name == key
    known, box = {part.ref for part in design.build.parts}, page.figure.box
    for balloon in page.figure.balloons:
        assert balloon.ref in known
        assert box.left <= balloon.at[0] <= box.right
        assert box.top <= balloon.at[1] <= box.bottom
    named = {run.result for note in page.figure.notes for run in note if run.result}
    named |= {each for element in page.root.iter() if (each := element.get("data-result"))}
    assert named
    assert named <= set(design.results)
