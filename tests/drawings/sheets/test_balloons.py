"""Balloons of the demos' sheets: clear of tables, on the near side of their part, over as little as can be.

ISO 6433 and ISO 128-22 (recalled): a leader ends in a dot within an outline and in an arrowhead on it.
"""

from __future__ import annotations

import math

import pytest

from tests.drawings.sheets.conftest import SVG, distance
from tests.strokes import cross, enters

# Dots have a radius of 0.5 mm, and outlines are half as wide.
DOT, HALF_A_LINE = 0.5, 0.25


def over(read, ref):
    """The outlines that a leader runs over."""
    leader = read.leaders[ref]
    return [stroke for stroke in read.outlines if cross(leader.ends, stroke.ends)]


def test_no_balloon_and_no_leader_is_in_a_table(demo_sheets):
    _, sheets = demo_sheets
    assert sheets["mirror-blank"].boxes_of("table")
    for key, read in sheets.items():
        for left, top, right, bottom in read.boxes_of("table") + read.boxes_of("list"):
            for ref, (x, y, radius) in read.circles.items():
                beside = x + radius <= left or x - radius >= right
                assert beside or y + radius <= top or y - radius >= bottom, (key, ref)
            for ref, leader in read.leaders.items():
                assert not enters((left, top, right, bottom), *leader.ends), (key, ref)


def test_leaders_run_over_few_outlines(demo_sheets):
    """One is the part's own, where the leader ends inside of it. Until all were placed together and with a view to it,
    leaders ran over up to nine."""
    _, sheets = demo_sheets
    counts = {(key, ref): len(over(read, ref)) for key, read in sheets.items() for ref in read.leaders}
    assert len(counts) > 25
    assert max(counts.values()) <= 4, max(counts, key=counts.get)
    assert sum(counts.values()) / len(counts) < 1.2


def test_leaders_are_short(demo_sheets):
    """20 mm and less in the mean; one in a crowded drawing may be as long as a third of the sheet is high."""
    _, sheets = demo_sheets
    lengths = {(key, ref): math.dist(*leader.ends) for key, read in sheets.items() for ref, leader in
               read.leaders.items()}
    assert max(lengths.values()) < 90, max(lengths, key=lengths.get)
    assert sum(lengths.values()) / len(lengths) < 20


def test_a_leader_ends_in_a_dot_inside_and_in_an_arrow_on_an_outline(demo_sheets):
    _, sheets = demo_sheets
    arrows = 0
    for key, read in sheets.items():
        for group in read.root.iter(f"{SVG}g"):
            refs = group.get("data-balloons")
            if not refs:
                continue
            heads = [each.get("data-leader") for each in group if each.get("data-leader")]
            behind_words = all(balloon.after for balloon in read.sheet.figure.balloons if balloon.ref in refs.split())
            if behind_words:
                assert heads == [], (key, refs)
                continue
            end = read.leaders[refs.split()[0]].end
            away = min(distance(end, stroke) for stroke in read.outlines)
            assert heads == (["arrow"] if away < DOT + HALF_A_LINE - 0.01 else ["dot"]), (key, refs, away)
            arrows += heads == ["arrow"]
    assert arrows


def test_no_leader_goes_by_anothers_end(demo_sheets):
    """Nearer than half a capital's height one could be taken for the other."""
    _, sheets = demo_sheets
    for key, read in sheets.items():
        for ref, leader in read.leaders.items():
            for other, theirs in read.leaders.items():
                if theirs.end != leader.end:
                    assert distance(theirs.end, leader) > 1.25, (key, ref, other)


def test_words_lead_on_to_their_balloon(demo_sheets):
    """In the exploded view: a line from the end of the words to the circle, where these are not side by side."""
    _, sheets = demo_sheets
    read = sheets["exploded-view"]
    behind = [balloon.ref for balloon in read.sheet.figure.balloons if balloon.after]
    assert len(behind) > 4
    led = 0
    for ref in behind:
        x, y, radius = read.circles[ref]
        words = max(box[2] for _, box in read.texts if box[1] < y < box[3] and box[2] < x - radius)
        start = x - radius
        if ref in read.leaders:
            led += 1
            (start, level), end = read.leaders[ref].ends
            assert level == pytest.approx(y, abs=0.01)
            assert end == pytest.approx((x - radius, y), abs=0.01)
        assert 0 < start - words < 3
    assert led
