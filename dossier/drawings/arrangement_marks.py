"""What a general arrangement marks besides parts: axes, planes, the balance point, what its figures say."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from dossier.drawings.arrangement import RESULTS, Arrangement
from dossier.drawings.arrangement_parts import holder_end
from dossier.drawings.scene import (
    CENTRE,
    OUTLINE,
    THIN,
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Polyline,
    Segments,
    Shape,
    View,
    Wash,
    Words,
)
from dossier.notation.digits import MINUS


def figure(a: Arrangement, key: str) -> Words:
    """The figure of a result or, where it is not one, of a key of the spec."""
    return Words(a.figures[key], key="" if key in RESULTS else key, result=key if key in RESULTS else "")


def phrase(a: Arrangement, *pieces: str) -> tuple[Words, ...]:
    """A phrase in which a piece that is a known result or key is shown as its figure."""
    return tuple(figure(a, piece) if piece in a.figures else Words(piece) for piece in pieces)


def light_start(a: Arrangement, view: View, medium: Medium) -> float:
    """Station where the light begins to be drawn: a little beyond all that stands in its way."""
    return furthest(a) + 1.5 * medium.lettering / view.scale


def furthest(a: Arrangement) -> float:
    """Station of what stands furthest towards the sky."""
    return max(a.front_station or 0.0, a.frame.upper_station if a.frame else 0.0, holder_end(a))


def length_key(a: Arrangement) -> str:
    """The result that is the frame's length."""
    return "frame.tube_length" if a.frame and a.frame.kind == "tube" else "frame.pole_length"


def members_in_words(a: Arrangement, length_key: str) -> tuple[Words, ...]:
    """Tube, poles or truss with count, diameters and length."""
    if a.frame is None:
        return ()
    kind = {"tube": "tube", "poles": f"{a.frame.count} poles", "truss": f"truss of {a.frame.count} poles"}[a.frame.kind]
    inner = (" ×\u202f", "frame.inner_diameter") if a.frame.inner_diameter else ()
    return phrase(a, f"{kind} ⌀\u202f", "frame.outer_diameter", *inner, ", length ", length_key)


def axes(a: Arrangement, view: View, first_station: float, last_station: float, top_height: float) -> Group:
    """The optical axis, and the folded one from below the fold to ``top_height``."""
    beyond = a.minor_axis * 0.75
    optical = ((first_station, 0.0), (last_station, 0.0))
    fold = ((a.focuser_station, -beyond), (a.focuser_station, top_height))
    return Group((Polyline(view.points(optical), Pen(CENTRE), data={"part": "optical-axis"}),
                  Polyline(view.points(fold), Pen(CENTRE), data={"part": "folded-axis"})), {"part": "axes"})


def focal_plane(a: Arrangement, view: View) -> Group:
    """The focal plane, as wide as the judged field, else as a tenth of the aperture."""
    half = (a.judged_field or a.aperture / 10) / 2
    ends = [(a.focuser_station - half, a.intercept), (a.focuser_station + half, a.intercept)]
    line = Polyline(view.points(ends), Pen(OUTLINE, "accent"), data={"part": "focal-plane-line"})
    return Group((line,), {"part": "focal-plane"}, "Focal plane")


def unfolded_focus(a: Arrangement, view: View, medium: Medium) -> Group:
    """Where the light would meet without the diagonal: the far end of the focal length."""
    x, y = view.at(a.focal_length, 0.0)
    reach = 0.35 * medium.lettering
    cross = (((x - reach, y - reach), (x + reach, y + reach)), ((x - reach, y + reach), (x + reach, y - reach)))
    return Group((Segments(cross, Pen(THIN), {"part": "unfolded-focus-mark"}),), {"part": "unfolded-focus"},
                 "Focus without the diagonal")


def balance(a: Arrangement, view: View, medium: Medium) -> Group:
    """The centre of mass: a circle with two opposite quarters filled."""
    if a.balance_station is None:
        return Group(())
    (x, y), radius = view.at(a.balance_station, 0.0), 0.45 * medium.lettering
    quarters = [Polyline((x_y, *_arc(x_y, radius, start)), None, Wash("ink"), closed=True)
                for x_y, start in (((x, y), 0.0), ((x, y), math.pi))]
    disc = Circle((x, y), radius, Pen(THIN), Wash("ground"), {"part": "balance-mark"})
    return Group((disc, *quarters), {"part": "balance"}, "Balance point")


def _arc(centre: Point, radius: float, start: float) -> Iterable[Point]:
    for step in range(9):
        angle = start + step * math.pi / 16
        yield (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def scale_bar(at: Point, length: float, steps: int, medium: Medium) -> Group:
    """A bar of ``length``, in ``steps`` of alternate fill, its upper left corner at ``at``."""
    (x, y), height = at, 0.35 * medium.lettering
    step = length / steps
    members: list[Shape] = []
    for index in range(steps):
        left, right = x + index * step, x + (index + 1) * step
        corners = ((left, y), (right, y), (right, y + height), (left, y + height))
        members.append(Polyline(corners, Pen(THIN), Wash("ground" if index % 2 else "ink"), closed=True))
    return Group(tuple(members), {"part": "scale-bar", "length": f"{length:.3f}"})


def assumed(a: Arrangement) -> tuple[Words, ...]:
    """What is drawn in chain outlines with two dots though nobody says it, in words; empty where there is nothing."""
    known = {"sizes": a.bore, "the holder’s length": a.holder_diameter and not a.holder_length,
             "the vanes’ station": a.vanes and a.vane_station is None}
    things = [thing for thing, is_assumed in known.items() if is_assumed]
    if not things:
        return ()
    many = " and ".join(filter(None, (", ".join(things[:-1]), things[-1])))
    return (Words(f"Chain outlines with two dots: {many} assumed"),)


def behind_the_face(a: Arrangement, key: str) -> tuple[Words, ...]:
    """How far a station below zero lies behind the primary's face: a length, which has no sign."""
    return (replace(figure(a, key), text=a.figures[key].removeprefix(MINUS)),)


def description(a: Arrangement) -> str:
    """What the drawing shows, in words with its figures, for those who do not see it."""
    unit = a.length_unit
    said = [f"Side view in section, primary on the left or below, sky on the right or above; figures in {unit}."]
    for words, key in (("Aperture", "primary.aperture"), ("Focal length", "primary.focal_length"),
                       ("Focal ratio", "optics.focal_ratio"), ("Diagonal's minor axis", "diagonal.minor_axis"),
                       ("Offset of the diagonal towards the primary and away from the focuser", "diagonal.offset"),
                       ("Axis to focal plane", "optics.intercept"), ("Station of the focuser", "focuser.station"),
                       ("Station of the diagonal", "diagonal.station"), ("Station of the front", "front.station"),
                       ("Front opening", "front.opening"), ("Lower fixing", "frame.lower_fixing"),
                       ("Upper fixing", "frame.upper_fixing"), ("Length of a pole", "frame.pole_length"),
                       ("Length of the tube", "frame.tube_length"), ("Balance point", "balance.station")):
        if key in a.figures and a.figures[key].startswith(MINUS):
            said.append(f"{words}: {a.figures[key].removeprefix(MINUS)} behind the primary’s face.")
        elif key in a.figures:
            said.append(f"{words}: {a.figures[key]}.")
    said += [f"{run.text}." for run in assumed(a)]
    return " ".join(said)
