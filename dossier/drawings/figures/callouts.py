"""Leaders after ISO 128-22: from a thing to words that stand in a column beside the view, none touching another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dossier.drawings.dimension import CLEAR, GAP
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import ASCENT, CAPITALS, DESCENT
from dossier.drawings.running import apart
from dossier.drawings.scene import THIN, Circle, Group, Medium, Pen, Point, Polyline, Text, Wash


@dataclass(frozen=True, slots=True)
class Callout:
    """What is told of a point: ``name`` is the result or key, ``on_edge`` that the leader ends on an outline.

    The words want to stand at ``level``, level with the point where it is None.
    """

    name: str
    at: Point
    runs: Runs
    on_edge: bool = True
    level: float | None = None

    @property
    def wanted(self) -> float:
        return self.at[1] if self.level is None else self.level


def callouts(wanted: Sequence[Callout], side: Literal["left", "right"], level: float, medium: Medium, *,
             apart_by: float = ASCENT + DESCENT + CLEAR) -> list[Group]:
    """The words in a column that begins at ``level`` (an x), in the order of what they point at; ``apart_by`` is in
    type sizes."""
    size = medium.lettering
    ordered = sorted(wanted, key=lambda callout: -callout.wanted)
    places = apart([callout.wanted for callout in ordered], size * apart_by)
    return [_drawn(callout, place, side, level, medium) for callout, place in zip(ordered, places, strict=True)]


def _drawn(callout: Callout, place: float, side: Literal["left", "right"], level: float, medium: Medium) -> Group:
    size, way = medium.lettering, 1 if side == "right" else -1
    end = level + way * 0.8 * size
    leader = Polyline((callout.at, (level, place), (end, place)), Pen(THIN), data={"line": "leader"})
    text = Text((end + way * GAP * size, place + CAPITALS * size / 2), callout.runs,
                "start" if side == "right" else "end")
    head = _arrow(callout.at, (level, place), medium) if callout.on_edge else _dot(callout.at, medium)
    return Group((leader, head, text), {"callout": callout.name})


def _arrow(tip: Point, towards: Point, medium: Medium) -> Polyline:
    """A filled arrowhead on an outline, three times as long as wide."""
    length = ((towards[0] - tip[0]) ** 2 + (towards[1] - tip[1]) ** 2) ** 0.5 or 1.0
    x, y = (towards[0] - tip[0]) / length, (towards[1] - tip[1]) / length
    base, half = (tip[0] + x * medium.arrow, tip[1] + y * medium.arrow), medium.arrow / 6
    corners = (tip, (base[0] - y * half, base[1] + x * half), (base[0] + y * half, base[1] - x * half))
    return Polyline(corners, None, Wash("ink"), closed=True, data={"arrow": "tip"})


def _dot(at: Point, medium: Medium) -> Circle:
    """The dot of a leader that ends within a surface."""
    return Circle(at, medium.arrow / 6, None, Wash("ink"), {"leader": "dot"})
