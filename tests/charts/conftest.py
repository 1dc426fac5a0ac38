"""Telescopes to picture, and pictures read back from their SVG: curves in the data's units, texts as boxes, PNGs."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from numpy.typing import NDArray
from PIL import Image

from dossier.charts import PICTURES, Rendered
from dossier.design import Design, work_out
from dossier.drawings.palette import PAPER
from dossier.spec.load import load_build

SVG = "{http://www.w3.org/2000/svg}"
PROJECT = Path(__file__).parents[2]
Point = tuple[float, float]
Box = tuple[float, float, float, float]

BARE = {"format": 1, "about": {"name": "Trial"}, "primary": {"aperture": "150 mm", "focal_length": "1200 mm"},
        "diagonal": {"minor_axis": "35 mm"}, "focuser": {"mounting_radius": "100 mm", "height": "50 mm"}}
_FULL = {"focuser": {"mounting_radius": "102 mm", "height": "52 mm", "travel": "30 mm", "bore": "31.75 mm",
                     "drawtube": "60 mm"},
         "spider": {"vanes": 4, "vane_thickness": "0.8 mm"}, "field": {"judged": "20 mm"},
         "front": {"opening": "180 mm", "station": "1100 mm"}}
_POLES = {"kind": "poles", "material": "aluminium-6061", "outer_diameter": "20 mm", "inner_diameter": "17 mm",
          "length": "800 mm", "count": 3, "circle_radius": "115 mm", "lower_fixing": "100 mm",
          "upper_mass": "1.2 kg"}
_TUBE = {"kind": "tube", "material": "aluminium-6061", "outer_diameter": "190 mm", "inner_diameter": "184 mm",
         "length": "1200 mm", "upper_mass": "1.4 kg"}
_TRUSS = {"kind": "truss", "material": "aluminium-6061", "outer_diameter": "22 mm", "inner_diameter": "19 mm",
          "length": "1000 mm", "count": 8, "circle_radius": "245 mm", "upper_circle_radius": "235 mm",
          "lower_fixing": "120 mm", "upper_mass": "3.1 kg"}
SPECS: dict[str, dict[str, Any]] = {
    "bare": BARE,
    "paraboloid on poles": {**BARE, **_FULL, "frame": _POLES, "conditions": {"seeing": "1.5 arcsec"}},
    "fast sphere in a tube": {
        **BARE, **_FULL, "frame": _TUBE,
        "primary": {"aperture": "150 mm", "focal_length": "750 mm", "conic": 0}, "diagonal": {"minor_axis": "46 mm"},
        "front": {"opening": "180 mm", "station": "680 mm"}},
    "inches": {**BARE, **_FULL, "frame": _TUBE, "readers": {"units": "inch"}, "conditions": {"seeing": "2 arcsec"},
               "primary": {"aperture": "6 in", "focal_length": "48 in", "conic": -0.8, "surface_rms": "12 nm"}},
    "large truss": {
        **BARE, **_FULL, "frame": _TRUSS, "primary": {"aperture": "400 mm", "focal_length": "1600 mm"},
        "diagonal": {"minor_axis": "96 mm"}, "compare_apertures": ["200 mm"],
        "focuser": {**_FULL["focuser"], "mounting_radius": "230 mm"}, "field": {"judged": "30 mm"},
        "front": {"opening": "430 mm", "station": "1500 mm"}},
    "small sphere": {
        **BARE, "primary": {"aperture": "76 mm", "focal_length": "700 mm", "conic": 0},
        "diagonal": {"minor_axis": "18 mm"}, "focuser": {**_FULL["focuser"], "mounting_radius": "55 mm"},
        "field": {"judged": "12 mm"}, "conditions": {"wavelength": "656 nm"}},
}
# The same mirrors in cells: eighteen points under thin glass, three under glass that is pushed against its clips.
SPECS["held"] = {
    **SPECS["large truss"], "primary": {**SPECS["large truss"]["primary"], "edge_thickness": "30 mm",
                                        "glass": "borosilicate"},
    "cell": {"points": 18, "rings": ["78 mm", "162 mm"]}}
SPECS["pinched"] = {
    **SPECS["paraboloid on poles"], "primary": {**BARE["primary"], "edge_thickness": "25 mm", "glass": "borosilicate"},
    "cell": {"points": 3, "rings": "best", "clips": {"count": 3, "radius": "72 mm", "turned": "60 deg"},
             "push": {"count": 3, "radius": "50 mm", "turned": "0 deg", "against": "glass", "force": "40 N"}}}
# What was measured of some of them: readings of an undercorrected mirror with a raised third zone.
MEASURED: dict[str, dict[str, Any]] = {
    "tested": {"bench": {"source": "moving", "zones": ["30 mm", "47 mm", "60 mm", "70 mm"],
                         "readings": ["0.4 mm", "0.63 mm", "0.86 mm", "1.12 mm"]}},
}
SPECS["tested"] = SPECS["paraboloid on poles"]


@pytest.fixture(scope="session")
def design_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Design]:
    """A telescope of ``SPECS`` by its name, or the demo, worked out once."""
    folder = tmp_path_factory.mktemp("telescopes")

    @lru_cache(maxsize=32)
    def worked(name: str) -> Design:
        if name == "demo":
            return work_out(load_build(PROJECT / "content" / "teasel-150"))
        (folder / "build.yaml").write_text(yaml.safe_dump(SPECS[name]), "utf-8")
        if name not in MEASURED:
            return work_out(load_build(folder))
        (folder / "found.yaml").write_text(yaml.safe_dump(MEASURED[name]), "utf-8")
        return work_out(load_build(folder, folder / "found.yaml"))

    return worked


@pytest.fixture(scope="session")
def picture(design_of: Callable[[str], Design]) -> Callable[..., Read]:
    """``picture(key, telescope, form)``: a picture read back."""

    @lru_cache(maxsize=256)
    def made(key: str, name: str = "demo", form: str = "wide") -> Read:
        rendered = PICTURES[key].make(design_of(name), PAPER, form)
        assert rendered is not None
        return Read(rendered)

    return made


@dataclass(frozen=True)
class Lettering:
    """A text and the box its glyphs fill: left, top, right, bottom."""

    plain: str
    box: Box


class Read:
    """A picture read back from its SVG."""

    def __init__(self, rendered: Rendered) -> None:
        self.rendered = rendered
        self.root = ET.fromstring(rendered.svg)
        left, top, width, height = map(float, self.root.attrib["viewBox"].split())
        self.frame: Box = (left, top, left + width, top + height)
        self.size = float(self.root.attrib["font-size"])

    def curve(self, name: str) -> NDArray[np.float64]:
        """A curve in the data's units: shape (points, 2)."""
        path = next(p.attrib["d"] for p in self.root.iter(f"{SVG}path") if p.get("data-curve") == name)
        return np.array([self.data(point) for point in lines(path)[0]])

    def at(self, name: str, x: float) -> float:
        """A curve's value at a place of its horizontal axis."""
        points = self.curve(name)
        return float(np.interp(x, points[:, 0], points[:, 1]))

    def mark(self, name: str) -> Point:
        """A marked point, in the data's units."""
        circle = next(c for c in self.root.iter(f"{SVG}circle") if c.get("data-mark") == name)
        return self.data((float(circle.attrib["cx"]), float(circle.attrib["cy"])))

    def limit(self, which: str) -> float:
        """The level of a limit, in the data's units."""
        path = next(p for p in self.root.iter(f"{SVG}path") if p.get("data-limit") == which)
        return self.data(lines(path.attrib["d"])[0][0])[1]

    def data(self, point: Point) -> Point:
        """A point of the drawing in the data's units."""
        along, up = (list(map(float, self.root.attrib[f"data-{axis}"].split())) for axis in ("x", "y"))
        return tuple(low + (place - first) / (last - first) * (high - low)
                     for place, (low, high, first, last) in zip(point, (along, up), strict=True))

    def grain(self, axis: str) -> float:
        """What the rounding of coordinates is worth in the data's units."""
        low, high, first, last = map(float, self.root.attrib[f"data-{axis}"].split())
        return abs(0.001 * (high - low) / (last - first))

    def grey(self, name: str) -> NDArray[np.float64]:
        """A view's pixels, 0…1."""
        return np.asarray(Image.open(BytesIO(self.rendered.images[f"{name}.png"])), dtype=float) / 255

    @cached_property
    def texts(self) -> list[Lettering]:
        return [_lettering(text, self.size) for text in self.root.iter(f"{SVG}text")]

    def strokes(self) -> Iterator[tuple[Point, Point]]:
        """Every straight piece of every line drawn."""
        for path in self.root.iter(f"{SVG}path"):
            if path.get("stroke"):
                for line in lines(path.attrib["d"]):
                    yield from pairwise(line)


def lines(path: str) -> list[list[Point]]:
    found = []
    for piece in path.split("M")[1:]:
        points = [tuple(map(float, pair.split())) for pair in piece.rstrip("Z").split("L")]
        found.append([*points, points[0]] if piece.endswith("Z") else points)
    return found


@lru_cache(maxsize=1)
def _typeface() -> tuple[dict[int, str], Any]:
    import font_source_sans_pro
    from fontTools.ttLib import TTFont

    font = TTFont(Path(font_source_sans_pro.font_directory) / "SourceSansPro-Regular.ttf")
    return font.getBestCmap(), font["hmtx"]


def _width(text: str, size: float) -> float:
    codes, metrics = _typeface()
    known = text.replace("\u2300", "Ø").replace("\u2009", "\u202f")
    return sum(metrics[codes[ord(sign)]][0] for sign in known) * size / 1000


def _lettering(text: ET.Element, size: float) -> Lettering:
    plain = "".join(text.itertext())
    x, y, width = float(text.attrib["x"]), float(text.attrib["y"]), _width(plain, size)
    before = {"start": 0.0, "middle": width / 2, "end": width}[text.attrib.get("text-anchor", "start")]
    up, down = 0.66 * size, 0.18 * size
    turn = text.attrib.get("transform")
    if turn:
        assert re.findall(r"-?[\d.]+", turn)[0] == "-90"
        return Lettering(plain, (x - up, y + before - width, x + down, y + before))
    return Lettering(plain, (x - before, y - up, x - before + width, y + down))
