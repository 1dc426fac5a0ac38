"""Contours of the mirror's sag on its supports, with the levers that share the load."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from dossier.charts.axes import Tick, round_ticks
from dossier.charts.framing import figure
from dossier.charts.plot import GAP, MARK, TICK
from dossier.charts.rendered import FOLDER, MEDIA, Rendered
from dossier.design import pictures
from dossier.design.pictures import cell
from dossier.design.pictures.contours import banded, level_lines
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.numerals import fixed, plain_length
from dossier.drawings.palette import SCREEN, Palette
from dossier.drawings.scene import (
    HIDDEN,
    OUTLINE,
    THIN,
    Box,
    Circle,
    Group,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
)
from dossier.drawings.svg import attributes, number
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design

# Ink over the lowest glass; none over the highest.
_DARKEST = 0.42
_LEVELS = 9


def deflection(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """The sag between the supports as contours, refocused and with focus left in, each on its own scale."""
    made = cell.deflection_map(design)
    if made is None:
        return None
    panels = (("refocused", "refocused", made.refocused), ("left-in", "focus left in", made.focus_left_in))
    scales = {key: _scale(sag) for key, _, sag in panels}
    laid = _Maps(form, made, scales)
    for key, heading, sag in panels:
        laid.panel(key, heading, sag)
    shapes, box = laid.finished()
    told = "; ".join(f"{heading}: RMS {_nm(sag.rms_nm)}, peak to valley {_nm(sag.pv_nm)}, {scales[key].step} nm from "
                     "line to line" for key, heading, sag in panels)
    size = plain_length(made.blank_mm, design.build.readers)
    alt = (f"Contours of the mirror’s sag on its {len(made.supports)} supports, a thin plate {size} across that looks "
           f"at the zenith. {told}.")
    levers = ("The levers that share the load are drawn over the map that is refocused, their pivots as rings. "
              if made.levers else "")
    caption = ("How the mirror sags between its supports (dots): whole lines stand above the mean, broken ones below, "
               "and the stronger the tint the lower the glass. Refocused is what an eye behind a focuser sees; focus "
               f"left in is what many tables of supports mean. Each map has its own scale. {levers}Thin plate: this "
               "blank’s thickness is not counted in.")
    drawn = figure(shapes, box, "cell-deflection", "The mirror’s sag between its supports", caption, alt, form, palette)
    images = {f"deflection-{key}.png": _png(scales[key].ink(sag.grid), palette) for key, _, sag in panels}
    svg = _with_shades(drawn.linked, laid.places, palette, form)
    return Rendered(svg, caption, alt, images)


def _nm(value: float) -> str:
    return show(value, "nm").plain


@dataclass(frozen=True, slots=True)
class _Scale:
    """Levels of a map with their words, lowest first; ``low`` and ``high`` are its ends, nm."""

    low: float
    high: float
    levels: tuple[Tick, ...]

    @property
    def step(self) -> str:
        """From level to level, as it is written."""
        step = self.levels[1][0] - self.levels[0][0]
        return fixed(step, max(0, -math.floor(math.log10(step) + 1e-9)))

    def ink(self, heights: pictures.Floats) -> pictures.Floats:
        """Share of ink over each height, in bands between levels; not a number where there is no glass."""
        return _DARKEST * (1 - banded(heights, [level for level, _ in self.levels]) / len(self.levels))

    def of_band(self, band: int) -> float:
        """Share of ink over a band, 0 the lowest."""
        return _DARKEST * (1 - band / len(self.levels))


def _scale(sag: cell.Sag) -> _Scale:
    low, high = float(sag.polar.min()), float(sag.polar.max())
    return _Scale(low, high, round_ticks(low, high, _LEVELS))


class _Maps:
    """Maps as they are laid out: side by side in the wide form, one below the other upright, each with its scale."""

    def __init__(self, form: Form, made: cell.DeflectionMap, scales: Mapping[str, _Scale]) -> None:
        self.medium, self.width = MEDIA[form]
        self.form, self.made, self.scales = form, made, scales
        size = self.medium.lettering
        figures = max(width_of(text, size) for scale in scales.values() for _, text in scale.levels)
        self.legend = figures + (1.9 + TICK + GAP) * size
        across = 2 if form == "wide" else 1
        self.radius = (self.width - across * self.legend - (across - 1) * size) / (2 * across) - self.medium.wide
        self.shapes: list[Shape] = []
        self.places: list[tuple[str, Box]] = []
        self.at: Point = (self.radius + self.medium.wide, 0.0)

    def panel(self, key: str, heading: str, sag: cell.Sag) -> None:
        """One map under its heading."""
        size, line = self.medium.lettering, line_height(self.medium)
        x, top = self.at
        for index, words in enumerate((heading, f"RMS {_nm(sag.rms_nm)}, P–V {_nm(sag.pv_nm)}")):
            self.shapes.append(Text((x, top + CAPITALS * size + index * line), (Words(words),), "middle"))
        centre = (x, top + 2.2 * line + self.radius)
        self.places.append((key, Box(centre[0] - self.radius, centre[1] - self.radius, centre[0] + self.radius,
                                     centre[1] + self.radius)))
        self.shapes += [Group(tuple(self._map(key, centre, sag)), {"map": key}), self._legend(key, centre)]
        if self.form == "wide":
            self.at = (self.width - self.legend - self.radius - self.medium.wide, top)
        else:
            self.at = (x, centre[1] + self.radius + 1.2 * size)

    def finished(self) -> tuple[tuple[Shape, ...], Box]:
        """Everything, and the box that holds it."""
        return tuple(self.shapes), around(boxes(self.shapes, self.medium))

    def _map(self, key: str, centre: Point, sag: cell.Sag) -> Iterator[Shape]:
        medium = self.medium
        for level, words in self.scales[key].levels:
            pen = Pen(THIN) if level >= 0 else Pen(HIDDEN)
            for line in level_lines(sag.polar, self.made.blank_mm / 2, level):
                yield Polyline(tuple(self._place(centre, point) for point in line), pen, data={"level": words})
        if key == "refocused":
            yield from self._levers(centre)
        for support in self.made.supports:
            yield Circle(self._place(centre, support), MARK * medium.lettering, None, Wash("ink"), {"support": key})
        yield Circle(centre, self.radius, Pen(OUTLINE), data={"blank": key})

    def _levers(self, centre: Point) -> Iterator[Shape]:
        for lever in self.made.levers:
            corners = tuple(self._place(centre, place) for place in lever.carries)
            yield Polyline(corners, Pen(OUTLINE, "accent"), closed=len(corners) > 2, data={"lever": "bar"})
            yield Circle(self._place(centre, lever.pivot), MARK * self.medium.lettering, Pen(THIN), Wash("ground"),
                         {"pivot": "lever"})

    def _place(self, centre: Point, point: Point) -> Point:
        factor = self.radius / (self.made.blank_mm / 2)
        return centre[0] + factor * point[0], centre[1] - factor * point[1]

    def _legend(self, key: str, centre: Point) -> Group:
        """The shades of a map with the heights of the lines between them."""
        scale, size = self.scales[key], self.medium.lettering
        count = len(scale.levels)
        left, tall = centre[0] + self.radius + 0.6 * size, min(1.6 * self.radius, 1.6 * size * (count + 1))
        foot, band, right = centre[1] + tall / 2, tall / (count + 1), left + 1.3 * size
        members: list[Shape] = [Text((left, foot - tall - 0.5 * size), (Words("nm"),))]
        ticks: list[tuple[Point, Point]] = []
        for index in range(count + 1):
            low, high = foot - index * band, foot - (index + 1) * band
            members.append(Polyline(((left, low), (right, low), (right, high), (left, high)), None,
                                    Wash("ink", round(scale.of_band(index), 3)), closed=True))
            if index < count:
                ticks.append(((right, high), (right + TICK * size, high)))
                members.append(Text((right + (TICK + GAP) * size, high + CAPITALS * size / 2),
                                    (Words(scale.levels[index][1]),)))
        frame = ((left, foot), (right, foot), (right, foot - tall), (left, foot - tall))
        return Group((*members, Segments(tuple(ticks), Pen(THIN)), Polyline(frame, Pen(THIN), closed=True)),
                     {"part": "scale"})


def _png(ink: pictures.Floats, palette: Palette) -> bytes:
    """Shares of ink as a picture: for the screen a mask, on paper the ink itself, more or less see-through."""
    from PIL import Image

    file = BytesIO()
    height, width = ink.shape
    grey = bytes(0 if math.isnan(share) else round(255 * share) for share in ink.ravel().tolist())
    mask = Image.frombytes("L", (width, height), grey)
    if palette is not SCREEN:
        red, green, blue = (int(palette.ink[at:at + 2], 16) for at in (1, 3, 5))
        solid = Image.new("RGB", mask.size, (red, green, blue))
        solid.putalpha(mask)
        solid.save(file, "PNG", compress_level=9)
    else:
        mask.save(file, "PNG", compress_level=9)
    return file.getvalue()


def _with_shades(svg: str, places: Sequence[tuple[str, Box]], palette: Palette, form: Form) -> str:
    """The drawing with the shades of its maps beneath all lines."""
    head, mark, rest = svg.partition("</desc>\n")
    return head + mark + "".join(_shade(key, box, palette, form) for key, box in places) + rest


def _shade(key: str, box: Box, palette: Palette, form: Form) -> str:
    place = {"x": number(box.left), "y": number(box.top), "width": number(box.right - box.left),
             "height": number(box.bottom - box.top)}
    image = (f'<image{attributes({"href": f"{FOLDER}deflection-{key}.png", **place})} '
             'preserveAspectRatio="none"/>')
    if palette is not SCREEN:
        return image + "\n"
    mask = f"cell-deflection-{form}-{key}"
    return (f'<mask id="{mask}" maskUnits="userSpaceOnUse"{attributes(place)}>{image}</mask>\n'
            f'<rect{attributes({**place, "fill": palette.ink, "mask": f"url(#{mask})"})}/>\n')
