"""Simulated views side by side: each in a hairline frame with its heading, the word "simulation" inside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.charts.raster import WORD, Plate, png, with_plates
from dossier.charts.rendered import FOLDER, MEDIA, Rendered
from dossier.design.pictures import Floats
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import ASCENT, CAPITALS, DESCENT, boxes, width_of
from dossier.drawings.palette import Palette
from dossier.drawings.scene import THIN, Box, Group, Medium, Pen, Polyline, Scene, Shape, Text, Words, around
from dossier.drawings.svg import render

_GUTTER = 0.7


@dataclass(frozen=True, slots=True)
class Bar:
    """A length in the picture, as a share of its width, and how it is written."""

    share: float
    words: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One view: brightness 0…1 as it is to be shown, words above it in one or two lines, a scale bar inside it."""

    name: str
    brightness: Floats
    heading: tuple[str, ...] = ()
    bar: Bar | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """Views in a row, with a line of words for them all: above the views' own headings or, ``inner``, below them."""

    heading: str
    panels: tuple[Panel, ...]
    inner: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole picture: its key, what it is called, its caption, its description."""

    key: str
    title: str
    caption: str
    alt: str


def rendered(sheet: Sheet, rows: Sequence[Row], form: Form, palette: Palette, columns: int) -> Rendered:
    """The rows one below the other, as wide as ``columns`` views need to fill the form's width."""
    medium, width = MEDIA[form]
    laid = _Laid(medium, width, columns)
    for row in rows:
        laid.row(row)
    extent = around((Box(0.0, 0.0, width, 0.0), *boxes(laid.shapes, medium))).grown(medium.wide)
    scene = Scene(f"{sheet.key}-{form}", sheet.title, sheet.alt, medium, extent, tuple(laid.shapes), {"form": form})
    svg = with_plates(render(scene, palette), laid.plates, palette, FOLDER, scene.name)
    images = {plate.name: plate.png for plate in laid.plates}
    return Rendered(svg, sheet.caption, sheet.alt, images)


class _Laid:
    """Rows of views as they are laid out from the top."""

    def __init__(self, medium: Medium, width: float, columns: int) -> None:
        self.medium, self.width = medium, width
        self.gutter = _GUTTER * medium.lettering
        self.side = (width - (columns - 1) * self.gutter) / columns
        self.shapes: list[Shape] = []
        self.plates: list[Plate] = []
        self.y = 0.0

    def row(self, row: Row) -> None:
        lefts = [column * (self.side + self.gutter) for column in range(len(row.panels))]
        if row.heading and not row.inner:
            self._line(row.heading)
        self._headings(row.panels, lefts)
        if row.heading and row.inner:
            self._line(row.heading)
        self.y += 0.1 * self.medium.lettering
        for left, panel in zip(lefts, row.panels, strict=True):
            self._panel(panel, left, self.y)
        self.y += self.side + self._strip + 1.2 * self.medium.lettering

    def _line(self, words: str) -> None:
        size = self.medium.lettering
        self.shapes.append(Text((0.0, self.y + CAPITALS * size), (Words(words),)))
        self.y += line_height(self.medium)

    def _headings(self, panels: Sequence[Panel], lefts: Sequence[float]) -> None:
        size, line = self.medium.lettering, 0.95 * line_height(self.medium)
        for left, panel in zip(lefts, panels, strict=True):
            for index, words in enumerate(panel.heading):
                base = self.y + CAPITALS * size + index * line
                self.shapes.append(Text((left + self.side / 2, base), (Words(words),), "middle"))
        self.y += line * max(len(panel.heading) for panel in panels)

    @property
    def _strip(self) -> float:
        return (ASCENT + DESCENT + 0.3) * self.medium.lettering

    def _panel(self, panel: Panel, left: float, top: float) -> None:
        size, right, foot = self.medium.lettering, left + self.side, top + self.side
        ground = Box(left, top, right, foot + self._strip)
        base = foot + (0.15 + ASCENT) * size
        words = [Text((left + 0.4 * size, base), (Words(WORD),))]
        bars: list[Box] = []
        if panel.bar:
            told = Text((right - 0.4 * size, base), (Words(panel.bar.words),), "end")
            end, level = told.at[0] - width_of(panel.bar.words, size) - 0.3 * size, base - CAPITALS * size / 2
            start = end - panel.bar.share * self.side
            if start > words[0].at[0] + width_of(WORD, size) + 0.5 * size:
                words.append(told)
                bars.append(Box(start, level - self.medium.narrow, end, level + self.medium.narrow))
        self.plates.append(Plate(f"{panel.name}.png", png(panel.brightness), ground, Box(left, top, right, foot),
                                 tuple(words), tuple(bars)))
        corners = ((ground.left, ground.top), (ground.right, ground.top), (ground.right, ground.bottom),
                   (ground.left, ground.bottom))
        self.shapes.append(Group((Polyline(corners, Pen(THIN), closed=True),), {"view": panel.name}))
