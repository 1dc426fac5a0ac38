"""The typeface of site and packet: subset to what is printed, completed where it lacks signs, alike on all machines.

The faces come from the ``font-source-sans-pro`` package (SIL Open Font License 1.1). Its figures are tabular and lining
as they stand. Its italic has no Greek, which the symbols of the rules need, so the upright Greek is slanted to fit; a
few signs that drawings use are made from its own parts. What is changed no longer carries the reserved name.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from typing import Any

from dossier.publish.typeface_store import kept

FAMILY = "Source Sans"
INNER_NAME = "Dossier Sans"
ITALIC_SLANT_DEG = 11.0
FEATURES = ("kern", "ccmp", "locl", "mark", "mkmk", "pnum", "case", "frac")

# Latin with its extensions, Greek, punctuation, super- and subscripts, currencies, arrows and mathematical signs.
_RANGES = ((0x20, 0x7E), (0xA0, 0x17F), (0x218, 0x21B), (0x2C6, 0x2DD), (0x386, 0x3CE), (0x2000, 0x2044),
           (0x2070, 0x20BF), (0x2113, 0x2126), (0x2153, 0x215E), (0x2190, 0x2195), (0x2200, 0x22C5), (0x2300, 0x2300),
           (0x1D62, 0x1D62), (0x2308, 0x2309), (0x25A0, 0x25CF), (0x2713, 0x2717))
_SIGNS = frozenset(chr(code) for first, last in _RANGES for code in range(first, last + 1))
Matrix = tuple[float, float, float, float, float, float]
_AS_IT_IS: Matrix = (1, 0, 0, 1, 0, 0)
_GREEK = tuple(code for code in range(0x386, 0x3CF))


@dataclass(frozen=True, slots=True)
class Face:
    """One cut of the typeface as a WOFF2 file: its CSS weight and style, a file name, its bytes."""

    weight: int
    style: str
    file: str
    data: bytes


_CUTS = ((400, "normal", "SourceSansPro-Regular"), (600, "normal", "SourceSansPro-Semibold"),
         (400, "italic", "SourceSansPro-It"))


@lru_cache(maxsize=4)
def faces(extra: frozenset[str] = frozenset()) -> tuple[Face, ...]:
    """Regular, semibold and italic, holding the usual signs and those in ``extra`` that the typeface has."""
    return tuple(Face(weight, style, f"source-sans-{weight}-{style}.woff2", _subset(name, style, _SIGNS | extra))
                 for weight, style, name in _CUTS)


@lru_cache(maxsize=1)
def plain(signs: frozenset[str]) -> bytes:
    """The regular cut as a TrueType file with these signs and no features, for what places every sign itself."""
    return _subset("SourceSansPro-Regular", "normal", signs, (), None)


def beyond(text: str) -> frozenset[str]:
    """The signs of a text that the usual set does not hold, for ``faces``."""
    return frozenset(text) - _SIGNS - frozenset("\n\r\t")


def licence() -> str:
    """The licence under which the typeface is passed on."""
    return (_folder() / "LICENSE.txt").read_text("utf-8")


def _folder() -> Path:
    return Path(str(import_module("font_source_sans_pro").font_directory))


def _subset(name: str, style: str, signs: frozenset[str], features: Sequence[str] = FEATURES,
            flavor: str | None = "woff2") -> bytes:
    what = repr((name, style, "".join(sorted(signs)), features, flavor))
    cuts = tuple(_folder() / f"{cut}.ttf" for cut in dict.fromkeys((name, "SourceSansPro-Regular")))
    return kept(what, (*cuts, Path(__file__)), lambda: _made(name, style, signs, features, flavor))


def _made(name: str, style: str, signs: frozenset[str], features: Sequence[str], flavor: str | None) -> bytes:
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(_folder() / f"{name}.ttf", recalcTimestamp=False)
    if not features:
        # Reading the layout tables only to drop them would take longer than all the rest.
        for tag in ("GDEF", "GPOS", "GSUB"):
            del font[tag]
    if style == "italic":
        _borrow_greek(font, TTFont(_folder() / "SourceSansPro-Regular.ttf"))
    _add_signs(font)
    options = Options(layout_features=list(features), hinting=False, name_IDs=[1, 2, 13, 14], notdef_outline=True)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=sorted(map(ord, signs)))
    subsetter.subset(font)
    for record in font["name"].names:
        if record.nameID == 1:
            record.string = INNER_NAME
    font.flavor = flavor
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def _borrow_greek(italic: Any, upright: Any) -> None:
    """Give the italic the upright's Greek, slanted about the base line."""
    source, slant = upright.getBestCmap(), math.tan(math.radians(ITALIC_SLANT_DEG))
    for code in _GREEK:
        if code in source:
            _draw(italic, upright, code, [(source[code], (1, 0, slant, 1, 0, 0))], source[code])


def _add_signs(font: Any) -> None:
    """The signs and spaces that formulas and drawings need and the typeface lacks, from what it has."""
    known = font.getBestCmap()
    for code, like in ((0x2300, 0xD8), (0x2205, 0xD8), (0x2009, 0x202F), (0x2008, 0x2E)):
        parts = [] if code == 0x2008 else [(known[like], _AS_IT_IS)]
        _draw(font, font, code, parts, known[like])
    _draw(font, font, 0x221B, [(known[0x221A], _AS_IT_IS), (known[0xB3], (0.9, 0, 0, 0.9, -20, 130))], known[0x221A])
    for code, like in ((0x207A, 0x2B), (0x207B, 0x2212)):
        _draw(font, font, code, [(known[like], (0.6, 0, 0, 0.6, 0, 330))], known[0xB2])
    for code, like, wide in ((0x1D62, 0x69, 0x2E), (0x2096, 0x6B, 0x2082), (0x209A, 0x70, 0x2082)):
        _draw(font, font, code, [(known[like], (0.6, 0, 0, 0.6, 0, -100))], known[wide])
    _draw(font, font, 0x2207, [(known[0x394], (1, 0, 0, -1, 0, font["OS/2"].sCapHeight))], known[0x394])
    for code, like in ((0x2308, 0x5B), (0x2309, 0x5D)):
        _draw(font, font, code, _ceiling(font, known[like], known[0x2212], code == 0x2308), known[like])


def _ceiling(font: Any, bracket: str, bar: str, opens: bool) -> list[tuple[str, Matrix]]:
    """A bracket without its foot, out of two bars."""
    outer, piece = font["glyf"][bracket], font["glyf"][bar]
    stroke = piece.yMax - piece.yMin
    side = outer.xMin if opens else outer.xMax - stroke

    def fitted(left: int, low: int, right: int, high: int) -> tuple[str, Matrix]:
        wide, tall = (right - left) / (piece.xMax - piece.xMin), (high - low) / stroke
        return bar, (wide, 0, 0, tall, left - wide * piece.xMin, low - tall * piece.yMin)

    return [fitted(side, outer.yMin, side + stroke, outer.yMax),
            fitted(outer.xMin, outer.yMax - stroke, outer.xMax, outer.yMax)]


def _draw(font: Any, source: Any, code: int, parts: Sequence[tuple[str, Matrix]], width_of: str) -> None:
    """Add a glyph for this code point, made of the source's glyphs, each moved by its matrix."""
    from fontTools.pens.transformPen import TransformPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    glyphs = source.getGlyphSet()
    pen = TTGlyphPen(None)
    for glyph, matrix in parts:
        _decomposed(glyphs, glyph).replay(TransformPen(pen, matrix))
    name = f"dossier{code:04X}"
    font["glyf"][name] = pen.glyph()
    font["glyf"][name].recalcBounds(font["glyf"])
    font["hmtx"][name] = (source["hmtx"][width_of][0], getattr(font["glyf"][name], "xMin", 0))
    for table in font["cmap"].tables:
        if table.isUnicode() and table.format != 14:
            table.cmap[code] = name


def _decomposed(glyphs: Any, name: str) -> Any:
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    return pen
