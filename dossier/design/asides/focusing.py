"""The focusing mask's sizes, and what each eyepiece makes of its streaks."""

from __future__ import annotations

from dossier.calc.optics import focusing_mask
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.asides.looking import EASY, number
from dossier.design.asides.shows import power_of
from dossier.design.model import Design
from dossier.design.pictures.focusing import focusing_mask_of
from dossier.spec.defaults import slug
from dossier.working import Result


def mask(design: Design) -> Aside:
    """Pitch and tilt of the slots, where the first order stands, and how far apart the outer two look."""
    sizes = focusing_mask_of(design)
    entries: dict[str, Entry] = {
        "From one slot to the next": sizes.pitch, "Tilt of the outer slots": sizes.tilt,
        "Star to its first order": sizes.first_order, "The same in the focal plane": sizes.shift,
        "Outer two first orders apart": sizes.apart}
    rows = [AsideRow(name, (entry,)) for name, entry in entries.items()]
    for piece in design.build.eyepieces:
        seen = focusing_mask.outer_orders_seen_arcmin.work(
            f"focusing.{slug(piece.name)}.seen", magnification=power_of(design, piece.name),
            outer_orders_apart_arcsec=sizes.apart)
        rows.append(AsideRow(f"They look, in the {piece.name}", (seen,), _remark(seen)))
    notes = ("At best focus the streak of the straight slots halves the cross of the other two. A camera shows the "
             "same: divide the distance in the focal plane by the size of its pixel.",)
    return Aside("A focusing mask for this aperture", "Size", (AsideColumn("Mask"),), tuple(rows), notes,
                 works_by_row=True)


def _remark(seen: Result) -> str:
    """Whether the eye can tell the middle one from either outer one: half of the way between these."""
    return "Too low a power to judge by." if seen.number / 2 < number(EASY) else ""
