"""The sheets of the drawing set, in the order in which they are numbered.

``SHEETS[key].make(design, medium, scale, width)`` draws what stands on a sheet; None where the spec does not give the
data, and then there is no such sheet.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from dossier.drawings.figure import SheetKind
from dossier.drawings.figures import (
    diagonal_spider,
    exploded,
    light_path,
    members,
    mirror_blank,
    mirror_cell,
    rocker,
    upper_end,
    whole,
)

_FIGURES = (whole, light_path, mirror_blank, mirror_cell, diagonal_spider, members, upper_end, rocker, exploded)

SHEETS: Mapping[str, SheetKind] = MappingProxyType({figure.SHEET.key: figure.SHEET for figure in _FIGURES})
