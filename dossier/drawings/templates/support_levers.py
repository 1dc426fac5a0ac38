"""The bars and triangles under a mirror of six, nine or eighteen points."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.design.pictures.levers import Lever, levers_of
from dossier.drawings.scene import Words
from dossier.drawings.templates.model import Item, Label, Outline, Template, cross, rounded_hull
from dossier.drawings.templates.serving import served
from dossier.drawings.templates.wording import length

if TYPE_CHECKING:
    from dossier.design.model import Design

MARGIN = 10.0
_NUMBERS = {2: "two", 3: "three", 6: "six"}


def make(design: Design) -> Iterator[Template]:
    """One template for each kind of lever; none for three points."""
    for lever in levers_of(design):
        yield _template(design, lever)


def _template(design: Design, lever: Lever) -> Template:
    items: list[Item] = [Outline("cut", rounded_hull(lever.ends, MARGIN), name=lever.kind)]
    for point in lever.ends:
        items += cross(point, 3.5, "support centre")
    items += cross((0.0, 0.0), 5.0, "pivot centre")
    low = min(y for _, y in lever.ends) - MARGIN
    items += [Label((1.8, 1.8), (Words("pivot"),)),
              Label((0.0, low - 4.5), (Words("towards the optical axis"),), "middle")]
    count = _NUMBERS.get(lever.count, str(lever.count))
    what = "a support" if lever.carries == "supports" else "the pivot of a triangle"
    apart = length(design, abs(lever.ends[-1][0] - lever.ends[-2][0]))
    depth = max(y for _, y in lever.ends) - min(y for _, y in lever.ends)
    sizes = f"{apart} apart" + (f", the inner one {length(design, depth)} from the line between them"
                                if lever.kind == "triangle" else "")
    inner = ", the inner support towards it" if lever.kind == "triangle" else ""
    return Template(
        f"support-{lever.kind}", f"Support {lever.kind}",
        f"{count.capitalize()} of these share the mirror’s weight equally among its points.",
        tuple(items),
        f"A {lever.kind} with {what} at each corner, {sizes}; pivot {length(design, lever.pivot_mm)} from the optical "
        "axis.",
        (f"{count.capitalize()} alike. At each mark stands {what}: {sizes}. The pivot stands "
         f"{length(design, lever.pivot_mm)} from the optical axis{inner}.",
         f"Only the marks count. The outline, {length(design, MARGIN)} around them, is a proposal. Let the pivot rock "
         "freely: a stiff one shares nothing out."),
        served(design, "lever"))
