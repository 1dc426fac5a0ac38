"""Dimensions after ISO 129-1, placed so that nothing crosses and nothing overlaps.

Dimensions stand on one side of what they measure. ``along`` is the coordinate on that side that they measure in (x
above and below, y left and right) and ``out`` the distance outwards. Shorter ones stand further in, so that no
extension line crosses a dimension line of which it is not the end. Figures stand above their line and are read from
below or from the right; where a figure does not fit between the arrowheads it stands beyond them, on the line drawn on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from dossier.drawings.lettering import ASCENT, DESCENT, box_of_text, width_of
from dossier.drawings.scene import THIN, Box, Group, Medium, Pen, Point, Polyline, Segments, Text, Wash, Words, box_of

Side = Literal["above", "below", "left", "right"]
_PEN = Pen(THIN)
# In type sizes: clearance around lettering; figure above its line; extension line beyond the dimension line and short
# of the outline.
CLEAR, LIFT, OVERSHOOT, GAP = 0.4, 0.32, 0.4, 0.3


@dataclass(frozen=True, slots=True)
class Span:
    """A length to be dimensioned, from ``start`` to ``end`` along a side; ``name`` is the result or key it shows.

    The feet are how far out the measured points lie themselves.
    """

    name: str
    start: float
    end: float
    runs: tuple[Words, ...]
    start_foot: float = 0.0
    end_foot: float = 0.0

    @property
    def plain(self) -> str:
        return "".join([run.text for run in self.runs])

    @property
    def length(self) -> float:
        return self.end - self.start


def crossing(one: Span, other: Span) -> bool:
    """Whether two spans overlap without either holding the other, so that their lines would have to cross."""
    first, second = sorted((one, other), key=lambda span: (span.start, -span.end))
    return first.start < second.start < first.end < second.end


@dataclass(slots=True)
class Dimensions:
    """Dimensions of one drawing as they are placed.

    ``outlines`` are the boxes of the parts drawn, from which extension lines start; ``taken`` those of labels and
    dimensions placed so far. Lettering and dimension lines keep off both.
    """

    medium: Medium
    outlines: tuple[Box, ...]
    taken: list[Box] = field(default_factory=list)
    shapes: list[Group] = field(default_factory=list)

    def place(self, side: Side, spans: Iterable[Span]) -> list[Span]:
        """Place spans on one side, the shortest innermost. No two may be ``crossing``.

        Gives back those whose figure has no room anywhere on the line; their numbers must be said elsewhere.
        """
        ordered = sorted(spans, key=lambda span: span.length)
        outlines, gap = [_on(side, box) for box in self.outlines], self._size(GAP)
        extensions: dict[float, tuple[float, float]] = {}
        unplaced = []
        for index, span in enumerate(ordered):
            passing = [place for later in ordered[index + 1:] for place in (later.start, later.end)]
            middle = self._middle(span, passing)
            if middle is None:
                unplaced.append(span)
                continue
            level = self._placed(side, span, middle)
            for place, foot in ((span.start, span.start_foot), (span.end, span.end_foot)):
                begin = max([foot, *[edge.far for edge in outlines if edge.start - gap <= place <= edge.end + gap]])
                known = extensions.get(place, (begin, level))
                extensions[place] = (min(begin, known[0]), max(level, known[1]))
        lines = [(_back(side, place, begin + gap), _back(side, place, level + self._size(OVERSHOOT)))
                 for place, (begin, level) in sorted(extensions.items())]
        self.taken += [box_of(line) for line in lines]
        if lines:
            self.shapes.append(Group((Segments(tuple(lines), _PEN),), {"extension": side}))
        return unplaced

    def _size(self, share: float) -> float:
        return share * self.medium.lettering

    def _tail(self, span: Span) -> float:
        """How far the line goes on beyond both ends where the arrowheads stand outside."""
        return 0.0 if span.length > 2.2 * self.medium.arrow else 1.6 * self.medium.arrow

    def _middle(self, span: Span, passing: Sequence[float]) -> float | None:
        """Where the figure's middle stands, clear of the extension lines that go past; None where nowhere is."""
        half, clear = width_of(span.plain, self.medium.lettering) / 2, self._size(CLEAR)
        tail = self._tail(span)
        for middle in _middles(span, 2 * half, 2 * self.medium.arrow, tail + clear):
            # The line's own ends are not in its way, but what it passes when it is drawn on is.
            stretches = ((middle - half - clear, middle + half + clear),
                         (min(span.start - tail, middle - half), span.start),
                         (span.end, max(span.end + tail, middle + half)))
            if not any(first + 1e-6 < place < last - 1e-6 for place in passing for first, last in stretches):
                return middle
        return None

    def _placed(self, side: Side, span: Span, middle: float) -> float:
        """Draw a dimension as far in as lettering and outlines allow; gives how far out its line is."""
        size, arrow, clear = self.medium.lettering, self.medium.arrow, self._size(CLEAR)
        half, tail = width_of(span.plain, size) / 2, self._tail(span)
        line = (min(span.start - tail, middle - half), max(span.end + tail, middle + half))
        level = max([span.start_foot, span.end_foot, *self._in_the_way(side, line[0] - clear, line[1] + clear)])
        lettering = self._size(LIFT + ASCENT) if side in ("below", "right") else 0.0
        level += max(lettering + clear, self._size(GAP) + arrow / 2)
        group = self._drawn(side, span, level, middle, line, bool(tail))
        self.shapes.append(group)
        self.taken += [box_of_text(member, size) for member in group.members if isinstance(member, Text)]
        self.taken.append(box_of([_back(side, line[0], level - arrow / 6), _back(side, line[1], level + arrow / 6)]))
        return level

    def _in_the_way(self, side: Side, start: float, end: float) -> list[float]:
        """How far out what is drawn reaches, thing for thing, over a stretch."""
        boxes = (*self.outlines, *self.taken)
        if side in ("below", "above"):
            over = [box for box in boxes if box.left < end and start < box.right]
        else:
            over = [box for box in boxes if box.top < end and start < box.bottom]
        return [_on(side, box).far for box in over]

    def _drawn(self, side: Side, span: Span, level: float, middle: float, line: tuple[float, float],
               outside: bool) -> Group:
        turned, lift = side in ("left", "right"), self._size(LIFT)
        x, y = _back(side, middle, level)
        text = Text((x - lift, y) if turned else (x, y - lift), span.runs, "middle", turned)
        way = -1 if outside else 1
        members = (
            Polyline((_back(side, line[0], level), _back(side, line[1], level)), _PEN, data={"line": "dimension"}),
            _arrowhead(side, span.start, level, way * self.medium.arrow),
            _arrowhead(side, span.end, level, -way * self.medium.arrow),
            text,
        )
        return Group(members, {"dimension": span.name, "side": side})


def fits(span: Span, medium: Medium) -> bool:
    """Whether the figure has room between the arrowheads."""
    return width_of(span.plain, medium.lettering) + 2 * medium.arrow <= span.length


def roomiest(medium: Medium, name: str, start: float, end: float, *choices: tuple[Words, ...]) -> Span:
    """The span with the first of these wordings that fits between its arrowheads, else with the last."""
    spans = [Span(name, start, end, runs) for runs in choices]
    return next((span for span in spans if fits(span, medium)), spans[-1])


def _middles(span: Span, width: float, arrows: float, beyond: float) -> Iterator[float]:
    """Where a figure's middle may stand: between the arrowheads, the centre first, else beyond either end."""
    slack = (span.length - arrows - width) / 2
    centre = (span.start + span.end) / 2
    if slack >= 0:
        yield centre
        for step in (0.25, 0.5, 0.75, 1.0):
            yield centre + step * slack
            yield centre - step * slack
    yield span.end + beyond + width / 2
    yield span.start - beyond - width / 2


def _arrowhead(side: Side, place: float, level: float, length: float) -> Polyline:
    """A filled arrowhead with its tip at ``place``, three times as long as wide."""
    half = abs(length) / 6
    tip, base = _back(side, place, level), (place + length)
    return Polyline((tip, _back(side, base, level - half), _back(side, base, level + half)), None, Wash("ink"),
                    closed=True, data={"arrow": "tip"})


@dataclass(frozen=True, slots=True)
class _Edge:
    """A box as one side sees it: from ``start`` to ``end`` along, its outermost edge ``far`` out."""

    start: float
    end: float
    far: float


def _on(side: Side, box: Box) -> _Edge:
    if side in ("below", "above"):
        return _Edge(box.left, box.right, box.bottom if side == "below" else -box.top)
    return _Edge(box.top, box.bottom, box.right if side == "right" else -box.left)


def _back(side: Side, along: float, out: float) -> Point:
    """The point of the drawing that lies so far along and so far out."""
    if side in ("below", "above"):
        return (along, out if side == "below" else -out)
    return (out if side == "right" else -out, along)


def line_height(medium: Medium) -> float:
    """From one line of lettering to the next."""
    return medium.lettering * (ASCENT + DESCENT + CLEAR)
