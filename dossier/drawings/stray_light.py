"""Stray light: the worst ways by which the judged field sees something else than the mirror, and what shuts them.

The telescope stands as in the general arrangement. A line of sight runs from the focal plane outwards; what has to be
dark is a wide line, hatched on the side from which light would come.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.design import pictures
from dossier.drawings import scales
from dossier.drawings.arrangement import Arrangement, arrangement_from
from dossier.drawings.arrangement_marks import axes, focal_plane, light_start, scale_bar
from dossier.drawings.arrangement_parts import parts, top_height
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, box_of_text, boxes
from dossier.drawings.palette import Palette
from dossier.drawings.room import Room
from dossier.drawings.scene import (
    ON_PAPER,
    ON_PHONE,
    OUTLINE,
    THIN,
    Box,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Scene,
    Segments,
    Shape,
    Text,
    View,
    Wash,
    Words,
    around,
    hatching,
    leaves,
)
from dossier.drawings.svg import render
from dossier.drawings.wrapping import wrapped
from dossier.notation import Readers, show

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.design.pictures import Sight, StraySights

_PHONE_WIDTH, _MARGIN, _TALLEST = 328.0, 4.0, 560.0
_STRIP, _HATCH = 0.7, 0.42


@dataclass(frozen=True, slots=True)
class Path:
    """One worst line of sight: its letter, its corners as (station, height), what it sees, what shuts it.

    ``inside`` tells that it ends on the inside of a tube.
    """

    letter: str
    past: str
    is_open: bool
    inside: bool
    corners: tuple[Point, ...]
    sees: str
    shut: str


def draw(design: Design, *, form: Form = "wide", palette: Palette, width_mm: float = 180.0,
         height_mm: float = 160.0) -> str | None:
    """The drawing as SVG text, at a preferred scale that fits; for a phone 328 px wide. None where bore or drawtube
    are not given."""
    made = scene(design, form, width_mm, height_mm)
    return render(made, palette) if made else None


def scene(design: Design, form: Form, width_mm: float = 180.0, height_mm: float = 160.0) -> Scene | None:
    """The drawing, or None where nothing can be said."""
    sights = pictures.stray_sights(design)
    if sights is None:
        return None
    arrangement, readers = arrangement_from(design), design.build.readers
    known = paths(sights, arrangement, readers)
    if form == "upright":
        return _upright(arrangement, sights, known)
    for reduction in scales.REDUCTIONS:
        made = _wide(arrangement, sights, known, reduction, width_mm)
        if made.box.right - made.box.left <= width_mm + 1e-6 and made.box.bottom - made.box.top <= height_mm:
            break
    return made


def caption() -> str:
    """What to see in it."""
    return ("The worst lines of sight from the edge of the judged field: whatever they end on shines into the eye. "
            "Blacken or close what is hatched, and nothing but the mirror is left to be seen.")


def description(design: Design) -> str:
    """The paths in words, with what shuts each; empty where nothing can be said."""
    sights = pictures.stray_sights(design)
    if sights is None:
        return ""
    return " ".join(_sentence(path) for path in paths(sights, arrangement_from(design), design.build.readers))


def paths(sights: StraySights, a: Arrangement, readers: Readers) -> tuple[Path, ...]:
    """The paths that this telescope has, lettered in order."""

    def mm(length: float) -> str:
        return show(length, "mm", readers=readers).plain

    half, ring = mm(sights.shield_half_mm), mm(sights.ring_mm)
    wall = "the tube’s wall, which must be black there" if sights.closed_tube else "what stands opposite the focuser"
    told = [("diagonal", sights.across, wall,
             f"black the wall {half} each way along the tube from the focuser’s axis, and each way round"
             if sights.closed_tube else
             f"a black shield opposite the focuser, {half} each way along the tube from its axis and each way across")]
    if sights.front and sights.front_beyond_mm is not None:
        missing = max(0.0, sights.shield_half_mm - sights.front_beyond_mm)
        stop = sights.front.shut_by_mm
        # A narrower drawtube would shade the field that it is to keep dark.
        other = f", or stop the drawtube’s end down to {mm(stop)}" if stop >= sights.least_bore_mm else ""
        told.append(("front", sights.front, "sky past the edge of the sky end",
                     f"carry the tube or shield {mm(missing)} beyond the front{other}"))
    reach = f"{mm(a.sagitta + sights.shroud_mm)} from the mirror’s vertex" if sights.shroud_mm else ""
    if sights.closed_tube:
        told.append(("rim", sights.rim, f"the tube’s inside up to {reach}, and the gap beside the mirror",
                     "black the inside that far, and close the gap with something black"))
    else:
        told.append(("rim", sights.rim, "whatever lies beside the primary",
                     f"a black ring about the mirror, {ring} across, or a shroud on the frame up to {reach}"
                     if sights.shroud_mm else f"a black ring about the mirror, {ring} across"))
    return tuple(Path("ABC"[index], name, sight.is_open,
                      sights.closed_tube and name != "front", _corners(sights, sight), sees, shut)
                 for index, (name, sight, sees, shut) in enumerate(told))


def _corners(sights: StraySights, sight: Sight) -> tuple[Point, ...]:
    """The corners as (station, height); in a closed tube a line that stays inside ends on the tube's wall."""
    corners = tuple((z, x) for x, z in sight.corners)
    wall = sights.wall_mm
    if sight.past == "front" and corners[2][1] > corners[1][1]:
        # The sky end stands within the drawtube's own width: the line has left by it before the drawtube's end.
        return corners[:2]
    if sight.past == "front" or not sights.closed_tube or wall is None or abs(corners[-1][1]) <= wall:
        return corners
    (z0, x0), (z1, x1) = corners[-2:]
    height = wall if x1 > 0 else -wall
    return (*corners[:-1], (z0 + (height - x0) / (x1 - x0) * (z1 - z0), height))


def _sentence(path: Path) -> str:
    if path.past == "front" and not path.is_open:
        return f"{path.letter}: the sky end hides all sky from the judged field."
    if path.past == "rim" and not path.is_open:
        return f"{path.letter}: nothing beside the primary is seen."
    return f"{path.letter}: the field’s edge sees {path.sees}. Remedy: {path.shut}."


def _wide(a: Arrangement, sights: StraySights, known: tuple[Path, ...], reduction: int, width: float) -> Scene:
    view, medium = View(1 / reduction), ON_PAPER
    drawn = _drawn(a, sights, known, view, medium)
    extent = around(boxes(drawn, medium))
    left = (extent.left + extent.right - width) / 2
    footer = _footer(known, view, medium, Box(left, extent.bottom, left + width, extent.bottom), a.length_unit,
                     f"; scale {scales.written(reduction)} in print")
    bottom = around(boxes(footer, medium)).bottom
    box = Box(min(left, extent.left), extent.top - 1.5, max(left + width, extent.right), bottom + 1.5)
    data = {"scale": f"{view.scale:.9g}", "form": "wide", "reduction": str(reduction)}
    return _scene(a, known, medium, box, (*drawn, *footer), data)


def _upright(a: Arrangement, sights: StraySights, known: tuple[Path, ...]) -> Scene:
    medium, width = ON_PHONE, _PHONE_WIDTH
    rough = around(boxes(_drawn(a, sights, known, View(1.0, upright=True), medium), medium))
    room = width - 2 * _MARGIN - 2 * medium.lettering
    view = View(min(room / (rough.right - rough.left), _TALLEST / (rough.bottom - rough.top)), upright=True)
    drawn = _drawn(a, sights, known, view, medium)
    extent = around(boxes(drawn, medium))
    left = (extent.left + extent.right - width) / 2
    footer = _footer(known, view, medium, Box(left + _MARGIN, extent.bottom, left + width - _MARGIN, extent.bottom),
                     a.length_unit, "")
    bottom = around(boxes(footer, medium)).bottom
    box = Box(left, extent.top - _MARGIN, left + width, bottom + _MARGIN)
    return _scene(a, known, medium, box, (*drawn, *footer), {"scale": f"{view.scale:.9g}", "form": "upright"})


def _scene(a: Arrangement, known: tuple[Path, ...], medium: Medium, box: Box, members: tuple[Shape, ...],
           data: dict[str, str]) -> Scene:
    words = " ".join(_sentence(path) for path in known)
    return Scene(f"stray-light-{data['form']}", f"Stray light in {a.name}", words, medium, box, members, data)


def _drawn(a: Arrangement, sights: StraySights, known: tuple[Path, ...], view: View, medium: Medium) -> list[Shape]:
    start = light_start(a, view, medium)
    shapes: list[Shape] = [*parts(a, view, medium), focal_plane(a, view), axes(a, view, 0.0, start, top_height(a)),
                           *_dark(a, sights, view, medium)]
    shapes += [_line(path, view, medium) for path in known]
    return [*shapes, *_letters(known, medium, shapes)]


def _line(path: Path, view: View, medium: Medium) -> Group:
    """A line of sight, drawn on a little beyond its end, with an arrowhead towards the eye."""
    (from_z, from_x), (to_z, to_x) = path.corners[-2:]
    length = ((to_z - from_z) ** 2 + (to_x - from_x) ** 2) ** 0.5
    step = ((to_z - from_z) / length, (to_x - from_x) / length)
    beyond = (1.6 if path.is_open and not path.inside else 0.0) * medium.lettering / view.scale
    end = (to_z + step[0] * beyond, to_x + step[1] * beyond)
    corners = view.points((*path.corners[:-1], end))
    members: list[Shape] = [Polyline(corners, Pen(THIN, "accent"), data={"sight": path.past})]
    if path.is_open and not path.inside:
        members.append(_arrowhead(corners[-1], corners[-2], medium.arrow))
    return Group(tuple(members), {"path": path.letter, "open": "yes" if path.is_open else "no"})


def _arrowhead(at: Point, towards: Point, length: float) -> Polyline:
    """A filled head whose tip is so far along the line from ``at``."""
    away = ((towards[0] - at[0]) ** 2 + (towards[1] - at[1]) ** 2) ** 0.5
    along = ((towards[0] - at[0]) / away, (towards[1] - at[1]) / away)
    tip = (at[0] + along[0] * length, at[1] + along[1] * length)
    half = length / 6
    corners = (tip, (at[0] - along[1] * half, at[1] + along[0] * half), (at[0] + along[1] * half,
                                                                        at[1] - along[0] * half))
    return Polyline(corners, None, Wash("accent"), closed=True, data={"arrow": "tip"})


def _dark(a: Arrangement, sights: StraySights, view: View, medium: Medium) -> Iterator[Group]:
    """What has to be dark: the shield, the ring about the primary, the shroud on an open frame."""
    fold, half = a.focuser_station, sights.shield_half_mm
    wall = -(sights.wall_mm if sights.closed_tube and sights.wall_mm else a.mounting_radius)
    yield _strip([(fold - half, wall), (fold + half, wall)], -1.0, "shield", view, medium)
    if not sights.rim.is_open:
        return
    edge = a.blank_diameter / 2
    ring = sights.ring_mm / 2 if not sights.closed_tube or sights.wall_mm is None else min(
        sights.wall_mm, sights.ring_mm / 2)
    for side in (1, -1):
        if ring > edge:
            yield _strip([(a.sagitta, side * edge), (a.sagitta, side * ring)], -1.0, "ring", view, medium,
                         along_axis=False)
        if sights.shroud_mm and sights.wall_mm:
            height = side * sights.wall_mm
            yield _strip([(a.sagitta, height), (a.sagitta + sights.shroud_mm, height)], side, "shroud", view, medium)


def _strip(ends: list[Point], outwards: float, name: str, view: View, medium: Medium,
           along_axis: bool = True) -> Group:
    """A wide line, hatched on its outer side: across the axis, or (a ring) towards the mirror's back."""
    depth = outwards * _STRIP * medium.lettering / view.scale
    (z0, x0), (z1, x1) = ends
    far = [(z1, x1 + depth), (z0, x0 + depth)] if along_axis else [(z1 + depth, x1), (z0 + depth, x0)]
    outline = view.points([*ends, *far])
    return Group((Segments(hatching(outline, _HATCH * medium.lettering), Pen(THIN), {"dark-side": name}),
                  Polyline(view.points(ends), Pen(OUTLINE), data={"dark": name})), {"part": name})


def _letters(known: tuple[Path, ...], medium: Medium, drawn: list[Shape]) -> Iterator[Text]:
    """Each path's letter beyond its outer end or, where that is not free, beside its last leg."""
    size = medium.lettering
    room = Room(around(boxes(drawn, medium)).grown(2 * size))
    for shape in leaves(drawn):
        for line in _strokes(shape):
            room.add_line("drawn", line)
    for path in known:
        line = next(shape for group in drawn if isinstance(group, Group) and group.data.get("path") == path.letter
                    for shape in group.members if isinstance(shape, Polyline)).points
        texts = [Text((x, y + CAPITALS * size / 2), (Words(path.letter),), "middle")
                 for x, y in _beside(line[-2], line[-1], size)]
        free = (text for text in texts if room.holds(box_of_text(text, size)))
        letter = next(free, texts[0])
        room.add_box("letter", box_of_text(letter, size))
        yield letter


def _strokes(shape: Polyline | Circle | Segments | Text) -> Iterator[tuple[Point, ...]]:
    if isinstance(shape, Segments):
        yield from shape.lines
    elif isinstance(shape, Polyline):
        yield (*shape.points, shape.points[0]) if shape.closed else shape.points


def _beside(start: Point, end: Point, size: float) -> Iterator[Point]:
    """Beyond the end of a line, then beside it from the end backwards, on either side."""
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    yield (end[0] + along[0] * 0.75 * size, end[1] + along[1] * 0.75 * size)
    for share in (0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3):
        at = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        for side in (0.8, -0.8):
            yield (at[0] - along[1] * side * size, at[1] + along[0] * side * size)


def _footer(known: tuple[Path, ...], view: View, medium: Medium, room: Box, unit: str, scale: str) -> tuple[Shape, ...]:
    """The scale bar and, for each path, what it sees and what shuts it."""
    size, line = medium.lettering, line_height(medium)
    base = room.bottom + line + CAPITALS * size
    bar = scales.bar(view.scale, 0.3 * (room.right - room.left), unit)
    end = room.left + bar.length_mm * view.scale
    texts = [Text((end + 0.6 * size, base), (Words(bar.words + scale),))]
    base += 0.3 * line
    for path in known:
        for row, words in enumerate(wrapped(_sentence(path), room.right - room.left - 1.4 * size, size)):
            base += line
            texts.append(Text((room.left + (1.4 * size if row else 0.0), base), (Words(words),)))
    corner = (room.left, room.bottom + line + 0.15 * size)
    return (scale_bar(corner, bar.length_mm * view.scale, bar.steps, medium), Group(tuple(texts), {"part": "notes"}))

