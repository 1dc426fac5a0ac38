"""The figures of a drawing set as diagrams for a page: as on their sheets, and redrawn for a phone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.figure import Figure, SheetKind
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import boxes, in_known_signs
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Box, Group, Scene, around
from dossier.drawings.sheets.compose import Sheet

if TYPE_CHECKING:
    from dossier.design.model import Design

PHONE = 328.0
_MARGIN = 1.0
# A figure is drawn anew until it fills a phone's width to so many pixels; never more often than this.
_NEAR, _TRIES = 3.0, 9


@dataclass(frozen=True, slots=True)
class Diagram:
    """A sheet's figure with its balloons at the sheet's scale, in mm, and the same for a phone, 328 px wide."""

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
    scale, small = _for_a_phone(design, kind, sheet.scale)
    middle = (small.box.left + small.box.right) / 2
    upright = Scene(f"diagram-{kind.key}-upright", _title(design, kind), small.description, ON_PHONE,
                    Box(middle - PHONE / 2, small.box.top, middle + PHONE / 2, small.box.bottom),
                    tuple(in_known_signs(small.shapes)), {"scale": f"{scale:.9g}", "form": "upright"})
    return Diagram(sheet, wide, figure.notes, upright, small.notes)


def _title(design: Design, kind: SheetKind) -> str:
    return f"{kind.title}, {design.build.about.name}"


def _for_a_phone(design: Design, kind: SheetKind, first: float) -> tuple[float, Figure]:
    """The figure at about the largest scale at which it is no wider than a phone, and that scale.

    A figure's width is what grows with the scale and what does not; where it steps, as words move from one place to
    another, the largest scale that has been seen to fit is taken.
    """

    def at(scale: float) -> tuple[Figure, float]:
        figure = kind.make(design, ON_PHONE, scale, PHONE)
        assert figure is not None, "there is a sheet of it"
        return figure, figure.box.right - figure.box.left

    scale, (figure, width) = first, at(first)
    best = (scale, figure) if width <= PHONE else None
    low, high = (scale, 0.0) if best else (0.0, scale)
    for _ in range(_TRIES):
        if best and PHONE - width < _NEAR and width <= PHONE:
            break
        guess = scale * PHONE / width
        scale = guess if low < guess < (high or guess + 1) else (low + high) / 2 if low and high else (
            low * 2 if low else high / 2)
        figure, width = at(scale)
        if width <= PHONE:
            low, best = scale, (scale, figure)
        else:
            high = scale
    return best or (scale, figure)
