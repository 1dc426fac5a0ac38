"""Diagrams redrawn for a phone: each part of the table below them has its balloon there, and nothing lies over it."""

from __future__ import annotations

from functools import cached_property
from types import SimpleNamespace

import pytest

from dossier.drawings.diagrams import PHONE, diagram
from dossier.drawings.sheets.compose import sheets_of
from tests.drawings.sheets.conftest import BUILDS, Read
from tests.strokes import Box, enters


class Phone(Read):
    """A diagram as a phone shows it, in pixels; its frame is the edge of the picture."""

    @cached_property
    def frame(self) -> Box:
        left, top, width, height = map(float, self.root.attrib["viewBox"].split())
        return left, top, left + width, top + height

    def balloons_are_clear(self) -> None:
        """No balloon touches anything but its own part, no leader lettering, a dimension line or another leader."""
        self._balloons_are_clear()
        self._lines_are_clear()
        for plain, box in self.texts:
            for stroke in self.strokes:
                if stroke.kind == "leader" and stroke.whose:
                    assert not enters(box, stroke.start, stroke.end), f"{plain!r} is touched by {stroke}"


@pytest.mark.parametrize("name", [path.name for path in BUILDS])
def test_every_part_has_its_balloon_on_a_phone_too(demo, width_in_type, name):
    design = demo(name)
    for sheet in sheets_of(design, design.build.readers.paper):
        drawn = diagram(design, sheet)
        phone = Phone(SimpleNamespace(scene=drawn.upright), width_in_type)
        assert set(phone.circles) == {part.ref for part in sheet.parts}, sheet.kind.key
        phone.balloons_are_clear()
        left, _, right, _ = phone.frame
        assert right - left >= PHONE - 0.01
        assert len({radius for _, _, radius in phone.circles.values()}) <= 1, "all of one size"
