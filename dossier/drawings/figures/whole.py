"""The whole telescope: from the side in section through the fold, dimensioned, and from the sky.

On paper it lies, sky to the right; on a phone it stands, sky up. In first-angle projection the view from the sky stands
to the left of the side view, or below it; in third-angle projection to the right, or above.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from dossier.drawings import arrangement_parts as ga
from dossier.drawings import arrangement_upright, arrangement_wide, scales
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.arrangement_marks import description, scale_bar
from dossier.drawings.dimension import Dimensions
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.measures import Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import extent, moved, no_narrower
from dossier.drawings.figures.shown_parts import shown
from dossier.drawings.figures.upper_end import turnings, turns_not_said, widths
from dossier.drawings.figures.upper_plan import Face, plan
from dossier.drawings.lettering import CAPITALS, boxes
from dossier.drawings.projection import beside, projection_of
from dossier.drawings.scene import OUTLINE, Box, Circle, Group, Medium, Pen, Point, Shape, Text, View, Wash, Words

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

_BETWEEN, _MARGIN = 0.9, 0.2
_SPOKEN = {"frame.inner_diameter": ("Tube inside ",), "frame.outer_diameter": ("Tube outside ",),
           "front.opening": ("Front opening ",)}
_OPTICAL = ("primary.aperture", "primary.focal_length", "optics.focal_ratio")


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """Both views at this scale; every design has them."""
    a = arrangement_from(design)
    lying = medium.unit == "mm"
    view = View(scale, upright=not lying)
    side, said = side_view(_without_optics(a) if lying else a, view, rays=False)
    front, lost = _front(design, a, Face(scale, focuser_up=lying), medium)
    body, face = extent(side, medium), extent(front, medium)
    shift = beside(body, face, "right" if lying else "above", projection_of(design), _BETWEEN * medium.lettering)
    shapes: tuple[Shape, ...] = (Group(side, {"view": "side"}),
                                 Group(moved(front, *shift), {"view": "front", "axis": _place(shift)}))
    if not lying:
        shapes = (*shapes, *bar_below(a, scale, extent(shapes, medium), medium))
    box = no_narrower(extent(shapes, medium).grown(_MARGIN * medium.lettering), medium)
    notes = (sentence("stations from the middle of the primary’s face, towards the sky"),
             *(sentence(*runs, first=str.upper) for runs in (*_of_the_side(said), *lost)),
             *turns_not_said(*turnings(design, a)))
    return Figure(SHEET.key, f"{description(a)} Beside it the view from the sky.", shapes, box,
                  tuple(_balloons(design, a, view)), notes)


def _without_optics(a: Arrangement) -> Arrangement:
    """The same with the optics' own lengths unsaid, which have a sheet of their own: they would make this one small."""
    return replace(a, figures={key: words for key, words in a.figures.items() if key not in _OPTICAL})


def side_view(a: Arrangement, view: View, *, rays: bool) -> tuple[tuple[Shape, ...], tuple[Runs, ...]]:
    """The telescope from the side, lying or standing, and what is said of it in words."""
    if view.upright:
        return arrangement_upright.side(a, view, rays=rays), tuple(arrangement_upright.in_words(a, view))
    drawn = arrangement_wide.side(a, view, rays=rays, names=False)
    return drawn.shapes, (*arrangement_wide.in_words(a), *drawn.said)


def _of_the_side(said: tuple[Runs, ...]) -> tuple[Runs, ...]:
    """What remains to be said where no light is drawn and the view from the sky has the opening."""
    return tuple(runs for runs in said if not plain(runs).startswith("Rays ")
                 and all(run.key != "front.opening" for run in runs))


def bar_below(a: Arrangement, scale: float, drawn: Box, medium: Medium) -> tuple[Shape, ...]:
    """A scale bar with its length below a figure that no title block tells the scale of."""
    size = medium.lettering
    bar = scales.bar(scale, 0.4 * (drawn.right - drawn.left), a.length_unit)
    length, top = bar.length_mm * scale, drawn.bottom + 1.2 * size
    text = Text((drawn.left + length + 0.6 * size, top + CAPITALS * size - 0.15 * size), (Words(bar.words),))
    return (scale_bar((drawn.left, top), length, bar.steps, medium), text)


def _place(at: Point) -> str:
    return f"{at[0]:.3f} {at[1]:.3f}"


def _front(design: Design, a: Arrangement, face: Face, medium: Medium) -> tuple[tuple[Shape, ...], list[Runs]]:
    """The view from the sky with the mirror in it, the opening and the tube dimensioned below."""
    spider = design.build.spider
    mirror = Circle((0.0, 0.0), a.aperture / 2 * face.scale, Pen(OUTLINE), Wash("glass"), {"part": "primary-face"})
    drawn = (Group((mirror,), {"part": "primary"}, "Primary mirror"),
             *plan(a, *turnings(design, a), spider.vane_thickness if spider else None, face, medium))
    placed = Dimensions(medium, tuple(boxes(drawn, medium)))
    lost = placed.place("below", widths(a, Measures(design), face))
    return (*drawn, *placed.shapes), [phrase(*_SPOKEN[span.name], *span.runs) for span in lost]


def _balloons(design: Design, a: Arrangement, view: View) -> Iterator[Balloon]:
    """Parts that the author says are drawn as what is shown here."""
    for thing, place in _places(a).items():
        for part in shown(design, thing)[:1]:
            yield Balloon(part.ref, view.at(*place))


def _places(a: Arrangement) -> dict[DrawnAs, Point]:
    back = ga.mirror_back(a)
    places: dict[DrawnAs, Point] = {
        "primary": ((ga.mirror_depth(a, a.aperture / 4) + (back or 0.0)) / 2, -a.aperture / 4),
        "diagonal": (a.diagonal_station + (a.diagonal_thickness or 0.0) / 2, -a.offset)}
    if a.bore:
        places["focuser"] = (a.focuser_station - 0.75 * a.bore, a.mounting_radius + a.focuser_height / 2)
        if a.eyepiece:
            places["eyepiece"] = (a.focuser_station, a.intercept + a.bore * ga.EYEPIECE_HEIGHT / 2)
    if a.front_station is not None and a.front_opening:
        places["front"] = (a.front_station, -a.front_opening / 2)
    if a.frame:
        places["frame"] = _on_frame(a)
    return places


def _on_frame(a: Arrangement) -> Point:
    """A point of the lowest member that is seen, between its ends; of a tube, whose lower wall has the dimensions below
    it, in the upper one."""
    assert a.frame is not None
    if a.frame.kind == "tube":
        middle = (a.frame.lower_station + a.frame.upper_station) / 2
        return middle, ((a.frame.inner_diameter or a.frame.outer_diameter) + a.frame.outer_diameter) / 4
    ends = [(low, high) for low, high, _ in ga.member_axes(a.frame, a.members_turned_deg)]
    (x0, y0), (x1, y1) = min(ends, key=lambda pair: pair[0][1] + pair[1][1])
    return (x0 + x1) / 2, (y0 + y1) / 2


SHEET = SheetKind(
    key="general-arrangement", title="General arrangement", document_type="Assembly drawing",
    caption="The whole telescope from the side, cut through the plane in which the light is folded, and from the sky: "
            "what stands where, by stations from the mirror’s face.", make=make)
