"""The commands that read and tell: check, explain, schema, begin; and words that the door does not know."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from dossier.views.record import results_schema
from tests.cli.conftest import DOSSIER, MISSED, environment, lines, run, tree, write
from tests.conftest import PROJECT, TEASEL

SCRIPT = Path(sys.executable).with_name("dossier")


@pytest.fixture(scope="module")
def demo_data() -> dict[str, Any]:
    """What ``check --json`` prints of the demo."""
    ended = run("check", TEASEL, "--json")
    assert ended.returncode == 1
    assert ended.stderr == ""
    data: dict[str, Any] = json.loads(ended.stdout)
    return data


def test_check_exits_with_0_where_all_goals_are_met(sound: Path) -> None:
    ended = run("check", sound)
    assert ended.returncode == 0
    assert ended.stderr == ""
    assert re.search(r"diagonal\.offset\s+\d", ended.stdout)
    assert "misses" not in ended.stdout


def test_check_exits_with_1_where_a_goal_is_missed(tmp_path: Path) -> None:
    ended = run("check", write(tmp_path / "missed", MISSED))
    assert ended.returncode == 1
    assert ended.stderr == ""
    assert re.search(r"diagonal\.full_field .* misses by \d", ended.stdout)


def test_check_exits_with_2_where_the_spec_is_unusable(broken: Path) -> None:
    ended = run("check", broken)
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert lines(ended.stderr) == [
        f"{broken}/build.yaml:3: primary.aperture: needs a unit, such as 150 mm (got 150)"]


def test_check_writes_nothing(sound: Path) -> None:
    before = tree(sound.parent)
    run("check", "sound", folder=sound.parent)
    assert tree(sound.parent) == before


def test_a_build_is_its_folder_or_its_file(sound: Path) -> None:
    words = (".", "build.yaml", sound, sound / "build.yaml", "../sound")
    said = {run("check", word, folder=sound).stdout for word in words}
    assert len(said) == 1


def test_json_keeps_to_its_schema(demo_data: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(results_schema())
    jsonschema.Draft202012Validator(results_schema()).validate(demo_data)
    assert demo_data["format"] == 1
    assert demo_data["build"] == "teasel-150"
    assert demo_data["results"]["optics.focal_ratio"]["value"] == 8
    assert re.fullmatch("[0-9a-f]{64}", demo_data["spec_sha256"])


def test_json_of_a_build_that_says_little_keeps_to_it_too(sound: Path) -> None:
    data = json.loads(run("check", sound, "--json").stdout)
    jsonschema.Draft202012Validator(results_schema()).validate(data)
    assert data["results"]["optics.focal_ratio"]["goal"] is None
    assert "cell.mirror_mass" in data["left_out"]


def test_json_is_what_a_publish_writes(demo_data: dict[str, Any], teasel_site: Path) -> None:
    assert json.loads((teasel_site / "results.json").read_text("utf-8"))["results"] == demo_data["results"]


def test_kits_change_what_all_kits_cost_and_not_what_one_does(demo_data: dict[str, Any]) -> None:
    eight = json.loads(run("check", TEASEL, "--kits", "8", "--json").stdout)
    assert eight["kits"] == 8
    cost, one = (data["results"] for data in (eight, demo_data))
    assert cost["parts.cost"]["value"] == one["parts.cost"]["value"]
    assert one["parts.cost"]["value"] < cost["parts.cost_all_kits"]["value"] <= 8 * one["parts.cost"]["value"]


def test_a_measured_file_is_laid_over_the_spec(sound: Path, tmp_path: Path) -> None:
    """It is the user's own word, so it may lie anywhere."""
    measured = tmp_path / "elsewhere" / "mine.yaml"
    measured.parent.mkdir()
    measured.write_text("primary: {focal_length: 1215 mm}\n")
    told = run("explain", sound, "optics.focal_ratio", "--measured", measured)
    assert told.returncode == 0
    assert "8.1" in told.stdout
    assert f"{measured}:1 primary.focal_length" in told.stdout
    measured.write_text("primary: {focal_lenght: 1215 mm}\n")
    ended = run("check", sound, "--measured", measured)
    assert ended.returncode == 2
    assert ended.stderr.startswith(f"{measured}:1: primary.focal_lenght: ")
    assert "did you mean 'focal_length'?" in ended.stderr


def test_explain_prints_the_chain_down_to_the_spec() -> None:
    ended = run("explain", "content/teasel-150", "field.coma_tangential")
    assert ended.returncode == 0
    heads = re.findall(r"^(\S+) — ", ended.stdout, re.MULTILINE)
    assert heads[0] == "field.coma_tangential"
    assert {"field.judged_angle", "optics.focal_ratio"} <= set(heads)
    assert len(heads) == len(set(heads)), "each result is explained once"


def test_explain_leads_to_the_lines_of_the_spec() -> None:
    ended = run("explain", "content/teasel-150", "figure.sag_difference")
    spec = (TEASEL / "build.yaml").read_text("utf-8").splitlines()
    found = re.findall(r"^  (\w+) = .*, from content/teasel-150/build\.yaml:(\d+) (\S+)$", ended.stdout, re.MULTILINE)
    assert {key for _, _, key in found} == {"primary.aperture", "primary.focal_length", "primary.conic"}
    for _, line, key in found:
        assert spec[int(line) - 1].strip().startswith(key.rpartition(".")[2] + ":")
    for word in ("formula", "put in", "answer", "source", "Schroeder"):
        assert word in ended.stdout


def test_explain_tells_goal_and_range() -> None:
    assert "goal      close" in run("explain", TEASEL, "figure.strehl").stdout
    assert "range     within" in run("explain", TEASEL, "optics.airy_diameter").stdout


def test_explain_of_an_unknown_id_asks_what_was_meant() -> None:
    ended = run("explain", TEASEL, "figure.sag_diference")
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert "did you mean 'figure.sag_difference'?" in ended.stderr


def test_explain_of_what_was_left_out_says_why(sound: Path) -> None:
    ended = run("explain", sound, "cell.mirror_mass")
    assert ended.returncode == 2
    assert "cell.mirror_mass: the spec does not say primary." in ended.stderr


def test_schema_is_a_schema_with_every_field_described() -> None:
    ended = run("schema")
    assert ended.returncode == 0
    schema = json.loads(ended.stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["properties"]["primary"]
    assert set(schema["required"]) >= {"format", "about", "primary", "diagonal", "focuser"}


@pytest.mark.parametrize("folder", ["new", "deep/er/new", "empty"])
def test_begin_writes_a_build_that_checks(tmp_path: Path, folder: str) -> None:
    (tmp_path / "empty").mkdir()
    ended = run("begin", folder, folder=tmp_path)
    assert ended.returncode == 0
    assert f"{folder}/build.yaml" in lines(ended.stdout)
    assert set(lines(ended.stdout)) == {f"{folder}/{name}" for name in tree(tmp_path / folder)}
    assert not [name for name in tree(tmp_path / folder) if "pycache" in name]
    checked = run("check", folder, folder=tmp_path)
    assert checked.returncode == 0, "a beginner's first check should not be a complaint:\n" + checked.stdout


@pytest.mark.parametrize("taken", ["folder", "file", "link"])
def test_begin_overwrites_nothing(tmp_path: Path, taken: str) -> None:
    target = tmp_path / "mine"
    if taken == "folder":
        target.mkdir()
        (target / "diary.txt").write_text("dear diary")
    elif taken == "file":
        target.write_text("dear diary")
    else:
        target.symlink_to(tmp_path / "nowhere")
    before = tree(tmp_path)
    ended = run("begin", target)
    assert ended.returncode == 2
    assert str(target) in ended.stderr
    assert tree(tmp_path) == before


def test_script_and_module_are_the_same_program() -> None:
    for words in (["--version"], ["check", str(TEASEL)], ["publish", "--help"]):
        both = [subprocess.run([*start, *words], cwd=PROJECT, env=environment(), capture_output=True, text=True,
                               check=False) for start in ([str(SCRIPT)], DOSSIER)]
        assert (both[0].returncode, both[0].stdout) == (both[1].returncode, both[1].stdout)


def test_help_names_every_command_and_its_statuses() -> None:
    usage = run("--help").stdout
    for command in ("publish", "check", "explain", "begin", "preview", "schema"):
        assert re.search(rf"^  {command} ", usage, re.MULTILINE)
        assert run(command, "-h").returncode == 0
    assert "1 a goal is missed" in run("check", "-h").stdout


@pytest.mark.parametrize("words", [
    [], ["chek", "x"], ["check"], ["explain", "x"], ["check", "x", "--kits", "0"], ["check", "x", "--kits", "many"],
    ["publish"], ["publish", "x", "--paper", "A5"], ["preview", "x", "--port", "70000"], ["check", "a", "b"],
    ["check", "x", "--jsn"],
], ids=" ".join)
def test_words_it_does_not_know(words: list[str]) -> None:
    ended = run(*words)
    assert ended.returncode == 2
    assert ended.stdout == "" or not words
    assert "Usage" in ended.stderr + ended.stdout
