"""Figures of the drawing set, drawn as a sheet or a phone would have them and read back from their SVG."""

from __future__ import annotations

import json
import math
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations, pairwise
from typing import Any

import pytest

from dossier.design import work_out
from dossier.drawings.palette import PAPER
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Scene
from dossier.drawings.svg import render
from dossier.spec.load import load_build
from tests.strokes import Point, cross, enters, round_of

SVG = "{http://www.w3.org/2000/svg}"
# The room of a figure on an A4 sheet above its title block, mm; a phone's width, px.
SHEET, PHONE = (180.0, 210.0), 328.0


@dataclass(frozen=True)
class Stroke:
    """A straight stroke: what it belongs to, its ends."""

    kind: str
    start: Point
    end: Point

    @property
    def ends(self) -> tuple[Point, Point]:
        """Both of them."""
        return self.start, self.end


class Page:
    """A figure read back. ``scale`` is what its maker was asked for, in units of the medium to a millimetre."""

    def __init__(self, figure: Any, svg: str, scale: float, size: float,
                 measure: Callable[[str, float], float]) -> None:
        self.figure, self.scale, self.size, self.measure = figure, scale, size, measure
        self.root = ET.fromstring(svg)

    def view(self, name: str) -> View:
        """One of the figure's views."""
        return View(next(group for group in self.root.iter(f"{SVG}g") if group.get("data-view") == name), self.scale)

    @property
    def views(self) -> set[str]:
        return {name for group in self.root.iter(f"{SVG}g") if (name := group.get("data-view"))}

    @cached_property
    def texts(self) -> list[tuple[str, tuple[float, float, float, float]]]:
        """Every text and the box that its glyphs fill, by the typeface itself."""
        found = []
        for text in self.root.iter(f"{SVG}text"):
            plain = "".join(text.itertext())
            x, y, width = float(text.attrib["x"]), float(text.attrib["y"]), self.measure(plain, self.size)
            before = {"start": 0.0, "middle": width / 2, "end": width}[text.get("text-anchor", "start")]
            up, down = 0.66 * self.size, 0.18 * self.size
            box = ((x - up, y + before - width, x + down, y + before) if text.get("transform")
                   else (x - before, y - up, x - before + width, y + down))
            found.append((plain, box))
        return found

    @property
    def words(self) -> str:
        """All that is written, a line to a text."""
        return "\n".join(plain for plain, _ in self.texts)

    def strokes(self) -> Iterator[Stroke]:
        """Every stroke that lettering must keep off, circles as sides of a polygon."""
        yield from _strokes(self.root, "")

    def legible(self) -> None:
        """Lettering touches nothing; no dimension line is crossed; all lies within the figure's box."""
        strokes = list(self.strokes())
        for (one, box), (other, their) in combinations(self.texts, 2):
            apart = box[2] <= their[0] or their[2] <= box[0] or box[3] <= their[1] or their[3] <= box[1]
            assert apart, f"{one!r} lies over {other!r}"
        for plain, box in self.texts:
            for stroke in strokes:
                if stroke.kind != "coating":
                    assert not enters(box, stroke.start, stroke.end), f"{plain!r} is touched by {stroke}"
        measuring = [stroke for stroke in strokes if stroke.kind == "dimension"]
        for line in measuring:
            for stroke in strokes:
                assert stroke.kind == "extension" or not cross(line.ends, stroke.ends), f"{line} is crossed by {stroke}"
        box = self.figure.box
        for plain, (left, top, right, bottom) in self.texts:
            assert box.left <= left, plain
            assert right <= box.right, plain
            assert box.top <= top, plain
            assert bottom <= box.bottom, plain
        for stroke in strokes:
            for x, y in (stroke.start, stroke.end):
                assert box.left <= x <= box.right, stroke
                assert box.top <= y <= box.bottom, stroke


class View:
    """One view: circles and lines by the part that they are."""

    def __init__(self, group: ET.Element, scale: float) -> None:
        self.group = group
        self.scale = float(group.get("data-scale", scale))

    def extents(self, part: str) -> list[float]:
        """Left, top, right and bottom in mm, of all lines of a part."""
        points = [point for line in self.lines(part) for point in line]
        return [edge(point[axis] for point in points) / self.scale for edge in (min, max) for axis in (0, 1)]

    def circles(self, part: str) -> list[tuple[float, float, float]]:
        """Centre and radius of every circle of a part, in the drawing's unit."""
        return [round_of(each) for each in self.group.iter(f"{SVG}circle") if each.get("data-part") == part]

    def lines(self, part: str) -> list[list[Point]]:
        """The points of every line of a part, in the drawing's unit."""
        return [line for each in self.group.iter(f"{SVG}path") if each.get("data-part") == part
                for line in _lines(each.attrib["d"])]

    def attributes(self, part: str) -> list[dict[str, str]]:
        return [dict(each.attrib) for each in self.group.iter() if each.get("data-part") == part]

    def polar(self, at: Point, centre: Point, *, clockwise: bool) -> tuple[float, float]:
        """Radius in mm and angle in degrees from straight up."""
        x, y = at[0] - centre[0], centre[1] - at[1]
        angle = math.degrees(math.atan2(x if clockwise else -x, y))
        return math.hypot(x, y) / self.scale, round(angle, 3) % 360


def _lines(path: str) -> list[list[Point]]:
    lines = []
    for piece in path.split("M")[1:]:
        points = [tuple(map(float, pair.split())) for pair in piece.rstrip("Z").split("L")]
        lines.append([*points, points[0]] if piece.endswith("Z") else points)
    return lines


def _strokes(element: ET.Element, kind: str) -> Iterator[Stroke]:
    for child in element:
        own = child.attrib
        name = ("extension" if own.get("data-line") == "extension" or "data-extension" in own
                else "dimension" if own.get("data-line") == "dimension" else own.get("data-part") or kind)
        if child.tag == f"{SVG}path" and own.get("stroke"):
            for line in _lines(own["d"]):
                yield from (Stroke(name, start, end) for start, end in pairwise(line))
        if child.tag == f"{SVG}circle" and own.get("stroke"):
            x, y, r = (float(own[each]) for each in ("cx", "cy", "r"))
            rim = [(x + r * math.cos(step * math.pi / 24), y + r * math.sin(step * math.pi / 24)) for step in range(49)]
            yield from (Stroke(name, start, end) for start, end in pairwise(rim))
        yield from _strokes(child, name)



@pytest.fixture(scope="session")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Callable[[dict[str, Any]], Any]:
    """Works a spec, given as a mapping, out in full; each once."""
    folder = tmp_path_factory.mktemp("figures")

    @lru_cache(maxsize=64)
    def of(text: str) -> Any:
        (folder / "build.yaml").write_text(text, "utf-8")
        return work_out(load_build(folder))

    return lambda spec: of(json.dumps(spec))


@pytest.fixture(scope="session")
def drawn_page(width_in_type: Callable[[str, float], float]) -> Callable[..., Page | None]:
    """``drawn_page(maker, design, medium)``: on paper at the first preferred scale that fits a sheet, on a phone at
    the scale that fills the width; None where the maker draws nothing."""

    def drawn(make: Any, design: Any, where: str) -> Page | None:
        medium, width = (ON_PAPER, SHEET[0]) if where == "paper" else (ON_PHONE, PHONE)
        scale = _on_a_sheet(make, design) if where == "paper" else _on_a_phone(make, design)
        figure = make(design, medium, scale, width)
        if figure is None:
            return None
        scene = Scene(figure.name, figure.name, figure.description, medium, figure.box, figure.shapes)
        return Page(figure, render(scene, PAPER), scale, medium.lettering, width_in_type)

    return drawn


def _on_a_sheet(make: Any, design: Any) -> float:
    for scale in (5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50):
        figure = make(design, ON_PAPER, scale, SHEET[0])
        if figure is None or (figure.box.right - figure.box.left <= SHEET[0]
                              and figure.box.bottom - figure.box.top <= SHEET[1]):
            return scale
    raise AssertionError("it fits no sheet")


def _on_a_phone(make: Any, design: Any) -> float:
    low, high = 0.05, 12.0
    for _ in range(12):
        middle = math.sqrt(low * high)
        figure = make(design, ON_PHONE, middle, PHONE)
        if figure is None:
            return middle
        low, high = (middle, high) if figure.box.right - figure.box.left <= PHONE else (low, middle)
    return low


def _mount(kind: str | None, aperture: float, focal: float) -> dict[str, Any] | None:
    """A mount of each kind, with all that its kind may say."""
    pivot, height = 0.36 * focal, 0.36 * focal + aperture + 150
    rocking = {"kind": "rocker", "pivot": f"{pivot} mm", "pivot_height": f"{height} mm", "floor": "50 mm", "feet": 3,
               "feet_radius": "250 mm", "tail": f"{-0.4 * aperture} mm", "tail_radius": f"{0.8 * aperture} mm",
               "bearing": {"radius": "110 mm", "friction": 0.1, "pad_angle": "35 deg"}}
    return {"rocker": rocking, "equatorial": {"kind": "equatorial", "capacity": "10 kg"}, None: None,
            "altaz": {"kind": "altaz", "pivot": f"{pivot} mm", "pivot_height": f"{height} mm", "feet": 4,
                      "feet_radius": "300 mm", "offset": "180 mm"}}[kind]


@pytest.fixture(scope="session")
def drilled(telescope: Callable[..., dict[str, Any]], worked: Callable[[dict[str, Any]], Any]) -> Callable[..., Any]:
    """``drilled(aperture, ratio, kind of frame, kind of mount, units)`` is a design with holes and angles said."""

    def design(aperture: float, ratio: float, kind: str | None, stand: str | None = None, units: str = "metric",
               **changes: Any) -> Any:
        spec = telescope(aperture, ratio, kind, mount=_mount(stand, aperture, aperture * ratio),
                         readers={"units": units})
        spec["spider"] |= {"vanes": 4, "turned": "45 deg"}
        if stand:
            spec["parts"].append({"ref": "M1", "name": "Base", "group": "mount", "get": "make", "quantity": 1,
                                  "mass": "4 kg", "why": "to have something below"})
        if kind == "tube":
            spec["spider"] |= {"station": f"{aperture * (ratio - 0.5) - 33} mm", "hole": "5 mm"}
            spec["focuser"]["hole"] = "42 mm"
            spec["frame"]["holes"] = [{"from_end": "20 mm", "diameter": "6 mm", "turned": "90 deg", "for": "M6 bolt"}]
        elif kind:
            spec["frame"] |= {"turned": "60 deg", "holes": [
                {"end": "lower", "from_end": "12 mm", "diameter": "6.5 mm", "through": True},
                {"end": "upper", "from_end": "14 mm", "diameter": "5 mm", "turned": "90 deg"}]}
        for section, change in changes.items():
            merged = {} if change is None else (spec.get(section) or {}) | change
            spec[section] = {key: value for key, value in merged.items() if value is not None} or None
        return worked({key: value for key, value in spec.items() if value is not None})

    return design
