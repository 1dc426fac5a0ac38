"""The wrap for a tube's end: focuser, spider and other holes rolled flat, measured from the end of the tube."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.drawings.arrangement import arrangement_from
from dossier.drawings.scene import Box, Words
from dossier.drawings.templates.labels import HEIGHT, Clear, Spot
from dossier.drawings.templates.model import Item, Label, Outline, Template
from dossier.drawings.templates.rolled import Place, circumference, drilled, reach_of, seam_angle, unrolled
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, degrees, length

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.drawings.arrangement import Frame

TAB = 15.0
_BEYOND, _AXIS = 12.0, 0.0
_ENDS = {"upper": "sky", "lower": "mirror"}
FOCUSER = "focuser"


def make(design: Design) -> Iterator[Template]:
    """A wrap for each end of the tube that has anything on it; none where there is no tube, or its place is not known.
    """
    frame = arrangement_from(design).frame
    if frame is None or frame.kind != "tube":
        return
    places = [*_focuser_and_spider(design, frame), *_holes(design)]
    for end in _ENDS:
        here = [place for at, place in places if at == end]
        if here:
            yield _wrap(design, frame.outer_diameter, end, here)


def _focuser_and_spider(design: Design, frame: Frame) -> Iterator[tuple[str, Place]]:
    """The focuser, then the vanes that the spec places, each from the nearer end of the tube."""
    build = design.build
    yield _from_end(frame, design.results["focuser.station"].number, _AXIS, build.focuser.hole, FOCUSER)
    spider = build.spider
    if spider and spider.vanes and spider.station is not None and spider.turned is not None:
        for index in range(spider.vanes):
            angle = spider.turned + 360 * index / spider.vanes
            yield _from_end(frame, spider.station, angle, spider.hole, f"vane {index + 1}")


def _from_end(frame: Frame, station: float, angle: float, diameter: float | None, name: str) -> tuple[str, Place]:
    up, down = frame.upper_station - station, station - frame.lower_station
    end = "upper" if up <= down else "lower"
    return end, Place(angle, min(up, down), diameter, name)


def _holes(design: Design) -> Iterator[tuple[str, Place]]:
    """What the author drills in the tube besides; a hole through both walls counts on either side."""
    for number, hole in enumerate(design.build.frame.holes if design.build.frame else (), start=1):
        name = hole.for_ or f"hole {number}"
        for turned in (0.0, 180.0) if hole.through else (0.0,):
            yield hole.end or "lower", Place((hole.turned or 0.0) + turned, hole.from_end, hole.diameter, name)


def _wrap(design: Design, across: float, end: str, places: Sequence[Place]) -> Template:
    """The strip from the end of the tube to a little beyond the farthest hole; y is 0 at the end of the tube."""
    seam = seam_angle([place.angle_deg for place in places])
    start, axis, around = unrolled(seam, seam, across), unrolled(_AXIS, seam, across), circumference(across)
    depth = max(place.from_end + (place.diameter or 0.0) / 2 for place in places) + _BEYOND
    inward = -1.0 if end == "upper" else 1.0
    low, high = sorted((0.0, inward * depth))
    items: list[Item] = [
        Outline("cut", ((start, low), (start + around + TAB, low), (start + around + TAB, high), (start, high)),
                name="wrap"),
        Outline("mark", ((start + around, low), (start + around, high)), False, "seam"),
        Outline("mark", ((axis, low), (axis, high)), False, "focuser's side"),
    ]
    centres = [(unrolled(place.angle_deg, seam, across), inward * place.from_end) for place in places]
    for place, centre in zip(places, centres, strict=True):
        items += drilled(place, centre, across)
    marks = [Box(*centre, *centre).grown(reach_of(place)) for place, centre in zip(places, centres, strict=True)]
    clear = Clear([Box(axis, low, axis, high).grown(0.3), *marks], Box(start, low, start + around, high))
    for place, centre in zip(places, centres, strict=True):
        items += clear.beside(centre, reach_of(place), (_said(design, place), degrees(place.angle_deg)))
    rows = (low + 8.0, high - 8.0 - HEIGHT, (low + high) / 2)
    line: list[Spot] = [*((axis + 2.0, y, "start") for y in rows), *((axis - 2.0, y, "end") for y in rows)]
    items += clear.first(line, ("focuser’s side, 0°", "0°"))
    edge: list[Spot] = [(x, (low + 1.5 if end == "lower" else high - 1.5 - HEIGHT), "start")
                        for x in range(math.ceil(start) + 3, math.floor(start + around), 5)]
    flush = f"this edge flush with the {_ENDS[end]} end of the tube"
    outside = Label((start, low - 1.5 - HEIGHT if end == "lower" else high + 1.5), (Words(flush),))
    items += clear.first(edge, (flush,)) or (outside,)
    return Template(
        f"tube-wrap-{end}", f"Tube wrap, {_ENDS[end]} end",
        "Wrapped around the outside of the tube, it shows where to drill and to cut.",
        tuple(items), _description(design, across, around, places), _notes(design, across, around),
        served(design, "frame"))


def _said(design: Design, place: Place) -> str:
    hole = [f"{DIAMETER}{length(design, place.diameter)}"] if place.diameter else []
    return ", ".join((place.name, *hole, degrees(place.angle_deg)))


def _notes(design: Design, across: float, around: float) -> tuple[str, ...]:
    return (
        f"For a tube of {DIAMETER}{length(design, across)} outside, {length(design, around)} around. The cut end meets "
        "the broken line; the tab beyond it goes under.",
        "Ends that do not meet tell that the tube or the print has another size: measure both before you drill. Paper "
        "adds some six times its own thickness to the way around.",
        "Sky end up, print outwards. Angles run to the left, clockwise from the sky, from the focuser’s side. Holes "
        "are drilled square to the tube, towards its axis.",
        "Clamp the tube on a block of its own curve; wear eye protection, and a dust mask for card, fibre or resin.",
    )


def _description(design: Design, across: float, around: float, places: Sequence[Place]) -> str:
    listed = "; ".join(
        f"{place.name} at {degrees(place.angle_deg)}, {length(design, place.from_end)} from the end"
        + (f", hole {length(design, place.diameter)}" if place.diameter else "") for place in places)
    return f"Wrap for a tube of {length(design, across)}, {length(design, around)} around: {listed}."
