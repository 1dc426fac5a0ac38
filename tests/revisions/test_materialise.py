"""A frozen revision opened again is the same build; what the program of today works out otherwise is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.revisions import frozen
from dossier.revisions.materialise import design_of, drift, materialise
from dossier.spec.issued import history, list_sums, sealed
from dossier.spec.load import load_build
from tests.revisions.conftest import HEAD, Write, issued


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(aperture=st.integers(76, 400), ratio=st.floats(4, 10), axis=st.floats(0.2, 0.3),
       body=st.text("ab \n#*é", max_size=40))
def test_issued_and_opened_again_it_gives_the_same_results(
        tmp_path_factory: pytest.TempPathFactory, aperture: int, ratio: float, axis: float, body: str) -> None:
    folder = tmp_path_factory.mktemp("some") / "reed-130"
    (folder / "pages").mkdir(parents=True)
    spec = HEAD
    for was, now in (("aperture: 130", f"aperture: {aperture}"), ("length: 900", f"length: {aperture * ratio:.1f}"),
                     ("axis: 36", f"axis: {aperture * axis:.1f}"), ("radius: 90", f"radius: {aperture * 0.7:.1f}")):
        assert was in spec
        spec = spec.replace(was, now)
    (folder / "build.yaml").write_text(spec)
    (folder / "pages" / "overview.md").write_text(body)
    before = work_out(load_build(folder))
    issued(folder)
    (folder / "build.yaml").write_text(HEAD)
    with design_of(folder, "A") as again:
        assert (again.revision, again.date, again.loaded.name) == ("A", "2026-03-01", folder.name)
        assert {name: result.value for name, result in again.results.items()} == {
            name: result.value for name, result in before.results.items()}
        assert (again.loaded.folder / "pages" / "overview.md").read_text() == body
        assert drift(frozen.read(again.issued[-1]), again) == ()
        opened = again.loaded.folder
    assert not opened.exists()


def test_each_revision_knows_those_before_it_alone(reed: Write, tmp_path: Path) -> None:
    folder = reed()
    for day in (1, 2, 3):
        reed("", HEAD.replace("900 mm", f"90{day} mm"), **{"parts/plan.txt": f"the {day}.", "pages/own.md": "plan.txt"})
        issued(folder, day)
    with design_of(folder, "B") as design:
        assert [head.letter for head in design.issued] == ["A", "B"]
        assert design.results["optics.focal_ratio"].value == 902 / 130
        assert (design.loaded.folder / "parts" / "plan.txt").read_text() == "the 2."
    copy = materialise(folder, "A", tmp_path / "elsewhere")
    assert work_out(load_build(copy)).revision == "A"


def test_what_the_program_of_today_works_out_otherwise(reed: Write) -> None:
    folder = reed()
    issued(folder)
    path = folder / "revisions" / "A.yaml"
    body = path.read_bytes().split(b"\n", 2)[2]
    said = repr(900 / 130).encode()
    assert body.count(said) == 1
    path.write_bytes(sealed("As another program had it", body.replace(said, b"7.25").replace(
        b'"optics.airy_diameter"', b'"optics.no_longer_there"')))
    list_sums(folder / "revisions")
    with design_of(folder, "A") as design:
        found = drift(frozen.read(history(folder)[-1]), design)
    assert [(each.result_id, each.then.value, each.now is None) for each in found if each.then.value != 7.25] == [
        ("optics.no_longer_there", pytest.approx(9.29, abs=0.01), True)]
    assert ("optics.focal_ratio", 7.25) in [(each.result_id, each.then.value) for each in found]


def test_what_cannot_be_worked_out_any_more_is_told_at_the_frozen_file(reed: Write) -> None:
    folder = reed()
    issued(folder)
    path = folder / "revisions" / "A.yaml"
    path.write_bytes(sealed("Of a later format", path.read_bytes().split(b"\n", 2)[2].replace(
        b"focal_length: 900 mm", b"focal_length: 900 furlong")))
    list_sums(folder / "revisions")
    with pytest.raises(Unusable) as raised, design_of(folder, "A"):
        pass
    assert str(raised.value).startswith(f"{path}: build.yaml:4: primary.focal_length: ")


@pytest.mark.parametrize(("part", "other"), [
    (b"results:\n", b"result:\n"), (b'"unit": "1"', b'"united": "1"'), (b"texts:\n", b"texts: []\nothers:\n"),
    (b"previous: {}", b'previous: {"letter": 1}'), (b"previous: {}", b"previous: 5"), (b'note: "', b'note: 5 #"'),
])
def test_a_strangers_revision_of_another_shape_is_refused(reed: Write, part: bytes, other: bytes) -> None:
    folder = reed()
    issued(folder)
    path = folder / "revisions" / "A.yaml"
    body = path.read_bytes().split(b"\n", 2)[2]
    assert part in body
    path.write_bytes(sealed("By a stranger", body.replace(part, other)))
    list_sums(folder / "revisions")
    with pytest.raises(Unusable, match=r"is not (as dossier freezes|the frozen file)"), design_of(folder, "A"):
        pass


@pytest.mark.parametrize("path", ["../out.md", "/etc/out.md", "pages/../../out.md"])
def test_a_strangers_revision_writes_nothing_outside_its_folder(reed: Write, tmp_path: Path, path: str) -> None:
    folder = reed(**{"pages/own.md": "Words."})
    issued(folder)
    frozen_file = folder / "revisions" / "A.yaml"
    frozen_file.write_bytes(sealed("By a stranger", frozen_file.read_bytes().split(b"\n", 2)[2].replace(
        b'"pages/own.md": |', f'"{path}": |'.encode())))
    list_sums(folder / "revisions")
    with pytest.raises(Unusable, match="holds a file outside the build's folder"):
        materialise(folder, "A", tmp_path / "into" / "deep")
