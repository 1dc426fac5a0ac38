"""The README: its example is a build, its commands are commands, its picture is what the program draws today."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.conftest import run, write
from tests.cli.readme_picture import PICTURE, picture
from tests.conftest import PROJECT
from tests.test_layers import MAY_USE

README = (PROJECT / "README.md").read_text("utf-8")
DEVELOPERS = (PROJECT / "DEVELOPERS.md").read_text("utf-8")
SET_UP = ("    sh dossier/setup.sh && .venv/bin/dossier publish content/teasel-150\n",
          "    sh dossier/setup.sh test && .venv/bin/pytest\n")


def blocks(language: str) -> list[str]:
    """The fenced blocks of this language."""
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


@pytest.fixture
def example(tmp_path: Path) -> Path:
    """The build that the README shows, with its one step."""
    (spec,), (step,) = blocks("yaml"), blocks("markdown")
    return write(tmp_path / "sorrel-200", spec, **{"pages/steps/01-cut-the-poles.md": step})


def test_its_example_works_out(example: Path) -> None:
    ended = run("check", example)
    assert ended.returncode == 0, ended.stderr + ended.stdout
    assert re.search(r"parts\.cost +262\.00 EUR", ended.stdout)


def test_its_example_publishes(example: Path, tmp_path: Path) -> None:
    ended = run("publish", example, "--out", tmp_path / "site", "--no-packet")
    assert ended.returncode == 0, ended.stderr
    step = (tmp_path / "site" / "sorrel-200" / "step-cut-the-poles.html").read_text("utf-8")
    assert "Longest pole" in step


def test_the_names_it_uses_in_prose_are_results_of_its_example(example: Path) -> None:
    said = run("check", example).stdout
    names = set(re.findall(r"\{\{ ((?!spec\.)[a-z_]+\.[a-z_]+) \}\}", README))
    assert {"diagonal.offset", "frame.pole_length", "cell.mirror_mass"} <= names
    for name in names - {"parts.print_time"}:  # the example prints nothing
        assert re.search(rf"^  {re.escape(name)} ", said, re.MULTILINE), name
    assert "eyepiece['8-mm-plossl'].magnification" in README
    assert "eyepiece.8-mm-plossl.magnification" in said


def test_the_error_it_shows_is_the_one_that_is_said(tmp_path: Path) -> None:
    shown = re.search(r"^    content/x/build\.yaml:(\d+): (.*)$", README, re.MULTILINE)
    assert shown
    spec = "\n" * (int(shown[1]) - 3) + "format: 1\nprimary:\n  aperture: 150\n"
    write(tmp_path / "content" / "x", spec)
    ended = run("check", "content/x", folder=tmp_path)
    assert f"content/x/build.yaml:{shown[1]}: {shown[2]}" in ended.stderr.splitlines()


def test_its_set_up_is_two_commands() -> None:
    for command in SET_UP:
        assert README.count(command) == 1
    assert (PROJECT / "dossier" / "setup.sh").is_file()
    assert "sh dossier/setup.sh test\n.venv/bin/pytest\n" in (PROJECT / ".ci" / "run").read_text()


def test_every_command_and_option_of_its_table_is_one() -> None:
    rows = re.findall(r"^\| `dossier (\w+)([^`]*)`", README, re.MULTILINE)
    assert {name for name, _ in rows} == {"publish", "check", "explain", "begin", "preview", "issue", "compare",
                                          "explore", "schema"}
    for name, words in rows:
        usage = run(name, "--help").stdout
        listed = set(re.findall(r"--[a-z-]+", words))
        assert listed == set(re.findall(r"--[a-z-]+", usage)) - {"--help"}, name


def test_its_picture_is_what_the_program_draws_today() -> None:
    assert PICTURE.read_text("utf-8") == picture(), "draw it again: python -m tests.cli.readme_picture"


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_its_links_lead_to_files_that_are_there(text: str) -> None:
    links = [link for link in re.findall(r"\]\(([^)\s]+)\)", text) if not link.startswith(("http", "#"))]
    for link in links:
        assert (PROJECT / link.partition("#")[0]).exists(), link


def test_it_shows_its_picture_by_a_link_within_the_project() -> None:
    assert re.search(rf"!\[[^\]]+\]\({PICTURE.relative_to(PROJECT).as_posix()}\)", README)


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_files_it_names_are_there(text: str) -> None:
    """Names in backquotes that begin with a folder of the project."""
    named = set(re.findall(r"`((?:dossier|tests|themes|content|\.ci)/[\w./-]+)`", text))
    assert named
    for name in named:
        assert (PROJECT / name).exists(), name


def test_the_table_of_layers_is_the_one_that_is_enforced() -> None:
    rows = re.findall(r"^\| (`[^|]*`) \| ([^|]*) \| ([^|]*) \|$", DEVELOPERS, re.MULTILINE)
    told = {layer: (names(own), names(outside)) for layers, own, outside in rows
            for layer in re.findall(r"`(\w+)`", layers) if not layers.startswith("`tests")}
    assert told == {layer: allowed for layer, allowed in MAY_USE.items() if layer != "__main__"}


def names(cell: str) -> set[str]:
    return set() if cell == "–" else set(cell.split(", "))


def test_the_changelog_has_the_version_that_is_built() -> None:
    version = re.search(r'^version = "(.*)"$', (PROJECT / "pyproject.toml").read_text(), re.MULTILINE)
    assert version
    assert re.search(rf"^### {re.escape(version[1])}\b", DEVELOPERS, re.MULTILINE)
