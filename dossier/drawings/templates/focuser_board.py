"""The hole of a focuser's board, with the lines it is lined up by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template
from dossier.drawings.templates.wording import DIAMETER, length, lettered

if TYPE_CHECKING:
    from dossier.design.model import Design


def make(design: Design) -> Iterator[Template]:
    """The board's hole at full size; none for a tube, whose wrap has it, or where the hole is not said."""
    build, hole = design.build, design.build.focuser.hole
    if hole is None or build.frame is None or build.frame.kind == "tube":
        return
    reach = hole / 2 + 22.0
    tip = (0.0, reach + 3.0)
    items: list[Item] = [
        Disc("cut", (0.0, 0.0), hole / 2, "hole"),
        Outline("mark", ((0.0, -reach), (0.0, reach)), False, "optical axis"),
        Outline("mark", ((-reach, 0.0), (reach, 0.0)), False, "across"),
        Outline("mark", (tip, (-1.5, tip[1] - 4.5), (1.5, tip[1] - 4.5)), name="towards the sky"),
        Label((3.0, tip[1] - 4.2), (Words("sky"),)),
        Label((2.0, hole / 2 + 3.0), (lettered(design, hole, "focuser.hole"),)),
    ]
    if build.focuser.bore and build.focuser.bore < hole:
        items.append(Disc("mark", (0.0, 0.0), build.focuser.bore / 2, "clear bore"))
    station = length(design, design.results["focuser.station"].number, "focuser.station")
    yield Template(
        "focuser-board", "Hole of the focuser board",
        "Stuck on the board, it shows the hole for the drawtube and how the board lies to the optical axis.",
        tuple(items),
        f"Hole of {length(design, hole)} over the optical axis, {station} from the mirror.",
        (f"The line with the arrow lies over the optical axis, arrow to the sky; the hole, {DIAMETER}"
         f"{length(design, hole)}, stands {station} from the middle of the mirror’s face. The outer face of the board "
         f"stands {length(design, build.focuser.mounting_radius)} from the axis.",
         "The focuser’s own screws are not known here: mark them from its foot. Clamp the board; a hole saw that binds "
         "turns the work. Wear eye protection."))
