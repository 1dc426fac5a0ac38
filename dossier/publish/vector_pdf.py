"""Drawings as PDF: each scene in millimetres a page of its own size, lines as lines and lettering as text.

The packet's engine could set them too, at a hundred times the cost: it lays out a document where here every point has
its place already. What is written is plain PDF 1.7 through pydyf, which that engine writes with as well. The same
scenes give the same bytes.
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from dossier.drawings.lettering import SIGNS
from dossier.drawings.palette import PAPER, Palette
from dossier.drawings.scene import Circle, Group, Pen, Polyline, Scene, Segments, Shape, Text, Wash, leaves
from dossier.publish import fonts

_POINTS = 72 / 25.4
_ROUND = 0.5522847498  # how far a quarter circle's handles reach, in radii: 4/3 tan(π/8)
_FONT = "DossierSans"
_NAME = f"DRAWIN+{_FONT}"  # six letters and a plus tell readers that it holds only some of its signs (ISO 32000-1)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A scene written as a page, to be bound into as many PDFs as it is wanted in: its size in mm, its packed content,
    the names of its opacities."""

    width: float
    height: float
    content: bytes
    clear: Mapping[str, str]


def as_pdf(scenes: Sequence[Scene], *, title: str, language: str = "en", palette: Palette = PAPER) -> bytes:
    """These scenes as the pages of a PDF that asks to be printed at its own size.

    Raises ValueError where a scene is not in millimetres or a sign is not in the typeface.
    """
    return bound([leaf_of(scene, palette) for scene in scenes], title=title, language=language)


def leaf_of(scene: Scene, palette: Palette = PAPER) -> Leaf:
    """A scene as a page. Raises ValueError as ``as_pdf`` does."""
    if scene.medium.unit != "mm":
        raise ValueError("only drawings in millimetres can be pages")
    page = _Page(scene, palette)
    return Leaf(page.width, page.height, _packed(page.written().encode("latin-1")), page.clear)


def bound(pages: Sequence[Leaf], *, title: str, language: str = "en") -> bytes:
    """Pages as one PDF."""
    import pydyf

    pdf = pydyf.PDF()
    pdf.info["Title"] = pydyf.String(title)
    pdf.catalog["Lang"] = pydyf.String(language)
    pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"PrintScaling": "/None", "DisplayDocTitle": "true"})
    font = _embedded(pdf)
    for page in pages:
        stream = _stream(page.content)
        pdf.add_object(stream)
        pdf.add_page(pydyf.Dictionary({
            "Type": "/Page", "Parent": pdf.pages.reference, "Contents": stream.reference,
            "MediaBox": pydyf.Array([0, 0, _short(page.width * _POINTS), _short(page.height * _POINTS)]),
            "Resources": pydyf.Dictionary({"Font": pydyf.Dictionary({_FONT: font}),
                                           "ExtGState": _states(page.clear)})}))
    out = io.BytesIO()
    pdf.write(out, version=b"1.7", compress=True)
    return out.getvalue()


def draw_under(pdf: Any, scenes: Mapping[int, Scene], palette: Palette) -> None:
    """Draw these scenes on pages of a PDF that another writer has made with pydyf, by the pages' numbers from 0, under
    what is there; a scene's box is laid on its page from the upper left corner."""
    import pydyf

    font = _embedded(pdf) if scenes else None
    for number, scene in scenes.items():
        page, leaf = _Page(scene, palette), pdf.objects[pdf.pages["Kids"][3 * number]]
        content = f"/Artifact BMC q\n{page.written()}\nQ EMC"
        stream = pydyf.Stream([content.encode("latin-1")], compress=True)
        pdf.add_object(stream)
        shared = _object(pdf, leaf["Resources"])
        leaf["Contents"] = pydyf.Array([stream.reference, leaf["Contents"]])
        leaf["Resources"] = pydyf.Dictionary({
            **shared, "Font": pydyf.Dictionary({**_object(pdf, shared.get("Font", {})), _FONT: font}),
            "ExtGState": pydyf.Dictionary({**_object(pdf, shared.get("ExtGState", {})), **_states(page.clear)})})


def _object(pdf: Any, found: Any) -> Any:
    """What a reference leads to, or the thing itself."""
    return found if isinstance(found, dict) else pdf.objects[int(found.split()[0])]


def _states(clear: Mapping[str, str]) -> Any:
    """The opacities that a page has, as a dictionary of graphics states."""
    import pydyf

    return pydyf.Dictionary({name: pydyf.Dictionary({"CA": share, "ca": share}) for share, name in clear.items()})


def _packed(content: bytes) -> bytes:
    return zlib.compress(content, 9)


def _stream(packed: bytes, extra: Mapping[str, Any] | None = None) -> Any:
    """A stream of what is packed already."""
    import pydyf

    return pydyf.Stream([packed], {**(extra or {}), "Filter": "/FlateDecode"})


class _Page:
    """Writes one scene's operators. ``clear`` are the opacities met, with the names of their states."""

    def __init__(self, scene: Scene, palette: Palette) -> None:
        self.scene, self.palette, self.clear = scene, palette, dict[str, str]()
        self.width, self.height = scene.box.right - scene.box.left, scene.box.bottom - scene.box.top
        self._size = scene.medium.lettering

    def written(self) -> str:
        """The page's content. One matrix turns millimetres downwards into points upwards; 4 M mitres as SVG does."""
        box = self.scene.box
        matrix = (_POINTS, 0, 0, -_POINTS, -box.left * _POINTS, (box.top + self.height) * _POINTS)
        head = " ".join(f"{value:.9f}" for value in matrix)
        return "\n".join([f"{head} cm 4 M", *(line for shape in leaves(self.scene.members)
                                             for line in self._shape(shape))])

    def _shape(self, shape: Shape) -> Iterator[str]:
        assert not isinstance(shape, Group)
        if isinstance(shape, Text):
            yield from self._text(shape)
            return
        pen, wash = shape.pen, None if isinstance(shape, Segments) else shape.wash
        if pen is None and wash is None:
            return
        closed = isinstance(shape, Polyline) and shape.closed
        path = " ".join(_path(shape)) + (" h" if closed else "")
        if wash:
            yield f"q {self._filled(wash)} {path} f Q"
        if pen:
            yield f"q {self._stroked(pen)} {path} S Q"

    def _filled(self, wash: Wash) -> str:
        return f"{self._opacity(wash.opacity)}{_colour(self.palette.colour(wash.role))} rg"

    def _stroked(self, pen: Pen) -> str:
        width = self.scene.medium.width(pen.line)
        dashes = f" [{_numbers(*(step * width for step in pen.line.pattern))}] 0 d" if pen.line.pattern else ""
        return f"{self._opacity(pen.opacity)}{_colour(self.palette.colour(pen.role))} RG {_short(width)} w{dashes}"

    def _opacity(self, share: float) -> str:
        if share >= 1:
            return ""
        name = self.clear.setdefault(_short(share), f"Clear{len(self.clear)}")
        return f"/{name} gs "

    def _text(self, text: Text) -> Iterator[str]:
        (ids, advance), size = _glyphs(text.plain), self._size * text.size
        width = advance * size / 1000
        back = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
        x, y = text.at
        place = (0, -1, -1, 0, x, y + back) if text.turned else (1, 0, 0, -1, x - back, y)
        yield (f"BT {_colour(self.palette.colour(text.role))} rg /{_FONT} {_short(size)} Tf "
               f"{_numbers(*place)} Tm <{ids}> Tj ET")


def _path(shape: Polyline | Circle | Segments) -> Iterator[str]:
    if isinstance(shape, Segments):
        for (x0, y0), (x1, y1) in shape.lines:
            yield f"{_short(x0)} {_short(y0)} m {_short(x1)} {_short(y1)} l"
    elif isinstance(shape, Polyline):
        for place, (x, y) in enumerate(shape.points):
            yield f"{_short(x)} {_short(y)} {'l' if place else 'm'}"
    else:
        (x, y), r, reach = shape.centre, shape.radius, shape.radius * _ROUND
        yield f"{_numbers(x + r, y)} m"
        yield f"{_numbers(x + r, y + reach, x + reach, y + r, x, y + r)} c"
        yield f"{_numbers(x - reach, y + r, x - r, y + reach, x - r, y)} c"
        yield f"{_numbers(x - r, y - reach, x - reach, y - r, x, y - r)} c"
        yield f"{_numbers(x + reach, y - r, x + r, y - reach, x + r, y)} c h"


@lru_cache(maxsize=256)
def _colour(said: str) -> str:
    """``#rrggbb`` as three shares."""
    return _numbers(*(int(said[at:at + 2], 16) / 255 for at in (1, 3, 5)))


def _numbers(*values: float) -> str:
    return " ".join(map(_short, values))


@lru_cache(maxsize=16384)
def _short(value: float) -> str:
    """To a ten-thousandth, without what says nothing."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@dataclass(frozen=True, slots=True)
class _Face:
    """The typeface as it is embedded: its file with its length and packed, for each sign glyph and advance in
    thousandths, and its measures."""

    length: int
    data: bytes
    glyphs: dict[str, tuple[int, int]]
    box: tuple[int, int, int, int]
    ascent: int
    descent: int
    capitals: int


@lru_cache(maxsize=1)
def _face() -> _Face:
    from fontTools.ttLib import TTFont

    data = fonts.plain(SIGNS)
    font = TTFont(io.BytesIO(data))
    order, widths = font.getReverseGlyphMap(), font["hmtx"]
    glyphs = {chr(code): (order[name], widths[name][0]) for code, name in font.getBestCmap().items()}
    head, lines = font["head"], font["OS/2"]
    return _Face(len(data), _packed(data), glyphs, (head.xMin, head.yMin, head.xMax, head.yMax), lines.sTypoAscender,
                 lines.sTypoDescender, lines.sCapHeight)


@lru_cache(maxsize=4096)
def _glyphs(text: str) -> tuple[str, int]:
    """A text's glyphs as hexadecimal digits, and how far they reach in thousandths of the type size."""
    known = _face().glyphs
    lost = [sign for sign in text if sign not in known]
    if lost:
        raise ValueError(f"the typeface of the drawings has no {lost[0]!r}")
    said = [known[sign] for sign in text]
    return "".join(f"{glyph:04X}" for glyph, _ in said), sum(advance for _, advance in said)


def _embedded(pdf: Any) -> Any:
    """The typeface in this PDF: its file once, as a font addressed by glyphs, with the way back to text."""
    import pydyf

    face = _face()
    file, back = _stream(face.data, {"Length1": face.length}), _stream(_to_unicode())
    pdf.add_object(file)
    pdf.add_object(back)
    descriptor = pydyf.Dictionary({
        "Type": "/FontDescriptor", "FontName": f"/{_NAME}", "Flags": 4, "FontBBox": pydyf.Array(face.box),
        "ItalicAngle": 0, "Ascent": face.ascent, "Descent": face.descent, "CapHeight": face.capitals, "StemV": 80,
        "FontFile2": file.reference})
    pdf.add_object(descriptor)
    inner = pydyf.Dictionary({
        "Type": "/Font", "Subtype": "/CIDFontType2", "BaseFont": f"/{_NAME}", "CIDToGIDMap": "/Identity",
        "CIDSystemInfo": pydyf.Dictionary({"Registry": pydyf.String("Adobe"), "Ordering": pydyf.String("Identity"),
                                           "Supplement": 0}),
        "FontDescriptor": descriptor.reference,
        "W": _widths()})
    pdf.add_object(inner)
    outer = pydyf.Dictionary({
        "Type": "/Font", "Subtype": "/Type0", "BaseFont": f"/{_NAME}", "Encoding": "/Identity-H",
        "DescendantFonts": pydyf.Array([inner.reference]), "ToUnicode": back.reference})
    pdf.add_object(outer)
    return outer.reference


@lru_cache(maxsize=1)
def _widths() -> bytes:
    """The advance of every glyph, as the font's dictionary has it."""
    import pydyf

    widths = dict(sorted(_face().glyphs.values()))
    made: bytes = pydyf.Array([part for glyph, advance in widths.items()
                               for part in (glyph, pydyf.Array([advance]))]).data
    return made


@lru_cache(maxsize=1)
def _to_unicode() -> bytes:
    """The map from glyphs to text that a reader searches and copies by (ISO 32000-1, 9.10.3), packed."""
    signs = sorted({glyph: sign for sign, (glyph, _) in _face().glyphs.items()}.items())
    blocks = [signs[at:at + 100] for at in range(0, len(signs), 100)]
    rows = "\n".join(f"{len(block)} beginbfchar\n"
                     + "\n".join(f"<{glyph:04X}> <{sign.encode('utf-16-be').hex().upper()}>" for glyph, sign in block)
                     + "\nendbfchar" for block in blocks)
    return _packed(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /Dossier def\n/CMapType 2 def\n"
        f"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n{rows}\nendcmap\nend\nend".encode())
