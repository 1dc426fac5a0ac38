"""Which lengths the wide general arrangement dimensions, on which side, and which it says in words instead.

Stations run side by side below, from the primary's vertex; the focuser's station and the poles' length stand above,
the heights of focuser and focal plane on the right, the aperture on the left. A length whose line would have to cross
another's is said in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from dossier.drawings.arrangement import Arrangement
from dossier.drawings.arrangement_marks import behind_the_face, length_key, members_in_words, phrase
from dossier.drawings.arrangement_parts import top_height
from dossier.drawings.dimension import Span, crossing, fits, roomiest
from dossier.drawings.scene import ON_PAPER, View, Words


@dataclass(slots=True)
class Measured:
    """Spans on three sides, and what is ``said`` instead; ``focus`` tells that the focal length is dimensioned."""

    below: list[Span]
    above: list[Span]
    left: list[Span] = field(default_factory=list)
    said: list[tuple[Words, ...]] = field(default_factory=list)
    focus: bool = False


def along_axis(a: Arrangement, view: View) -> Measured:
    """The lengths along the axis, and the aperture."""
    top = top_height(a) * view.scale + ON_PAPER.lettering
    focuser = _station(a, view, "focuser.station", a.focuser_station, "focuser ")
    measured = Measured(_stations(a, view), [replace(span, end_foot=top) for span in focuser])
    if "primary.aperture" in a.figures and all(span.start >= 0 for span in measured.below):
        measured.left.append(_aperture(a, view))
    elif "primary.aperture" in a.figures:
        # What stands behind the mirror's face has extension lines of its own where the aperture's would run.
        measured.said.append(phrase(a, "Aperture ⌀\u202f", "primary.aperture"))
    for length in _frame_length(a, view):
        # Poles that begin behind the mirror's face would have their line crossed by those of the aperture.
        fitting = {"tube": not _crosses(length, measured.below),
                   "poles": length.start >= 0 and not _crosses(length, measured.above), "truss": False}
        side = measured.below if a.frame and a.frame.kind == "tube" else measured.above
        if a.frame and fitting[a.frame.kind]:
            side.append(length)
        else:
            measured.said.append((Words("Frame: "), *length.runs))
    for focal in _station(a, view, "primary.focal_length", a.focal_length, "focal length "):
        measured.focus = not _crosses(focal, measured.below)
        if measured.focus:
            measured.below.append(focal)
        else:
            measured.said.append(phrase(a, "Focal length ", "primary.focal_length"))
    return measured


def heights(a: Arrangement, view: View, axis_end: float) -> tuple[list[Span], list[tuple[Words, ...]]]:
    """From the axis to the focal plane and to the focuser's face; in words where the line is too short for them.

    ``axis_end`` is the station where the drawn axis ends.
    """
    foot, side = axis_end * view.scale, a.focuser_station * view.scale
    spans, said = [], []
    for key, height, *words in (("focuser.mounting_radius", a.mounting_radius, "focuser face ", "face "),
                                ("optics.intercept", a.intercept, "focal plane ", "plane ", "")):
        span = roomiest(ON_PAPER, key, -height * view.scale, 0.0, *(phrase(a, *filter(None, (each, key)))
                                                                    for each in words))
        if fits(span, ON_PAPER):
            spans.append(replace(span, start_foot=side, end_foot=foot))
        else:
            said.append(phrase(a, f"{words[0].capitalize()}", key, " from the axis"))
    return spans, said


def _aperture(a: Arrangement, view: View) -> Span:
    """The clear diameter of the primary."""
    half = a.aperture / 2 * view.scale
    return roomiest(ON_PAPER, "primary.aperture", -half, half, phrase(a, "aperture ⌀\u202f", "primary.aperture"),
                    phrase(a, "⌀\u202f", "primary.aperture"))


def _crosses(span: Span, others: list[Span]) -> bool:
    return any(crossing(span, other) for other in others)


def _stations(a: Arrangement, view: View) -> list[Span]:
    lower, upper = (a.frame.lower_station, a.frame.upper_station) if a.frame else (None, None)
    return [*_station(a, view, "frame.lower_fixing", lower, "lower fixing "),
            *_station(a, view, "balance.station", a.balance_station, "balance point ", "balance "),
            *_station(a, view, "frame.upper_fixing", upper, "upper fixing "),
            *_station(a, view, "diagonal.station", a.diagonal_station, "diagonal "),
            *_station(a, view, "front.station", a.front_station, "front ")]


def _station(a: Arrangement, view: View, key: str, station: float | None, *words: str) -> Iterator[Span]:
    """The length from the primary's vertex to a station, where it is known; behind the vertex it runs the other way.

    Of its words the first that have room between the arrowheads are taken.
    """
    if not station or key not in a.figures:
        return
    start, end = sorted((0.0, station * view.scale))
    said = [phrase(a, each, key) for each in words]
    if station < 0:
        far = (*behind_the_face(a, key), Words(" behind the face"))
        said = [*((Words(each), *far) for each in words), far]
    yield roomiest(ON_PAPER, key, start, end, *said)


def _frame_length(a: Arrangement, view: View) -> Iterator[Span]:
    key = length_key(a)
    if a.frame and key in a.figures:
        yield Span(key, a.frame.lower_station * view.scale, a.frame.upper_station * view.scale,
                   members_in_words(a, key))
