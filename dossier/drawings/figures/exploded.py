"""The exploded view: every known part pulled apart along the optical axis, or the focuser's, in the order it stands.

Parts are to scale, the distances between them are not. Beside each stands its name and the build steps that fit it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from dossier.design.pictures.cell_plan import cell_plan
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.dimension import CLEAR, line_height
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.callouts import Callout, callouts
from dossier.drawings.figures.exploded_parts import Piece, rows
from dossier.drawings.figures.measures import Runs, plain, sentence
from dossier.drawings.figures.placing import extent, moved, no_narrower
from dossier.drawings.figures.shown_parts import shown, steps_with
from dossier.drawings.lettering import ASCENT, CAPITALS, box_of_text, width_of
from dossier.drawings.scene import (
    CENTRE,
    THIN,
    Box,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Shape,
    Text,
    Wash,
    Words,
    around,
)

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import DrawnAs

NAME = "exploded-view"
# What belongs on the axis, and of whose size the spec says nothing.
_UNSIZED: tuple[DrawnAs, ...] = ("hub", "plate", "push", "pad")
# Between rows, and between pieces on the focuser's axis, in type sizes.
_BETWEEN, _ASIDE, _UNDER, _MARGIN = 2.2, 1.6, 0.6, 0.2
# What a balloon takes of a row or a column, in type sizes.
_BALLOON = 2.6


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """All rows at this scale. None where mirror and diagonal are all that is known."""
    a = arrangement_from(design)
    found = rows(design, a, scale, medium)
    if len(found) < 3:
        return None
    placed = list(_stacked(found, medium))
    drawn: list[Shape] = [shape for piece in placed for shape in piece.shapes]
    body = extent(drawn, medium)
    drawn += [_axis(body, medium), *_beside(placed, medium)]
    told = callouts([Callout(piece.thing, piece.at, _label(design, piece)) for piece in placed if not piece.aside],
                    "right", body.right + 0.8 * medium.lettering, medium, apart_by=_BALLOON)
    told += [_under(piece, _label(design, piece), _level(piece, placed, medium), medium) for piece in placed
             if piece.aside]
    notes = tuple(_notes(design, a, placed))
    shapes = (*drawn, *told)
    ends = _ends(told, medium)
    balloons = tuple(_balloons(design, placed, ends))
    reach = extent(shapes, medium)
    if ends:
        # Balloons stand behind the words, those of one thing side by side.
        most = max(sum(each.after is not None and each.at == piece.at for each in balloons) for piece in placed)
        reach = around((reach, Box(reach.left, reach.top, max(x for x, _ in ends.values())
                                   + most * _BALLOON * medium.lettering, reach.bottom)))
    box = no_narrower(reach.grown(_MARGIN * medium.lettering), medium)
    return Figure(NAME, _description(design, placed, notes), shapes, box, balloons, notes)


def _ends(told: Sequence[Group], medium: Medium) -> dict[str, Point]:
    """Where a balloon stands behind the words of each thing: in one column, level with the middle of the words."""
    texts = {group.data["callout"]: text for group in told for text in group.members
             if isinstance(text, Text) and text.anchor == "start" and group.data.get("side") != "under"}
    column = max((box_of_text(text, medium.lettering).right for text in texts.values()), default=0.0)
    return {thing: (column + 0.4 * medium.lettering, text.at[1] - CAPITALS * medium.lettering / 2)
            for thing, text in texts.items()}


def _stacked(found: tuple[tuple[Piece, ...], ...], medium: Medium) -> Iterator[Piece]:
    """Each row below the one before it, pieces on the focuser's axis apart from each other and from the axis."""
    top = 0.0
    for row in found:
        pieces = [*_apart(row, medium)]
        box = extent([shape for piece in pieces for shape in piece.shapes], medium)
        lettered = max((_level(piece, pieces, medium) for piece in pieces if piece.aside), default=box.bottom)
        for piece in pieces:
            yield _shifted(piece, 0.0, top - box.top)
        top += max(box.bottom, lettered) - box.top + _BETWEEN * medium.lettering


def _apart(row: tuple[Piece, ...], medium: Medium) -> Iterator[Piece]:
    gap = _ASIDE * medium.lettering
    for piece in row:
        if piece.aside:
            yield _shifted(piece, -gap * piece.aside, 0.0)
        elif piece.thing == "holder":
            # Lifted off the diagonal's back, towards the sky; the diagonal keeps its place on the focuser's axis.
            yield _shifted(piece, 0.0, -gap)
        else:
            yield piece


def _shifted(piece: Piece, across: float, down: float) -> Piece:
    return Piece(piece.thing, piece.name, moved(piece.shapes, across, down), (piece.at[0] + across, piece.at[1] + down),
                 piece.aside)


def _level(piece: Piece, row: Sequence[Piece], medium: Medium) -> float:
    """The base line of the words under a piece on the focuser's axis: the outer one's stand lower."""
    bottom = max(extent(each.shapes, medium).bottom for each in row if each.aside)
    return bottom + _UNDER * medium.lettering + (1 if piece.thing == "focuser" else 2) * line_height(medium)


def _under(piece: Piece, words: Runs, level: float, medium: Medium) -> Group:
    """The words under a piece on the focuser's axis, clear of the diagonal, with a leader straight down to them."""
    size, box = medium.lettering, extent(piece.shapes, medium)
    # The eyepiece's line runs down past the focuser's words, so these begin to the right of it.
    foot = box.left + 0.25 * (box.right - box.left)
    left = min(foot + 0.3 * size, -2.5 * size - width_of(plain(words), size))
    if piece.thing == "eyepiece":
        left = min(left, foot)
    text = Text((left, level), words)
    start = (foot, piece.at[1])
    leader = Polyline((start, (foot, level - (ASCENT + CLEAR) * size)), Pen(THIN), data={"line": "leader"})
    half = medium.arrow / 6
    head = Polyline((start, (foot - half, start[1] + medium.arrow), (foot + half, start[1] + medium.arrow)), None,
                    Wash("ink"), closed=True, data={"arrow": "tip"})
    return Group((leader, head, text), {"callout": piece.thing, "side": "under"})


def _axis(body: Box, medium: Medium) -> Shape:
    beyond = 0.8 * medium.lettering
    line = Polyline(((0.0, body.top - beyond), (0.0, body.bottom + beyond)), Pen(CENTRE), data={"part": "optical-axis"})
    return Group((line,), {"part": "axes"}, "")


def _beside(placed: list[Piece], medium: Medium) -> Iterator[Shape]:
    """The focuser's axis, through what was pulled out along it."""
    beside = [piece for piece in placed if piece.aside]
    if not beside:
        return
    box = extent([shape for piece in beside for shape in piece.shapes], medium)
    level = _middle(beside[0], medium)
    ends = ((box.left - 0.8 * medium.lettering, level), (0.8 * medium.lettering, level))
    yield Group((Polyline(ends, Pen(CENTRE), data={"part": "folded-axis"}),), {"part": "axes"}, "")


def _middle(piece: Piece, medium: Medium) -> float:
    box = extent(piece.shapes, medium)
    return (box.top + box.bottom) / 2


def _label(design: Design, piece: Piece) -> Runs:
    """Its name and, in brackets, the numbers of the steps that fit it."""
    numbers = sorted({number for part in shown(design, piece.thing) for number in steps_with(design, part.ref)})
    return (Words(f"{piece.name} ({', '.join(map(str, numbers))})" if numbers else piece.name),)


def _balloons(design: Design, placed: list[Piece], ends: Mapping[str, Point]) -> Iterator[Balloon]:
    for piece in placed:
        for part in shown(design, piece.thing):
            yield Balloon(part.ref, piece.at, ends.get(piece.thing))


def _notes(design: Design, a: Arrangement, placed: list[Piece]) -> Iterator[Runs]:
    yield sentence("Parts are to scale, the distances between them are not")
    listed = {part.ref: place for place, part in enumerate(design.build.parts)}
    order = sorted(((min(numbers), part.ref) for piece in placed for part in shown(design, piece.thing)
                    if (numbers := steps_with(design, part.ref))), key=lambda each: (each[0], listed[each[1]]))
    if order:
        steps: dict[int, list[str]] = {}
        for number, ref in order:
            steps.setdefault(number, []).append(ref)
        yield sentence("Numbers in brackets are the build steps that fit a part")
        yield sentence("Order: " + "; ".join(f"step {number}: {', '.join(refs)}"
                                                            for number, refs in steps.items()))
    things = {piece.thing for piece in placed}
    cell = _on_the_cell(design)
    missing = {thing: [part.ref for part in shown(design, thing)] for thing in _UNSIZED if thing not in things}
    if unsized := [ref for thing, refs in missing.items() if thing not in cell for ref in refs]:
        yield sentence(f"Not drawn, as their size is not said: {', '.join(unsized)}")
    if elsewhere := [ref for thing, refs in missing.items() if thing in cell for ref in refs]:
        yield sentence(f"Drawn on the sheet of the mirror cell: {', '.join(elsewhere)}")
    if "focuser" in things:
        yield sentence("Chain outlines with two dots show a part’s place, not its size")
    if "clip" in things:
        yield sentence("Clips are marked at their places")
    if "vane" in things:
        yield sentence("Vanes are drawn turned into the plane of the paper")
    frame = design.build.frame
    if frame and a.frame and a.frame.kind != "tube" and frame.turned is None:
        yield sentence("How the poles are turned is not said; they are drawn with the focuser midway between two")


def _on_the_cell(design: Design) -> tuple[DrawnAs, ...]:
    """What of the cell has a size that its own sheet shows: plate and screws."""
    plan = cell_plan(design)
    sized = plan.plate is not None and plan.plate.half_mm is not None if plan else False
    return (*(("plate",) if sized else ()), *(("push",) if plan and plan.screw else ()))


def _description(design: Design, placed: list[Piece], notes: tuple[Runs, ...]) -> str:
    names = []
    for piece in placed:
        refs = ", ".join(part.ref for part in shown(design, piece.thing))
        names.append(f"{plain(_label(design, piece))}{f' ({refs})' if refs else ''}")
    return " ".join([f"Exploded view along the optical axis, sky up. From the sky: {'; '.join(names)}.",
                     *map(plain, notes)])


SHEET = SheetKind(
    key=NAME, title="Exploded view and order of assembly", document_type="Assembly drawing",
    caption="What goes where, from the sky down to the mirror, and which build step fits it.", make=make)
