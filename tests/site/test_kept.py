"""What did not change is not worked out again; what changed in any way is; and neither can be told apart afterwards."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import dossier.publish
from dossier.publish import Options, kept, packet, packet_source, publish_all
from dossier.publish.write import Order

EPOCH = "1780000000"

LEAST = """\
format: 1
about: {name: Bare}
primary: {aperture: 100 mm, focal_length: 800 mm}
diagonal: {minor_axis: 25 mm}
focuser: {mounting_radius: 70 mm, height: 50 mm}
"""

@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The least build with a page, a theme of its own beside it, and all of it published once."""
    root = tmp_path_factory.mktemp("kept")
    build = root / "builds" / "bare"
    (build / "pages").mkdir(parents=True)
    (build / "build.yaml").write_text(LEAST)
    (build / "pages" / "notes.md").write_text("Seen once.\n")
    (root / "theme").mkdir()
    (root / "theme" / "theme.yaml").write_text("extends: drawing-office\n")
    (root / "m.yaml").write_text("primary: {focal_length: 790 mm}\n")
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("SOURCE_DATE_EPOCH", EPOCH)
        run(root)
    return root


@pytest.fixture
def root(once: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of all that, to be changed, on the same day."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", EPOCH)
    return Path(shutil.copytree(once, tmp_path / "kept"))


def options(root: Path, **how: Any) -> Options:
    return Options(**{"theme": str(root / "theme"), "no_packet": True, **how})


def run(root: Path, say: Callable[[str], Any] = lambda _: None, **how: Any) -> None:
    publish_all((root / "builds" / "bare",), root / "out", options(root, **how), lambda _: None, say)


def taken(root: Path, **how: Any) -> bool:
    """Whether the build would be taken as it stands."""
    return Order(root / "builds" / "bare", root / "out", options(root, **how)).made is not None


def held(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_kept_and_fresh_are_the_same_to_the_byte(root, monkeypatch):
    """Taken as it stands nothing is worked out; told to, everything is; either way the same is there."""
    first = held(root / "out")
    worked: list[str] = []
    original = dossier.publish.work_out
    monkeypatch.setattr(dossier.publish, "work_out",
                        lambda loaded, **rest: worked.append(loaded.name) or original(loaded, **rest))
    run(root)
    assert (worked, held(root / "out")) == ([], first)
    run(root, fresh=True)
    assert (worked, held(root / "out")) == (["bare"], first)
    shutil.rmtree(root / "out")
    run(root)
    assert (worked, held(root / "out")) == (["bare", "bare"], first)


def add(path: str, text: str) -> Callable[[Path], None]:
    def change(root: Path) -> None:
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    return change


CHANGES = {
    "a number of the spec": add("builds/bare/build.yaml", LEAST.replace("25 mm", "26 mm")),
    "a comment of the spec": add("builds/bare/build.yaml", LEAST + "# well\n"),
    "a page": add("builds/bare/pages/notes.md", "Seen twice.\n"),
    "a new page": add("builds/bare/pages/more.md", "More.\n"),
    "a file beside": add("builds/bare/parts/x.txt", "x"),
    "a hidden file": add("builds/bare/.x", "x"),
    "the theme": add("theme/templates/overview.html.j2", "{% extends 'base.html.j2' %}{% block body %}x{% endblock %}"),
    "a page that was written": add("out/bare/index.html", "changed by hand"),
    "a page that is gone": lambda root: (root / "out/bare/optics.html").unlink(),
    "a record that is broken": add("out/bare/.made.json", "{"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=list(CHANGES))
def test_a_change_anywhere_is_seen(change, root):
    assert taken(root)
    change(root)
    assert not taken(root)


@pytest.mark.parametrize("how", [{"kits": 2}, {"paper": "Letter"}, {"theme": "drawing-office"}, {"no_packet": False},
                                 {"past_packets": True}, {"fresh": True}])
def test_another_way_of_publishing_is_another_site(how, root):
    assert not taken(root, **how)


def test_a_measured_file_counts_by_its_bytes(root):
    before = Order(root / "builds" / "bare", root / "out", options(root, measured=root / "m.yaml"))
    (root / "m.yaml").write_text("primary: {focal_length: 791 mm}\n")
    after = Order(root / "builds" / "bare", root / "out", options(root, measured=root / "m.yaml"))
    assert len({Order(root / "builds" / "bare", root / "out", options(root)).key, before.key, after.key}) == 3


def test_another_day_another_program(root, monkeypatch):
    """A draft bears the day; another release of anything may work out or set otherwise."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1780100000")
    assert not taken(root)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", EPOCH)
    assert taken(root)
    monkeypatch.setattr(kept, "program", lambda: "another")
    assert not taken(root)


def test_the_program_counts_every_file_and_release(monkeypatch):
    """Its own files and the packages that pyproject.toml asks for."""
    kept.program.cache_clear()
    before = kept.program()
    assert {"weasyprint", "numpy", "jinja2", "fonttools"} <= set(kept._required())
    assert "pytest" not in set(kept._required())
    original = kept._release
    monkeypatch.setattr(kept, "_release", lambda name: "9.9" if name == "numpy" else original(name))
    kept.program.cache_clear()
    assert kept.program() != before
    kept.program.cache_clear()


def test_what_could_not_be_made_is_tried_again(root, monkeypatch):
    """Without the packet's engine the site is whole but for the packet."""
    monkeypatch.setattr(packet, "packet_pdf", lambda *_, **__: (_ for _ in ()).throw(packet.NoPacket("no engine")))
    run(root, no_packet=False)
    assert not taken(root, no_packet=False)


def test_remarks_are_repeated(root, monkeypatch):
    """A packet that had to leave a file behind says so also when it is taken as it stands."""
    said: list[str] = []
    monkeypatch.setattr(packet, "packet_pdf", lambda *_, **__: b"%PDF-")
    monkeypatch.setattr(packet_source, "LARGEST_FILE", 5)
    for _ in range(2):
        run(root, said.append, no_packet=False)
    assert len(said) == 4
    assert said[:2] == said[2:]
