"""The typeface: small, whole, and the same every time."""

from __future__ import annotations

import io
import math
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from dossier.publish import fonts

SIGNS = "ÄéßčłŒ αβλνρσΔΣΩ ×−±÷√∛≤≥≈≠∞ ′″° ¹²³⁻ ½¼ – — … “” ‘’ € £ → ↑ Ø⌀ µ \u202f\u2009\u00a0"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[fonts.Face, ...]:
    """Made now, not found in the user's store."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("store")))
        fonts.faces.cache_clear()
        return fonts.faces()


@pytest.fixture(scope="module")
def faces(made: tuple[fonts.Face, ...]) -> dict[str, TTFont]:
    return {face.file: TTFont(io.BytesIO(face.data)) for face in made}


def test_every_face_has_the_signs_that_pages_and_drawings_use(faces: dict[str, TTFont]) -> None:
    for file, font in faces.items():
        missing = [sign for sign in SIGNS if ord(sign) not in font.getBestCmap()]
        assert not missing, file


def test_faces_are_small_and_always_the_same(made: tuple[fonts.Face, ...], tmp_path: Path,
                                             monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether they are made, or found in the store."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    for _ in range(2):
        fonts.faces.cache_clear()
        assert fonts.faces() == made
    assert all(face.data[:4] == b"wOF2" and len(face.data) < 40_000 for face in made)
    assert [(face.weight, face.style) for face in made] == [(400, "normal"), (600, "normal"), (400, "italic")]


def test_the_reserved_name_is_not_used_for_what_was_changed(faces: dict[str, TTFont]) -> None:
    for font in faces.values():
        assert all("Source" not in str(record) for record in font["name"].names if record.nameID in (1, 4, 6, 16))
        assert any("Open Font License" in str(record) for record in font["name"].names)


def test_figures_are_tabular_and_lining(faces: dict[str, TTFont]) -> None:
    for font in faces.values():
        widths = {font["hmtx"][font.getBestCmap()[ord(figure)]][0] for figure in "0123456789"}
        assert len(widths) == 1


def test_italic_greek_is_slanted_like_the_italic(faces: dict[str, TTFont]) -> None:
    upright, italic = faces["source-sans-400-normal.woff2"], faces["source-sans-400-italic.woff2"]

    def points(font: TTFont, sign: str) -> list[tuple[int, int]]:
        glyph = font["glyf"][font.getBestCmap()[ord(sign)]]
        return list(glyph.getCoordinates(font["glyf"])[0])

    lean = math.tan(math.radians(fonts.ITALIC_SLANT_DEG))
    for sign in "λρνθ":
        moved = zip(points(upright, sign), points(italic, sign), strict=True)
        assert all(abs(x + lean * y - new_x) <= 1 and abs(y - new_y) <= 1 for (x, y), (new_x, new_y) in moved)


def test_signs_beyond_the_usual_can_be_asked_for() -> None:
    assert fonts.beyond("Ж and a") == frozenset("Ж")
    font = TTFont(io.BytesIO(fonts.faces(frozenset("Ж"))[0].data))
    assert ord("Ж") in font.getBestCmap()
