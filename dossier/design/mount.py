"""The plan of how the telescope stands and swings: its bearings, the push of a hand, the feet, a counterweight."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc import choices
from dossier.calc.mechanics import rocker
from dossier.design.worksheet import NotSaid, Work, Worksheet, given, step, worked
from dossier.spec.model import Build
from dossier.working import Given, NoAnswer, Result

# Nearer to the pivot than this nothing needs a weight: an eyepiece moves the balance by more.
NEAR_MM = 1.0
ARM, LOAD, PIVOT = worked("balance.pivot_arm"), worked("mount.load"), given("mount.pivot")


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module. An equatorial mount has no level axis: only the balance is told."""
    equatorial = build.mount is not None and build.mount.kind == "equatorial"
    return dict((*_counterweight(), *(() if equatorial else (*_bearings(), *_feet(), *_swing()))))


def _counterweight() -> tuple[tuple[str, Work], ...]:
    return (
        step("balance.counter_arm", rocker.counter_arm_mm, pivot_mm=PIVOT, counter_station_mm=counter_station),
        step("balance.counterweight", rocker.counterweight_kg, "Counterweight at the light end", swung_mass_kg=LOAD,
             pivot_arm_mm=ARM, counter_arm_mm=worked("balance.counter_arm")),
    )


def counter_station(sheet: Worksheet) -> Given:
    """The listed station farthest from the pivot on the light side: where a weight is smallest.

    NotSaid where nothing stands on that side; NoAnswer where it balances at the pivot as it is.
    """
    heavy_front = ARM(sheet).value
    if not isinstance(heavy_front, tuple) and abs(heavy_front) < NEAR_MM:
        raise NoAnswer("it balances at the pivot as it is, and no weight is needed")
    stations = sheet.result("balance.station").inputs["stations_mm"]
    if not isinstance(stations, Given) or isinstance(heavy_front, tuple):
        raise NotSaid("stations of the parts")
    pick = min if heavy_front > 0 else max
    found = pick(stations.members, key=lambda member: member.value)
    pivot = PIVOT(sheet).value
    if not isinstance(found, Given) or isinstance(found.value, tuple) or isinstance(pivot, tuple):
        raise NotSaid("stations of the parts")
    if (found.value - pivot) * heavy_front >= 0:
        raise NotSaid("any part on the light side of the pivot")
    return found


def _bearings() -> tuple[tuple[str, Work], ...]:
    friction, arm = worked("rocker.friction"), worked("rocker.focuser_arm")
    return (
        step("rocker.friction", rocker.bearing_friction_n_m, friction=given("mount.bearing.friction"),
             swung_mass_kg=LOAD, bearing_radius_mm=given("mount.bearing.radius"),
             pad_angle_deg=given("mount.bearing.pad_angle")),
        step("rocker.hold_share", rocker.hold_share, pivot_moment_n_m=worked("balance.pivot_moment"),
             bearing_friction_n_m=friction),
        step("rocker.holds_above", rocker.holds_above_deg, bearing_friction_n_m=friction,
             pivot_moment_n_m=worked("balance.pivot_moment")),
        step("rocker.focuser_arm", rocker.focuser_arm_mm, focuser_station_mm=worked("focuser.station"),
             pivot_mm=PIVOT),
        step("rocker.push", rocker.hand_push_n, "Push at the focuser that moves it in altitude, balanced",
             holding_moment_n_m=friction, hand_arm_mm=arm),
    )


def _feet() -> tuple[tuple[str, Work], ...]:
    reach, out = worked("mount.feet_reach"), worked("mount.centre_stands_out")
    return (
        step("mount.feet_reach", rocker.feet_reach_mm, foot_circle_mm=given("mount.feet_radius"),
             foot_count=given("mount.feet")),
        step("mount.centre_stands_out", rocker.centre_stands_out_mm, swung_mass_kg=LOAD,
             base_mass_kg=worked("mount.base_mass"), pivot_arm_mm=ARM, below_pivot_mm=_across,
             pivot_offset_mm=_offset),
        step("mount.tipping_margin", rocker.tipping_margin_mm, feet_reach_mm=reach, centre_stands_out_mm=out),
        step("mount.push_height", rocker.push_height_mm, pivot_height_mm=given("mount.pivot_height"),
             focuser_arm_mm=worked("rocker.focuser_arm")),
        step("mount.tipping_push", rocker.tipping_push_n, "Push at the focuser that tips it, tube upright",
             load_kg=worked("parts.mass"), tipping_margin_mm=worked("mount.tipping_margin"),
             push_height_mm=worked("mount.push_height")),
    )


def _swing() -> tuple[tuple[str, Work], ...]:
    return (
        ("mount.tail_radius", _tail_radius),
        step("mount.swing_radius", rocker.swing_radius_mm, pivot_mm=PIVOT, tail_mm=_tail,
             tail_radius_mm=worked("mount.tail_radius")),
        step("mount.swing_clearance", rocker.swing_clearance_mm, pivot_height_mm=given("mount.pivot_height"),
             floor_height_mm=given("mount.floor"), swing_radius_mm=worked("mount.swing_radius")),
    )


def _ends_as_tube(sheet: Worksheet, key: str) -> bool:
    """Whether the tube's own end is what swings. Poles end in a box whose size only its author knows."""
    frame = sheet.build.frame
    return frame is not None and frame.kind == "tube" and not sheet.says(key)


def _tail(sheet: Worksheet) -> Given | Result:
    key = "mount.tail"
    return sheet.result("frame.lower_end") if _ends_as_tube(sheet, key) else sheet.given(key)


def _tail_radius(sheet: Worksheet) -> Result:
    key, title = "mount.tail_radius", "Hindmost edge off the axis"
    if _ends_as_tube(sheet, key):
        return rocker.tube_radius_mm.work(key, title, tube_diameter_mm=sheet.given("frame.outer_diameter"))
    return choices.as_given_mm.work(key, title, chosen_mm=sheet.given(key))


def _across(sheet: Worksheet) -> Given | Result:
    """The centre of mass off the axis. However the focuser points, it stands out no farther than this adds."""
    try:
        return sheet.result("balance.across")
    except NotSaid:
        return Given("balance off the axis", 0.0, "mm", "default", said="no part says how far off the axis it lies")


def _offset(sheet: Worksheet) -> Given:
    """A rocker's tube hangs over its upright axis; of another mount it must be said, since many have one arm."""
    mount = sheet.build.mount
    if sheet.says("mount.offset") or mount is None or mount.kind != "rocker":
        return sheet.given("mount.offset")
    return Given("mount.offset", 0.0, "mm", "default", said="over the upright axis")
