"""A disc that finds the middle of the primary, and the ring that marks it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Disc, Item, Label, Template, cross
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import DIAMETER, length

if TYPE_CHECKING:
    from dossier.design.model import Design

RING = (12.0, 6.0)
_LARGEST_SHARE = 0.6


def make(design: Design) -> Iterator[Template]:
    """The disc as wide as the blank, with a hole for the ring, and the ring itself in the hole; none where the spec
    does not say how wide the blank is."""
    blank, shadow = design.build.primary.blank_diameter, design.results["diagonal.obstruction_diameter"].number
    if blank is None:
        return
    share = min(1.0, _LARGEST_SHARE * shadow / RING[0])
    outer, inner = (share * each for each in RING)
    items: list[Item] = [
        Disc("cut", (0.0, 0.0), blank / 2, "disc"), Disc("cut", (0.0, 0.0), outer / 2, "ring, outside"),
        Disc("cut", (0.0, 0.0), inner / 2, "ring, inside"),
        *cross((0.0, 0.0), inner / 4, "middle"), Disc("mark", (0.0, 0.0), shadow / 2, "shadow of the diagonal"),
        Label((0.0, -shadow / 2 - 5.0), (Words("shadow of the diagonal"),), "middle"),
        Label((0.0, blank / 2 + 2.0), (Words("on the coated face"),), "middle"),
    ]
    yield Template(
        "primary-centre", "Centre of the primary",
        "Laid on the mirror it finds its middle; the ring stays there and is what collimation aims at.",
        tuple(items),
        f"Disc of {length(design, blank)} with a ring of {length(design, outer)} outside and {length(design, inner)} "
        f"inside, within the diagonal’s shadow of {length(design, shadow)}.",
        (f"The disc is as wide as the blank, {DIAMETER}{length(design, blank)}: check that it is flush all around. Cut "
         f"out ring and disc, lay the disc on, stick the ring, {DIAMETER}{length(design, outer)}, into its hole, and "
         "lift the disc off.",
         f"The ring costs no light: it lies in the diagonal’s shadow, {DIAMETER}{length(design, shadow)}. Its size is "
         "common practice; no source.",
         "The paper touches the coating. Blow off all dust first, lay it down once and do not slide it. Glass is heavy "
         "and its edge may chip: work low, over a cloth."),
        served(design, "primary"), tool=True)
