"""Where supports, springs and clips stand behind the mirror."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.drawings.arrangement import Ring, arrangement_from
from dossier.drawings.scene import Box, Point, Words
from dossier.drawings.templates.model import Disc, Item, Label, Outline, Template, around, cross
from dossier.drawings.templates.wording import DIAMETER, length

if TYPE_CHECKING:
    from dossier.design.model import Design

_ARM, _LETTER = 3.5, 2.5
# Where a letter may stand from its mark, the nearest first: its lower left corner.
_BESIDE = tuple((across, up) for off in (1.0, 4.0, 8.0) for across in (_ARM + off, -_ARM - off - _LETTER)
                for up in (-1.3, 1.8, -4.3, 3.2, -5.7))


def make(design: Design) -> Iterator[Template]:
    """The plan of the cell at full size; none where the spec says neither supports nor pushes nor clips."""
    a = arrangement_from(design)
    rings = list(_rings(design, a.pushes, a.clips))
    if not rings:
        return
    items: list[Item] = [Disc("mark", (0.0, 0.0), a.blank_diameter / 2, "blank"),
                         *cross((0.0, 0.0), 6.0, "optical axis")]
    circles = [a.blank_diameter / 2, *(ring.radius for _, ring in rings)]
    placed = [[around(ring.turned_deg + 360 * index / ring.count, ring.radius) for index in range(ring.count)]
              for _, ring in rings]
    coils = list(_coils(design, a.pushes))
    taken = [Box(x, y, x, y).grown(_ARM) for points in placed for x, y in points]
    taken += [Box(*coil.centre, *coil.centre).grown(coil.radius) for coil in coils]
    for (name, ring), points in zip(rings, placed, strict=True):
        if ring.radius:
            items.append(Disc("mark", (0.0, 0.0), ring.radius, f"circle of {name}s"))
        for centre in points:
            items += [Disc("mark", centre, 2.0, name), *cross(centre, _ARM, f"{name} centre")]
            label = _label(name[0].upper(), centre, circles, taken)
            taken.append(_box(label))
            items.append(label)
    items += coils
    items += _focuser_side(a.blank_diameter / 2)
    said = "; ".join(f"{_letter(name)} {ring.count} {name}s on {DIAMETER}{length(design, 2 * ring.radius)}"
                     for name, ring in rings)
    yield Template(
        "cell-plate", "Plan of the mirror cell",
        "Laid on the plate behind the mirror, it shows where each support, spring and clip stands.",
        tuple(items),
        f"Circles around the optical axis, seen from the sky: {said}. Blank {length(design, a.blank_diameter)}.",
        (f"Seen from the sky, the focuser’s side up, angles clockwise. {said}. The outer circle is the blank, "
         f"{DIAMETER}{length(design, a.blank_diameter)}.",
         "Prick the centres through the paper. Which drill each takes is told by the screws you have.",
         "Support points are counted from the focuser’s side; the whole may be turned so that screws clear the legs of "
         "the cell, all of it together."))


def _rings(design: Design, pushes: Ring | None, clips: Ring | None) -> Iterator[tuple[str, Ring]]:
    from dossier.design.pictures.levers import support_rings

    for count, radius, first_deg in support_rings(design):
        yield "support", Ring(count, radius, first_deg)
    if pushes:
        yield "push", pushes
    if clips:
        yield "clip", clips


def _letter(name: str) -> str:
    return f"{name[0].upper()}:"


def _label(letter: str, centre: Point, circles: Sequence[float], taken: list[Box]) -> Label:
    """The letter beside its mark, where no circle and no other mark runs through it if there is such a place."""
    made = [Label((centre[0] + across, centre[1] + up), (Words(letter),)) for across, up in _BESIDE]
    free = [label for label in made if not any(_box(label).meets(other) for other in taken)]
    clear = [label for label in free if not any(_struck(_box(label), radius) for radius in circles)]
    return (clear or free or made)[0]


def _box(label: Label) -> Box:
    (x, y), gap = label.at, 0.5
    return Box(x - gap, y - gap, x + _LETTER + gap, y + _LETTER + gap)


def _struck(box: Box, radius: float) -> bool:
    """Whether a circle about the axis runs through a box."""
    across, up = (max(low, -high, 0.0) for low, high in ((box.left, box.right), (box.top, box.bottom)))
    corners = [math.hypot(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    return math.hypot(across, up) < radius < max(corners)


def _coils(design: Design, pushes: Ring | None) -> Iterator[Disc]:
    """The outside of each spring, where the spec says what it is wound from."""
    push = design.build.cell.push if design.build.cell else None
    spring = push.spring if push else None
    if pushes is None or spring is None or not spring.mean_diameter or not spring.wire or (spring.count or 1) > 1:
        return
    for index in range(pushes.count):
        centre = around(pushes.turned_deg + 360 * index / pushes.count, pushes.radius)
        yield Disc("mark", centre, (spring.mean_diameter + spring.wire) / 2, "spring")


def _focuser_side(radius: float) -> tuple[Item, ...]:
    tip = (0.0, radius + 15.0)
    arrow = Outline("mark", (tip, (-1.5, tip[1] - 4.5), (1.5, tip[1] - 4.5)), name="focuser's side")
    return (arrow, Label((3.0, tip[1] - 4.0), (Words("focuser’s side"),)))
