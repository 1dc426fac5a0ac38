"""How far builders' telescopes lie from each limit: a bar for each, the forbidden side hatched."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.charts.axes import round_ticks
from dossier.charts.framing import figure
from dossier.charts.labels import on_ground
from dossier.charts.plot import GAP, HATCH, TICK
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design.explore import Drawn, GoalShare
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    OUTLINE,
    THIN,
    Circle,
    Group,
    Medium,
    Pen,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
    hatching,
)
from dossier.notation import Readers, show
from dossier.notation.units import joined

_KEY, _TITLE = "builders", "How far builders’ telescopes lie from each limit"
# Beyond so great a share of the limit, to either side, a bar runs off the scale: it is far enough.
_REACH = 0.5


def spread(drawn: Drawn, readers: Readers, palette: Palette, form: Form) -> Rendered | None:
    """For each limit that the tolerances touch, where the builders' results lie, in shares of the limit: nine tenths of
    them in the thin line, half in the bar, the middle one at its mark. None where there is no such limit."""
    rows = [share for share in drawn.shares if share.met is not None and _spares(share)]
    if not rows:
        return None
    medium, width = MEDIA[form]
    size, line, beside = medium.lettering, line_height(medium), form == "wide"
    names = max(width_of(share.planned.title, size) for share in rows) + size if beside else 0.0
    counts = max(width_of(_met(share), size) for share in rows) + size
    scale = _Scale(max(-_REACH, 1.15 * min(-0.1, *(_spares(share)[0] for share in rows))),
                   min(_REACH, 1.15 * max(0.1, *(_spares(share)[-1] for share in rows))),
                   names, width - counts if beside else width - size)
    row = 1.6 * line if beside else 2.4 * line
    foot = len(rows) * row + 0.3 * size
    shapes: list[Shape] = [*_forbidden(scale, foot, medium)]
    for index, share in enumerate(rows):
        shapes += _row(share, index * row, row, scale, width, form)
    shapes += _axis(scale, foot, medium)
    told = "; ".join(f"{share.planned.title}: met by {_met(share)} of builders, half of them between "
                     f"{_number(share, 1, readers)} and {_number(share, 3, readers)}" for share in rows)
    alt = f"{drawn.count} builders drawn at random. {told}."
    caption = ("Each row is a limit; zero is the limit itself and to its left, hatched, it is missed. Half of the "
               "builders lie within the bar, nine tenths within the thin line, the middle one at the cross mark. The "
               "ring is the plan. What stands at the very end of the scale lies beyond it. The figure is the share of "
               "builders who meet the limit.")
    return figure(shapes, around(boxes(shapes, medium)), _KEY, _TITLE, caption, alt, form, palette)


class _Scale:
    """A stretch of the drawing on which shares of a limit are laid."""

    def __init__(self, low: float, high: float, left: float, right: float) -> None:
        self.low, self.high, self.left, self.right = low, high, left, right

    def at(self, spare: float) -> float:
        """Where it lies; at the end of the scale where it is beyond."""
        share = (min(max(spare, self.low), self.high) - self.low) / (self.high - self.low)
        return self.left + share * (self.right - self.left)


def _spares(share: GoalShare) -> tuple[float, ...]:
    """What is to spare at each quantile, least first, in shares of the limit; nothing where there is no scale."""
    goal = share.planned.goal
    if goal is None or not goal.limit or share.least != share.least:
        return ()
    return tuple(sorted(goal.spare(value) / abs(goal.limit) for value in share.quantiles))


def _row(share: GoalShare, top: float, row: float, scale: _Scale, width: float, form: Form) -> Iterator[Shape]:
    medium = MEDIA[form][0]
    size, beside = medium.lettering, form == "wide"
    level = top + (row / 2 if beside else 0.72 * row)
    base = (level if beside else top + 0.28 * row) + CAPITALS * size / 2
    least, low, middle, high, most = (scale.at(each) for each in _spares(share))
    named: tuple[Shape, ...] = (Text((0.0, base), (Words(share.planned.title, result=share.planned.id),)),
                                Text((width, base), (Words(_met(share)),), "end"))
    yield from named if beside else on_ground(named, medium)
    half = 0.22 * size
    marks: list[Shape] = [
        Segments((((least, level), (low, level)), ((high, level), (most, level)),
                  *(((x, level - half), (x, level + half)) for x in (least, most))), Pen(THIN), {"span": "90"}),
        Polyline(((low, level - half), (high, level - half), (high, level + half), (low, level + half)), Pen(THIN),
                 Wash("ground"), closed=True, data={"span": "50"}),
        Segments((((middle, level - 2 * half), (middle, level + 2 * half)),), Pen(OUTLINE), {"mark": "middle"}),
    ]
    goal = share.planned.goal
    if goal:
        planned = scale.at(goal.spare(share.planned.number) / abs(goal.limit))
        marks.append(_ring(planned, level, 0.24 * size))
    yield Group(tuple(marks), {"limit": share.planned.id})


def _ring(x: float, y: float, reach: float) -> Shape:
    return Circle((x, y), reach, Pen(THIN, "accent"), None, {"mark": "planned"})


def _forbidden(scale: _Scale, foot: float, medium: Medium) -> Iterator[Shape]:
    zero = scale.at(0.0)
    corners = ((scale.left, 0.0), (zero, 0.0), (zero, foot), (scale.left, foot))
    yield Segments(hatching(corners, 2 * HATCH * medium.lettering), Pen(THIN, "faint"), {"forbidden": "below"})
    yield Polyline(((zero, 0.0), (zero, foot)), Pen(OUTLINE), data={"limit": "zero"})


def _axis(scale: _Scale, foot: float, medium: Medium) -> Iterator[Shape]:
    size = medium.lettering
    lines, base = [((scale.left, foot), (scale.right, foot))], foot + (TICK + GAP + CAPITALS) * size
    for value, text in round_ticks(scale.low, scale.high, 5, 100.0):
        lines.append(((scale.at(value), foot), (scale.at(value), foot + TICK * size)))
        yield Text((scale.at(value), base), (Words(text),), "middle")
    yield Segments(tuple(lines), Pen(THIN), {"part": "axes"})
    yield Text((scale.right, base + line_height(medium)), (Words("to spare, % of the limit"),), "end")


def _met(share: GoalShare) -> str:
    return joined(f"{100 * (share.met or 0) / share.drawn:.1f}", "%")


def _number(share: GoalShare, at: int, readers: Readers) -> str:
    return show(share.quantiles[at], share.planned.unit, result_id=share.planned.id, readers=readers).plain

