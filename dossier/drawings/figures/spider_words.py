"""What a spider's vanes are, in words: how many, how thick and how deep, or rods by their diameter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.drawings.figures.measures import DIAMETER, Measures, Runs, phrase
from dossier.drawings.scene import Words

if TYPE_CHECKING:
    from dossier.spec.model_optics import Spider


def vanes_in_words(spider: Spider, measures: Measures) -> Runs:
    """Nothing where their number is not said."""
    if not spider.vanes:
        return ()
    thick = (measures.length(spider.vane_thickness, "spider.vane_thickness"),) if spider.vane_thickness else ()
    if spider.vane_section == "rod":
        wide = (" ", DIAMETER, *thick) if thick else ()
        if spider.vanes == 2 and not spider.hub:
            return phrase(Words("one rod", key="spider.vane_section"), *wide, " from wall to wall")
        return phrase(Words(str(spider.vanes), key="spider.vanes"), " rod" if spider.vanes == 1 else " rods", *wide)
    deep = ((", ", measures.length(spider.vane_depth, "spider.vane_depth"), " deep") if spider.vane_depth else ())
    return phrase(Words(str(spider.vanes), key="spider.vanes"), " vane" if spider.vanes == 1 else " vanes",
                  *((", ", *thick, " thick") if thick else ()), *deep)
