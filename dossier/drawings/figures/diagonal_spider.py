"""Diagonal and spider: what stands in the light, seen from the sky, and how the diagonal sits, larger.

Every view has a name that says from where it is seen, so that it stands where there is room in either projection.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.drawings import scales
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures import cell_signs as signs
from dossier.drawings.figures.diagonal_views import DiagonalViews, side_length
from dossier.drawings.figures.listing import Entry, listed
from dossier.drawings.figures.measures import DIAMETER, Measures, Runs, phrase, plain, sentence
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.figures.spider_words import vanes_in_words
from dossier.drawings.scene import Box, Group, Medium, Point, Shape, Text, Words, around

if TYPE_CHECKING:
    from dossier.design.model import Design

# The diagonal is drawn as large as keeps its minor axis within this, in millimetres of paper; on a phone it fills the
# width but for its dimensions, which take so many type sizes.
_DETAIL_MM, _LONGEST_MM, _DIMENSIONS = 50.0, 85.0, 8.5
_ENLARGEMENTS = (5, 2)
_GAP = 2.4


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """Diagonal and spider; every build has a diagonal."""
    measures = Measures(design)
    detail, ratio = _detail(design, medium, scale, width)
    views = DiagonalViews(measures, medium, scale, detail)
    entries = tuple(_entries(views))
    shapes, places = _laid_out(views, ratio, entries, width)
    return Figure("diagonal-spider", _description(views, entries), shapes,
                  extent(shapes, medium).grown(medium.wide / 2), tuple(_balloons(views, places)), tuple(_notes(views)))


def _detail(design: Design, medium: Medium, scale: float, width: float) -> tuple[float, str]:
    """The scale of the diagonal's own views and how it is written; never smaller than the other view's."""
    if medium.unit == "px":
        return max(scale, (width - _DIMENSIONS * medium.lettering) / side_length(design.build.diagonal)), ""
    known = [(float(times), f"{times}\u202f:\u202f1") for times in _ENLARGEMENTS]
    known += [(1 / reduction, scales.written(reduction)) for reduction in scales.REDUCTIONS]
    diagonal = design.build.diagonal
    detail, ratio = next(each for each in known if each[0] * diagonal.minor_axis <= _DETAIL_MM
                         and each[0] * side_length(diagonal) <= _LONGEST_MM)
    return (detail, ratio) if detail > scale else (scale, "")


def _laid_out(views: DiagonalViews, ratio: str, entries: Sequence[Entry], width: float,
              ) -> tuple[tuple[Shape, ...], dict[str, Point]]:
    """The view from the sky, to its right or below it the diagonal's own views, then the list."""
    medium, size = views.medium, views.size
    front = (Group(views.front(), {"view": "front", "scale": f"{views.scale:.9g}"}, "From the sky"),)
    box = extent(front, medium)
    side = _titled("side", "from the side", ratio, views.side(), views)
    face = _titled("face", "square to its face", ratio, views.face(), views)
    room = width - medium.wide - (box.right - box.left) - _GAP * size
    named = {"side": side, "face": face}
    if views.spider and views.spider.hub and views.offset > 0:
        named["hub"] = _titled("hub", "the hub, from the sky", ratio, views.hub(), views)
    boxes = {name: extent((each,), medium) for name, each in named.items()}
    beside = room >= max(each.right - each.left for each in boxes.values())
    left, top = (box.right + _GAP * size, box.top) if beside else (box.left, box.bottom + 1.6 * size)
    if not beside:
        left = (box.left + box.right - width + medium.wide) / 2
    placed: list[Shape] = [*front]
    places: dict[str, Point] = {"front": (0.0, 0.0)}
    x, y, row = left, top, 0.0
    limit = left + (room if beside else width - medium.wide)
    for name, own in boxes.items():
        if x > left and x + own.right - own.left > limit:
            x, y, row = left, y + row + 1.4 * size, 0.0
        places[name] = (x - own.left, y - own.top)
        placed += moved((named[name],), *places[name])
        x, row = x + own.right - own.left + _GAP * size, max(row, own.bottom - own.top)
    foot = y + row + 1.4 * size
    if beside and box.bottom + 1.4 * size < foot and _narrow(entries, box, views) is not None:
        # The list fits under the view from the sky, where there is more room left.
        placed += listed(entries, (box.left, box.bottom + 1.4 * size), box.right - box.left, medium)
    else:
        placed += listed(entries, (left, foot), limit - left, medium)
    return tuple(placed), places


def _narrow(entries: Sequence[Entry], box: Box, views: DiagonalViews) -> Box | None:
    """The list's box under the view from the sky; None where that is too narrow to read well."""
    if box.right - box.left < 17 * views.size:
        return None
    return around([extent(listed(entries, (box.left, box.bottom), box.right - box.left, views.medium), views.medium)])


def _titled(name: str, words: str, ratio: str, shapes: Sequence[Shape], views: DiagonalViews) -> Group:
    box = extent(shapes, views.medium)
    said = f"{words}, {ratio}" if ratio else words
    title = Text(((box.left + box.right) / 2, box.top - 0.6 * views.size), (Words(said),), "middle")
    return Group((*shapes, title), {"view": name, "scale": f"{views.detail:.9g}"})


def _entries(views: DiagonalViews) -> Iterator[Entry]:
    said, spider, measures = views.said, views.spider, views.measures
    words: list[Words | str] = ["diagonal ", measures.length(said.minor_axis, "diagonal.minor_axis"), " by ",
                                measures.result("diagonal.major_axis")]
    if said.thickness:
        words += [", ", measures.length(said.thickness, "diagonal.thickness"), " thick"]
    yield Entry(phrase(*words))
    if views.offset > 0:
        yield Entry(phrase("offset ", measures.result("diagonal.offset"), " towards the primary and as much away from "
                           "the focuser"))
        yield Entry(phrase("where the optical axis meets the face, ", measures.result("diagonal.face_offset"),
                           " from its middle towards the sky"),
                    lambda at: signs.mark(at, views.medium))
    else:
        yield Entry(phrase("no offset: the middle of the face is where the axis is folded"))
    if spider and spider.vanes:
        vanes: list[Words | str] = [*vanes_in_words(spider, measures)]
        if spider.turned is not None and spider.vanes > 4:
            vanes += [", from ", measures.angle(spider.turned, "spider.turned"), ", every ",
                      measures.angle(360 / spider.vanes, "spider.vanes")]
        elif spider.turned is not None:
            for index, angle in enumerate(views.vane_angles):
                vanes += [", at " if index == 0 else ", ", measures.angle(round(angle % 360, 6), "spider.turned")]
        yield Entry(phrase(*vanes))
    if spider and spider.hub:
        hole: tuple[Words | str, ...] = (", on the axis; the holder’s hole in it ", measures.result("diagonal.offset"),
                                         " from its middle, away from the focuser") if views.offset > 0 else ()
        yield Entry(phrase("hub ", DIAMETER, measures.length(spider.hub, "spider.hub"), *hole))


def _notes(views: DiagonalViews) -> Iterator[Runs]:
    spider = views.spider
    if spider and spider.vanes:
        if views.opening is None:
            yield sentence("the vanes are not drawn: the plan does not say what they span")
        else:
            yield sentence("angles run from the focuser’s side, clockwise seen from the sky")
            if spider.turned is None:
                yield sentence("the plan does not say how the vanes are turned: the focuser is drawn midway between "
                               "two")
            if not spider.hub and spider.vane_section != "rod":
                yield sentence("the hub is not drawn: the plan does not size it")
    if views.said.holder_diameter and not views.said.holder_length:
        yield sentence("the holder, in chain lines with two dots, is broken off: the plan says its diameter, not its "
                       "length")


def _description(views: DiagonalViews, entries: Sequence[Entry]) -> str:
    measures, said = views.measures, [
        f"Diagonal and spider, to scale, lengths in {views.measures.unit}: down the axis from the sky with the "
        "focuser’s side up, hub and vanes about the axis; the diagonal at 45° from the side; its face"]
    if views.opening:
        said.append(f"Opening ⌀ {measures.length(views.opening.diameter_mm, views.opening.key).text}")
    if views.said.holder_diameter:
        length = (f", {measures.length(views.said.holder_length, 'diagonal.holder_length').text} long"
                  if views.said.holder_length else "")
        said.append(f"Holder ⌀ {measures.length(views.said.holder_diameter, 'diagonal.holder_diameter').text}{length}")
    said += [(words := plain(entry.runs))[:1].upper() + words[1:] for entry in entries]
    return ". ".join(said) + "."


def _balloons(views: DiagonalViews, places: dict[str, Point]) -> Iterator[Balloon]:
    design, said, offset = views.measures.design, views.said, views.offset
    (x, y), depth = places["side"], (said.thickness or 0.0) * 1.4142
    glass = views.at(depth / 2 - offset - said.minor_axis / 4, -offset - said.minor_axis / 4)
    yield from (Balloon(ref, (x + glass[0], y + glass[1])) for ref in refs(design, "diagonal"))
    if said.holder_diameter:
        holder = views.at(depth + said.holder_diameter / 4 - offset, -offset - said.holder_diameter / 4)
        yield from (Balloon(ref, (x + holder[0], y + holder[1])) for ref in refs(design, "holder"))
    if views.vane_angles and views.opening:
        last = views.vane_angles[-1]
        vane = views.polar((views.opening.radius_mm + views.vane_start(last)) / 2, last)
        yield from (Balloon(ref, vane) for ref in refs(design, "vane"))
    if views.spider and views.spider.hub:
        # Beside the axis, where the centre lines cross.
        beside = 0.4 * views.hub_radius * views.scale
        yield from (Balloon(ref, (-beside, beside)) for ref in refs(design, "hub"))


SHEET = SheetKind(
    "diagonal-spider", "Diagonal and spider", "Assembly drawing",
    "What stands in the light, seen from the sky with the focuser’s side up; the diagonal at 45° with its offsets; its "
    "face with the point where the optical axis meets it; a hub with the place of the holder’s hole in it.",
    make)
