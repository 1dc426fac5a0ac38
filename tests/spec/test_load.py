"""A build read whole, and every kind of file that is none."""

from __future__ import annotations

import datetime
import hashlib
import os
import pickle
from pathlib import Path

import pytest

from dossier.errors import Problem, Unusable
from dossier.spec.deferred import Deferred
from dossier.spec.load import Loaded, Spot, load_build
from dossier.spec.text_file import LARGEST_FILE
from tests.spec.conftest import Load, Say, Write

TEASEL = Path(__file__).parents[2] / "content" / "teasel-150"


def only(lines: list[str]) -> str:
    """The one line there is."""
    assert len(lines) == 1, lines
    return lines[0]


def test_the_smallest_spec(load: Load, least: str) -> None:
    build = load(least).build
    assert (build.format, build.about.name) == (1, "Least")
    assert (build.primary.aperture, build.primary.focal_length, build.primary.conic) == (150.0, 1200.0, -1.0)
    assert (build.readers.units, build.readers.paper, build.readers.language) == ("metric", "A4", "en")
    assert build.conditions.wavelength == 550.0
    for section in ("spider", "field", "frame", "front", "cell", "cooling", "mount", "printer", "bench"):
        assert getattr(build, section) is None
    assert (build.eyepieces, build.goals, build.parts, build.notes) == ((), (), (), ())


def test_the_demo() -> None:
    loaded = load_build(TEASEL)
    assert loaded.build.primary.aperture == 150.0
    assert len(loaded.build.parts) > 40
    assert loaded.sha256 == hashlib.sha256((TEASEL / "build.yaml").read_bytes()).hexdigest()
    lines = (TEASEL / "build.yaml").read_text().splitlines()
    spot = loaded.spots["primary.focal_length"]
    assert lines[spot.line - 1].strip().startswith("focal_length: ")
    assert spot.said == "1200 mm"


def test_folder_and_file_are_the_same_build(write: Write, least: str) -> None:
    folder = write(least)
    assert load_build(folder).build == load_build(folder / "build.yaml").build
    assert load_build(folder).folder == load_build(folder / "build.yaml").folder == folder


def test_a_build_typed_as_a_dot_has_its_folders_name(write: Write, least: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(write(least))
    assert load_build(Path(".")).name == "x"


def test_spots_say_where_and_what(load: Load, least: str) -> None:
    loaded = load(least + "parts:\n  - ref: P1\n    name: Mirror\n    mass: 2 lb\n")
    assert loaded.spots["parts[0].mass"] == Spot("x/build.yaml", 9, "2 lb")
    assert loaded.spots["parts[0]"] == Spot("x/build.yaml", 7, "")
    assert loaded.build.parts[0].mass == 0.90718474


def test_nothing_changes_a_build(load: Load, least: str) -> None:
    with pytest.raises(ValueError, match="frozen"):
        load(least).build.primary.__setattr__("aperture", 3.0)  # as an assignment does


def test_a_build_can_be_sent_to_another_process(load: Load, least: str) -> None:
    loaded = load(least + 'frame: {kind: tube, length: "{{ optics.intercept }}"}\n')
    again: Loaded = pickle.loads(pickle.dumps(loaded))
    assert again.build.frame is not None
    assert isinstance(again.build.frame.length, Deferred)
    assert again.build.frame.length.expression == "{{ optics.intercept }}"


def test_plain_values(load: Load, least: str) -> None:
    """Only what a maker would take for a number, a date or a truth is one."""
    build = load(least + """\
readers: {currency: EUR}
mount: {tracking: false}
parts:
  - {ref: P1, name: "010", quantity: 010, price: 1e1, priced_on: 2026-09-12, group: yes, why: 12:30:45}
  - {ref: P2, name: "2026", quantity: "3", price: "4.50"}
""").build
    assert build.mount is not None
    assert build.mount.tracking is False
    first, second = build.parts
    assert (first.name, first.quantity, first.price, first.group, first.why) == ("010", 10, 10.0, "yes", "12:30:45")
    assert first.priced_on == datetime.date(2026, 9, 12)
    assert (second.name, second.quantity, second.price) == ("2026", 3, 4.5)


def test_minus_signs_and_inches_everywhere(load: Load, least: str) -> None:
    loaded = load(least.replace("150 mm", "6 in") + "eyepieces: [{name: 1 1/4 in, stop_shift: −1/8 in}]\n")
    assert loaded.build.primary.aperture == 152.4
    assert loaded.build.eyepieces[0].stop_shift == -3.175


def test_the_file_is_named_as_its_user_typed_it(write: Write, least: str) -> None:
    folder = write(least.replace("150 mm", "150"))
    for typed in (folder, folder.resolve(), folder / "build.yaml"):
        with pytest.raises(Unusable) as caught:
            load_build(typed)
        assert str(caught.value) == "x/build.yaml:3: primary.aperture: needs a unit, such as 150 mm (got 150)"


def test_problem_of_a_loaded_build_stands_at_its_line(load: Load, least: str) -> None:
    loaded = load(least)
    assert loaded.problem("primary.aperture", "is odd") == Problem("x/build.yaml", 3, "primary.aperture", "is odd")
    assert loaded.problem("primary.glass", "is not said").line == 3
    assert loaded.problem("cell.points", "is not said").line == 1


# Files that are no build.

def test_no_such_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(Unusable, match=r"^nowhere: there is no such file$"):
        load_build(Path("nowhere"))


def test_a_folder_without_a_spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "x").mkdir()
    (tmp_path / "x" / "build.yml").touch()
    with pytest.raises(Unusable, match=r"^x: has no build\.yaml — did you mean 'build\.yml'\?; `dossier begin` writes"):
        load_build(Path("x"))


def test_a_file_of_fifty_megabytes_is_refused_by_its_size(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with open("build.yaml", "wb") as file:
        os.truncate(file.fileno(), 50_000_000)
    with pytest.raises(Unusable, match=r"^build\.yaml: is too large \(50\.0 MB\); a build's text has at most 1 MB$"):
        load_build(Path("."))


def test_a_file_that_fits_is_read(load: Load, least: str) -> None:
    assert load(least + "#" * (LARGEST_FILE - len(least))).build.about.name == "Least"


@pytest.mark.parametrize("make", [os.mkfifo, os.mkdir], ids=["fifo", "folder"])
def test_only_an_ordinary_file_is_read(make: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert callable(make)
    make("build.yaml")
    with pytest.raises(Unusable, match=r"build\.yaml: is not an ordinary file$"):
        load_build(Path("."))


def test_a_path_that_is_no_path() -> None:
    with pytest.raises(Unusable, match="cannot be read"):
        load_build(Path("a\0b"))
    with pytest.raises(Unusable, match="cannot be read"):
        load_build(Path("a" * 5000))


@pytest.mark.parametrize("text", ["", "\n\n", "   \n"])
def test_an_empty_file(problems: Say, text: str) -> None:
    assert only(problems(text)) == "x/build.yaml: is empty; `dossier begin` writes a build to start from"


@pytest.mark.parametrize("text", ["# nothing\n", "- 1\n- 2\n", "just words\n"])
def test_a_file_without_keys(problems: Say, text: str) -> None:
    assert only(problems(text)) == "x/build.yaml:1: wants keys and values, such as 'format: 1'"


@pytest.mark.parametrize(("raw", "message"), [
    (b"\xef\xbb\xbfformat: 1\n", "1: begins with a byte-order mark; save it as UTF-8 without one"),
    ("format: 1\n".encode("utf-16"), "1: is in UTF-16; save it as UTF-8"),
    ("format: 1\n".encode("utf-16-be"), "1: is in UTF-16; save it as UTF-8"),
    ("format: 1\n".encode("utf-32"), "1: is in UTF-32; save it as UTF-8"),
    ("format: 1\nabout: {name: Plössl}\n".encode("latin-1"),
     "2: is not UTF-8 (byte 0xf6), perhaps Latin-1 or Windows-1252; save it as UTF-8"),
    (b"format: 1\nabout: {name: a\x00b}\n", "2: holds an invisible control character (U+0000); remove it"),
    (b"format: 1\n\n\x1b[31m: 1\n", "3: holds an invisible control character (U+001B); remove it"),
    ("format: 1\u2028\n".encode(), "1: holds an invisible control character (U+2028); remove it"),
])
def test_other_encodings(problems: Say, raw: bytes, message: str) -> None:
    assert only(problems(raw)) == f"x/build.yaml:{message}"


def test_a_control_character_that_an_escape_hides(problems: Say, least: str) -> None:
    assert only(problems(least.replace("Least", '"\\e[31m"'))) == (
        "x/build.yaml:2: holds an invisible control character (U+001B); remove it")


def test_every_tab_that_indents(problems: Say) -> None:
    assert problems("format: 1\nprimary:\n\taperture: 150 mm\n\tconic: 0\n") == [
        "x/build.yaml:3: is indented with a tab; use spaces", "x/build.yaml:4: is indented with a tab; use spaces"]


@pytest.mark.parametrize(("text", "message"), [
    ("a: 'open\n", "2: is not YAML: found unexpected end of stream, in what began in line 1"),
    ("about:\n  name: [a, b\nformat: 1\n", "is not YAML"),
    ("a: b: c\n", "1: is not YAML: mapping values are not allowed in this context; a text that holds a colon needs"),
    ("a: {{ x }} mm\n", "is not YAML: did not find expected key; an expression needs quotes"),
    ("a: @b\n", "1: is not YAML: found character that cannot start any token"),
])
def test_what_is_not_yaml(problems: Say, text: str, message: str) -> None:
    assert any(message in line for line in problems(text))


def test_an_expression_without_quotes(problems: Say, least: str) -> None:
    lines = problems(least + "frame: {kind: tube}\nfront:\n  station: {{ optics.intercept }}\n")
    assert 'x/build.yaml:8: has a key that is not a word; an expression needs quotes: "{{ … }}"' in lines


def test_duplicate_keys_are_all_named(problems: Say, least: str) -> None:
    text = least + "about: {name: Other}\ncell:\n  points: 3\n  points: 6\n  points: 9\n"
    assert problems(text) == [
        "x/build.yaml:6: about: stands twice, first in line 2",
        "x/build.yaml:9: cell.points: stands twice, first in line 8",
        "x/build.yaml:10: cell.points: stands twice, first in line 8"]


@pytest.mark.parametrize(("more", "message"), [
    ("---\nformat: 1\n", "6: holds a second document after ---; a build is one"),
    ("about2: !!python/object/apply:os.system [x]\n", "6: has a tag, tag:yaml.org,2002:python/object/apply:os.sy"),
    ("cell: !cell {points: 3}\n", "6: has a tag, !cell; tags are not used here"),
    ("cell: {<<: {points: 3}}\n", "6: has a merge key, <<; write the keys out"),
    ("cell: {~: 3}\n", "6: has a value without a key"),
    ("? [a, b]\n: 3\n", "6: has a key that is not a word"),
    ("cell: *nowhere\n", "6: has an alias, *nowhere, to what is not there or not yet complete"),
    ("cell: &me {push: *me}\n", "6: has an alias, *me, to what is not there or not yet complete"),
    ("cooling:\n", "6: cooling: has no value; give one or remove the key"),
    ("parts:\n  -\n", "7: parts[0]: has no value; give one or remove the key"),
    ("a: " + "[" * 40 + "]" * 40 + "\n", "6: is nested more than 24 deep"),
])
def test_yaml_that_is_not_used_here(problems: Say, least: str, more: str, message: str) -> None:
    assert any(line.startswith(f"x/build.yaml:{message}") for line in problems(least + more))


def test_deep_nesting_never_exhausts_the_stack(problems: Say) -> None:
    for text in ("[" * 300_000, "{a: " * 200_000, "- " * 400_000, "? " * 400_000):
        assert problems(text)


def test_an_alias_bomb(problems: Say) -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    assert only(problems("\n".join(rows))) == (
        "x/build.yaml:5: holds more than 50000 values, with all that its aliases repeat")


def test_an_alias_repeats_what_it_names(load: Load, least: str) -> None:
    cell = load(least + "cell: {push: &three {count: 3, radius: 50 mm}, clips: *three}\n").build.cell
    assert cell is not None
    assert cell.clips is not None
    assert cell.clips.radius == 50.0
