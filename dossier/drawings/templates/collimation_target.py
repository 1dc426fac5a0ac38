"""A disc for the drawtube: a hole in its middle to look or to shine through, and the ring within which all is well."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Disc, Item, Label, Template, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, length
from dossier.notation import show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

HOLE = 2.0
_STEP = 5.0


def make(design: Design) -> Iterator[Template]:
    """The disc as wide as the drawtube's bore; none where the bore is not said."""
    bore, shift = design.build.focuser.bore, design.results.get("collimation.return_shift")
    if bore is None or shift is None:
        return
    radius, allowed = bore / 2, shift.number
    items: list[Item] = [Disc("cut", (0.0, 0.0), radius, "disc"), Disc("cut", (0.0, 0.0), HOLE / 2, "hole")]
    items += cross((0.0, 0.0), radius - 0.5, "middle", "engrave")
    rings = [_STEP * number for number in range(1, math.ceil(radius / _STEP)) if _STEP * number < radius - 0.5]
    items += [Disc("engrave", (0.0, 0.0), ring, "ring") for ring in rings]
    drawn = HOLE / 2 + 0.4 < allowed < radius - 0.4
    if drawn:
        items.append(Disc("mark", (0.0, 0.0), allowed, "tolerance"))
    shown = show_result(shift, design.build.readers).plain
    items += [Label((radius + 3.0, -1.3), (Words(f"{DIAMETER}{length(design, bore)}", key="focuser.bore"),)),
              Label((0.0, radius + 2.0), (Words("this face to the diagonal"),), "middle")]
    told = (f"The broken ring, {shown} from the middle, is how far a laser’s return may stand off" if drawn else
            f"A laser’s return may stand {shown} off the middle" + (", within the hole" if allowed < radius else
                                                                    ", beyond the disc"))
    yield Template(
        "collimation-target", "Collimation target",
        "Set square in the drawtube’s inner end, a laser or an eye behind its hole, it shows how far the primary is "
        "out of true.",
        tuple(items),
        f"Disc of {length(design, bore)} with a hole of {length(design, HOLE)}; engraved rings every "
        f"{length(design, _STEP)}; the return may stand {shown} off.",
        (f"{told} before the image of a star loses a twentieth of its Strehl ratio. Engraved rings stand "
         f"{length(design, _STEP)} apart.",
         f"Cut it to slide into the drawtube, bore {DIAMETER}{length(design, bore)}, and prick the hole, "
         f"{DIAMETER}{length(design, HOLE)}, exactly in the middle: turn the disc, the image must stand still.",
         "With a laser: class 2 after IEC 60825-1, below 1 mW. Never look into the beam or its return; look at the "
         "target from the side. Cover the telescope’s front against the Sun."),
        served(design, "focuser"), tool=True)
