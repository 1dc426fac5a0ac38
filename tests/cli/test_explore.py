"""``dossier explore``: tables of points and of builders, as text, as data, as a file; and what it says of bad words."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from tests.cli.conftest import SOUND, lines, run, write

STUDIED = SOUND + """\
readers: {currency: EUR}
goals: [{result: optics.focal_ratio, at_least: 7.5}, {result: parts.cost, at_most: 100}]
tolerances: {primary.focal_length: 12 mm, primary.conic: 0.05 normal}
explore: [{name: Shorter, vary: {primary.focal_length: "1000 mm, 1200 mm"}, show: [optics.focal_ratio]}]
parts:
  - {ref: P1, name: Mirror, get: buy, price: 80, instead: [{name: "=cmd|' /C calc'!A0", price: 120}]}
"""


@pytest.fixture(scope="module")
def studied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small build with a study, tolerances and another choice whose name would run in a spreadsheet."""
    return write(tmp_path_factory.mktemp("builds") / "studied", STUDIED)


def test_a_table_of_points_with_their_marks(studied: Path) -> None:
    ended = run("explore", studied, "--vary", "primary.focal_length=1000mm:1200mm:100mm", "--vary",
                "primary.aperture=150mm,1m", "--show", "optics.focal_ratio")
    assert (ended.returncode, ended.stderr) == (0, "")
    said = [line.split() for line in lines(ended.stdout)]
    assert said[1] == ["primary.focal_length", "primary.aperture", "optics.focal_ratio"]
    assert said[3] == ["1000", "150", "6.67", "!"]
    assert said[5] == ["1100", "150", "7.33", "!"]
    assert said[7] == ["1200", "150", "8", "~"]
    assert said[4][:5] == ["1000", "1000", "cannot", "be", "built:"]
    assert "6 points, of which 3 cannot be built" in ended.stdout
    assert "! misses its limit" in ended.stdout
    assert "optics.focal_ratio as planned: 8 (close, 6.7\u202f% to spare); at least 7.5" in ended.stdout


def test_the_file_is_utf_8_and_no_spreadsheet_runs_it(studied: Path, tmp_path: Path) -> None:
    file = tmp_path / "points.csv"
    ended = run("explore", studied, "--choose", "P1", "--csv", file)
    assert ended.returncode == 0, ended.stderr
    head, *rows = csv.reader(file.read_text("utf-8").splitlines())
    assert head == ["P1", "optics.focal_ratio", "optics.focal_ratio limit", "parts.cost_EUR", "parts.cost limit",
                    "cannot_be_built"]
    assert rows == [["as planned", "8", "close", "80", "meets", ""],
                    ["'=cmd|' /C calc'!A0", "8", "close", "120", "misses", ""]]


def test_the_spec_s_own_studies_are_worked_out_where_nothing_is_asked(studied: Path) -> None:
    data = json.loads(run("explore", studied, "--json").stdout)
    assert data["format"] == 1
    assert data["build"] == "studied"
    (study,) = data["studies"]
    assert study["name"] == "Shorter"
    assert [point["at"]["primary.focal_length"] for point in study["points"]] == [1000, 1200]
    first = study["points"][0]["results"]["optics.focal_ratio"]
    assert first == {"value": pytest.approx(6.6666667), "unit": "1",
                     "goal": {"limit": 7.5, "sense": "at_least", "outcome": "misses"}}


def test_builders_are_drawn_again_as_they_were(studied: Path) -> None:
    one, again, other = (run("explore", studied, "--tolerances", "200", "--seed", seed) for seed in ("4", "4", "5"))
    assert (one.returncode, one.stderr) == (0, "")
    assert one.stdout == again.stdout != other.stdout
    assert "200 builders drawn, seed 4" in one.stdout
    assert "primary.focal_length ± 12\u202fmm, anywhere within, about 1200\u202fmm" in one.stdout
    assert "primary.conic ± 0.05, two standard deviations, about -1" in one.stdout.replace("−", "-")
    assert "met by     100.0\u202f% (98.1 to 100.0\u202f%)" in one.stdout
    assert "moved by   primary.focal_length: 100\u202f% of the variance" in one.stdout
    assert "touched by no tolerance: parts.cost" in one.stdout


def test_everything_wrong_is_said_at_once_a_line_each(studied: Path) -> None:
    ended = run("explore", studied, "--vary", "primary.focal_lenght=1m:2m:1m", "--vary", "primary.aperture=150:200:10",
                "--choose", "P9", "--show", "figure.strel")
    assert (ended.returncode, ended.stdout) == (2, "")
    assert lines(ended.stderr) == [
        "--choose: P9: is no reference of a part (got P9)",
        "--show: figure.strel: no result has this name — did you mean 'figure.strehl'?",
        "--vary: primary.aperture: needs a unit, such as 150 mm (got 150)",
        "--vary: primary.focal_lenght: is no key of the spec — did you mean 'primary.focal_length'?"]


@pytest.mark.parametrize(("words", "said"), [
    (["--vary", "primary.focal_length=900mm:1500mm:0.01mm"], "has 60001 values, of which at most 10000"),
    (["--vary", "primary.focal_length=900mm:1500mm:1mm", "--vary", "primary.aperture=100mm:150mm:1mm"],
     "makes 30651 points, of which at most 5000 are worked out; take a longer step"),
    (["--show", "optics.focal_ratio"], "nothing says what is varied"),
    (["--tolerances", "5", "--choose", "P1"], "draws builders of the plan as it is"),
    (["--tolerances", "0"], "0 is not in the range"), (["--tolerances", "some"], "is not a valid integer"),
])
def test_what_cannot_be_explored(studied: Path, words: list[str], said: str) -> None:
    ended = run("explore", studied, *words)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert said in ended.stderr


def test_a_spec_without_studies_or_tolerances_says_what_to_ask(sound: Path) -> None:
    assert "explore: is not in this spec, so say what is varied" in run("explore", sound).stderr
    ended = run("explore", sound, "--tolerances")
    assert ended.returncode == 2
    assert "tolerances: is not in this spec, and no builder can be drawn without" in ended.stderr


def test_studies_and_tolerances_that_cannot_be_are_problems_of_the_spec(tmp_path: Path) -> None:
    bad = write(tmp_path / "bad", SOUND + """\
explore:
  - {name: Both, vary: {primary.focal_lenght: "1 m, 2 m", primary.aperture: 150}, choose: [P7], show: [figure.strel]}
  - {name: Nothing}
  - {name: Fine, vary: {primary.focal_length: "900 mm:1500 mm:1 mm"}}
tolerances: {primary.focal_length: 6 mm wide}
""")
    ended = run("check", bad)
    assert ended.returncode == 2
    place = f"{bad / 'build.yaml'}:"
    said = [line.removeprefix(place) for line in lines(ended.stderr)]
    assert said == [
        "7: explore[0].choose[0]: is no reference of a part (got P7)",
        "7: explore[0].vary.primary.aperture: wants FROM:TO:STEP such as 900mm:1500mm:50mm, or values with commas "
        "between (got 150)",
        "7: explore[0].vary.primary.focal_lenght: is no key of the spec — did you mean 'primary.focal_length'?",
        "8: explore[1]: needs vary or choose, such as vary: {primary.focal_length: 900 mm:1500 mm:50 mm}",
        "9: explore[2]: has 601 points; a page has room for 400: take a longer step",
        "10: tolerances.primary.focal_length: has an unknown unit, 'wide', wants a length such as 150 mm (got "
        "6 mm wide)"]
    unknown = write(tmp_path / "unknown", SOUND + "explore: [{name: A, vary: {primary.conic: '-1, 0'}, show: [a.b]}]\n")
    assert "explore[0].show[0]: no result is named 'a.b'" in run("check", unknown).stderr
