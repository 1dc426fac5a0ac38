"""A check finds in steps and pages what publishing would refuse, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.spec.load import load_build
from dossier.views.proofread import Eye, proofread
from tests.cli.conftest import SOUND, run, write
from tests.conftest import PROJECT

SPEC = SOUND + "eyepieces: [{name: 9-mm, focal_length: 9 mm, apparent_field: 50 deg}]\n"
SOUND_TEXTS = (
    "It shows {{ optics.focal_ratio }} at {{ eyepiece['9-mm'].magnification }}.",
    "{{ (diagonal.offset.value * 2 - 1.5) / spec.primary.aperture.value | round(1) }} and {{ spec.about.name }}",
    "{{ 'a sum' if optics.focal_ratio.value > 6 else 'none' }}",
    "no braces at all",
)
SPOILT_TEXTS = {
    "{{ diagonal.ofset }}": "did you mean 'diagonal.offset'?",
    "{{ diagonal.offset.value | rund(1) }}": "rund",
    "{{ diagonal.offset - 3 }}": "cannot be worked out",
    "{{ (diagonal.offset.value }}": "cannot be read",
    "{{ diagonal.offset.value 3 }}": "cannot be read",
    "{{ optics.focal_ratio.value[3] }}": "has no '3'",
    "{{ cell.mirror_mass }}": "is not worked out",
    "{% set x = 1 %}": "are not",
    "{{ optics.focal_ratio": "cannot be read",
}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return write(tmp_path / "b", SPEC)


def test_sound_expressions_pass(home: Path) -> None:
    write(home, SPEC, **{f"pages/p{number}.md": text for number, text in enumerate(SOUND_TEXTS)})
    proofread(work_out(load_build(home)))


def test_each_spoilt_expression_is_told_with_its_place(home: Path) -> None:
    write(home, SPEC, **{f"pages/p{number}.md": f"---\ntitle: P\n---\n\n{text}\n"
                         for number, text in enumerate(SPOILT_TEXTS)})
    with pytest.raises(Unusable) as refused:
        proofread(work_out(load_build(home)))
    said = [(Path(problem.file).stem, problem.line, problem.message) for problem in refused.value.problems]
    assert [(file, line) for file, line, _ in said] == [(f"p{number}", 5) for number in range(len(SPOILT_TEXTS))]
    for (_, _, message), expected in zip(said, SPOILT_TEXTS.values(), strict=True):
        assert expected in message


def test_a_step_is_read_to_its_front_matter(home: Path) -> None:
    write(home, SPEC, **{"pages/steps/1-saw.md": "---\ntitle: Saw\nchecks:\n  - {what: length, target: '{{ a.b }}'}\n"
                                                 "---\n\nSaw to {{ diagonal.offst }}.\n"})
    with pytest.raises(Unusable) as refused:
        proofread(work_out(load_build(home)))
    assert [(problem.line, problem.key) for problem in refused.value.problems] == [(3, "checks"), (7, "")]


@pytest.mark.parametrize("name", ["teasel-150", "alder-250", "bramble-76"])
def test_the_demos_need_no_second_look(name: str) -> None:
    """Only so does a check keep its speed: what is doubted is worked out in a sandbox that takes long to load."""
    design = work_out(load_build(PROJECT / "content" / name))
    eye = Eye(design)
    texts = [path.read_text("utf-8") for path in (PROJECT / "content" / name / "pages").rglob("*.md")]
    assert len(texts) > 10
    assert not any(map(eye.doubts, texts))


def test_check_exits_with_2_where_a_page_is_wrong(home: Path) -> None:
    write(home, SPEC, **{"pages/overview.md": "One.\n\nIt shows {{ optics.focal_ration }}.\n"})
    ended = run("check", home)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr.startswith(f"{home}/pages/overview.md:3: ")
