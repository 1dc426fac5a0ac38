"""The figures of a drawing set as diagrams for a page: as on their sheets, and redrawn for a phone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.figure import Figure, SheetKind
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import boxes, in_known_signs
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Box, Group, Scene, around
from dossier.drawings.sheets.balloons import placed
from dossier.drawings.sheets.compose import Sheet

if TYPE_CHECKING:
    from dossier.design.model import Design

PHONE = 328.0
_MARGIN = 1.0
# A phone shows so many pixels of a figure at once, or so much more than it takes when it is small. Its scale is found
# to a few parts in a hundred. Lettering is legible from so many pixels.
_TALLEST, _TALLER, _NEAR, _LEGIBLE = 640.0, 1.2, 0.04, 11.0
_SMALLEST, _GROWN, _LARGEST = 0.02, 0.08, 40.0
# Above and below a figure balloons may have so many pixels, the fewest first.
_BEYOND = (0.0, 40.0, 80.0)


@dataclass(frozen=True, slots=True)
class Diagram:
    """A sheet's figure with its balloons at the sheet's scale, in mm, and both for a phone, as wide as its screen
    leaves."""

    sheet: Sheet
    wide: Scene
    notes: tuple[Runs, ...]
    upright: Scene
    upright_notes: tuple[Runs, ...]


def diagram(design: Design, sheet: Sheet) -> Diagram:
    """The diagram of a sheet."""
    figure, kind = sheet.figure, sheet.kind
    shapes = (*figure.shapes, Group(sheet.balloons, {"part": "balloons"}))
    box = around((figure.box, *boxes(sheet.balloons, ON_PAPER))).grown(_MARGIN)
    wide = Scene(f"diagram-{kind.key}", _title(design, kind), figure.description, ON_PAPER, box,
                 tuple(in_known_signs(shapes)), {"scale": f"{sheet.scale:.9g}", "form": "wide"})
    scale, small = _for_a_phone(design, kind)
    screen, circles = _ballooned(small)
    shapes = (*small.shapes, Group(circles, {"part": "balloons"}))
    upright = Scene(f"diagram-{kind.key}-upright", _title(design, kind), small.description, ON_PHONE, screen,
                    tuple(in_known_signs(shapes)), {"scale": f"{scale:.9g}", "form": "upright"})
    return Diagram(sheet, wide, figure.notes, upright, small.notes)


def _title(design: Design, kind: SheetKind) -> str:
    return f"{kind.title}, {design.build.about.name}"


def _ballooned(figure: Figure) -> tuple[Box, tuple[Group, ...]]:
    """The figure's balloons on a phone, on bare paper of the screen or else above and below the figure, and the box of
    it all, no narrower than a screen."""
    box = figure.box
    middle, half = (box.left + box.right) / 2, max(PHONE, box.right - box.left) / 2
    screen = Box(middle - half, box.top, middle + half, box.bottom)
    for beyond in _BEYOND:
        frame = Box(screen.left + _MARGIN, box.top - beyond, screen.right - _MARGIN, box.bottom + beyond)
        found = placed(figure.balloons, frame, figure.shapes, ON_PHONE)
        if not found.left_out:
            break
    return around((screen, *(each.grown(_MARGIN) for each in boxes(found.shapes, ON_PHONE)))), found.shapes


def _for_a_phone(design: Design, kind: SheetKind) -> tuple[float, Figure]:
    """The figure at about the largest scale at which a phone has room for it, and that scale.

    Lists take the whole width at any scale, so a figure's width does not tell how far its scale may grow: that is found
    by halves.
    """

    def at(scale: float) -> Figure:
        figure = kind.make(design, ON_PHONE, scale, PHONE)
        assert figure is not None, "there is a sheet of it"
        return figure

    least = at(_SMALLEST)
    tallest = max(_TALLEST, _TALLER * (least.box.bottom - least.box.top))
    # Where the words beside a thing leave it no room to grow, all is shown as small as lettering may be.
    grown = at(_GROWN).box
    crowded = grown.right - grown.left > PHONE
    widest = PHONE * ON_PHONE.lettering / _LEGIBLE if crowded else PHONE
    scale, low, high, fitting = 1.0, _SMALLEST, math.inf, least
    while high > (1 + _NEAR) * low and scale < _LARGEST:
        figure = at(scale)
        box = figure.box
        if box.right - box.left <= widest and box.bottom - box.top <= tallest:
            low, fitting = scale, figure
        else:
            high = scale
        scale = math.sqrt(low * high) if math.isfinite(high) else 2 * low
    return low, fitting
