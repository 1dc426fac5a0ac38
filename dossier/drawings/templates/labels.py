"""Lettering on a template that keeps clear of lines, holes and other lettering."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from dossier.drawings.lettering import CAPITALS, box_of_text
from dossier.drawings.scene import Anchor, Box, Medium, Point, Text, Words
from dossier.drawings.templates.model import Label

# Finer than on a drawing sheet, so that a line's middle can be cut to; in the ratio 2 : 1 (ISO 128-2).
FULL_SIZE = Medium(unit="mm", wide=0.35, narrow=0.18, lettering=3.8, arrow=2.5)
HEIGHT = CAPITALS * FULL_SIZE.lettering
_CLEAR = 0.7

Spot = tuple[float, float, Anchor]


def box_of_label(label: Label, size: float = FULL_SIZE.lettering) -> Box:
    """The box that a line of lettering fills, y upwards: ``top`` is the lowest y."""
    box = box_of_text(Text((label.at[0], -label.at[1]), label.runs, label.anchor, label.turned), size)
    return Box(box.left, -box.bottom, box.right, -box.top)


class Clear:
    """What lettering on one template must keep clear of: boxes, y upwards. Each label placed is added to them.

    Circles about the axis of these radii (``rings``) may run through it only where there is no other place.
    """

    def __init__(self, taken: Iterable[Box], within: Box | None = None, rings: Sequence[float] = ()) -> None:
        self._taken, self._within, self._rings = list(taken), within, rings

    def beside(self, centre: Point, reach: float, texts: Sequence[str], left_first: bool = False) -> tuple[Label, ...]:
        """The first of these texts that finds room beside a square about a point, of half width ``reach``, or a little
        farther off; none where not even the last one does."""
        x, y = centre
        rows = (y - 1.5 - HEIGHT, y + 1.5, y - HEIGHT / 2)
        places: list[Spot] = []
        for off in (1.0, 4.0):
            for row in rows:
                sides: tuple[Spot, Spot] = ((x + reach + off, row, "start"), (x - reach - off, row, "end"))
                places += reversed(sides) if left_first else sides
        places += [(x, y + reach + 1.0, "middle"), (x, y - reach - 1.0 - HEIGHT, "middle")]
        return self.first(places, texts)

    def first(self, places: Sequence[Spot], texts: Sequence[str]) -> tuple[Label, ...]:
        """The first text at the first place where it keeps clear, the text deciding before the place; the last of
        several, a mere letter, only where no other finds room even across a circle."""
        fuller, least = (texts[:-1], texts[-1:]) if len(texts) > 1 else (texts, ())
        for tried, rings in ((fuller, self._rings), (fuller, ()), (least, self._rings), (least, ())):
            for text in tried:
                for x, y, anchor in places:
                    label = Label((x, y), (Words(text),), anchor)
                    box = box_of_label(label).grown(_CLEAR)
                    if self._free(box) and not any(struck(box, radius) for radius in rings):
                        self._taken.append(box)
                        return (label,)
        return ()

    def _free(self, box: Box) -> bool:
        return self._inside(box) and not any(box.meets(other) for other in self._taken)

    def _inside(self, box: Box) -> bool:
        room = self._within
        return room is None or (room.left <= box.left and box.right <= room.right
                                and room.top <= box.top and box.bottom <= room.bottom)


def struck(box: Box, radius: float) -> bool:
    """Whether a circle of this radius about the axis runs through a box."""
    across, up = (max(low, -high, 0.0) for low, high in ((box.left, box.right), (box.top, box.bottom)))
    corners = [math.hypot(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    return math.hypot(across, up) < radius < max(corners)
