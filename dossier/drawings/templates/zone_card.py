"""The card for the knife-edge test at full size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.design import pictures
from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, length
from dossier.notation import show

if TYPE_CHECKING:
    from dossier.design.model import Design


def make(design: Design) -> Iterator[Template]:
    """The mask with the openings of its zones of equal area."""
    mask, readers = pictures.zone_mask_of(design), design.build.readers
    card = mask.card_mm / 2
    items: list[Item] = [
        Disc("cut", (0.0, 0.0), card, "card"),
        Outline("mark", ((-card, 0.0), (card, 0.0)), False, "level"),
        Outline("mark", ((0.0, -card), (0.0, card)), False, "upright"),
        Disc("mark", (0.0, 0.0), mask.aperture_mm / 2, "clear aperture"),
    ]
    if mask.shadow_mm:
        items.append(Disc("mark", (0.0, 0.0), mask.shadow_mm, "shadow of the diagonal"))
    for window in mask.windows:
        items += [Outline("cut", window.right, name=f"zone {window.zone}"),
                  Outline("cut", window.left, name=f"zone {window.zone}")]
        far = max(window.right, key=lambda point: abs(point[1]) / point[0])
        angle, middle = math.atan2(far[1], far[0]), (window.inner_mm + window.outer_mm) / 2
        off = math.copysign(3.4, angle)
        x, y = (middle * math.cos(angle) - abs(off) * math.sin(abs(angle)),
                middle * math.sin(angle) + off * math.cos(angle) - 1.3)
        items += [Label((side * x, y), (Words(str(window.zone)),), "middle", layer="engrave") for side in (1, -1)]
    items.append(Label((card + 2.0, -1.3), (Words("level"),)))
    radii = [show(each, "mm", readers=readers).plain for each in mask.centres_mm]
    listed = ", ".join(f"{number} at {radius}" for number, radius in enumerate(radii, start=1))
    yield Template(
        "zone-mask", "Zone mask for the knife-edge test",
        "Hung before the mirror on the bench, it shows one zone after the other.",
        tuple(items),
        f"Card of {length(design, mask.card_mm)} for a clear aperture of {length(design, mask.aperture_mm)}; zones are "
        f"read at these radii: {listed}.",
        (f"Card {DIAMETER}{length(design, mask.card_mm)}, clear aperture {DIAMETER}{length(design, mask.aperture_mm)}. "
         f"All zones have the same area. Read zone {listed}.",
         "Cut stiff, dull black card or thin ply. The edges of neighbouring openings lie on one circle: cut them to "
         "the line. Hang it clear of the glass, its middle over the mirror’s, the line “level” level, numbers to the "
         "knife: each zone is judged left against right.",
         "Cut with a fresh blade along a steel edge, away from the hand."),
        served(design, "primary"), tool=True)
