"""The general arrangement for a phone: the telescope points up, 328 px wide, with few dimensions and large letters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from dossier.drawings import scales
from dossier.drawings.arrangement import Arrangement
from dossier.drawings.arrangement_light import light
from dossier.drawings.arrangement_marks import (
    assumed,
    axes,
    balance,
    description,
    focal_plane,
    length_key,
    light_start,
    members_in_words,
    phrase,
    scale_bar,
)
from dossier.drawings.arrangement_parts import parts, top_height
from dossier.drawings.dimension import Dimensions, Span, fits, line_height, roomiest
from dossier.drawings.lettering import CAPITALS, boxes, width_of
from dossier.drawings.running import Place, running
from dossier.drawings.scene import ON_PHONE, Box, Group, Scene, Shape, Text, View, Words, around
from dossier.drawings.wrapping import wrapped

WIDTH, TALLEST = 328.0, 520.0
_MARGIN = 4.0
# From the telescope to the figures of the stations, in type sizes.
_TO_LINE, _TO_FIGURES = 1.2, 2.8


def scene(a: Arrangement, dimensions: bool) -> Scene:
    """The telescope upright, as large as width and height allow."""
    stations = _stations(a) if dimensions else []
    size = ON_PHONE.lettering
    column = max((width_of("".join(w.text for w in runs), size) for _, _, runs in stations), default=0.0)
    column += _TO_FIGURES * size if stations else 0.0
    rough = around(boxes(_telescope(a, View(1.0, upright=True)), ON_PHONE))
    view = View(min((WIDTH - 2 * _MARGIN - column) / (rough.right - rough.left), TALLEST / (rough.bottom - rough.top)),
                upright=True)
    members = side(a, view) if dimensions else _telescope(a, view)
    extent = around(boxes(members, ON_PHONE))
    left = (extent.left + extent.right - WIDTH) / 2
    footer = _footer(a, view, Box(left + _MARGIN, extent.bottom, left + WIDTH - _MARGIN, extent.bottom), dimensions)
    bottom = around((extent, *boxes(footer, ON_PHONE))).bottom
    box = Box(left, extent.top - _MARGIN, left + WIDTH, bottom + _MARGIN)
    data = {"scale": f"{view.scale:.9g}", "form": "upright"}
    return Scene("general-arrangement-upright", f"General arrangement of {a.name}", description(a), ON_PHONE, box,
                 (*members, *footer), data)


def side(a: Arrangement, view: View, *, rays: bool = True) -> tuple[Shape, ...]:
    """The telescope upright on a phone, with its stations on the right, about the primary's vertex."""
    drawn = _telescope(a, view, rays)
    placed = Dimensions(ON_PHONE, tuple(boxes(drawn, ON_PHONE)))
    placed.place("below", [span for span in [_aperture(a, view)] if fits(span, ON_PHONE)])
    placed.place("above", [span for span in [_intercept(a, view)] if fits(span, ON_PHONE)])
    right = around(boxes(drawn, ON_PHONE)).right
    return (*drawn, balance(a, view, ON_PHONE), *placed.shapes, *_running(_stations(a), view, right, placed.outlines))


def _telescope(a: Arrangement, view: View, rays: bool = True) -> tuple[Group, ...]:
    frame, *others = parts(a, view, ON_PHONE)
    start = light_start(a, view, ON_PHONE)
    beam = [light(a, view, start, ON_PHONE.arrow, edges=False)] if rays else []
    return (frame, *beam, *others, focal_plane(a, view),
            axes(a, view, 0.0, start, top_height(a)))


def _stations(a: Arrangement) -> list[tuple[str, float, tuple[Words, ...]]]:
    lower, upper = (a.frame.lower_station, a.frame.upper_station) if a.frame else (None, None)
    known = (("front.station", a.front_station, "front "), ("diagonal.station", a.diagonal_station, "diagonal "),
             ("frame.upper_fixing", upper, "poles, top "), ("balance.station", a.balance_station, "balance "),
             ("frame.lower_fixing", lower, "poles, foot "))
    return [(key, station, phrase(a, words, key)) for key, station, words in known
            if station is not None and station > 0 and key in a.figures]


def _running(stations: list[tuple[str, float, tuple[Words, ...]]], view: View, right: float,
             outlines: tuple[Box, ...]) -> list[Group]:
    def place(name: str, station: float, runs: tuple[Words, ...]) -> Place:
        y = view.at(station, 0.0)[1]
        beside = [box.right for box in outlines if box.top - 1 <= y <= box.bottom + 1]
        return Place(name, y, max(beside, default=0.0), runs)

    places = [place(*each) for each in stations]
    return running(places, place("origin", 0.0, (Words("mirror 0"),)), right + _TO_LINE * ON_PHONE.lettering, ON_PHONE)


def _aperture(a: Arrangement, view: View) -> Span:
    half = a.aperture / 2 * view.scale
    return roomiest(ON_PHONE, "primary.aperture", -half, half, phrase(a, "aperture ⌀\u202f", "primary.aperture"),
                    phrase(a, "⌀\u202f", "primary.aperture"))


def _intercept(a: Arrangement, view: View) -> Span:
    return roomiest(ON_PHONE, "optics.intercept", -a.intercept * view.scale, 0.0,
                    phrase(a, "to focal plane ", "optics.intercept"), phrase(a, "optics.intercept"))


def _footer(a: Arrangement, view: View, room: Box, notes: bool) -> tuple[Group, ...]:
    """A scale bar, and in words what is not dimensioned."""
    if not notes:
        return ()
    size, line = ON_PHONE.lettering, line_height(ON_PHONE)
    top = room.bottom + line
    bar = scales.bar(view.scale, 0.4 * WIDTH, a.length_unit)
    end = room.left + bar.length_mm * view.scale
    texts = [Text((end + 0.6 * size, top + CAPITALS * size), (Words(bar.words),))]
    for runs in (*_wrapped(in_words(a, view), room.right - room.left), (Words(f"Figures in {a.length_unit}"),)):
        top += line
        texts.append(Text((room.left, top + CAPITALS * size), runs))
    return (scale_bar((room.left, room.bottom + line + 0.15 * size), bar.length_mm * view.scale, bar.steps, ON_PHONE),
            Group(tuple(texts), {"part": "notes"}))


def _wrapped(phrases: Iterable[tuple[Words, ...]], width: float) -> Iterator[tuple[Words, ...]]:
    """Phrases in lines; only those without a figure are long."""
    for runs in phrases:
        if len(runs) == 1:
            yield from ((Words(line),) for line in wrapped(runs[0].text, width, ON_PHONE.lettering))
        else:
            yield runs


def in_words(a: Arrangement, view: View) -> Iterator[tuple[Words, ...]]:
    """What has no room on a dimension line, in words."""
    yield phrase(a, "Focal length ", "primary.focal_length", ", f/", "optics.focal_ratio")
    if not fits(_aperture(a, view), ON_PHONE):
        yield phrase(a, "Aperture ⌀\u202f", "primary.aperture")
    if len(_intercept(a, view).runs) == 1:
        yield phrase(a, "Axis to focal plane ", "optics.intercept")
    where = (", offset ", "diagonal.offset") if a.offset else (", without offset",)
    yield phrase(a, "Diagonal ", "diagonal.minor_axis", *where)
    key = length_key(a)
    if a.frame and key in a.figures:
        yield (Words("Frame: "), *members_in_words(a, key))
    if said := assumed(a):
        yield said
