"""The circle that poles stand on: where each is, on the boards below and above them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.lettering import width_of
from dossier.drawings.scene import Box, Point, Words
from dossier.drawings.templates.labels import FULL_SIZE, HEIGHT, Clear, Spot, box_of_label
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template, around, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.sides import alike_from_behind, focuser_side
from dossier.drawings.templates.wording import DIAMETER, degrees, length

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs
    from dossier.spec.model_structure import Frame

_CROSS = 6.0
# Where along the line between two neighbours its length may stand, the best first.
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7)


@dataclass(frozen=True, slots=True)
class _Circle:
    """Where poles, or the nodes of a truss, stand: ``key``, ``title`` and ``ends`` tell which end; ``on`` is the board.
    """

    key: str
    title: str
    ends: str
    on: tuple[DrawnAs, ...]
    radius: float
    angles_deg: tuple[float, ...]


def make(design: Design) -> Iterator[Template]:
    """The circle of the poles, the same below and above; of a truss, one for either row of nodes. None for a tube."""
    frame = design.build.frame
    if frame is None or frame.kind == "tube" or frame.count is None or frame.circle_radius is None:
        return
    for circle in _circles(frame, frame.circle_radius, frame.count):
        yield _template(design, frame, circle)


def _circles(frame: Frame, lower: float, count: int) -> Iterator[_Circle]:
    """Angles from the focuser's side; it stands midway between two where nobody says how they are turned."""
    number = count if frame.kind == "poles" else count // 2
    step = 360 / number
    first = step / 2 if frame.turned is None else frame.turned
    angles = tuple((first + step * index) % 360 for index in range(number))
    if frame.kind == "poles":
        yield _Circle("pole-circle", "Pole circle", "both ends of the poles", ("deck", "front"), lower, angles)
        return
    between = tuple(sorted((angle + step / 2) % 360 for angle in angles))
    yield _Circle("pole-circle-lower", "Node circle, lower", "the lower nodes", ("deck",), lower, between)
    yield _Circle("pole-circle-upper", "Node circle, upper", "the upper nodes", ("front",),
                  frame.upper_circle_radius or lower, angles)


def _template(design: Design, frame: Frame, circle: _Circle) -> Template:
    across, radius = frame.outer_diameter, circle.radius
    # The poles of a truss lean and meet by twos: a hole as wide as one of them is no hole that anybody cuts.
    hole = across if frame.kind == "poles" else None
    what = "pole" if frame.kind == "poles" else "node"
    centres = [around(angle, radius) for angle in circle.angles_deg]
    reach = max(_CROSS, (hole or 0.0) / 2 + 3.0)
    items: list[Item] = [*cross((0.0, 0.0), 8.0, "optical axis"), Disc("mark", (0.0, 0.0), radius, "pitch circle")]
    for number, centre in enumerate(centres, start=1):
        items += [*([Disc("cut", centre, hole / 2, f"{what} {number}")] if hole else []),
                  *cross(centre, reach, f"{what} {number} centre")]
    chord = math.dist(centres[0], centres[1]) if len(centres) > 1 else None
    if chord:
        items.append(Outline("text", (centres[0], centres[1]), False, "centre to centre"))
    items += [*_words(design, circle, what, centres, reach, chord), *focuser_side(radius + (hole or 0.0) / 2 + 4.0,
                                                                                   "seen from the sky")]
    return Template(
        circle.key, circle.title,
        f"Laid on the board, its cross over the optical axis, it shows where {circle.ends} stand.",
        tuple(items), _description(design, circle, what, hole, chord),
        tuple(_notes(design, frame, circle, what, centres, hole, chord)), served(design, *circle.on))


def _words(design: Design, circle: _Circle, what: str, centres: Sequence[Point], reach: float,
           chord: float | None) -> Iterator[Item]:
    """Each place's number and angle beside it, and the measure that checks the whole beside its line."""
    axis = Label((0.0, -14.0), (Words("optical axis"),), "middle")
    clear = Clear([*(Box(*centre, *centre).grown(reach) for centre in centres), box_of_label(axis),
                   Box(-8.0, -8.0, 8.0, 8.0), Box(-0.5, 0.0, 0.5, circle.radius + reach)])
    for number, (centre, angle) in enumerate(zip(centres, circle.angles_deg, strict=True), start=1):
        # Towards the axis, so that words make no sheet wider.
        yield from clear.beside(centre, reach, (f"{what} {number}, {degrees(angle)}", str(number)), centre[0] > reach)
    yield axis
    if chord:
        said = f"{length(design, chord)}, centre to centre"
        yield from clear.first([_beside_line(centres[0], centres[1], share, said) for share in _SHARES], (said,))


def _beside_line(start: Point, end: Point, share: float, words: str) -> Spot:
    """Where words in the middle of a place this far along a line keep clear of it, on the side of the axis."""
    (x0, y0), (x1, y1) = start, end
    nx, ny = (y0 - y1) / math.dist(start, end), (x1 - x0) / math.dist(start, end)
    if nx * x0 + ny * y0 > 0:
        nx, ny = -nx, -ny
    half = width_of(words, FULL_SIZE.lettering) / 2
    off = abs(nx) * half + abs(ny) * HEIGHT / 2 + 2.0
    return (x0 + share * (x1 - x0) + off * nx, y0 + share * (y1 - y0) + off * ny - HEIGHT / 2, "middle")


def _description(design: Design, circle: _Circle, what: str, hole: float | None, chord: float | None) -> str:
    at = ", ".join(degrees(angle) for angle in circle.angles_deg)
    said = [f"Seen from the sky, the focuser’s side up, angles clockwise: {len(circle.angles_deg)} {what}s at {at} on "
            f"a circle of {length(design, circle.radius)} radius"]
    if hole:
        said.append(f"each {DIAMETER}{length(design, hole)}")
    if chord:
        said.append(f"neighbours {length(design, chord)} from centre to centre")
    return ", ".join(said) + "."


def _notes(design: Design, frame: Frame, circle: _Circle, what: str, centres: Sequence[Point], hole: float | None,
           chord: float | None) -> Iterator[str]:
    yield "It lies on upper faces, seen from the sky: the arrow to the focuser’s side, angles clockwise from it. " + (
        "The pattern is the same from below: on an under face only keep the arrow on the focuser’s side."
        if alike_from_behind(centres) else
        "On an under face turn the print over and prick through it: seen from there the pattern is the mirror image.")
    if chord:
        yield (f"Check before you drill: neighbouring centres {length(design, chord)} apart, each "
               f"{length(design, circle.radius)} from the axis.")
    yield (f"The full circles are the outsides of the poles, {DIAMETER}{length(design, hole)}: pockets or holes for "
           "them. Try one on a scrap first." if hole else
           "Only centres are marked: poles lean and meet here by twos. The fitting tells which hole it takes.")
    if frame.turned is None:
        yield (f"The plan does not say how the {what}s are turned about the axis: here the focuser stands midway "
               "between two.")
    yield "Prick the centres through the paper. Clamp the board; wear eye protection."
