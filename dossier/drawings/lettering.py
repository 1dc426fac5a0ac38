"""How much room lettering takes.

Widths of the typeface's regular cut in thousandths of the type size, rounded up to the next 20 and without kerning, so
that a text never comes out wider than it is thought to be. A test holds the table against the typeface itself; having
it here spares every drawing the reading of the font.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from dossier.drawings.scene import Box, Circle, Group, Medium, Point, Polyline, Segments, Shape, Text, leaves

CAPITALS = 0.66
ASCENT, DESCENT = 0.74, 0.23
WIDEST = 960

_ROWS = {
    140: "\u2009\u202f", 200: " ", 260: "',.:;ijl|¦·ìíîïĩīĭįıĵĺļ‘’′\u00a0", 280: "IÌÍÎÏĨĪĬĮİľłΙΪίι", 300: "!f¡",
    320: "()-[]{}", 340: "t°ţťŧ", 360: "/\\rªŕŗř", 380: "²³¹ºŀ", 420: "*sśŝşš", 440: "\"?z«®»¿źżžζξς“”″",
    460: "cxçćĉċčέετ", 480: "JYvyÝýÿĴŶŷŸΥΫν–", 500: "#$+0123456789<=>FL^_ek~¢£¤¥§¬±×èéêë÷ēĕėęěĳķĸĹĻĽĿŁΓγκλχ−≤≥≈≠",
    520: "VXagàáâãäåāăąĝğġģΛΧΰυ", 540: "ESTZÈÉÊËĒĔĖĘĚĲŚŜŞŠŢŤŦŹŻŽΕΖΞΣΤδθο",
    560: "A`bdhnopqu¨¯´¶¸ÀÁÂÃÄÅðñòóôõöøùúûüþĀĂĄđĥħńņňŋōŏőũūŭůűųΑάήαηρσ√", 580: "CKPRµÇßĆĈĊČďĶŔŖŘΚΡβμ",
    600: "BÞΒΔπ", 620: "&DGĎĜĞĠĢ←→", 640: "ÐĐŊ", 660: "HNUÑÙÚÛÜĤŃŅŇŨŪŬŮŰŲΗΝΠ", 680: "OQÒÓÔÕÖØŌŎŐΘΟΩφ⌀", 700: "ĦΨψ",
    720: "wŵΦω", 740: "MΜ", 760: "©", 780: "ŉ", 800: "W¼¾æŴ—∞", 820: "½⅛⅞", 840: "%mÆœ⅜⅝", 860: "@Œ", 960: "…",
}
_WIDTHS = {character: width for width, characters in _ROWS.items() for character in characters}
SIGNS = frozenset(_WIDTHS)


def width_of(text: str, size: float) -> float:
    """Room that a text takes along its base line at this type size; a sign not in the table counts as the widest."""
    return _thousandths(text) * size / 1000


@lru_cache(maxsize=8192)
def _thousandths(text: str) -> int:
    """The same words are measured again and again while places for them are tried."""
    return sum(_WIDTHS.get(character, WIDEST) for character in text)


def box_of_text(text: Text, size: float) -> Box:
    """The box that a line of lettering fills, from its descenders to its brackets; ``size`` is the medium's."""
    size *= text.size
    width, (x, y) = width_of(text.plain, size), text.at
    before = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    up, down = ASCENT * size, DESCENT * size
    if text.turned:
        return Box(x - up, y + before - width, x + down, y + before)
    return Box(x - before, y - up, x - before + width, y + down)


def boxes(shapes: Iterable[Shape], medium: Medium) -> Iterator[Box]:
    """The box of every line, circle and text."""
    for shape in leaves(shapes):
        if isinstance(shape, Text):
            yield box_of_text(shape, medium.lettering)
        elif isinstance(shape, Circle):
            yield Box(shape.centre[0], shape.centre[1], shape.centre[0], shape.centre[1]).grown(shape.radius)
        elif isinstance(shape, Polyline):
            yield _about(shape.points)
        elif isinstance(shape, Segments) and shape.lines:
            yield _about([point for line in shape.lines for point in line])


def _about(points: Sequence[Point]) -> Box:
    """The box of these points, in one go: there are tens of thousands of them on a sheet."""
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def in_known_signs(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """The same shapes; a sign of the author's that the typeface lacks becomes a question mark, since a page embeds it.
    """
    for each in shapes:
        if isinstance(each, Group):
            yield replace(each, members=tuple(in_known_signs(each.members)))
        elif isinstance(each, Text) and not SIGNS.issuperset(each.plain):
            yield replace(each, runs=tuple(replace(run, text="".join(
                sign if sign in SIGNS else "?" for sign in run.text)) for run in each.runs))
        else:
            yield each
