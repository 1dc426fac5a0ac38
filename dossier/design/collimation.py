"""The plan of collimation: how far the mirrors may be out of true, told by all that a builder can see or turn."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc.optics import collimation
from dossier.design import bench
from dossier.design.traced import MIRROR, WAVES, or_zero
from dossier.design.worksheet import NotSaid, Work, Worksheet, step, worked
from dossier.spec.model import Build
from dossier.working import Result

_SCREWS = 3


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module, in order."""
    tilt = {"tilt_arcmin": worked("collimation.tilt_tolerance")}
    shift = {"axis_shift_mm": worked("collimation.axis_shift")}
    focal_length, intercept = MIRROR["focal_length_mm"], worked("optics.intercept")
    return dict((
        step("collimation.tilt_tolerance", collimation.tilt_tolerance_arcmin, **WAVES),
        ("collimation.strehl", _strehl),
        step("collimation.axis_shift", collimation.axis_shift_mm, focal_length_mm=focal_length, **tilt),
        step("collimation.return_shift", collimation.return_shift_mm, focal_length_mm=focal_length, **tilt),
        ("collimation.screw_turns", _screw_turns),
        step("collimation.primary_shift", collimation.primary_shift_mm, **shift),
        step("collimation.diagonal_tip", collimation.diagonal_tip_arcmin, intercept_mm=intercept, **shift),
        step("collimation.diagonal_twist", collimation.diagonal_twist_arcmin, intercept_mm=intercept, **shift),
    ))


def _strehl(sheet: Worksheet) -> Result:
    """Where the spec says how true a builder will set the mirror; a plan that allows for a tilt has none itself."""
    if not sheet.says("primary.tilt") and "primary.tilt" not in sheet.build.tolerances:
        raise NotSaid("primary.tilt")
    surface = bench.surface_rms(or_zero("primary.surface_rms", "nm", "no test report"))
    return collimation.strehl_as_collimated.work(
        "collimation.strehl", **{name: source(sheet) for name, source in WAVES.items()},
        surface_rms_nm=surface(sheet), tilt_arcmin=or_zero("primary.tilt", "arcmin", "set true")(sheet))


def _screw_turns(sheet: Worksheet) -> Result:
    """Of one of three adjusters. Any other number tips the mirror about no fixed line: then it is left out."""
    if sheet.given("cell.push.count").value != _SCREWS:
        raise NotSaid("three adjusters in cell.push.count")
    return collimation.screw_turns.work(
        "collimation.screw_turns", screw_circle_radius_mm=sheet.given("cell.push.radius"),
        pitch_mm=sheet.given("cell.push.pitch"), tilt_arcmin=sheet.result("collimation.tilt_tolerance"))
