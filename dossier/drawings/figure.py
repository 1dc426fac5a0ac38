"""What stands on a sheet of the drawing set, and what a diagram on a page is made of: one figure in one medium.

A figure is drawn twice from the same numbers: on paper at a preferred scale, inside the frame of its sheet, and for a
phone at whatever scale fills the width, with fewer dimensions where there is no room for all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from dossier.drawings.scene import Box, Medium, Point, Shape, Words

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True, slots=True)
class Balloon:
    """A part that the figure shows: its reference in the parts list, and the point its leader ends on.

    ``also`` are other points of the same part, for where no leader reaches the first. Where a leader leads from there
    to words already, ``after`` is where these end, and the balloon stands behind them.
    """

    ref: str
    at: Point
    after: Point | None = None
    also: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """One or more views of a thing, as shapes of a medium around an origin of their own.

    ``box`` holds everything drawn, lettering too. ``description`` is the text alternative: what is shown, with its
    numbers. ``notes`` are sentences for the field of notes, such as what has no room on a dimension line.
    """

    name: str
    description: str
    shapes: tuple[Shape, ...]
    box: Box
    balloons: tuple[Balloon, ...] = ()
    notes: tuple[tuple[Words, ...], ...] = ()


class Maker(Protocol):
    """Draws the figure of a design with ``scale`` units of the medium to a millimetre, about ``width`` units wide.

    None where the spec does not give the data.
    """

    def __call__(self, design: Design, medium: Medium, scale: float, width: float) -> Figure | None: ...


@dataclass(frozen=True, slots=True)
class SheetKind:
    """A sheet that the program can draw: its file's name, title, type of document (ISO 7200), and what to see in it."""

    key: str
    title: str
    document_type: str
    caption: str
    make: Maker
