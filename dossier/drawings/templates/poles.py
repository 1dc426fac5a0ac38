"""Drilling wraps for the ends of a pole, of which all are alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Item, Label, Outline, Template
from dossier.drawings.templates.rolled import Place, circumference, drilled, seam_angle, unrolled
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, degrees, length

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_structure import Frame

_TAB, _BEYOND = 8.0, 10.0


def make(design: Design) -> Iterator[Template]:
    """A wrap for each end of a pole that is drilled; none for a tube or where no holes are said."""
    frame = design.build.frame
    if frame is None or frame.kind == "tube" or not frame.holes or frame.outer_diameter is None:
        return
    for end in ("lower", "upper"):
        places = list(_places(frame, end))
        if places:
            yield _wrap(design, frame, end, places)


def _places(frame: Frame, end: str) -> Iterator[Place]:
    for number, hole in enumerate(frame.holes, start=1):
        if (hole.end or "lower") == end:
            for turned in (0.0, 180.0) if hole.through else (0.0,):
                yield Place((hole.turned or 0.0) + turned, hole.from_end, hole.diameter, hole.for_ or f"hole {number}")


def _wrap(design: Design, frame: Frame, end: str, places: Sequence[Place]) -> Template:
    across = frame.outer_diameter or 0.0
    seam = seam_angle([place.angle_deg for place in places])
    start, around = unrolled(seam, seam, across), circumference(across)
    depth = max(place.from_end + (place.diameter or 0.0) / 2 for place in places) + _BEYOND
    inward = -1.0 if end == "upper" else 1.0
    low, high = sorted((0.0, inward * depth))
    right = start + around
    items: list[Item] = [
        Outline("cut", ((start, low), (right + _TAB, low), (right + _TAB, high), (start, high)), name="wrap"),
        Outline("mark", ((right, low), (right, high)), False, "seam")]
    for number, place in enumerate(places, start=1):
        centre = (unrolled(place.angle_deg, seam, across), inward * place.from_end)
        items += drilled(place, centre, across)
        items.append(Label((right + _TAB + 4.0, centre[1] - 1.3 - 5.0 * _same_before(places, number)),
                           (Words(_said(design, place)),)))
    items.append(Label((start, (low - 5.0) if inward > 0 else (high + 2.4)), (Words(f"{end} end of the pole"),)))
    count = frame.count or 0
    return Template(
        f"pole-drilling-{end}", f"Pole drilling, {end} end",
        f"Wrapped around the {end} end of a pole, it shows where to drill; all {count or ''} poles are alike.".replace(
            "  ", " "),
        tuple(items),
        f"Wrap for a pole of {length(design, across)}, {length(design, around)} around: "
        + "; ".join(f"{_said(design, place)}, {length(design, place.from_end)} from the end" for place in places) + ".",
        (f"For a pole of {DIAMETER}{length(design, across)} outside. The cut end meets the broken line; the straight "
         "edge is flush with the end of the pole. Upper end up, angles run to the left, clockwise from the sky, from "
         "the pole’s outer side.",
         "Punch the centres through the paper, then drill in a V-block. Deburr: a fresh edge cuts. Wear eye "
         "protection; keep hands and sleeves clear of the drill."),
        served(design, "frame"))


def _same_before(places: Sequence[Place], number: int) -> int:
    """How many earlier places stand as high, so that their words would lie over one another."""
    here = places[number - 1].from_end
    return sum(1 for place in places[:number - 1] if abs(place.from_end - here) < 5.0)


def _said(design: Design, place: Place) -> str:
    return f"{place.name}, {DIAMETER}{length(design, place.diameter or 0.0)}, {degrees(place.angle_deg)}"
