"""The table of the focusing mask says what the template is cut to, and which eyepieces are too weak for it."""

from __future__ import annotations

import yaml

from dossier.design import work_out
from dossier.design.asides.focusing import mask
from dossier.design.pictures.focusing import focusing_mask_of
from dossier.spec.load import load_build
from tests.drawings.templates.conftest import TRIALS, every_trial, trial


@every_trial
def test_the_table_holds_the_sizes_that_are_cut(name: str) -> None:
    sizes = focusing_mask_of(trial(name))
    entries = [row.entries[0] for row in mask(trial(name)).rows]
    assert [entry.value for entry in entries] == [
        each.value for each in (sizes.pitch, sizes.tilt, sizes.first_order, sizes.shift, sizes.apart)]


def test_a_weak_eyepiece_is_told_to_be_too_weak(tmp_path) -> None:
    spec = {"format": 1, "about": {"name": "Trial"}, **TRIALS["bare-130"], "eyepieces": [
        {"name": "25 mm", "focal_length": "25 mm"}, {"name": "4 mm", "focal_length": "4 mm"}]}
    (tmp_path / "build.yaml").write_text(yaml.safe_dump(spec), "utf-8")
    design = work_out(load_build(tmp_path))
    remarks = {row.name: row.remark for row in mask(design).rows}
    assert remarks["They look, in the 25 mm"]
    assert not remarks["They look, in the 4 mm"]
