"""The stand of a telescope from above: its feet, the lines it tips over, where its centre of mass stays."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.drawings.arrangement import Arrangement
from dossier.drawings.dimension import Span
from dossier.drawings.figures.measures import Measures
from dossier.drawings.figures.rocker_side import Stand, envelope_radius, feet_places
from dossier.drawings.scene import (
    CENTRE,
    HIDDEN,
    OUTLINE,
    PHANTOM,
    THIN,
    Circle,
    Group,
    Medium,
    Pen,
    Polyline,
    Shape,
    Wash,
)


def from_above(stand: Stand, a: Arrangement, scale: float, medium: Medium, *, board: bool) -> tuple[Group, ...]:
    """About the upright axis; the tube stands ``offset`` away from it, upwards on the sheet. ``board`` where the feet
    are below one."""
    made = (Group(tuple(_feet(stand, scale, medium, board)), {"part": "feet"}, "Feet"),
            Group(tuple(_telescope(stand, a, scale)), {"part": "telescope"}, "Telescope"),
            Group(tuple(_axes(stand, scale, medium)), {"part": "axes"}, ""))
    return tuple(group for group in made if group.members)


def _feet(stand: Stand, scale: float, medium: Medium, board: bool) -> Iterator[Shape]:
    places = [(x * scale, y * scale) for x, y in feet_places(stand)]
    yield Circle((0.0, 0.0), (stand.feet_radius or 0.0) * scale, Pen(CENTRE), data={"part": "feet-circle"})
    yield Polyline(tuple(places), Pen(THIN), closed=True, data={"part": "tipping-lines"})
    for place in places:
        # Below a ground board they are hidden.
        pen, wash = (Pen(HIDDEN), None) if board else (Pen(OUTLINE), Wash("ground"))
        yield Circle(place, 0.3 * medium.lettering, pen, wash, {"part": "foot"})
    if stand.stands_out is not None:
        yield Circle((0.0, 0.0), stand.stands_out * scale, Pen(OUTLINE, "accent"), data={"part": "centre-of-mass"})


def _telescope(stand: Stand, a: Arrangement, scale: float) -> Iterator[Shape]:
    yield Circle((0.0, -stand.offset * scale), envelope_radius(a) * scale, Pen(PHANTOM), data={"part": "envelope"})


def _axes(stand: Stand, scale: float, medium: Medium) -> Iterator[Shape]:
    reach = (stand.feet_radius or 0.0) * scale + 0.8 * medium.lettering
    yield Polyline(((-reach, 0.0), (reach, 0.0)), Pen(CENTRE), data={"part": "axis"})
    yield Polyline(((0.0, -reach), (0.0, reach)), Pen(CENTRE), data={"part": "axis"})


def feet_spans(stand: Stand, measures: Measures, scale: float) -> Iterator[Span]:
    """How far the feet reach before it tips and, where a foot lies on the left, how far out they stand."""
    if stand.feet_reach is not None:
        yield Span("mount.feet_reach", 0.0, stand.feet_reach * scale, (measures.result("mount.feet_reach"),))
    if stand.feet_radius and stand.feet:
        words = (measures.length(stand.feet_radius, "mount.feet_radius"),)
        # An odd number of feet has one opposite the middle of a tipping line; else the circle's own edge is measured.
        yield Span("mount.feet_radius", -stand.feet_radius * scale, 0.0, words)
