"""What is kept of the typeface between two runs: found where it is whole, made again where it is not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.publish import typeface_store
from dossier.publish.typeface_store import kept


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "dossier"


def counted(data: bytes = b"some face") -> tuple[Callable[[], bytes], list[int]]:
    """A maker of these bytes, and a list that grows with each call."""
    calls: list[int] = []

    def make() -> bytes:
        calls.append(1)
        return data

    return make, calls


def test_what_was_made_once_is_found(store: Path) -> None:
    make, calls = counted()
    assert [kept("regular", (), make) for _ in range(3)] == [b"some face"] * 3
    assert len(calls) == 1
    assert len(list(store.iterdir())) == 1


@pytest.mark.parametrize("harm", [b"", b"short", bytes(32) + b"another face"])
def test_what_was_damaged_is_made_again(store: Path, harm: bytes) -> None:
    make, calls = counted()
    kept("regular", (), make)
    (file,) = store.iterdir()
    file.write_bytes(harm)
    assert kept("regular", (), make) == b"some face"
    assert len(calls) == 2


def test_another_source_or_question_or_release_is_another_face(store: Path, tmp_path: Path,
                                                               monkeypatch: pytest.MonkeyPatch) -> None:
    make, calls = counted()
    source = tmp_path / "face.ttf"
    source.write_bytes(b"1")
    kept("regular", (source,), make)
    kept("italic", (source,), make)
    source.write_bytes(b"2")
    kept("regular", (source,), make)
    monkeypatch.setattr(typeface_store.metadata, "version", lambda _: "99.0")
    kept("regular", (source,), make)
    assert len(calls) == 4


def test_where_nothing_can_be_kept_it_is_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    make, calls = counted()
    (tmp_path / "file").write_text("no folder")
    for place in (str(tmp_path / "file"), "relative"):
        monkeypatch.setenv("XDG_CACHE_HOME", place)
        assert kept("regular", (), make) == b"some face"
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(typeface_store.Path, "home", no_home)
    assert kept("regular", (), make) == b"some face"
    assert len(calls) == 3
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def no_home() -> Path:
    """As where no user's entry names one."""
    raise RuntimeError("Could not determine home directory.")
