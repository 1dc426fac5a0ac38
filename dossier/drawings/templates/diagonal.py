"""The diagonal's ellipse for its holder, and where the optical axis goes through either when it is offset."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template, cross, ellipse
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import length

if TYPE_CHECKING:
    from dossier.design.model import Design

# Between the two views: so much glass to glass, and so much middle to middle for their words.
_GAP, _APART = 10.0, 48.0
# Marks nearer than this to each other cannot be told apart by eye on paper.
_TOLD_APART = 0.05


def make(design: Design) -> Iterator[Template]:
    """The 45° face at full size and, beside it, the holder as seen along the tube."""
    minor, major = design.build.diagonal.minor_axis, design.results["diagonal.major_axis"].number
    offset, on_face = (design.results[name].number for name in ("diagonal.offset", "diagonal.face_offset"))
    holder = design.build.diagonal.holder_diameter or minor
    aside = max((minor + holder) / 2 + _GAP, _APART)
    items: list[Item] = [
        Outline("cut", ellipse((0.0, 0.0), minor / 2, major / 2), name="face"),
        Outline("mark", ((-minor / 2 - 4, 0.0), (minor / 2 + 4, 0.0)), False, "minor axis"),
        Outline("mark", ((0.0, -major / 2 - 4), (0.0, major / 2 + 4)), False, "major axis"),
        *_axis_mark((0.0, on_face), on_face, "optical axis on the face"),
        Label((0.0, major / 2 + 6.0), (Words("focuser and sky end"),), "middle"),
        Label((0.0, -major / 2 - 9.0), (Words("face, at 45°"),), "middle"),
        Disc("mark", (aside, 0.0), holder / 2, "holder"),
        *cross((aside, 0.0), holder / 2 + 4, "holder centre"),
        *_axis_mark((aside, offset), offset, "optical axis on the back"),
        Label((aside, major / 2 + 6.0), (Words("focuser’s side"),), "middle"),
        Label((aside, -major / 2 - 9.0), (Words("holder, from the sky"),), "middle"),
    ]
    far, near = length(design, on_face), length(design, offset)
    told = offset > _TOLD_APART
    yield Template(
        "diagonal", "Diagonal and its holder",
        "Glued on a holder’s sloping face or laid on a blank, it shows outline, middle and offset of the diagonal.",
        tuple(items),
        f"Ellipse {length(design, minor)} by {length(design, major)}; the optical axis meets the face {far} from its "
        f"middle towards the focuser and the sky, and the holder’s back {near} from its middle.",
        ((f"Ringed cross: the optical axis. It meets the face {far} from the middle, towards the end nearer to the "
          f"focuser and the sky; seen from the sky it stands {near} from the holder’s middle, towards the focuser. So "
          "the diagonal lies that much away from the focuser and towards the primary."
          if told else "No offset: the optical axis goes through the middle of both."),
         "Never mark or scribe the coated face: mark the paper, and the back of the glass.",
         "Only the ellipse is cut. The glass is bought to size; measure yours."),
        served(design, "diagonal", "holder", thick={"diagonal": design.build.diagonal.thickness}))


def _axis_mark(at: tuple[float, float], offset: float, name: str) -> tuple[Item, ...]:
    """A small ring over a cross, at the optical axis; with no offset the middle's own cross is enough."""
    if offset <= _TOLD_APART:
        return ()
    return Disc("engrave", at, 1.2, name), *cross(at, 2.0, f"{name}, centre", "engrave")
