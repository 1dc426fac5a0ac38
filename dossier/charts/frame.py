"""Pictures of the frame: how it bends at the horizon, to scale but for the bending, and its sag in other materials."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.charts.bars import Bar, bars
from dossier.charts.framing import figure
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design.asides.frame import choices
from dossier.design.pictures.frame import BentFrame, bent_frame
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    THIN,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
    around,
    hatching,
)
from dossier.drawings.wrapping import wrapped
from dossier.notation import Readers, show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

# The bending is drawn as such a share of the frame's height at most, by a round factor.
_BENT_SHARE = 0.12
_ROUND = (1, 2, 5)
_HATCH, _STRIP = 0.45, 0.8


def frame_sag(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """The frame at the horizon, straight and bent; None where its sag is not worked out."""
    bent = bent_frame(design)
    if bent is None or bent.sag <= 0:
        return None
    medium, width = MEDIA[form]
    factor, sag = exaggeration(bent), show_result(design.results["frame.sag"], design.build.readers)
    tilt = show_result(design.results["frame.tilt"], design.build.readers).plain
    words = f"sag {sag.plain}"
    room = width_of(words, medium.lettering) + 1.9 * medium.lettering
    left = max(bent.below or 0.0, 0.0)
    scale = (width - room - _STRIP * medium.lettering) / (left + bent.height + bent.beyond)
    view = _Drawing(bent, medium, scale, left * scale + _STRIP * medium.lettering, factor)
    shapes = [*view.held(), *view.straight(), *view.bent(), *view.dimension(words)]
    low = around(boxes(shapes, medium)).bottom
    told = (f"Thin: straight, as overhead. Thick: at the horizon, bent {factor:,d} times as far as it bends. "
            .replace(",", "\u202f") + f"The upper end turns by {tilt}. All else is to one scale.")
    for row, line in enumerate(wrapped(told, width, medium.lettering)):
        shapes.append(Text((0.0, low + (row + 1.1) * line_height(medium)), (Words(line),)))
    caption = (f"Between overhead and the horizon the upper end moves {sag.plain} across; the hatched end is held. "
               "The bending alone is enlarged.")
    alt = (f"The frame bends by {sag.plain} at the horizon and its upper end turns by {tilt}; drawn {factor} times as "
           "far.")
    return figure(shapes, around(boxes(shapes, medium)), "frame-sag", "How the frame bends", caption, alt, form,
                  palette, {"factor": str(factor), "scale": f"{scale:.9g}"})


def exaggeration(bent: BentFrame) -> int:
    """By how much the bending is enlarged: a round number, at least 1."""
    most = _BENT_SHARE * bent.height / bent.sag
    power = 10 ** max(0, math.floor(math.log10(most))) if most >= 1 else 1
    return max([step * power for step in _ROUND if step * power <= most], default=1)


class _Drawing:
    """A frame in a drawing: along to the right from the held end, up is up, the bending enlarged."""

    def __init__(self, bent: BentFrame, medium: Medium, scale: float, origin: float, factor: int) -> None:
        self.frame, self.medium, self.scale, self.origin, self.factor = bent, medium, scale, origin, factor

    def held(self) -> Iterator[Shape]:
        """The end that is held, with what stands below it, and the mirror where its place is known."""
        frame, size = self.frame, self.medium.lettering
        half = 1.2 * max(frame.lower, frame.mirror)
        foot = -max(frame.below or 0.0, 0.0)
        strip = _STRIP * size / self.scale
        corners = tuple(self._at(x, y) for x, y in ((foot - strip, half), (foot, half), (foot, -half),
                                                    (foot - strip, -half)))
        yield Segments(hatching(corners, _HATCH * size), Pen(THIN), {"part": "held"})
        yield Polyline(corners[1:3], Pen(OUTLINE), data={"part": "held"})
        if foot:
            box = tuple(self._at(x, y) for x, y in ((foot, half), (0.0, half), (0.0, -half), (foot, -half)))
            yield Polyline(box, Pen(OUTLINE), data={"part": "box"})
        if frame.below is not None:
            yield Polyline((self._at(-frame.below, frame.mirror), self._at(-frame.below, -frame.mirror)), Pen(OUTLINE),
                           data={"part": "mirror"})

    def straight(self) -> Iterator[Shape]:
        """The frame as it stands overhead, and its axis."""
        end = self.frame.height + self.frame.beyond
        for start, stop in self._members():
            yield Polyline((self._at(0.0, start), self._at(self.frame.height, stop)), Pen(THIN, "faint"),
                           data={"straight": "member"})
        first, (last, level) = self._at(-max(self.frame.below or 0.0, 0.0), 0.0), self._at(end, 0.0)
        yield Polyline((first, (last + 1.3 * self.medium.lettering, level)), Pen(CENTRE, "faint"),
                       data={"axis": "straight"})

    def bent(self) -> Iterator[Shape]:
        """The frame at the horizon."""
        frame = self.frame
        for start, stop in self._members():
            places = ((float(x), start + (stop - start) * float(x) / frame.height, float(down))
                      for x, down in zip(frame.along, frame.down, strict=True))
            yield Polyline(tuple(self._at(*self._moved(*place)) for place in places), Pen(OUTLINE),
                           data={"bent": "member"})
        top, far = frame.height, frame.height + frame.beyond
        corners = [(top, frame.upper), (top, -frame.upper)]
        if frame.beyond:
            corners += [(far, -frame.upper), (far, frame.upper)]
        yield Polyline(tuple(self._rigid(x, y) for x, y in corners), Pen(OUTLINE), closed=bool(frame.beyond),
                       data={"bent": "end"})

    def dimension(self, words: str) -> Iterator[Shape]:
        """The sag between the straight axis and where the upper end has gone, beyond the sky end."""
        frame, size = self.frame, self.medium.lettering
        x = self._rigid(frame.height + frame.beyond, frame.upper)[0] + 0.8 * size
        high, low = self._at(0.0, 0.0)[1], self._at(0.0, -self.factor * frame.sag)[1]
        centre = self._rigid(frame.height, 0.0)
        yield Polyline((centre, (x + 0.4 * size, centre[1])), Pen(THIN), data={"line": "extension"})
        yield Polyline(((x, high), (x, low)), Pen(THIN), data={"dimension": "frame.sag"})
        yield from self._heads(x, high, low)
        yield Text((x + 0.7 * size, (high + low) / 2 + CAPITALS * size / 2), (Words(words, result="frame.sag"),))

    def _heads(self, x: float, high: float, low: float) -> Iterator[Shape]:
        length = min(self.medium.arrow, 0.45 * abs(low - high))
        for tip, way in ((high, 1), (low, -1)):
            corners = ((x, tip), (x - length / 6, tip + way * length), (x + length / 6, tip + way * length))
            yield Polyline(corners, None, Wash("ink"), closed=True, data={"arrow": "tip"})

    def _members(self) -> Iterator[tuple[float, float]]:
        """Heights of each member's lower and upper end, seen from the side; those that cover each other once."""
        frame, seen = self.frame, set[tuple[float, float]]()
        if frame.kind == "tube":
            yield from ((frame.lower, frame.lower), (-frame.lower, -frame.lower))
            return
        for index in range(frame.count):
            low = high = index * 2 * math.pi / frame.count
            if frame.kind == "truss":
                low, high = (2 * math.pi / frame.count * (2 * ((index + 1) // 2)),
                             2 * math.pi / frame.count * (index + 1 - index % 2))
            ends = round(frame.lower * math.cos(low), 3), round(frame.upper * math.cos(high), 3)
            if ends not in seen:
                seen.add(ends)
                yield ends

    def _moved(self, x: float, y: float, down: float) -> Point:
        """A point of a member after bending: down, and along as far as the turning end takes it."""
        return (x + y * self.frame.tilt_rad * self.factor * x / self.frame.height, y - self.factor * down)

    def _rigid(self, x: float, y: float) -> Point:
        """A point of the upper end, which moves and turns as one, in the drawing."""
        turn = self.factor * self.frame.tilt_rad
        down = self.factor * self.frame.sag + turn * (x - self.frame.height)
        return self._at(x + y * turn, y - down)

    def _at(self, along: float, up: float) -> Point:
        return (self.origin + along * self.scale, -up * self.scale)


def frame_materials(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """The sag of the same frame in other materials; None where fewer than two are known."""
    readers, known = design.build.readers, [each for each in choices(design) if "frame.sag" in each.results]
    if len(known) < 2:
        return None
    known.sort(key=lambda each: each.results["frame.sag"].number)
    shown = [Bar(each.name, each.results["frame.sag"].number, _sag(each.results["frame.sag"].number, readers))
             for each in known]
    told = "; ".join(f"{bar.name} {bar.written}" for bar in shown)
    caption = f"Sag from overhead to the horizon, the least first: from {shown[0].written} to {shown[-1].written}."
    shapes, box = bars(shown, form)
    return figure(shapes, box, "frame-materials", "Sag in other materials", caption,
                  f"Sag of the same frame: {told}.", form, palette)


def _sag(number: float, readers: Readers) -> str:
    return show(number, "mm", result_id="frame.sag", readers=readers).plain
