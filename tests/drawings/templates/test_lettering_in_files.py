"""Lettering in SVG files says how long it is, so that a machine without the typeface keeps to the same room."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator

from dossier.drawings.lettering import width_of
from dossier.drawings.templates.labels import FULL_SIZE
from dossier.publish.drawings import drawn
from dossier.publish.templates import printed
from tests.drawings.templates.conftest import every_trial, trial

TEXT = "{http://www.w3.org/2000/svg}text"


def _lines(svg: bytes) -> Iterator[tuple[str, float, float]]:
    """Each line of lettering in a file: its words, its type size and the length that it is set to."""
    root = ET.fromstring(svg)
    for line in root.iter(TEXT):
        words = "".join(line.itertext())
        if words:
            assert line.attrib["lengthAdjust"] == "spacingAndGlyphs", words
            size = float(line.attrib.get("font-size", root.attrib["font-size"]))
            yield words, size, float(line.attrib["textLength"])


@every_trial
def test_every_line_of_a_template_has_the_length_that_was_reckoned_with(name: str) -> None:
    files = printed(trial(name), "A4").files
    read = [line for address, data in files.items() if address.endswith(".svg") for line in _lines(data)]
    assert len(read) > 50
    for words, size, length in read:
        assert size == FULL_SIZE.lettering
        assert abs(length - width_of(words, size)) < 0.001


def test_so_has_every_line_of_a_drawing_sheet() -> None:
    files = drawn(trial("truss-400"), "A4").files
    read = [line for address, data in files.items() if address.endswith(".svg") for line in _lines(data)]
    assert len(read) > 200
    for words, size, length in read:
        assert abs(length - width_of(words, size)) < 0.01 + 0.001 * size * len(words)
