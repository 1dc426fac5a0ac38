"""The limit gauge is read back from its SVG: where the pointer stands, which side is hatched."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from dossier.drawings import limit_gauge
from dossier.drawings.palette import PAPER, SCREEN

SVG = "{http://www.w3.org/2000/svg}"


def _path(svg: str, kind: str) -> list[tuple[float, float]]:
    root = ET.fromstring(svg)
    found = [p for p in root.iter(f"{SVG}path") if p.get("class") == kind]
    if not found:
        return []
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", found[0].attrib["d"])]


def _tip(svg: str) -> float:
    return _path(svg, "mark")[0][0]


def _tick(svg: str) -> float:
    return _path(svg, "limit")[0][0]


@pytest.mark.parametrize(("value", "limit", "sense"), [
    (0.85, 0.80, "at_least"), (0.802, 0.80, "at_least"), (0.79, 0.80, "at_least"), (1.9, 0.8, "at_least"),
    (290, 350, "at_most"), (351, 350, "at_most"), (900, 350, "at_most"), (-3, -2, "at_least"), (0, 0, "at_most"),
])
def test_pointer_stands_on_the_hatched_side_only_when_the_limit_is_missed(value, limit, sense):
    svg = limit_gauge.draw(value, limit, sense, PAPER)
    hatched = [x for x, _ in _path(svg, "forbidden")]
    meets = value >= limit if sense == "at_least" else value <= limit
    inside = min(hatched) < _tip(svg) < max(hatched) or (abs(_tip(svg) - _tick(svg)) > limit_gauge.WIDTH / 2 - 4.5 and (
        _tip(svg) < _tick(svg)) == (max(hatched) <= _tick(svg)))
    assert inside == (not meets)


def test_hatching_keeps_to_its_side_of_the_tick():
    left = _path(limit_gauge.draw(1, 1, "at_least", PAPER), "forbidden")
    right = _path(limit_gauge.draw(1, 1, "at_most", PAPER), "forbidden")
    middle = _tick(limit_gauge.draw(1, 1, "at_most", PAPER))
    assert max(x for x, _ in left) == middle == min(x for x, _ in right)
    assert len(left) == len(right) > 12


def test_a_tenth_to_spare_is_a_quarter_of_the_half():
    spare = _tip(limit_gauge.draw(1.1, 1.0, "at_least", PAPER))
    tick = _tick(limit_gauge.draw(1.1, 1.0, "at_least", PAPER))
    assert spare - tick == pytest.approx(32 / 4)


def test_two_per_cent_can_be_told_at_eleven_pixels():
    tip, tick = (f(limit_gauge.draw(0.816, 0.80, "at_least", PAPER)) for f in (_tip, _tick))
    assert (tip - tick) * 11 / 12 > 1


def test_off_the_scale_and_no_number():
    assert _tip(limit_gauge.draw(math.inf, 1, "at_most", PAPER)) > limit_gauge.WIDTH - 4.5
    assert _path(limit_gauge.draw(math.nan, 1, "at_most", PAPER), "mark") == []


def test_label_speaks_and_is_escaped():
    spoken = ET.fromstring(limit_gauge.draw(1, 2, "at_most", SCREEN, label="1 < 2 & fine"))
    assert spoken.get("role") == "img"
    assert spoken.findtext(f"{SVG}title") == "1 < 2 & fine"
    assert ET.fromstring(limit_gauge.draw(1, 2, "at_most", SCREEN)).get("aria-hidden") == "true"


def test_screen_colours_follow_the_theme_and_paper_colours_stand_alone():
    assert "var(--ink)" in limit_gauge.draw(1, 2, "at_most", SCREEN)
    assert "var(" not in limit_gauge.draw(1, 2, "at_most", PAPER)
