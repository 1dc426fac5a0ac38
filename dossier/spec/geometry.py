"""Geometry that cannot be built or cannot form an image, found with simple arithmetic before anything is worked out.

Lengths are in mm. A value that is left out or not yet known (NaN) makes its comparison false, so only what is said is
judged.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from dossier.spec.defaults import blank_diameter_mm, drawn_out_mm, holder_diameter_mm, intercept_mm
from dossier.spec.model import Build
from dossier.spec.model_optics import Bench, Board, FocuserScrews
from dossier.spec.model_structure import Cell, Frame, Spring

Fault = tuple[str, str]  # key path, message
RINGS_OF = {3: (3,), 6: (6,), 9: (3, 6), 18: (6, 12)}
LEAST_CONIC, MOST_CONIC = -10.0, 2.0
# How far apart knife-edge readings of one mirror can lie, in those of a paraboloid: more than any conic's do.
MOST_SWING = 6.0
_UNSAID = math.nan


def faults(build: Build) -> Iterator[Fault]:
    """Everything impossible, each with its key and the values that cannot stand together."""
    yield from _mirror(build)
    yield from _diagonal(build)
    yield from _focuser(build)
    if build.frame:
        yield from _frame(build, build.frame)
    yield from _front(build)
    if build.cell:
        yield from _cell(build, build.cell)
    if build.mount and _said(build.mount.floor) >= _said(build.mount.pivot_height):
        yield "mount.floor", (f"{build.mount.floor:g} mm is not less than the height of the pivot, "
                              f"{build.mount.pivot_height:g} mm")
    if build.bench:
        yield from _bench(build.bench, build.primary.aperture)
        yield from _readings(build, build.bench)


def sagitta_mm(radius_mm: float, focal_length_mm: float, conic: float) -> float:
    """Depth of the mirror's curve at a radius from its axis, mm; NaN where the conic does not reach that far."""
    curve = 2 * focal_length_mm
    inside = 1 - (1 + conic) * (radius_mm / curve) ** 2
    return radius_mm**2 / curve / (1 + math.sqrt(inside)) if inside > 0 else math.nan


def _said(value: float | None) -> float:
    return _UNSAID if value is None else value


def _mirror(build: Build) -> Iterator[Fault]:
    mirror = build.primary
    aperture, focal = mirror.aperture, mirror.focal_length
    if not LEAST_CONIC <= mirror.conic <= MOST_CONIC and not math.isnan(mirror.conic):
        yield "primary.conic", (f"is {mirror.conic:g}: no mirror that focuses starlight lies outside "
                                f"{LEAST_CONIC:g} to {MOST_CONIC:g} (0 is a sphere, -1 a paraboloid); is a sign or a "
                                "decimal point wrong?")
    elif (1 + mirror.conic) * (aperture / 2) ** 2 >= (2 * focal) ** 2:
        yield "primary.aperture", (f"{aperture:g} mm is wider than the curve of a mirror of {focal:g} mm focal length "
                                   f"and conic {mirror.conic:g}, whose radius is {2 * focal:g} mm")
    if _said(mirror.blank_diameter) < aperture:
        yield "primary.blank_diameter", (f"{mirror.blank_diameter:g} mm is less than the clear aperture, "
                                         f"{aperture:g} mm")
    depth = sagitta_mm(blank_diameter_mm(build) / 2, focal, mirror.conic)
    if _said(mirror.edge_thickness) <= depth:
        yield "primary.edge_thickness", (f"{mirror.edge_thickness:g} mm is no more than the depth of the curve, "
                                         f"{depth:.4g} mm: the mirror would have a hole in its middle")


def _diagonal(build: Build) -> Iterator[Fault]:
    aperture, diagonal = build.primary.aperture, build.diagonal
    if diagonal.minor_axis >= aperture:
        yield "diagonal.minor_axis", (f"{diagonal.minor_axis:g} mm is not less than the aperture, {aperture:g} mm: it "
                                      "would shade the whole mirror")
    elif holder_diameter_mm(build) >= aperture:
        yield "diagonal.holder_diameter", (f"{holder_diameter_mm(build):g} mm is not less than the aperture, "
                                           f"{aperture:g} mm: it would shade the whole mirror")
    if isinstance(diagonal.offset, float) and diagonal.offset >= diagonal.minor_axis / 2:
        yield "diagonal.offset", (f"{diagonal.offset:g} mm is not less than half the minor axis, "
                                  f"{diagonal.minor_axis / 2:g} mm: the diagonal would miss the axis")
    focal, intercept = build.primary.focal_length, intercept_mm(build)
    depth = sagitta_mm(aperture / 2, focal, build.primary.conic)
    if intercept < focal and focal - intercept - diagonal.minor_axis / 2 <= depth:
        yield "focuser.mounting_radius", (
            f"with height and drawn_out puts the focal plane {intercept:g} mm from the axis, so the diagonal would "
            f"stand {focal - intercept:.4g} mm from a mirror of {focal:g} mm focal length and touch it")
    # The two ends of the face meet the rim's rays at equal field heights only where this square has a root.
    elif (diagonal.offset in (None, "full") and diagonal.minor_axis < aperture
          and (focal - depth - intercept) ** 2 < diagonal.minor_axis * (aperture - diagonal.minor_axis)):
        yield "diagonal.minor_axis", (
            f"{diagonal.minor_axis:g} mm is too large for a place {focal - depth - intercept:.4g} mm from the mirror's "
            "rim: no offset lights its field evenly; make it smaller, or give an offset")


def _focuser(build: Build) -> Iterator[Fault]:
    focuser, aperture, focal = build.focuser, build.primary.aperture, build.primary.focal_length
    intercept = intercept_mm(build)
    if _said(focuser.drawn_out) > _said(focuser.travel):
        yield "focuser.drawn_out", f"{focuser.drawn_out:g} mm is more than the travel, {focuser.travel:g} mm"
    sum_ = f"{focuser.mounting_radius:g} + {focuser.height:g} + {drawn_out_mm(build):g} mm"
    if intercept >= focal:
        yield "primary.focal_length", (f"{focal:g} mm is not more than the intercept, mounting_radius + height + "
                                       f"drawn_out = {sum_} = {intercept:g} mm: the diagonal would lie behind the "
                                       "mirror")
    if intercept < aperture / 2:
        yield "focuser.height", (f"puts the focal plane {intercept:g} mm from the axis (mounting_radius + height + "
                                 f"drawn_out = {sum_}), inside the incoming beam of radius {aperture / 2:g} mm")
    elif focuser.mounting_radius < aperture / 2:
        yield "focuser.mounting_radius", (f"{focuser.mounting_radius:g} mm is less than half the aperture, "
                                          f"{aperture / 2:g} mm: the focuser would stand in the beam")
    if _said(focuser.drawtube) >= intercept:
        yield "focuser.drawtube", (f"{focuser.drawtube:g} mm is not less than the intercept, {intercept:g} mm: its "
                                   "inner end would reach the axis")
    if focuser.board:
        yield from _board(focuser.board, _said(focuser.hole))
    if focuser.screws:
        yield from _screws(focuser.screws, _said(focuser.hole))


def _board(board: Board, hole: float) -> Iterator[Fault]:
    for key, size in (("width", board.width), ("length", board.length)):
        if _said(size) <= hole:
            yield f"focuser.board.{key}", f"{size:g} mm is no more than the focuser's hole, {hole:g} mm"
    below, above = _said(board.below), _said(board.length) - _said(board.below)
    if below <= hole / 2:
        yield "focuser.board.below", f"{below:g} mm puts the hole of {hole:g} mm over the board's lower end"
    elif above <= hole / 2:
        yield "focuser.board.below", (f"{below:g} mm puts the hole of {hole:g} mm over the upper end of a board of "
                                      f"{board.length:g} mm")


def _screws(screws: FocuserScrews, hole: float) -> Iterator[Fault]:
    corners = screws.along is not None or screws.across is not None
    if corners and (screws.along is None or screws.across is None):
        yield "focuser.screws", "needs along and across, or circle_radius in their place"
    if corners and screws.circle_radius is not None:
        yield "focuser.screws", "has circle_radius as well as along and across; only one pattern can hold"
    if corners and screws.count not in (None, 4):
        yield "focuser.screws.count", f"of a rectangle is 4 (got {screws.count})"
    out = math.hypot(_said(screws.along), _said(screws.across)) / 2 if corners else _said(screws.circle_radius)
    if out - (screws.diameter or 0.0) / 2 <= hole / 2:
        yield "focuser.screws", (f"stand {out:.4g} mm from the middle of the focuser's hole and run into it: that is "
                                 f"{hole:g} mm wide")


def _frame(build: Build, frame: Frame) -> Iterator[Fault]:
    outer, inner = _said(frame.outer_diameter), _said(frame.inner_diameter)
    if inner >= outer:
        yield "frame.inner_diameter", f"{inner:g} mm is not less than the outer diameter, {outer:g} mm"
    if frame.kind == "tube":
        yield from _tube(build, frame, outer, inner)
    else:
        yield from _poles(build, frame, outer)
    if frame.kind != "truss" and frame.upper_circle_radius is not None:
        yield "frame.upper_circle_radius", f"belongs to a truss (kind is {frame.kind})"
    if frame.kind == "truss":
        yield from _truss(frame)
    length = _said(frame.length) - 2 * (frame.end_fittings or 0.0)
    if length <= 0:
        yield "frame.end_fittings", f"{frame.end_fittings:g} mm at either end leave nothing of {frame.length:g} mm"
    for place, hole in enumerate(frame.holes):
        if hole.from_end >= length:
            yield f"frame.holes[{place}].from_end", f"{hole.from_end:g} mm is not less than the length, {length:g} mm"
        if hole.diameter >= outer:
            yield f"frame.holes[{place}].diameter", (f"{hole.diameter:g} mm is not less than the outer diameter, "
                                                     f"{outer:g} mm")


def _tube(build: Build, frame: Frame, outer: float, inner: float) -> Iterator[Fault]:
    aperture, focuser = build.primary.aperture, build.focuser
    for key in ("count", "circle_radius", "end_fittings"):
        if getattr(frame, key) is not None:
            yield f"frame.{key}", "belongs to poles or a truss (kind is tube)"
    if inner < aperture:
        yield "frame.inner_diameter", f"{inner:g} mm is less than the aperture, {aperture:g} mm"
    elif outer < aperture:
        yield "frame.outer_diameter", f"{outer:g} mm is less than the aperture, {aperture:g} mm"
    wall = outer / 2 if math.isnan(inner) else inner / 2
    if focuser.mounting_radius < wall:
        yield "focuser.mounting_radius", (f"{focuser.mounting_radius:g} mm lies inside the tube, whose radius is "
                                          f"{wall:g} mm")
    if intercept_mm(build) <= outer / 2:
        yield "focuser.height", (f"puts the focal plane {intercept_mm(build):g} mm from the axis, inside the tube of "
                                 f"radius {outer / 2:g} mm")


def _poles(build: Build, frame: Frame, outer: float) -> Iterator[Fault]:
    for key, example in (("count", "3"), ("circle_radius", "115 mm")):
        if getattr(frame, key) is None:
            yield "frame", f"needs {key}, such as {example} (kind is {frame.kind})"
    radius = min(_said(frame.circle_radius), frame.upper_circle_radius or math.inf)
    if radius - (0 if math.isnan(outer) else outer / 2) < build.primary.aperture / 2:
        yield "frame.circle_radius", (f"{radius:g} mm puts the poles into the beam, whose radius is "
                                      f"{build.primary.aperture / 2:g} mm")
    count = _said(frame.count)
    if 2 * radius * math.sin(math.pi / count) < outer and count > 1 and frame.kind == "poles":
        yield "frame.count", f"{count:g} poles of {outer:g} mm do not fit on a circle of radius {radius:g} mm"


def _truss(frame: Frame) -> Iterator[Fault]:
    count, lower = _said(frame.count), _said(frame.circle_radius)
    upper = lower if frame.upper_circle_radius is None else frame.upper_circle_radius
    if count < 6 or count % 2 == 1:
        yield "frame.count", f"of a truss is even and at least 6 (got {count:g})"
        return
    chord = math.sqrt(max(lower**2 + upper**2 - 2 * lower * upper * math.cos(2 * math.pi / count), 0))
    if _said(frame.length) <= chord:
        yield "frame.length", (f"{frame.length:g} mm is too short: neighbouring nodes of {count:g} poles on radii "
                               f"{lower:g} and {upper:g} mm are {chord:.4g} mm apart across the axis alone")


def _front(build: Build) -> Iterator[Fault]:
    if build.front is None:
        return
    mirror = build.primary
    depth = sagitta_mm(mirror.aperture / 2, mirror.focal_length, mirror.conic)
    if _said(build.front.station) <= depth:
        yield "front.station", f"{build.front.station:g} mm lies behind the mirror's rim, at {depth:.4g} mm"
    if _said(build.front.opening) <= holder_diameter_mm(build):
        yield "front.opening", (f"{build.front.opening:g} mm is no wider than the diagonal's holder, "
                                f"{holder_diameter_mm(build):g} mm: no light would enter")


def _cell(build: Build, cell: Cell) -> Iterator[Fault]:
    half = blank_diameter_mm(build) / 2
    edge = f"the mirror's edge, {half:g} mm"
    if isinstance(cell.rings, tuple):
        yield from _rings(cell.rings, cell.points, half, edge)
    if cell.clips and _said(cell.clips.radius) > half:
        yield "cell.clips.radius", f"{cell.clips.radius:g} mm lies outside {edge}"
    if cell.push and cell.push.against != "plate" and _said(cell.push.radius) > half:
        yield "cell.push.radius", f"{cell.push.radius:g} mm lies outside {edge}; against: plate if a plate is pushed"
    if cell.push and cell.push.spring:
        yield from _spring(cell.push.spring)


def _rings(rings: tuple[float, ...], points: int | None, half: float, edge: str) -> Iterator[Fault]:
    for place, radius in enumerate(rings):
        if radius > half:
            yield f"cell.rings[{place}]", f"{radius:g} mm lies outside {edge}"
        if place and radius <= rings[place - 1]:
            yield f"cell.rings[{place}]", f"{radius:g} mm does not follow {rings[place - 1]:g} mm; inner ring first"
    wanted = len(RINGS_OF[points]) if points in RINGS_OF else len(rings)
    if len(rings) != wanted:
        yield "cell.rings", f"has {len(rings)} radii, and {points} points stand on {wanted}"


def _spring(spring: Spring) -> Iterator[Fault]:
    free, mounted = _said(spring.free_length), _said(spring.compressed_to)
    wire, coil, turns = _said(spring.wire), _said(spring.mean_diameter), _said(spring.active_coils)
    if mounted > free:
        yield "cell.push.spring.compressed_to", f"{mounted:g} mm is more than the free length, {free:g} mm"
    if wire >= coil:
        yield "cell.push.spring.wire", f"{wire:g} mm is not less than the mean diameter of the coil, {coil:g} mm"
    for key, length in (("compressed_to", mounted), ("free_length", free)):
        if length < wire * turns:
            yield f"cell.push.spring.{key}", (f"{length:g} mm is less than its coils take when they touch, "
                                              f"{turns:g} × {wire:g} = {wire * turns:g} mm")
            return


def _bench(bench: Bench, aperture: float) -> Iterator[Fault]:
    if len(bench.zones) != len(bench.readings):
        yield "bench.readings", f"has {len(bench.readings)} readings for {len(bench.zones)} zones"
    for place, zone in enumerate(bench.zones):
        if zone > aperture / 2:
            yield f"bench.zones[{place}]", f"{zone:g} mm lies outside the aperture, whose radius is {aperture / 2:g} mm"
        if place and zone <= bench.zones[place - 1]:
            yield f"bench.zones[{place}]", (f"{zone:g} mm does not follow {bench.zones[place - 1]:g} mm; inner zone "
                                            "first")


def _readings(build: Build, bench: Bench) -> Iterator[Fault]:
    """A reading farther from the middle one than the most curved mirror's zones are from one another."""
    paraboloid = build.primary.aperture**2 / (16 * build.primary.focal_length) * (1 if bench.source == "moving" else 2)
    most, middle = MOST_SWING * paraboloid, sorted(bench.readings)[len(bench.readings) // 2]
    for place, reading in enumerate(bench.readings):
        if abs(reading - middle) > most:
            yield f"bench.readings[{place}]", (
                f"{reading:g} mm is {abs(reading - middle):.4g} mm from the middle one of the readings, {middle:g} mm; "
                f"from middle to rim the knife moves {paraboloid:.2g} mm for a paraboloid of this size, and never more "
                f"than {most:.3g} mm: is the unit right, or a decimal point lost?")
