"""Labels set beside what they name: near it where that is clear, else at the end of a leader, touching nothing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, islice, permutations, product

from dossier.drawings.lettering import ASCENT, CAPITALS, DESCENT, box_of_text, width_of
from dossier.drawings.room import Room, spread
from dossier.drawings.scene import THIN, Anchor, Box, Circle, Medium, Pen, Point, Polyline, Shape, Text, Wash, Words

# In type sizes: how far off a label stands, its clearance, how far it keeps from lines that it does not name, leaders.
_OFF, _CLEAR, _ALONE, _DOT = (0.35, 0.7), 0.12, 0.55, 0.11
_SHORTEST, _LONGEST = 0.7, 14.0
_COLUMNS, _ROWS = 10, 12
# So many points of a line are tried for labels beside it and at leaders, and so many orders of labels.
_MANY, _FEW = 20, 8
_ORDERS = 4


@dataclass(frozen=True, slots=True)
class Label:
    """Words for one of ``points``, any that has room; ``near`` is kept free about it.

    ``of`` names what the points belong to: the label may stand close to that, and its leader end on it.
    """

    runs: tuple[Words, ...]
    of: tuple[str, ...]
    points: tuple[Point, ...]
    near: float = 0.0
    leader: bool = True

    @property
    def plain(self) -> str:
        return "".join(run.text for run in self.runs)


class Labels:
    """The labels of one plot, placed when all lines are known."""

    def __init__(self, room: Room, medium: Medium) -> None:
        self.room, self.medium = room, medium
        self._first: list[Label] = []
        self._then: list[Label] = []
        self._shapes: list[Shape] = []

    def wait(self, label: Label, first: bool = False) -> None:
        """A label to be placed later; the first ones have the choice of room."""
        (self._first if first else self._then).append(label)

    def placed(self) -> tuple[list[Shape], list[Label]]:
        """What was drawn, and the labels for which there was no room in the order that leaves the fewest without."""
        known = self.room.kept()
        hopeless = [label for label in (*self._first, *self._then) if not self._clear(label)]
        first, then = ([label for label in labels if label not in hopeless] for labels in (self._first, self._then))
        best: tuple[list[Shape], list[Label]] | None = None
        for order in islice(product(permutations(first), permutations(then)), _ORDERS):
            self.room.back_to(known)
            self._shapes = []
            left_over = [label for label in chain(*order) if not self._place(label)]
            if best is None or len(left_over) < len(best[1]):
                best = self._shapes, left_over
            if not left_over:
                break
        shapes, left_over = best or ([], [])
        return shapes, [*left_over, *hopeless]

    def _place(self, label: Label) -> bool:
        size, width = self.medium.lettering, width_of(label.plain, self.medium.lettering)
        for text in self._beside(label):
            box = _box(text, width, size)
            if self.room.holds(box.grown(_CLEAR * size)) and self.room.holds(box.grown(_ALONE * size), label.of):
                self._take(text)
                return True
        return label.leader and self._led(label)

    def _beside(self, label: Label) -> Iterator[Text]:
        """The label at every side of its points, from the middle point outwards."""
        size, points = self.medium.lettering, spread(self._clear(label), _MANY)
        middle = (len(points) - 1) / 2
        ordered = sorted(range(len(points)), key=lambda index: abs(index - middle))
        for off in _OFF:
            gap = off * size + label.near
            for x, y in (points[index] for index in ordered):
                level, above, below = y + CAPITALS * size / 2, y - gap, y + gap + CAPITALS * size
                slant = 0.7 * gap
                places: tuple[tuple[Point, Anchor], ...] = (
                    ((x + gap, level), "start"), ((x - gap, level), "end"), ((x, above), "middle"),
                    ((x, below), "middle"), ((x + slant, y - slant), "start"), ((x - slant, y - slant), "end"),
                    ((x + slant, y + slant + CAPITALS * size), "start"),
                    ((x - slant, y + slant + CAPITALS * size), "end"))
                for at, anchor in places:
                    yield Text(at, label.runs, anchor)

    def _led(self, label: Label) -> bool:
        """The label at the end of the shortest leader that reaches its line without crossing another, else of the
        shortest that crosses nothing but curves."""
        size, width = self.medium.lettering, width_of(label.plain, self.medium.lettering)
        points = spread(self._clear(label), _FEW)
        found = sorted(((length, start, point, text) for text in self._free(label) for point in points
                        for start in _starts(_box(text, width, size), text, point, size)
                        if _SHORTEST * size <= (length := math.dist(start, point)) <= _LONGEST * size),
                       key=lambda each: each[:3])
        for over in (label.of, (*label.of, *self.room.curves)):
            for _, start, point, text in found:
                end = _short_of(start, point, label.near)
                if self.room.passes((start, end), over):
                    self._lead(label, start, end, text)
                    return True
        return False

    def _lead(self, label: Label, start: Point, end: Point, text: Text) -> None:
        self._shapes.append(Polyline((start, end), Pen(THIN), data={"line": "leader"}))
        if not label.near:
            self._shapes.append(Circle(end, _DOT * self.medium.lettering, None, Wash("ink"),
                                       {"leader-end": label.of[0]}))
        self.room.add_line("leader", [start, end])
        self._take(text)

    def _clear(self, label: Label) -> tuple[Point, ...]:
        """The points of a line at which no other is near; the one point of a mark in any case."""
        if len(label.points) == 1:
            return label.points
        return tuple(point for point in label.points if self._alone(point, label))

    def _alone(self, point: Point, label: Label) -> bool:
        """Whether no other line is so near that the leader might seem to mean it."""
        around_it = Box(*point, *point).grown(_ALONE / 2 * self.medium.lettering)
        return self.room.holds(around_it, (*label.of, "label"))

    def _free(self, label: Label) -> Iterator[Text]:
        """The label at all places of a grid where it touches nothing."""
        size, frame = self.medium.lettering, self.room.frame
        width = width_of(label.plain, size)
        for column in range(_COLUMNS):
            for row in range(_ROWS):
                left = frame.left + (frame.right - frame.left - width) * (column + 0.5) / _COLUMNS
                base = frame.top + (frame.bottom - frame.top) * (row + 1) / (_ROWS + 1)
                text = Text((left, base), label.runs)
                if self.room.holds(_box(text, width, size).grown(0.3 * size)):
                    yield text

    def _take(self, text: Text) -> None:
        self._shapes.append(text)
        self.room.add_box("label", box_of_text(text, self.medium.lettering))


def on_ground(shapes: Iterable[Shape], medium: Medium) -> Iterator[Shape]:
    """The same shapes, each line of lettering on a piece of ground of its own."""
    for each in shapes:
        if isinstance(each, Text):
            box = box_of_text(each, medium.lettering)
            corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
            yield Polyline(corners, None, Wash("ground"), closed=True, data={"part": "ground"})
        yield each


def _box(text: Text, width: float, size: float) -> Box:
    """``box_of_text`` for a label whose width is known: a label is tried in hundreds of places."""
    (x, y), before = text.at, {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return Box(x - before, y - ASCENT * size, x - before + width, y + DESCENT * size)


def _starts(box: Box, text: Text, to: Point, size: float) -> Iterator[Point]:
    """Where a leader to this point may leave a label in this box: the middles of the sides that face it."""
    level, off, across = text.at[1] - CAPITALS * size / 2, 0.2 * size, (box.left + box.right) / 2
    if to[0] < box.left:
        yield (box.left - off, level)
    if to[0] > box.right:
        yield (box.right + off, level)
    if to[1] > box.bottom + off:
        yield (across, box.bottom + off / 2)
    if to[1] < box.top - off:
        yield (across, box.top - off / 2)


def _short_of(start: Point, end: Point, by: float) -> Point:
    share = 1 - by / math.dist(start, end)
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
