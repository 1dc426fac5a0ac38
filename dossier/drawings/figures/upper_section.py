"""The upper end of a telescope in section through the plane of the fold, broken off towards the primary."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from dossier.drawings import arrangement_parts as ga
from dossier.drawings.arrangement import Arrangement, Frame
from dossier.drawings.figures.breaks import break_between
from dossier.drawings.scene import CENTRE, OUTLINE, THIN, Group, Medium, Pen, Point, Polyline, View, Wash

# How much of what is cut off is shown below the lowest thing that matters, in apertures.
_STUMP = 0.12


@dataclass(frozen=True, slots=True)
class Turned:
    """How poles and vanes are turned about the axis, degrees clockwise from the focuser seen from the sky.

    Where nobody says so the focuser is taken to stand midway between two, and ``said`` is False.
    """

    angles_deg: tuple[float, ...]
    said: bool


def turned(count: int, first_deg: float | None) -> Turned:
    """Evenly spaced angles from the first."""
    if not count:
        return Turned((), True)
    start = 180 / count if first_deg is None else first_deg
    return Turned(tuple(round((start + 360 * index / count) % 360, 6) for index in range(count)),
                  first_deg is not None)


def cut_station(a: Arrangement) -> float:
    """Where the view is broken off: a little below focuser, diagonal and upper fixing."""
    body = (a.bore or 0.0) * ga.BODY_WIDTH / 2
    lowest = min(a.focuser_station - body, a.diagonal_station - a.minor_axis / 2)
    if a.frame and a.frame.kind != "tube":
        lowest = min(lowest, a.frame.upper_station)
    return lowest - _STUMP * a.aperture


def section(a: Arrangement, poles: Turned, view: View, medium: Medium) -> tuple[Group, ...]:
    """Every part of the upper end that is known, from back to front."""
    cut = cut_station(a)
    made = (_frame(a, poles, cut, view, medium), front_edge(a, view, medium), ga.spider(a, view, medium),
            ga.diagonal(a, view, medium), ga.focuser(a, view), ga.eyepiece(a, view), _axes(a, cut, view, medium))
    return tuple(group for group in made if group.members)


def front_edge(a: Arrangement, view: View, medium: Medium) -> Group:
    """The edge of the opening; nothing where a tube's own end is the opening."""
    if a.frame and a.frame.kind == "tube" and (a.front_opening or 0.0) >= (a.frame.inner_diameter or 0.0):
        return Group((), {"part": "front"})
    return ga.front(a, view, medium)


def _axes(a: Arrangement, cut: float, view: View, medium: Medium) -> Group:
    size = medium.lettering / view.scale
    end = max(a.front_station or 0.0, ga.holder_end(a), a.frame.upper_station if a.frame else 0.0)
    optical = ((cut - size, 0.0), (end + size, 0.0))
    fold = ((a.focuser_station, -a.minor_axis * 0.75), (a.focuser_station, ga.top_height(a) + 0.5 * size))
    half = (a.judged_field or a.aperture / 10) / 2
    plane = ((a.focuser_station - half, a.intercept), (a.focuser_station + half, a.intercept))
    return Group((Polyline(view.points(optical), Pen(CENTRE), data={"part": "optical-axis"}),
                  Polyline(view.points(fold), Pen(CENTRE), data={"part": "folded-axis"}),
                  Polyline(view.points(plane), Pen(OUTLINE, "accent"), data={"part": "focal-plane-line"})),
                 {"part": "axes"})


def _frame(a: Arrangement, poles: Turned, cut: float, view: View, medium: Medium) -> Group:
    plan = a.frame
    if plan is None:
        return Group((), {"part": "frame"})
    if plan.kind == "tube":
        start = max(cut, plan.lower_station)
        group = ga.frame(replace(a, frame=replace(plan, lower_station=start)), view, medium)
        inner = (plan.inner_diameter or plan.outer_diameter) / 2
        breaks = [break_between(view.at(start, side * inner), view.at(start, side * plan.outer_diameter / 2), medium)
                  for side in (1, -1) if start == cut]
        return replace(group, members=(*group.members, *breaks))
    members = [shape for low, high, angle in axes_of_members(plan, poles)
               for shape in _stub(low, high, angle, plan, cut, view, medium)]
    # Where members stand before one another, the breaks of those behind are not covered.
    members.sort(key=lambda shape: shape.data.get("part") == "break")
    return Group(tuple(members), {"part": "frame"}, "Poles" if plan.kind == "poles" else "Truss")


def axes_of_members(plan: Frame, poles: Turned) -> Iterator[tuple[Point, Point, float]]:
    """The members in the plane of the fold or behind it: lower and upper end as (station, height), and their angle."""
    if plan.kind == "poles":
        for angle in poles.angles_deg:
            turn = math.radians(angle)
            if ga.behind(turn):
                height = plan.upper_radius * math.cos(turn)
                yield (plan.lower_station, height), (plan.upper_station, height), angle
        return
    for angle in poles.angles_deg:
        for half_pitch in (-360 / plan.count, 360 / plan.count):
            upper, lower = math.radians(angle), math.radians(angle + half_pitch)
            if ga.mostly_behind(upper, lower):
                yield ((plan.lower_station, plan.lower_radius * math.cos(lower)),
                       (plan.upper_station, plan.upper_radius * math.cos(upper)), angle)


def _stub(low: Point, high: Point, angle: float, plan: Frame, cut: float, view: View,
          medium: Medium) -> Iterator[Polyline]:
    """The upper stretch of a member, seen from the side, with its break."""
    share = max(0.0, (cut - low[0]) / (high[0] - low[0]))
    start = (low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1]))
    length, half = math.dist(low, high), plan.outer_diameter / 2
    across = (-(high[1] - low[1]) / length * half, (high[0] - low[0]) / length * half)
    corners = [(start[0] + across[0], start[1] + across[1]), (high[0] + across[0], high[1] + across[1]),
               (high[0] - across[0], high[1] - across[1]), (start[0] - across[0], start[1] - across[1])]
    pen = Pen(OUTLINE) if abs(math.sin(math.radians(angle))) < 1e-9 else Pen(THIN)
    yield Polyline(view.points(corners), pen, Wash("ground"), data={"part": "member", "angle": f"{angle:g}"})
    yield Polyline(view.points([start, high]), Pen(CENTRE, "ink", 0.7), data={"part": "member-axis"})
    if share:
        yield break_between(view.at(*corners[0]), view.at(*corners[3]), medium)
