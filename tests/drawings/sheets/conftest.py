"""Sheets of the drawing set read back from their SVG: lettering, strokes, fields, balloons, in mm of the paper."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pytest

from dossier.design import work_out
from dossier.drawings.palette import PAPER
from dossier.drawings.sheets.compose import sheets_of
from dossier.drawings.svg import render
from dossier.spec.load import load_build
from tests.strokes import Box, Point, cross, enters, round_of

SVG = "{http://www.w3.org/2000/svg}"
ROOT = Path(__file__).parents[3]
BUILDS = sorted(path.parent for path in (ROOT / "content").glob("*/build.yaml"))


@dataclass(frozen=True)
class Stroke:
    """A straight stroke: what it belongs to (``whose`` is the balloons' references, where it is theirs), its ends;
    whether it is an outline of something, wide or a chain line with two dots; of which part."""

    kind: str
    whose: str
    start: Point
    end: Point
    outline: bool = False
    part: str = ""

    @property
    def ends(self) -> tuple[Point, Point]:
        """Both of them."""
        return self.start, self.end


class Read:
    """One sheet. ``measure`` gives the width of a text at a type size, from the typeface itself."""

    def __init__(self, sheet: Any, measure: Callable[[str, float], float]) -> None:
        self.sheet, self.measure = sheet, measure
        self.svg = render(sheet.scene, PAPER)
        self.root = ET.fromstring(self.svg)
        self.size = float(self.root.attrib["font-size"])
        self.scale = float(self.root.attrib["data-scale"])

    def group(self, attribute: str, value: str, within: ET.Element | None = None) -> ET.Element:
        """The first group with this attribute."""
        return next(each for each in (self.root if within is None else within).iter(f"{SVG}g")
                    if each.get(f"data-{attribute}") == value)

    @cached_property
    def frame(self) -> Box:
        """The frame's inner size, from its corners."""
        return _box(_lines(next(path.attrib["d"] for path in self.root.iter(f"{SVG}path")
                                if path.get("data-part") == "frame"))[0])

    @cached_property
    def fields(self) -> dict[str, str]:
        """What each field of the title block says, by the field's name as it is printed."""
        found = {}
        for group in self.root.iter(f"{SVG}g"):
            if group.get("data-field"):
                name, *said = ["".join(text.itertext()) for text in group.iter(f"{SVG}text")]
                found[name] = " ".join(said)
        return found

    @cached_property
    def texts(self) -> list[tuple[str, Box]]:
        """Every text and the box that its glyphs fill."""
        return [self._boxed(text) for text in self.root.iter(f"{SVG}text")]

    def _boxed(self, text: ET.Element) -> tuple[str, Box]:
        plain, size = "".join(text.itertext()), float(text.get("font-size", self.size))
        x, y, width = float(text.attrib["x"]), float(text.attrib["y"]), self.measure(plain, size)
        before = {"start": 0.0, "middle": width / 2, "end": width}[text.get("text-anchor", "start")]
        up, down = 0.66 * size, 0.18 * size
        if text.get("transform"):
            return plain, (x - up, y + before - width, x + down, y + before)
        return plain, (x - before, y - up, x - before + width, y + down)

    @cached_property
    def strokes(self) -> list[Stroke]:
        """Every stroke, circles as sides of a polygon."""
        return list(_strokes(self.root, "", ""))

    @cached_property
    def circles(self) -> dict[str, tuple[float, float, float]]:
        """The balloons by the references in them: centre and radius."""
        return {each.attrib["data-balloon"]: round_of(each)
                for each in self.root.iter(f"{SVG}circle") if each.get("data-balloon")}

    def rows(self, table: str) -> list[list[str]]:
        """What the rows of a table say, each cell by itself."""
        return [["".join(text.itertext()) for text in row.iter(f"{SVG}text")]
                for row in self.group("part", f"{table}-table").iter(f"{SVG}g") if row.get("data-row")]

    def clear(self) -> None:
        """Nothing lies over anything: no lettering, dimension line, leader, balloon or frame over another of them."""
        self._lettering_is_clear()
        self._lines_are_clear()
        self._balloons_are_clear()

    def _lettering_is_clear(self) -> None:
        for (one, box), (other, their) in combinations(self.texts, 2):
            apart = box[2] <= their[0] or their[2] <= box[0] or box[3] <= their[1] or their[3] <= box[1]
            assert apart, f"{one!r} lies over {other!r}"
        for plain, box in self.texts:
            for stroke in self.strokes:
                # The sign for a coating (ISO 10110) is a letter in a circle.
                if stroke.kind != "coating":
                    assert not enters(box, stroke.start, stroke.end), f"{plain!r} is touched by {stroke}"

    def _lines_are_clear(self) -> None:
        measuring = [stroke for stroke in self.strokes if stroke.kind == "dimension"]
        leaders = [stroke for stroke in self.strokes if stroke.kind == "leader"]
        assert all(stroke.kind == "extension" or not cross(line.ends, stroke.ends) for line in measuring
                   for stroke in self.strokes), "a dimension line is crossed"
        for one, other in combinations(leaders, 2):
            assert not cross(one.ends, other.ends), f"{one} crosses {other}"

    def _balloons_are_clear(self) -> None:
        left, top, right, bottom = self.frame
        for ref, (x, y, radius) in self.circles.items():
            assert left < x - radius, ref
            assert x + radius < right, ref
            assert top < y - radius, ref
            assert y + radius < bottom, ref
            for stroke in self.strokes:
                if ref not in stroke.whose.split():
                    assert distance((x, y), stroke) >= radius - 0.01, f"{ref} is touched by {stroke}"

    @cached_property
    def outlines(self) -> list[Stroke]:
        """The strokes that outline what the figure shows."""
        figure = next(each for each in self.root.iter(f"{SVG}g") if each.get("data-figure"))
        # What is too thin for two lines is drawn as one filled shape.
        solid = [Stroke("line", "", start, end, True, path.attrib["data-part"]) for path in figure.iter(f"{SVG}path")
                 if path.get("data-part") and path.get("fill") == "#000000" and not path.get("stroke")
                 for line in _lines(path.attrib["d"]) for start, end in pairwise(line)]
        return solid + [stroke for stroke in _strokes(figure, "", "") if stroke.outline
                        and stroke.kind not in ("dimension", "extension", "leader")]

    @cached_property
    def leaders(self) -> dict[str, Stroke]:
        """The balloons' leaders by the references in them."""
        return {ref: stroke for stroke in self.strokes if stroke.kind == "leader" for ref in stroke.whose.split()}

    def boxes_of(self, attribute: str) -> list[Box]:
        """What the lettering of every group with this attribute covers."""
        found = []
        for group in self.root.iter(f"{SVG}g"):
            texts = [self._boxed(text)[1] for text in group.iter(f"{SVG}text")]
            if texts and group.get(f"data-{attribute}"):
                lefts, tops, rights, bottoms = zip(*texts, strict=True)
                found.append((min(lefts), min(tops), max(rights), max(bottoms)))
        return found

    def part(self, name: str, within: ET.Element | None = None) -> list[list[Point]]:
        """The points of every line of a part."""
        return [line for path in (self.root if within is None else within).iter(f"{SVG}path")
                if path.get("data-part") == name for line in _lines(path.attrib["d"])]

    def round(self, name: str, within: ET.Element | None = None) -> list[tuple[float, float, float]]:
        """Centre and radius of every circle of a part."""
        return [round_of(each) for each in (self.root if within is None else within).iter(f"{SVG}circle")
                if each.get("data-part") == name]


def _lines(path: str) -> list[list[Point]]:
    lines = []
    for piece in path.split("M")[1:]:
        points = [tuple(map(float, pair.split())) for pair in piece.rstrip("Z").split("L")]
        lines.append([*points, points[0]] if piece.endswith("Z") else points)
    return lines


def _box(points: list[Point]) -> Box:
    return (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points))


def _strokes(element: ET.Element, kind: str, whose: str) -> Iterator[Stroke]:
    for child in element:
        own = child.attrib
        mine = own.get("data-balloons", whose)
        name = ("extension" if own.get("data-line") == "extension" or "data-extension" in own
                else own["data-line"] if own.get("data-line") in ("dimension", "leader")
                else own.get("data-part") or kind)
        # Wide is 0.5 mm and more; of the dashed lines, a chain with two dots has six lengths.
        look = (float(own.get("stroke-width", 0)) >= 0.5 or len(own.get("stroke-dasharray", "").split()) == 6,
                own.get("data-part", ""))
        if child.tag == f"{SVG}path" and own.get("stroke"):
            for line in _lines(own["d"]):
                yield from (Stroke(name, mine, start, end, *look) for start, end in pairwise(line))
        if child.tag == f"{SVG}circle" and own.get("stroke"):
            x, y, r = (float(own[each]) for each in ("cx", "cy", "r"))
            rim = [(x + r * math.cos(step * math.pi / 16), y + r * math.sin(step * math.pi / 16)) for step in range(33)]
            yield from (Stroke(name, mine, start, end, *look) for start, end in pairwise(rim))
        yield from _strokes(child, name, mine)



def distance(point: Point, stroke: Stroke) -> float:
    """How far a point is from a stroke."""
    (x0, y0), (x1, y1) = stroke.start, stroke.end
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    share = 0.0 if square == 0 else max(0.0, min(1.0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / square))
    return math.hypot(point[0] - x0 - share * dx, point[1] - y0 - share * dy)


@pytest.fixture(scope="session")
def reader(width_in_type: Callable[[str, float], float]) -> Callable[[Any, str], dict[str, Read]]:
    """``reader(design, paper)`` draws every sheet of a design and reads it back, by its key."""
    return lambda design, paper: {sheet.kind.key: Read(sheet, width_in_type) for sheet in sheets_of(design, paper)}


@pytest.fixture(scope="session")
def demo() -> Callable[[str], Any]:
    """A demo worked out, by the name of its folder; each once."""
    return lru_cache(maxsize=None)(lambda name: work_out(load_build(ROOT / "content" / name)))


@pytest.fixture(scope="session", params=[path.name for path in BUILDS])
def demo_sheets(request: pytest.FixtureRequest, demo: Any, reader: Any) -> tuple[Any, dict[str, Read]]:
    """A demo's design, and its sheets on its own paper."""
    design = demo(request.param)
    return design, reader(design, design.build.readers.paper)
