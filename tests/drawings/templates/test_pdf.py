"""The printed sheets read back from the PDF's own content: bars, holes and outlines to 0.05 mm, across sheets too."""

from __future__ import annotations

import io
import math
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import pytest
from pypdf import PageObject, PdfReader

from dossier.drawings.scene import Circle, Polyline, leaves
from dossier.drawings.templates.model import Disc, Label, Outline, Template
from dossier.drawings.templates.pages import PAPERS, pages
from dossier.publish.vector_pdf import as_pdf
from tests.drawings.templates.conftest import every_trial, templates, trial

Point = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]
MM = 25.4 / 72
NEAR = 0.05
MARK = 2.2
# The strip with the bars reaches so far up from the sheet's lower edge.
STRIP = 46.5


@dataclass(frozen=True)
class Path:
    """One run of lines and curves of a page, in millimetres from its lower left corner; ``knots`` without the control
    points of curves."""

    knots: tuple[Point, ...]
    curved: bool

    @property
    def circle(self) -> tuple[Point, float] | None:
        """Middle and radius, where this is a circle in four curves."""
        if not self.curved or len(self.knots) not in (4, 5):
            return None
        xs, ys = [x for x, _ in self.knots], [y for _, y in self.knots]
        return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), (max(xs) - min(xs)) / 2


def _paths(page: PageObject) -> Iterator[Path]:
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    stack: list[Matrix] = []
    knots: list[Point] = []
    curved = False
    for numbers, operator in page.get_contents().operations:
        match operator:
            case b"q":
                stack.append(matrix)
            case b"Q":
                matrix = stack.pop()
            case b"cm":
                matrix = _product([float(each) for each in numbers], matrix)
            case b"m" | b"re" | b"S" | b"f" | b"B" | b"n" | b"s" | b"b" | b"f*" | b"B*":
                if len(knots) > 1:
                    yield Path(tuple(knots), curved)
                knots, curved = [], False
                if operator == b"m":
                    knots = [_at(numbers, matrix)]
            case b"l":
                knots.append(_at(numbers, matrix))
            case b"c":
                knots.append(_at(numbers[4:], matrix))
                curved = True


def _product(inner: Sequence[float], outer: Matrix) -> Matrix:
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _at(numbers: Sequence[float], matrix: Matrix) -> Point:
    (x, y), (a, b, c, d, e, f) = (float(each) for each in numbers[:2]), matrix
    return (MM * (a * x + c * y + e), MM * (b * x + d * y + f))


@lru_cache
def _printed(name: str, key: str) -> tuple[PdfReader, tuple[tuple[Path, ...], ...], tuple[str, ...]]:
    """The PDF, the paths of its pages, and the name of the sheet that each is."""
    scenes = pages(templates(name)[key], trial(name), trial(name).build.readers.paper)
    reader = PdfReader(io.BytesIO(as_pdf(scenes, title=key)))
    return reader, tuple(tuple(_paths(page)) for page in reader.pages), tuple(each.data["sheet"] for each in scenes)


@every_trial
def test_every_sheet_has_both_bars_and_asks_not_to_be_scaled(name: str) -> None:
    paper = PAPERS[trial(name).build.readers.paper]
    for key in templates(name):
        reader, sheets, _ = _printed(name, key)
        assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
        for page, paths in zip(reader.pages, sheets, strict=True):
            assert sorted(float(each) * MM for each in page.mediabox[2:]) == pytest.approx(paper, abs=0.01)
            level = [math.dist(*path.knots) for path in paths if len(path.knots) == 2 and not path.curved
                     and path.knots[0][1] == path.knots[1][1] < STRIP]
            assert sum(abs(length - 100) < NEAR for length in level) == 1, key
            assert sum(abs(length - 101.6) < NEAR for length in level) == 1, key


@every_trial
def test_the_words_that_scaling_is_off_and_which_sheet_it_is_are_read_back(name: str) -> None:
    for key, template in templates(name).items():
        reader, _, names = _printed(name, key)
        for page, sheet in zip(reader.pages, names, strict=True):
            words = " ".join(page.extract_text().replace("\u202f", " ").split())
            assert "page scaling off" in words
            assert "Measure both bars" in words
            assert template.title in words
            assert sheet in words


@pytest.mark.parametrize("name", ["tube-76", "tube-200"])
def test_no_join_goes_through_a_hole_of_a_wrap(name: str) -> None:
    wrap = templates(name)["tube-wrap-upper"]
    holes = {item.name for item in wrap.items if not isinstance(item, Label) and item.layer == "cut"} - {"wrap"}
    for paper in PAPERS:
        scenes = pages(wrap, trial(name), paper)[1:]
        assert len(scenes) > 1
        whole = {shape.data.get("name") for scene in scenes for shape in leaves(scene.members)
                 if isinstance(shape, Circle) or (isinstance(shape, Polyline) and shape.closed)}
        assert holes <= whole


def test_a_name_in_signs_that_the_typeface_lacks_is_printed_all_the_same() -> None:
    design = trial("bare-130")
    about = design.build.about.model_copy(update={"name": "望遠鏡 130"})
    named = replace(design, build=design.build.model_copy(update={"about": about}))
    scenes = pages(templates("bare-130")["diagonal"], named, "A4")
    assert "??? 130" in PdfReader(io.BytesIO(as_pdf(scenes, title="diagonal"))).pages[0].extract_text()


@every_trial
def test_holes_and_outlines_are_true_on_one_sheet_and_across_sheets(name: str) -> None:
    for key, template in templates(name).items():
        _, sheets, names = _printed(name, key)
        kept = [at for at, sheet in enumerate(names) if sheet != "plan of the sheets"]
        sheets = tuple(tuple(path for path in paths if max(y for _, y in path.knots) > STRIP) for paths in sheets)
        placed = _placed({names[at]: sheets[at] for at in kept})
        points = {name: [_moved(point, placed[name]) for path in sheets[at] for point in path.knots]
                  for at, name in zip(kept, (names[at] for at in kept), strict=True)}
        circles = [(_moved(middle, placed[names[at]]), radius) for at in kept for path in sheets[at]
                   if (found := path.circle) for middle, radius in [found]]
        known = sorted(point for each in points.values() for point in each)
        shift = _shift(template, known)
        for item in template.items:
            if isinstance(item, Disc) and item.radius < 60 and item.layer in ("cut", "mark"):
                assert _on_paper(item, shift, circles, known), (key, item.name)
            elif isinstance(item, Outline) and item.layer == "cut":
                assert all(_near(_moved(point, shift), known) for point in item.points), (key, item.name)


def _placed(sheets: Mapping[str, Sequence[Path]]) -> dict[str, Point]:
    """Where each sheet's corner lies when its ringed crosses are laid on those of its neighbours."""
    first = next(iter(sheets))
    placed = {first: (0.0, 0.0)}
    while len(placed) < len(sheets):
        before = len(placed)
        for name, paths in sheets.items():
            for beside in [each for each in placed if name not in placed and _neighbours(name, each)]:
                mine, theirs = (_marks(each) for each in (paths, sheets[beside]))
                steps = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in zip(
                    _side(mine, name, beside), _side(theirs, beside, name), strict=True)]
                assert len(steps) == 3
                for step in steps:
                    assert step == pytest.approx(steps[0], abs=0.01)
                x, y = placed[beside]
                placed[name] = (x + steps[0][0], y + steps[0][1])
                break
        assert len(placed) > before, "a sheet that joins no other"
    return placed


def _neighbours(one: str, other: str) -> bool:
    if len(one) != 2 or len(other) != 2:
        return False
    return abs(ord(one[0]) - ord(other[0])) + abs(int(one[1]) - int(other[1])) == 1


def _marks(paths: Sequence[Path]) -> list[Point]:
    return [found[0] for path in paths if (found := path.circle) and abs(found[1] - MARK) < 0.01]


def _side(marks: Sequence[Point], of: str, towards: str) -> list[Point]:
    """The three marks of the join between a sheet and its neighbour: the outermost on that side, in order."""
    across, down = int(towards[1]) - int(of[1]), ord(towards[0]) - ord(of[0])
    ranked = sorted(marks, key=lambda mark: -(across * mark[0] - down * mark[1]))
    edge = across * ranked[0][0] - down * ranked[0][1]
    return sorted(mark for mark in marks if abs(across * mark[0] - down * mark[1] - edge) < 0.01)


def _moved(point: Point, by: Point) -> Point:
    return (point[0] + by[0], point[1] + by[1])


def _shift(template: Template, known: Sequence[Point]) -> Point:
    """From the template to the sheets laid together: the step after which all of a dozen of its points are there.

    A circle has two of its own, to the right and up, whole or in pieces.
    """
    corners = [point for item in template.items if not isinstance(item, Label) and item.layer in ("cut", "mark")
               for point in (item.points if isinstance(item, Outline) else (
                   _moved(item.centre, (item.radius, 0)), _moved(item.centre, (0, item.radius))))]
    some = corners[::max(1, len(corners) // 12)]
    (x, y) = some[0]
    steps = [(u - x, v - y) for u, v in known]
    return next(step for step in steps if all(_near(_moved(point, step), known) for point in some))


def _on_paper(disc: Disc, shift: Point, circles: Sequence[tuple[Point, float]], points: Sequence[Point]) -> bool:
    """Whether a circle is there whole, or, where a sheet ends within it, in pieces that lie on its edge."""
    centre = _moved(disc.centre, shift)
    if any(math.dist(centre, middle) < NEAR and abs(radius - disc.radius) < NEAR for middle, radius in circles):
        return True
    edge = [math.atan2(y - centre[1], x - centre[0]) for x, y in points
            if abs(math.hypot(x - centre[0], y - centre[1]) - disc.radius) < NEAR]
    return len({round(angle, 1) for angle in edge}) > 50


def _near(wanted: Point, known: Sequence[Point]) -> bool:
    at = bisect_left(known, (wanted[0] - NEAR, -1e9))
    while at < len(known) and known[at][0] <= wanted[0] + NEAR:
        if abs(known[at][1] - wanted[1]) <= NEAR:
            return True
        at += 1
    return False
