"""The symbol of projection (ISO 5456-2): a truncated cone and the two circles that are seen from its small end.

In first-angle projection that view stands beyond the large end, in third-angle projection before the small one.
"""

from __future__ import annotations

from dossier.drawings.projection import Projection
from dossier.drawings.scene import CENTRE, OUTLINE, Circle, Group, Pen, Point, Polyline

# Sheets of which the views stand as the author's projection has them: they follow it, or there is no second view that
# it could place, or every view is named by where it is seen from and may stand anywhere (diagonal and spider). Any
# other is drawn in first angle, and its symbol says so.
FOLLOWING = frozenset({"diagonal-spider", "exploded-view", "frame-members", "general-arrangement", "mirror-blank",
                       "mirror-cell", "optical-layout", "pivot-and-balance", "upper-end"})


def drawn_in(key: str, wanted: Projection) -> Projection:
    """The projection that a sheet is drawn in."""
    return wanted if key in FOLLOWING else "first"


def symbol(middle: Point, projection: Projection) -> Group:
    """The symbol about its middle. The cone's small end is on the left; the circles stand on its right in first-angle
    projection, on its left in third-angle projection."""
    (x, y), large, small = middle, 2.6, 1.3
    left, circles = (x - 6.9, x + 4.0) if projection == "first" else (x + 2.1, x - 4.0)
    right = left + 4.8
    cone = Polyline(((left, y - small), (right, y - large), (right, y + large), (left, y + small)), Pen(OUTLINE),
                    closed=True, data={"part": "cone"})
    axes = (((left - 0.8, y), (right + 0.8, y)), ((circles - large - 0.8, y), (circles + large + 0.8, y)),
            ((circles, y - large - 0.8), (circles, y + large + 0.8)))
    return Group((cone, Circle((circles, y), large, Pen(OUTLINE), data={"part": "large-end"}),
                  Circle((circles, y), small, Pen(OUTLINE), data={"part": "small-end"}),
                  *(Polyline(axis, Pen(CENTRE), data={"part": "symbol-axis"}) for axis in axes)),
                 {"projection": f"{projection}-angle"}, f"{projection.capitalize()}-angle projection")
