"""The focusing mask: slots in three directions, whose streaks cross in one point when a star is in focus."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.design.pictures.focusing import focusing_mask_of, slots_of
from dossier.drawings.templates.model import Disc, Item, Outline, Template, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, length
from dossier.notation import show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

# The card's rim where the front of the telescope is not known, mm.
_RIM = 8.0


def make(design: Design) -> Iterator[Template]:
    """The mask, as wide as the front opening, else a little wider than the clear aperture."""
    sizes, readers, front = focusing_mask_of(design), design.build.readers, design.build.front
    aperture = design.build.primary.aperture
    opening = front.opening if front else None
    card = opening if opening and opening > aperture + 2 else aperture + 2 * _RIM
    slots = slots_of(design)
    items: list[Item] = [Disc("cut", (0.0, 0.0), card / 2, "card"), *cross((0.0, 0.0), 4.0, "middle")]
    items += [Outline("cut", slot.outline, name=f"slot, {slot.tilt_deg:+.1f}°" if slot.tilt_deg else "slot, level")
              for slot in slots]
    pitch, tilt, first, apart = (show_result(each, readers).plain
                                 for each in (sizes.pitch, sizes.tilt, sizes.first_order, sizes.apart))
    rim = "as the front opening" if card == opening else f"with {length(design, _RIM)} of rim"
    yield Template(
        "focusing-mask", "Focusing mask",
        "Set over the front of the telescope, it splits a bright star into three streaks that cross in one point when "
        "the star is in focus.",
        tuple(items),
        f"Card of {length(design, card)} with {len(slots)} slots at a pitch of {pitch}, one half of them level and the "
        f"other tilted by {tilt} to either side.",
        (f"Slots and bars are half of the pitch of {pitch} each; the outer sets are tilted by {tilt}. The first order "
         f"stands {first} from the star, the outer two {apart} apart: use a high power.",
         "In focus the middle streak halves the cross of the other two; inside and outside of focus it stands to one "
         "side or the other. It may be turned to any angle, either face out. Take it off before you look further.",
         f"Card {DIAMETER}{length(design, card)}, {rim}. Glue three tabs to its rim so that it cannot fall in. Thin "
         "ply or card, dull black.",
         "This is no solar filter: never point the telescope at the Sun with it."),
        served(design, "front"), tool=True)
