"""Telescopes to draw, and drawings read back from their SVG as lengths of the telescope."""

from __future__ import annotations

import json
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from dossier.drawings.general_arrangement import draw
from dossier.drawings.palette import PAPER
from dossier.spec.load import load_build

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]
Box = tuple[float, float, float, float]


@lru_cache
def _typeface() -> tuple[dict[int, str], Any]:
    import font_source_sans_pro
    from fontTools.ttLib import TTFont

    font = TTFont(Path(font_source_sans_pro.font_directory) / "SourceSansPro-Regular.ttf")
    return font.getBestCmap(), font["hmtx"]


def real_width(text: str, size: float) -> float:
    """Width of a text from the typeface itself; the diameter sign is as wide as Ø, the thin space as the narrow one."""
    codes, metrics = _typeface()
    known = text.replace("\u2300", "Ø").replace("\u2009", "\u202f")
    return sum(metrics[codes[ord(character)]][0] for character in known) * size / 1000


@dataclass(frozen=True)
class Lettering:
    """A text of a drawing and the box that its glyphs fill, in the drawing's unit: left, top, right, bottom."""

    plain: str
    box: Box
    size: float


class Drawing:
    """A general arrangement read back: points in the drawing's unit, or as (station, height) in millimetres."""

    def __init__(self, svg: str) -> None:
        self.svg = svg
        self.root = ET.fromstring(svg)
        self.scale = float(self.root.attrib["data-scale"])
        self.upright = self.root.attrib["data-form"] == "upright"
        self.size = float(self.root.attrib["font-size"])
        left, top, width, height = map(float, self.root.attrib["viewBox"].split())
        self.frame: Box = (left, top, left + width, top + height)

    @property
    def grain(self) -> float:
        """The rounding of the drawing's coordinates, in millimetres of the telescope."""
        return 0.0006 / self.scale

    def paths(self, attribute: str, value: str | None = None) -> list[list[list[Point]]]:
        """Every path that has this attribute, each as its lines of points, in the drawing's unit."""
        return [_lines(path.attrib["d"]) for path in self.root.iter(f"{SVG}path")
                if attribute in path.attrib and value in (None, path.attrib[attribute])]

    def part(self, name: str) -> list[list[Point]]:
        """The lines of a part as (station, height)."""
        return [[self._telescope(point) for point in line] for path in self.paths("data-part", name) for line in path]

    def ray(self, name: str) -> list[Point]:
        return [self._telescope(point) for point in self.paths("data-ray", name)[0][0]]

    def caught(self, name: str) -> bool:
        return next(p.attrib["data-caught"] for p in self.root.iter(f"{SVG}path")
                    if p.attrib.get("data-ray") == name) == "yes"

    def _telescope(self, point: Point) -> Point:
        x, y = point
        return (-y / self.scale, -x / self.scale) if self.upright else (x / self.scale, -y / self.scale)

    @cached_property
    def texts(self) -> list[Lettering]:
        return [_lettering(text, self.size) for text in self.root.iter(f"{SVG}text")]

    def strokes(self) -> Iterator[tuple[str, Point, Point]]:
        """Every straight stroke that lettering must keep off, with the kind of line it belongs to."""
        for kind, element in self._drawn(self.root, ""):
            if element.attrib.get("stroke"):
                for line in _lines(element.attrib["d"]):
                    for start, end in pairwise(line):
                        yield kind, start, end

    def _drawn(self, element: ET.Element, kind: str) -> Iterator[tuple[str, ET.Element]]:
        for child in element:
            own = child.attrib
            name = ("extension" if own.get("data-line") == "extension" or "data-extension" in own
                    else "dimension" if own.get("data-line") == "dimension" else own.get("data-part") or kind)
            if child.tag == f"{SVG}path":
                yield name, child
            yield from self._drawn(child, name)


def _lines(path: str) -> list[list[Point]]:
    lines = []
    for piece in path.split("M")[1:]:
        points = [tuple(map(float, pair.split())) for pair in piece.rstrip("Z").split("L")]
        lines.append([*points, points[0]] if piece.endswith("Z") else points)
    return lines


def _lettering(text: ET.Element, size: float) -> Lettering:
    plain = "".join(text.itertext())
    x, y, width = float(text.attrib["x"]), float(text.attrib["y"]), real_width(plain, size)
    before = {"start": 0.0, "middle": width / 2, "end": width}[text.attrib.get("text-anchor", "start")]
    # Tops of figures and feet of brackets and commas: 0.66 and 0.18 of the type size in this typeface.
    up, down = 0.66 * size, 0.18 * size
    turn = text.attrib.get("transform")
    if turn:
        angle, cx, cy = map(float, re.findall(r"-?[\d.]+", turn))
        assert (angle, cx, cy) == (-90, x, y)
        return Lettering(plain, (x - up, y + before - width, x + down, y + before), size)
    return Lettering(plain, (x - before, y - up, x - before + width, y + down), size)


def _telescope(aperture: float, ratio: float, kind: str | None = None, offset: str = "full",
               **more: Any) -> dict[str, Any]:
    """The spec of a complete telescope of this size as a mapping; ``more`` replaces whole sections."""
    focal_length = aperture * ratio
    radius, height, drawn_out = aperture / 2 + 27, 52.0, 14.0
    intercept = radius + height + drawn_out
    fold = focal_length - intercept
    front = fold + 0.7 * aperture
    spec = {
        "format": 1, "about": {"name": f"{aperture:g} mm f/{ratio:g}"},
        "primary": {"aperture": f"{aperture} mm", "focal_length": f"{focal_length} mm",
                    "blank_diameter": f"{aperture + 4} mm", "edge_thickness": f"{max(12.0, aperture / 6)} mm"},
        "diagonal": {"minor_axis": f"{round(1.25 * aperture * intercept / focal_length + 4)} mm", "thickness": "8 mm",
                     "offset": offset},
        "spider": {"vanes": 3, "vane_thickness": "0.8 mm"},
        "focuser": {"mounting_radius": f"{radius} mm", "height": f"{height} mm", "travel": "30 mm",
                    "drawn_out": f"{drawn_out} mm", "bore": "31.75 mm", "drawtube": "60 mm"},
        "field": {"judged": "20 mm"},
        "eyepieces": [{"name": "25 mm Plössl", "focal_length": "25 mm", "apparent_field": "50 deg",
                       "field_stop": "21.2 mm", "stop_shift": "2 mm"}],
        "front": {"opening": f"{aperture + 26} mm", "station": f"{front} mm"},
        "cell": {"push": {"count": 3, "radius": f"{0.4 * aperture} mm", "turned": "0 deg", "against": "glass",
                          "spring": {"rate": "1.5 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"}},
                 "clips": {"count": 3, "radius": f"{aperture / 2 + 1} mm", "turned": "60 deg"}},
        "parts": [{"ref": "P1", "name": "Everything", "group": "optics", "get": "make", "quantity": 1, "mass": "3 kg",
                   "station": f"{0.37 * focal_length} mm", "why": "to have a balance point"}],
    }
    lower, span = 0.1 * focal_length, 0.82 * fold - 0.1 * focal_length
    frames = {
        "tube": {"kind": "tube", "material": "aluminium-6061", "outer_diameter": f"{aperture + 34} mm",
                 "inner_diameter": f"{aperture + 28} mm", "length": f"{front + 0.5 * aperture} mm"},
        "poles": {"kind": "poles", "material": "aluminium-6061", "outer_diameter": "20 mm", "inner_diameter": "17 mm",
                  "length": f"{span} mm", "count": 3, "circle_radius": f"{aperture / 2 + 33} mm",
                  "lower_fixing": f"{lower} mm"},
        "truss": {"kind": "truss", "material": "aluminium-6061", "outer_diameter": "22 mm", "inner_diameter": "19 mm",
                  "length": f"{span} mm", "count": 8, "circle_radius": f"{aperture / 2 + 40} mm",
                  "upper_circle_radius": f"{aperture / 2 + 34} mm", "lower_fixing": f"{lower} mm"},
    }
    if kind:
        spec["frame"] = frames[kind]
    spec |= more
    return {key: value for key, value in spec.items() if value is not None}


@pytest.fixture(scope="session")
def telescope() -> Callable[..., dict[str, Any]]:
    """``telescope(aperture, focal ratio, kind of frame, offset, **sections)`` gives a spec as a mapping."""
    return _telescope


@pytest.fixture(scope="session")
def reading() -> type[Drawing]:
    """Reads a drawing back from its SVG."""
    return Drawing


@pytest.fixture(scope="session")
def width_in_type() -> Callable[[str, float], float]:
    """The width of a text at a type size, from the typeface itself."""
    return real_width


@pytest.fixture(scope="session")
def design_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Any]:
    """A telescope's spec as a mapping, with the results that drawings use worked out here, by other means."""
    folder = tmp_path_factory.mktemp("telescope")

    @lru_cache(maxsize=256)
    def worked(text: str) -> Any:
        (folder / "build.yaml").write_text(text, "utf-8")
        build = load_build(folder).build
        results = {name: SimpleNamespace(id=name, value=value, number=value, unit="" if "ratio" in name else "mm",
                                        goal=None)
                   for name, value in _results(build).items()}
        return SimpleNamespace(build=build, results=results)

    return lambda spec: worked(json.dumps(spec))


def _results(build: Any) -> dict[str, float]:
    primary, focuser, frame = build.primary, build.focuser, build.frame
    radius, half = 2 * primary.focal_length, primary.aperture / 2
    sagitta = half**2 / (radius * (1 + math.sqrt(1 - (1 + primary.conic) * (half / radius) ** 2)))
    intercept = focuser.mounting_radius + focuser.height + (focuser.drawn_out or 0.0)
    fold = primary.focal_length - intercept
    offset = {"full": None, "none": 0.0, None: 0.0}.get(build.diagonal.offset, build.diagonal.offset)
    if offset is None:
        offset = _evening_offset(half, primary.focal_length, sagitta, fold, build.diagonal.minor_axis / 2)
    results = {"optics.focal_ratio": primary.focal_length / primary.aperture, "optics.sagitta": sagitta,
               "optics.intercept": intercept, "diagonal.offset": offset, "diagonal.station": fold - offset,
               "focuser.station": fold, "field.judged": build.field.judged if build.field else 12.0}
    if build.parts:
        results["balance.station"] = build.parts[0].station
    if frame and frame.kind == "tube":
        results["frame.tube_length"] = frame.length
    elif frame:
        results["frame.pole_length"] = frame.length
        results["frame.upper_fixing"] = frame.lower_fixing + _height(frame)
    return results


def _evening_offset(half: float, focal_length: float, sagitta: float, fold: float, face: float) -> float:
    """The offset at which both ends of the face let rays from the rim reach equally high in the focal plane."""

    def height(rim: float, offset: float) -> float:
        end = (fold - offset + math.copysign(face, rim), -offset + math.copysign(face, rim))
        return rim + (end[1] - rim) / (end[0] - sagitta) * (focal_length - sagitta)

    low, high = 0.0, face
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if height(half, middle) > -height(-half, middle) else (low, middle)
    return low


def _height(frame: Any) -> float:
    """How far along the axis the members of poles or truss reach."""
    if frame.kind == "poles":
        return float(frame.length)
    turn = 2 * math.pi / frame.count
    lower, upper = frame.circle_radius, frame.upper_circle_radius or frame.circle_radius
    across = math.dist((lower, 0.0), (upper * math.cos(turn), upper * math.sin(turn)))
    return math.sqrt(frame.length**2 - across**2)


@pytest.fixture(scope="session")
def drawing_of(design_of: Callable[..., Any]) -> Callable[..., Drawing]:
    """Draws a telescope from its spec and reads the drawing back; keywords go to ``draw``."""

    def drawn(spec: dict[str, Any], **how: Any) -> Drawing:
        return Drawing(draw(design_of(spec), **({"palette": PAPER} | how)))

    return drawn
