"""The board of a focuser: its edge, the hole for the drawtube, the holes for the focuser's screws, and the lines it is
lined up by."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.scene import Box, Point, Words
from dossier.drawings.templates.labels import Clear, box_of_label
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template, around, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, length

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_optics import Board, FocuserScrews

# How far lines reach beyond a hole whose board is not sized, and beyond the edge of one that is.
_BEYOND_HOLE, _BEYOND_EDGE, _ARM = 22.0, 6.0, 3.5


def make(design: Design) -> Iterator[Template]:
    """The board at full size; none where its hole is not said, or on a tube without a board."""
    build, focuser = design.build, design.build.focuser
    board, hole = focuser.board, focuser.hole
    if hole is None or build.frame is None or (build.frame.kind == "tube" and board is None):
        return
    edge = _edge(board)
    up, down, aside = _reach(board, hole)
    tip = (0.0, up + 5.0)
    screws = list(_screws(focuser.screws))
    items: list[Item] = [
        *([Outline("cut", edge, name="board")] if edge else []),
        Disc("cut", (0.0, 0.0), hole / 2, "hole"),
        Outline("mark", ((0.0, -down), (0.0, up)), False, "optical axis"),
        Outline("mark", ((-aside, 0.0), (aside, 0.0)), False, "across"),
        Outline("mark", (tip, (-1.5, tip[1] - 4.5), (1.5, tip[1] - 4.5)), name="towards the sky")]
    if focuser.bore and focuser.bore < hole:
        items.append(Disc("mark", (0.0, 0.0), focuser.bore / 2, "clear bore"))
    wide = focuser.screws.diameter if focuser.screws else None
    for place in screws:
        items += [*([Disc("cut", place, wide / 2, "screw")] if wide else []),
                  *cross(place, max(_ARM, (wide or 0.0) / 2 + 2.0), "screw centre")]
    items += _words(design, screws, edge, up)
    yield Template(
        "focuser-board", "Focuser board",
        "Stuck on the outer face of the board, it shows its edge, its holes and how it lies to the optical axis.",
        tuple(items), _description(design, screws), tuple(_notes(design, screws)),
        served(design, "board", thick={"board": board.thickness if board else None}))


def _edge(board: Board | None) -> tuple[Point, ...]:
    """The board's corners about the middle of its hole, the sky up; none where it is not sized."""
    if board is None or board.width is None or board.length is None:
        return ()
    half, low = board.width / 2, -(board.length / 2 if board.below is None else board.below)
    return ((-half, low), (half, low), (half, low + board.length), (-half, low + board.length))


def _reach(board: Board | None, hole: float) -> tuple[float, float, float]:
    """How far the lines through the middle reach: towards the sky, towards the mirror, to either side."""
    edge = _edge(board)
    if not edge:
        return (hole / 2 + _BEYOND_HOLE,) * 3
    return edge[2][1] + _BEYOND_EDGE, _BEYOND_EDGE - edge[0][1], edge[1][0] + _BEYOND_EDGE


def _screws(screws: FocuserScrews | None) -> Iterator[Point]:
    """Centres of the focuser's screws, seen from outside with the sky up."""
    if screws is None:
        return
    if screws.along is not None and screws.across is not None:
        for x, y in ((1, 1), (1, -1), (-1, -1), (-1, 1)):
            yield x * screws.across / 2, y * screws.along / 2
    elif screws.circle_radius is not None and screws.count:
        for number in range(screws.count):
            yield around((screws.turned or 0.0) + 360 / screws.count * number, screws.circle_radius)


def _words(design: Design, screws: list[Point], edge: tuple[Point, ...], up: float) -> Iterator[Item]:
    focuser = design.build.focuser
    hole, wide = focuser.hole or 0.0, (focuser.screws.diameter if focuser.screws else None) or 0.0
    fixed = (Label((3.0, up + 0.8), (Words("sky"),)), Label((-3.0, up + 0.8), (Words("outer face"),), "end"))
    yield from fixed
    room = Box(edge[0][0], edge[0][1], edge[2][0], edge[2][1]) if edge else None
    reach = max(_ARM, wide / 2 + 2.0)
    clear = Clear([*(Box(x, y, x, y).grown(reach) for x, y in screws), *(box_of_label(each) for each in fixed),
                   Box(-0.5, -1e3, 0.5, 1e3), Box(-1e3, -0.5, 1e3, 0.5)], room,
                  rings=(hole / 2, (focuser.bore or 0.0) / 2))
    said = f"{DIAMETER}{length(design, hole, 'focuser.hole')}"
    yield from clear.first([(2.0, hole / 2 + 2.0, "start"), (2.0, -hole / 2 - 4.5, "start"),
                            (hole / 2 + 2.0, 2.0, "start")], (said,))
    if focuser.bore and focuser.bore < hole:
        yield from clear.first([(2.0, -hole / 2 - 4.5, "start"), (-2.0, -hole / 2 - 4.5, "end")], (
            f"bore {DIAMETER}{length(design, focuser.bore, 'focuser.bore')}",))
    for x, y in screws if wide else ():
        yield from clear.beside((x, y), reach, (f"{DIAMETER}{length(design, wide)}",))


def _pattern(design: Design, screws: list[Point]) -> str:
    said = design.build.focuser.screws
    if said is None or not screws:
        return ""
    holes = f", holes {DIAMETER}{length(design, said.diameter)}" if said.diameter else ""
    if said.along is not None and said.across is not None:
        return (f"4 screws, {length(design, said.along)} apart along the axis and {length(design, said.across)} across "
                f"it{holes}")
    return f"{len(screws)} screws on a circle of {length(design, math.hypot(*screws[0]))} radius{holes}"


def _sized(design: Design) -> str:
    board = design.build.focuser.board
    if not _edge(board) or board is None:
        return ""
    low = board.below if board.below is not None else (board.length or 0.0) / 2
    return (f"board {length(design, board.length or 0.0)} along the axis and {length(design, board.width or 0.0)} "
            f"across it, its lower end {length(design, low)} from the middle of the hole")


def _station(design: Design) -> str:
    return length(design, design.results["focuser.station"].number, "focuser.station")


def _description(design: Design, screws: list[Point]) -> str:
    said = [f"Hole of {length(design, design.build.focuser.hole or 0.0)} over the optical axis, {_station(design)} "
            "from the mirror", *filter(None, (_sized(design), _pattern(design, screws)))]
    return "; ".join(said) + "."


def _notes(design: Design, screws: list[Point]) -> Iterator[str]:
    focuser, sized, pattern = design.build.focuser, _sized(design), _pattern(design, screws)
    yield (f"Seen from outside. The line with the arrow lies over the optical axis, arrow to the sky; the hole, "
           f"{DIAMETER}{length(design, focuser.hole or 0.0)}, stands {_station(design)} from the middle of the "
           f"mirror’s face. The board’s outer face stands {length(design, focuser.mounting_radius)} from the axis.")
    yield f"{sized[0].upper()}{sized[1:]}." if sized else "No edge to cut is drawn: the plan does not size the board."
    yield (f"{pattern}. Lay your own focuser’s foot on them before you drill: makes differ." if pattern else
           "No screws of the focuser are known here: where it has any, mark them from its foot.")
    yield "Clamp the board; a hole saw that binds turns the work. Wear eye protection."
