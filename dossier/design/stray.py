"""The plan of stray light: what the judged field sees besides the mirror, and the least that shuts each way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from dossier.calc import choices
from dossier.calc.optics import openings, straylight
from dossier.design.traced import DRAWTUBE, JUDGED, MIRROR
from dossier.design.worksheet import Work, Worksheet, given, step, worked
from dossier.spec.model import Build
from dossier.working import Given, Result


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module; in a tube the wall that must be black, on an open frame the shroud."""
    kind = build.frame.kind if build.frame else None
    closed = kind == "tube"
    return dict((*_past_the_diagonal(), *_by_the_diagonal(closed), *(() if closed else _shroud())))


def _past_the_diagonal() -> tuple[tuple[str, Work], ...]:
    across = {"intercept_mm": worked("optics.intercept"), "mounting_radius_mm": given("focuser.mounting_radius")}
    front = {"front_beyond_focuser_mm": worked("frame.front_beyond_focuser")}
    return (
        step("stray.shield_half_length", straylight.shield_half_length_mm, **across, **DRAWTUBE, **JUDGED),
        step("stray.shield_beyond_front", straylight.shield_beyond_front_mm,
             shield_half_length_mm=worked("stray.shield_half_length"), **front),
        step("stray.widest_dark_bore", straylight.widest_dark_bore_mm, **across, **JUDGED, **front,
             drawtube_mm=DRAWTUBE["drawtube_mm"]),
    )


def _by_the_diagonal(closed: bool) -> tuple[tuple[str, Work], ...]:
    name, title = (("stray.wall_top", "How far up the field sees the inside of the tube") if closed
                   else ("stray.shroud_top", straylight.shroud_top_mm.title))
    return (
        step("stray.mirror_ring", straylight.mirror_ring_mm, **MIRROR, intercept_mm=worked("optics.intercept"),
             minor_axis_mm=given("diagonal.minor_axis"), offset_mm=worked("diagonal.offset"), **DRAWTUBE, **JUDGED),
        ("stray.frame_radius", _frame_radius),
        step(name, straylight.shroud_top_mm, title, focal_length_mm=MIRROR["focal_length_mm"],
             rim_to_focus_mm=worked("diagonal.rim_to_focus"), frame_radius_mm=worked("stray.frame_radius"),
             mirror_ring_mm=worked("stray.mirror_ring"), **JUDGED),
    )


def _shroud() -> tuple[tuple[str, Work], ...]:
    return (
        step("stray.shroud_length", straylight.shroud_length_mm, shroud_top_mm=worked("stray.shroud_top"),
             lower_fixing_mm=given("frame.lower_fixing")),
        step("stray.taut_radius", straylight.taut_radius_mm, frame_radius_mm=worked("stray.frame_radius"),
             corner_count=_corners, outer_diameter_mm=given("frame.outer_diameter")),
        step("stray.beam_radius", openings.beam_radius_mm, aperture_mm=MIRROR["aperture_mm"],
             focal_length_mm=MIRROR["focal_length_mm"], sagitta_mm=worked("optics.sagitta"),
             upper_fixing_mm=worked("frame.upper_fixing"), **JUDGED),
    )


def _corners(sheet: Worksheet) -> Given:
    """How many poles, or nodes at the upper end of a truss, hold cloth out; two poles meet at each node."""
    poles = sheet.given("frame.count")
    if sheet.build.frame is None or sheet.build.frame.kind != "truss" or isinstance(poles.value, tuple):
        return poles
    return replace(poles, key="nodes at the upper end", value=poles.value / 2)


def _frame_radius(sheet: Worksheet) -> Result:
    """From the axis to a tube's inside or to the poles; of a truss the narrower end."""
    name, title, frame = "stray.frame_radius", "Optical axis to the frame", sheet.build.frame
    closed = frame is not None and frame.kind == "tube"
    if closed and sheet.says("frame.inner_diameter"):
        return straylight.wall_radius_mm.work(name, inner_diameter_mm=sheet.given("frame.inner_diameter"))
    if not closed and sheet.says("frame.upper_circle_radius"):
        return straylight.narrower_radius_mm.work(name, lower_radius_mm=sheet.given("frame.circle_radius"),
                                                  upper_radius_mm=sheet.given("frame.upper_circle_radius"))
    # Where a tube's wall is not known, the focuser's face stands no nearer to the axis than its outside.
    key = "focuser.mounting_radius" if closed else "frame.circle_radius"
    return choices.as_given_mm.work(name, title, chosen_mm=sheet.given(key))
