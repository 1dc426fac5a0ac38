"""The members of the frame: one pole, one truss member, or the tube, with its length, diameters and holes.

The member lies with the sky to the right, seen from the focuser's side (a pole from its outer side). It is seen from
the sky on its left in first-angle projection, on its right in third-angle projection. Where it is too long for the
figure's width, a stretch in which nothing lies is left out between break lines (ISO 128-34), and its true length is
dimensioned.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.drawings.dimension import Dimensions, Span
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures import member_views
from dossier.drawings.figures.breaks import Broken, broken
from dossier.drawings.figures.hole_sizes import sizes
from dossier.drawings.figures.measures import DIAMETER, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.member_holes import Drilled, holes_of
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.figures.shown_parts import shown
from dossier.drawings.lettering import boxes
from dossier.drawings.projection import beside, projection_of
from dossier.drawings.scene import Medium, Shape, Text, Words

if TYPE_CHECKING:
    from dossier.design.model import Design

NAME = "frame-members"
# Of a member that is broken, so many diameters are shown at each end, and past each hole: of a pole first, of a tube.
_STUMP, _PAST_HOLE = (1.5, 0.7), (0.6, 0.3)
_GAP, _MARGIN = 1.2, 0.2
# What a saw cannot tell apart, mm.
_AGREES = 0.05
_ENDS = {"poles": "between the fixings", "truss": "from node to node"}


@dataclass(frozen=True, slots=True)
class Member:
    """One member: its kind, how many there are, its lengths in mm, the words for its length, its holes."""

    kind: str
    count: int
    outer: float
    inner: float | None
    length: float
    length_words: Words
    cut: bool
    holes: tuple[Drilled, ...]


def member_of(design: Design) -> Member | None:
    """The frame's member. None where its diameter or length is not said."""
    frame, measures = design.build.frame, Measures(design)
    if frame is None or frame.outer_diameter is None or frame.length is None:
        return None
    length, words, cut = _length(design, measures)
    count = 1 if frame.kind == "tube" else frame.count or 1
    return Member(frame.kind, count, frame.outer_diameter, frame.inner_diameter, length, words, cut,
                  holes_of(design, measures, length))


def _length(design: Design, measures: Measures) -> tuple[float, Words, bool]:
    """The length to saw: what the fittings leave, else that of the pieces which the parts list cuts for the frame,
    else that between fixings."""
    frame, tube = design.build.frame, design.results.get("frame.sawn_length")
    if tube is not None:
        return tube.number, measures.result(tube.id), True
    assert frame is not None
    assert frame.length is not None
    between = "frame.tube_length" if frame.kind == "tube" else "frame.pole_length"
    free = (frame.length, measures.result(between) if between in design.results
            else measures.length(frame.length, "frame.length"))
    listed = _listed(design)
    if listed is None:
        return (*free, frame.kind == "tube")
    if abs(listed[0] - frame.length) < 1e-6:
        return (*free, True)
    return listed[0], measures.length(*listed), True


def _listed(design: Design) -> tuple[float, str] | None:
    """The length of the pieces that the parts list cuts for the frame, and its key."""
    for place, part in enumerate(design.build.parts):
        if part in shown(design, "frame") and part.cut and len(part.cut.pieces) == 1:
            return part.cut.pieces[0].length, f"parts[{place}].cut.pieces[0].length"
    return None


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """The member at this scale. None where its diameter or length is not said."""
    member = member_of(design)
    if member is None:
        return None
    measures = Measures(design)
    end, unplaced = _end_view(member, measures, medium, scale)
    end_box = extent(end, medium)
    between = _GAP + 2 * _MARGIN + 2 * member_views.AXIS_BEYOND
    room = width - (end_box.right - end_box.left) - between * medium.lettering
    drawn, side, more = _fitted(member, room, medium, scale)
    shift = beside(extent(side, medium), end_box, "right", projection_of(design), _GAP * medium.lettering)
    shapes = (*side, *moved(end, *shift))
    notes = tuple(_notes(design, member, drawn, (*unplaced, *more)))
    balloons = tuple(Balloon(part.ref, (drawn.at(_kept(member)[0][1] / 2), -member.outer / 2 * scale))
                     for part in shown(design, "frame"))
    box = extent(shapes, medium).grown(_MARGIN * medium.lettering)
    return Figure(NAME, description(design, member, notes), shapes, box, balloons, notes)


def _fitted(member: Member, room: float, medium: Medium,
            scale: float) -> tuple[Broken, tuple[Shape, ...], list[Span]]:
    """The view from the side in so much room; broken shorter where dimensions stand out beyond its ends."""
    drawn = broken(member.length, scale, room, _kept(member), medium)
    side, unplaced = _side_view(member, drawn, medium, scale)
    box = extent(side, medium)
    excess = box.right - box.left - drawn.at(member.length) - 2 * member_views.AXIS_BEYOND * medium.lettering
    if excess > 1e-6 and drawn.at(member.length) + excess > room:
        drawn = broken(member.length, scale, room - excess, _kept(member), medium)
        side, unplaced = _side_view(member, drawn, medium, scale)
    return drawn, side, unplaced


def _kept(member: Member) -> tuple[tuple[float, float], ...]:
    """Stretches of the length that have to be seen: both ends, and round each hole."""
    stump, past = (shares[member.kind == "tube"] * member.outer for shares in (_STUMP, _PAST_HOLE))
    return ((0.0, stump), (member.length - stump, member.length),
            *((hole.at - past, hole.at + past) for hole in member.holes))


def _side_view(member: Member, drawn: Broken, medium: Medium, scale: float) -> tuple[tuple[Shape, ...], list[Span]]:
    body = member_views.side(member.outer, member.inner, drawn, member.holes, medium, scale)
    told = sizes(member.holes, member.outer, drawn, medium, scale)
    placed = Dimensions(medium, tuple(boxes(body, medium)), list(boxes(told, medium)))
    unplaced = placed.place("below", [_whole(member, drawn)])
    unplaced += placed.place("above", _from_ends(member, drawn))
    return (*body, *told, *placed.shapes), unplaced


def _whole(member: Member, drawn: Broken) -> Span:
    words = member.length_words
    return Span(words.result or words.key, drawn.at(0.0), drawn.at(member.length), (words,))


def _from_ends(member: Member, drawn: Broken) -> list[Span]:
    """From an end to each row of holes, with the row's letter; rows at one distance share a line."""
    rows: dict[tuple[float, bool], list[Drilled]] = {}
    for hole in member.holes:
        rows.setdefault((round(hole.at, 6), hole.upper), []).append(hole)
    return [_from_end(member, drawn, alike) for alike in rows.values()]


def _from_end(member: Member, drawn: Broken, alike: list[Drilled]) -> Span:
    hole = alike[0]
    end = member.length if hole.upper else 0.0
    start, stop = sorted((drawn.at(end), drawn.at(hole.at)))
    return Span(hole.name, start, stop, phrase(", ".join(each.letter for each in alike), " ", hole.distance))


def _end_view(member: Member, measures: Measures, medium: Medium,
              scale: float) -> tuple[tuple[Shape, ...], list[Span]]:
    body = member_views.end(member.outer, member.inner, medium, scale)
    # Round a pole there is room on paper alone, and the notes say the same.
    roomy = member.kind == "tube" or medium.unit == "mm"
    marks = member_views.directions(member.outer, member.inner, member.holes, medium, scale) if roomy else ()
    outlines = tuple(boxes((*body, *(mark for mark in marks if not isinstance(mark, Text))), medium))
    texts = [box for mark in marks if isinstance(mark, Text) for box in boxes([mark], medium)]
    placed = Dimensions(medium, outlines, texts)
    unplaced = placed.place("left", list(_diameters(member, measures, scale)))
    return (*body, *marks, *placed.shapes), unplaced


def _diameters(member: Member, measures: Measures, scale: float) -> Iterator[Span]:
    for value, key in ((member.inner, "frame.inner_diameter"), (member.outer, "frame.outer_diameter")):
        if value:
            half = value / 2 * scale
            yield Span(key, -half, half, phrase(DIAMETER, measures.length(value, key)))


def _notes(design: Design, member: Member, drawn: Broken, unplaced: tuple[Span, ...]) -> Iterator[Runs]:
    yield Measures(design).dimensions_note()
    frame = design.build.frame
    assert frame is not None
    if member.kind != "tube":
        what = "alike" if member.kind == "poles" else "alike, in pairs that meet at the nodes"
        yield sentence("Make ", Words(str(member.count), key="frame.count"), f" {what}")
    if not member.cut:
        yield sentence(f"The length is {_ENDS[member.kind]}; what the ends need beyond is not said")
    if "frame.sawn_length" in design.results:
        yield sentence("With its ends’ fittings ", Measures(design).result("frame.pole_length"),
                       f" {_ENDS[member.kind]}")
    listed = _listed(design)
    if listed and abs(listed[0] - member.length) > _AGREES:
        yield sentence("The parts list saws it to ", Measures(design).length(*listed), "; one of the two is wrong")
    if isinstance(frame.material, str):
        yield sentence("Material: ", Words(shelf.materials()[frame.material].name, key="frame.material"))
    if drawn.gap:
        yield sentence("Drawn broken; the length is true")
    if member.holes:
        zero = "the focuser’s side" if member.kind == "tube" else "the pole’s outer side"
        yield sentence(f"Sky end to the right; angles from {zero}, clockwise seen from the sky")
    for hole in member.holes:
        yield hole.note
    for span in unplaced:
        yield sentence(_SPOKEN.get(span.name, "From the end") + " ", *span.runs)


_SPOKEN = {"frame.outer_diameter": "Outside", "frame.inner_diameter": "Inside"}


def description(design: Design, member: Member, notes: tuple[Runs, ...]) -> str:
    """The figure in words, with its numbers."""
    measures = Measures(design)
    what = {"tube": "The tube", "poles": "One pole", "truss": "One member of the truss"}[member.kind]
    said = f"{what} from the side, sky to the right, and from the sky. Length {member.length_words.text}, outside "
    said += f"diameter {measures.length(member.outer, 'frame.outer_diameter').text}"
    if member.inner:
        said += f", inside diameter {measures.length(member.inner, 'frame.inner_diameter').text}"
    places = [f"{hole.letter} {hole.distance.text} from the {'upper' if hole.upper else 'lower'} end"
              for hole in member.holes]
    return " ".join([f"{said}.", *([f"Holes: {'; '.join(places)}."] if places else []), *map(plain, notes)])


SHEET = SheetKind(
    key=NAME, title="Frame members: cutting and drilling", document_type="Part drawing",
    caption="What to saw and where to drill: the true length, both diameters, and every hole by its distance from an "
            "end.", make=make)
