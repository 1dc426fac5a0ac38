"""The limit gauge: where a value stands against its limit, at the size of a line of text.

A short scale has a tick at the limit in its middle; below it the side that is not allowed is hatched; a pointer stands
on the scale at the value. One half of the scale is 40 % of the limit, so a value with a tenth of the limit to spare
stands a quarter of the half away from the tick. A value beyond the scale is a pointer that lies on its side at the
scale's end. Shape alone tells: no colour is needed.
"""

from __future__ import annotations

import math
from html import escape
from typing import Literal

from dossier.drawings.palette import Palette
from dossier.drawings.svg import attributes, number

# Units of the gauge: 12 are one em, so at 11 px a unit is just under a pixel.
WIDTH, HEIGHT = 72.0, 12.0
REACH = 0.4
_LEFT, _RIGHT, _BASE, _FOOT = 4.0, 68.0, 6.4, 11.4
_HATCH_STEP = 4.0
_MIDDLE, _HALF = (_LEFT + _RIGHT) / 2, (_RIGHT - _LEFT) / 2


def draw(value: float, limit: float, sense: Literal["at_least", "at_most"], palette: Palette, *,
         label: str = "") -> str:
    """An inline SVG, six ems long and one high.

    ``label`` is what a screen reader says; without one the gauge is hidden from it, because words stand beside it. A
    value that is not a number has no mark. A limit of zero has no share to measure in: the mark is then at the scale's
    end, or at the tick where value and limit are equal.
    """
    place = position(value, limit)
    parts = [_forbidden(sense, palette), _scale(palette)]
    if place is not None:
        parts.append(_mark(place, palette))
    head = {"class": "limit-gauge", "xmlns": "http://www.w3.org/2000/svg", "width": "6em", "height": "1em",
            "viewBox": f"0 0 {number(WIDTH)} {number(HEIGHT)}"}
    head |= {"role": "img"} if label else {"aria-hidden": "true"}
    title = f"<title>{escape(label)}</title>" if label else ""
    return f"<svg{attributes(head)}>{title}{''.join(parts)}</svg>"


def position(value: float, limit: float) -> float | None:
    """Where the mark stands: 0 at the limit, −1 and 1 at the scale's ends, beyond them off it; None for no number."""
    if math.isnan(value) or math.isnan(limit):
        return None
    beyond = value - limit
    if beyond == 0:
        return 0.0
    return beyond / (REACH * abs(limit)) if limit else math.copysign(math.inf, beyond)


def _forbidden(sense: str, palette: Palette) -> str:
    left, right = (_LEFT, _MIDDLE) if sense == "at_least" else (_MIDDLE, _RIGHT)
    rise = _FOOT - _BASE
    starts = [left + step * _HATCH_STEP for step in range(-1, int((right - left) / _HATCH_STEP) + 1)]
    lines = []
    for start in starts:
        low, high = max(start, left), min(start + rise, right)
        if high > low:
            lines.append(f"M{number(low)} {number(_FOOT + start - low)}L{number(high)} {number(_FOOT + start - high)}")
    return f'<path class="forbidden" d="{"".join(lines)}"{_stroke(palette.ink, 0.8)}/>'


def _scale(palette: Palette) -> str:
    line = f"M{number(_LEFT)} {number(_BASE)}H{number(_RIGHT)}"
    tick = f"M{number(_MIDDLE)} {number(_BASE - 2)}V{number(HEIGHT)}"
    return (f'<path class="scale" d="{line}"{_stroke(palette.ink, 0.8)}/>'
            f'<path class="limit" d="{tick}"{_stroke(palette.ink, 1.6)}/>')


def _mark(place: float, palette: Palette) -> str:
    if abs(place) > 1:
        end, way = (_RIGHT, 1) if place > 0 else (_LEFT, -1)
        points = [(end + 3.5 * way, 2.9), (end - 2.5 * way, 0.1), (end - 2.5 * way, 5.7)]
    else:
        tip = _MIDDLE + place * _HALF
        points = [(tip, _BASE - 0.2), (tip - 3, 0.2), (tip + 3, 0.2)]
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
    return f'<path class="mark" d="{path}"{attributes({"fill": palette.ink})}/>'


def _stroke(colour: str, width: float) -> str:
    return attributes({"fill": "none", "stroke": colour, "stroke-width": number(width)})
