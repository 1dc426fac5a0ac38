"""What the general tolerances of a title block mean, for whoever has not the standard at hand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING

from dossier.drawings.figures.measures import Runs
from dossier.drawings.scene import Group, Shape, Words

if TYPE_CHECKING:
    from dossier.design.model import Design

# ISO 2768-1:1989, table 1, linear dimensions (recalled): up to and including so many mm, plus and minus so many mm. The
# last row is left out: nothing that is built from these sheets is longer than 2 m.
UP_TO_MM = (3, 6, 30, 120, 400, 1000, 2000)
CLASSES = MappingProxyType({
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0),
    # The coarsest class has no tolerance below 3 mm.
    "v": (None, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0),
})
_NAMED = re.compile(r"ISO 2768(?:-1)?[- ]([fmcv])")


def general_tolerances_note(design: Design, shapes: Iterable[Shape]) -> Iterator[Runs]:
    """The class's numbers, on a sheet with dimensions, where the author names a class of ISO 2768-1."""
    said = _NAMED.match(design.build.about.general_tolerances or "")
    if said and _measured(shapes):
        rows = [f"±{size:g} to {limit}" for limit, size in zip(UP_TO_MM, CLASSES[said[1]], strict=True) if size]
        yield (Words(f"{said[0]} allows, in mm: {', '.join(rows)}.", key="about.general_tolerances"),)


def _measured(shapes: Iterable[Shape]) -> bool:
    return any(isinstance(each, Group) and ("dimension" in each.data or _measured(each.members)) for each in shapes)
