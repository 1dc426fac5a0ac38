"""The kernel of the drawings: dimensions side by side, running dimensions, hatching, room for lettering, SVG."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.drawings import scales
from dossier.drawings.dimension import Dimensions, Span, crossing, fits
from dossier.drawings.lettering import WIDEST, box_of_text, width_of
from dossier.drawings.palette import PAPER, SCREEN
from dossier.drawings.running import apart
from dossier.drawings.scene import (
    ON_PAPER,
    Box,
    Group,
    Polyline,
    Scene,
    Segments,
    Text,
    Words,
    hatching,
    leaves,
)
from dossier.drawings.svg import render

sides = st.sampled_from(["above", "below", "left", "right"])
lengths = st.lists(st.floats(0.5, 250), min_size=1, max_size=8, unique_by=lambda length: round(length, 1))
words = st.sampled_from(["7", "25.4", "front 1150", "focal length 1200", "4 poles ⌀ 20 × 17, length 900.5"])


def _spans(found, said):
    return [Span(f"s{index}", 0.0, length, (Words(text),)) for index, (length, text) in
            enumerate(zip(found, said, strict=True))]


@given(side=sides, found=lengths, data=st.data())
@settings(max_examples=200, deadline=None)
def test_baseline_dimensions_never_touch(side, found, data):
    """Any lengths from one origin, any figures, on any side of a part."""
    said = data.draw(st.lists(words, min_size=len(found), max_size=len(found)))
    part = Box(-5, -5, 260, 260)
    placed = Dimensions(ON_PAPER, (part,))
    spans = _spans(found, said)
    unplaced = placed.place(side, spans)
    # Only what has another extension line next to its arrowheads may be given back, never the longest.
    assert max(spans, key=lambda span: span.length) not in unplaced
    for span in unplaced:
        assert any(span.end < other.end < span.end + width_of(span.plain, ON_PAPER.lettering) + 10 for other in spans)
    texts = [box_of_text(shape, ON_PAPER.lettering) for shape in leaves(placed.shapes) if isinstance(shape, Text)]
    assert len(texts) == len(found) - len(unplaced)
    for one, other in combinations([*texts, part], 2):
        assert not one.meets(other)
    lines = [shape for shape in leaves(placed.shapes) if isinstance(shape, Polyline) and not shape.closed]
    extensions = [line for shape in leaves(placed.shapes) if isinstance(shape, Segments) for line in shape.lines]
    for text in texts:
        for start, end in [*(line.points for line in lines), *extensions]:
            thin = Box(min(start[0], end[0]), min(start[1], end[1]), max(start[0], end[0]), max(start[1], end[1]))
            assert not text.meets(thin.grown(0.05))
    along = 0 if side in ("above", "below") else 1
    tips = [shape.points[0] for shape in leaves(placed.shapes) if isinstance(shape, Polyline) and shape.closed]
    for line in lines:
        first, last = sorted(point[along] for point in line.points)
        level = line.points[0][1 - along]
        for start, end in extensions:
            near, far = sorted((start[1 - along], end[1 - along]))
            if first + 1e-6 < start[along] < last - 1e-6 and near < level < far:
                meeting = (start[0], level) if along == 0 else (level, start[1])
                assert min(math.dist(tip, meeting) for tip in tips) < 1e-6
    levels = sorted(abs(line.points[0][1 if side in ("above", "below") else 0]) for line in lines)
    assert all(outer - inner >= 2.5 for inner, outer in pairwise(levels))


def test_short_dimension_has_its_arrowheads_outside_and_its_figure_beyond():
    placed = Dimensions(ON_PAPER, ())
    span = Span("s", 0.0, 3.0, (Words("1150"),))
    assert not fits(span, ON_PAPER)
    assert placed.place("below", [span]) == []
    heads = [shape for shape in leaves(placed.shapes) if isinstance(shape, Polyline) and shape.closed]
    assert sorted(head.points[0][0] for head in heads) == [0.0, 3.0]
    assert min(x for head in heads for x, _ in head.points) < 0 < 3 < max(x for head in heads for x, _ in head.points)
    text = next(shape for shape in leaves(placed.shapes) if isinstance(shape, Text))
    assert box_of_text(text, ON_PAPER.lettering).left > 3


def test_figure_with_no_room_is_given_back():
    placed = Dimensions(ON_PAPER, ())
    inner = Span("inner", 40.0, 44.0, (Words("a figure far too long for its place"),))
    outer = Span("outer", 35.0, 50.0, (Words("9"),))
    assert placed.place("below", [inner, outer]) == [inner]
    assert [group.data["dimension"] for group in placed.shapes if "dimension" in group.data] == ["outer"]


@pytest.mark.parametrize(("one", "other", "expected"), [
    ((0, 10), (5, 15), True), ((5, 15), (0, 10), True), ((0, 10), (0, 15), False), ((0, 15), (5, 15), False),
    ((0, 5), (5, 9), False), ((0, 9), (2, 3), False),
])
def test_crossing_spans(one, other, expected):
    assert crossing(Span("a", *one, ()), Span("b", *other, ())) is expected


@given(st.lists(st.floats(-1000, 0), min_size=1, max_size=12))
def test_running_figures_are_moved_apart_and_keep_their_order(levels):
    downmost_first = sorted(levels, reverse=True)
    moved = apart(downmost_first, 15)
    assert all(lower - upper >= 15 - 1e-6 for lower, upper in pairwise(moved))
    assert sum(moved) == pytest.approx(sum(downmost_first), abs=1e-6)


def test_running_figures_with_room_stay_where_they_are():
    assert apart([0, -20, -80], 15) == [0, -20, -80]
    assert apart([0, -5, -80], 15) == [5, -10, -80]


def test_hatching_of_a_square_is_at_45_degrees_evenly_spaced_and_inside():
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    lines = hatching(square, 2.0)
    # The diagonal is 14.14 long: levels 0 to 14 in steps of 2, of which the first touches only the corner.
    assert len(lines) == 7
    for (x0, y0), (x1, y1) in lines:
        assert (x1 - x0) == pytest.approx(y0 - y1)
        assert all(-1e-9 <= value <= 10 + 1e-9 for value in (x0, y0, x1, y1))
    levels = sorted((x + y) / math.sqrt(2) for (x, y), _ in lines)
    assert [b - a for a, b in pairwise(levels)] == pytest.approx([2.0] * 6)


def test_lettering_never_takes_more_room_than_thought(width_in_type):
    for character in map(chr, [*range(0x20, 0x7F), *range(0xA1, 0x17F), 0x202F, 0x2009, 0x2212, 0x2300, 0x2019]):
        if character == "\u00ad":
            continue
        real, thought = width_in_type(character, 1000), width_of(character, 1000)
        assert real <= thought <= real + 20, character
    assert width_of("\u4e2d", 1000) == WIDEST


def test_scale_bars_are_round_and_fit():
    for scale in (1, 0.5, 0.2, 0.1, 0.05, 0.02):
        for unit, size in (("millimetres", 1), ("inches", 25.4)):
            bar = scales.bar(scale, 50, unit)
            assert bar.length_mm * scale <= 50
            assert float(bar.words.split("\u202f")[0]) * size == pytest.approx(bar.length_mm)
            steps = bar.length_mm / size / bar.steps
            assert steps * 4 == pytest.approx(round(steps * 4))


def _scene(*members):
    return Scene("test", "A < B & C", 'said "so"', ON_PAPER, Box(0, 0, 10, 10), members)


def test_svg_is_escaped_and_names_itself():
    root = ET.fromstring(render(_scene(Text((1, 2), (Words("a<b>&\"'"),))), PAPER))
    assert root.get("role") == "img"
    title, description, text = list(root)
    assert (title.text, description.text, text.text) == ("A < B & C", 'said "so"', "a<b>&\"'")
    assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("10mm", "10mm", "0 0 10 10")


def test_figures_lead_to_their_working():
    one = Text((1, 2), (Words("diagonal "), Words("35", "diagonal.station")))
    two = Text((1, 4), (Words("35", "diagonal.offset"), Words(" by "), Words("20", key="frame.length")))
    svg = render(_scene(Group((one, two), {"part": "x"})), SCREEN, lambda result: f"working.html#{result}")
    root = ET.fromstring(svg)
    name = "{http://www.w3.org/2000/svg}"
    assert root.get("role") == "group"
    links = list(root.iter(f"{name}a"))
    assert [link.get("href") for link in links] == ["working.html#diagonal.station", "working.html#diagonal.offset"]
    assert ["".join(link.itertext()) for link in links] == ["diagonal 35", "35"]
    assert {e.get("data-result") for e in root.iter()} >= {"diagonal.station", "diagonal.offset"}
    assert [e.text for e in root.iter() if e.get("data-key") == "frame.length"] == ["20"]
    assert "<a " not in render(_scene(one), SCREEN)


@given(st.text(min_size=1).filter(lambda text: text.isprintable()))
@settings(max_examples=50)
def test_any_words_make_valid_xml(text):
    root = ET.fromstring(render(_scene(Text((0, 0), (Words(text, "a.b"),))), PAPER, lambda result: f"x.html#{result}"))
    assert "".join(root.itertext()).strip().endswith(text.strip())
