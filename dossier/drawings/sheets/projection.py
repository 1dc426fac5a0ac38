"""The symbol of first-angle projection (ISO 5456-2): a truncated cone, and on its right the view from the left."""

from __future__ import annotations

from dossier.drawings.scene import CENTRE, OUTLINE, Circle, Group, Pen, Point, Polyline


def first_angle(middle: Point) -> Group:
    """The symbol about its middle. The cone's small end is on the left, away from the circles."""
    (x, y), large, small = middle, 2.6, 1.3
    left, right, circles = x - 6.9, x - 2.1, x + 4.0
    cone = Polyline(((left, y - small), (right, y - large), (right, y + large), (left, y + small)), Pen(OUTLINE),
                    closed=True, data={"part": "cone"})
    axes = (((left - 0.8, y), (right + 0.8, y)), ((circles - large - 0.8, y), (circles + large + 0.8, y)),
            ((circles, y - large - 0.8), (circles, y + large + 0.8)))
    return Group((cone, Circle((circles, y), large, Pen(OUTLINE), data={"part": "large-end"}),
                  Circle((circles, y), small, Pen(OUTLINE), data={"part": "small-end"}),
                  *(Polyline(axis, Pen(CENTRE), data={"part": "symbol-axis"}) for axis in axes)),
                 {"projection": "first-angle"}, "First-angle projection")
