"""The plan of the first-order results: what follows from aperture, focal length, diagonal and focuser."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc import choices
from dossier.calc.mechanics import frame_lengths
from dossier.calc.optics import diagonal, field, first_order, sphere, surface_allowance
from dossier.design import bench
from dossier.design.worksheet import Work, Worksheet, given, step, worked
from dossier.spec.defaults import USUAL_FIELD_MM
from dossier.spec.model import Build
from dossier.working import Given, Result, gathered

APERTURE, FOCAL_LENGTH, CONIC = given("primary.aperture"), given("primary.focal_length"), bench.conic
WAVELENGTH = given("conditions.wavelength")


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module, in order."""
    return dict((*_mirror(), *_fold(), *_light(), *_field()))


def _mirror() -> tuple[tuple[str, Work], ...]:
    return (
        step("optics.focal_ratio", first_order.focal_ratio, focal_length_mm=FOCAL_LENGTH, aperture_mm=APERTURE),
        step("optics.image_scale", first_order.image_scale_arcsec_per_mm, focal_length_mm=FOCAL_LENGTH),
        step("optics.sagitta", first_order.sagitta_mm,
             aperture_mm=APERTURE, focal_length_mm=FOCAL_LENGTH, conic=CONIC),
        step("optics.vertex_radius", surface_allowance.vertex_radius_mm, focal_length_mm=FOCAL_LENGTH),
        step("figure.sag_difference", sphere.sag_difference_nm,
             aperture_mm=APERTURE, focal_length_mm=FOCAL_LENGTH, conic=CONIC),
        step("figure.sphere_limit_focal_ratio", sphere.sphere_limit_focal_ratio,
             aperture_mm=APERTURE, wavelength_um=WAVELENGTH),
        step("sun.image", first_order.sun_image_mm, focal_length_mm=FOCAL_LENGTH),
        step("sun.concentration", first_order.sunlight_concentration,
             aperture_mm=APERTURE, sun_image_mm=worked("sun.image")),
    )


def _fold() -> tuple[tuple[str, Work], ...]:
    aperture, rim, intercept = APERTURE, worked("diagonal.rim_to_focus"), worked("optics.intercept")
    minor_axis, offset = given("diagonal.minor_axis"), worked("diagonal.offset")
    return (
        ("focuser.drawn_out", _drawn_out),
        step("optics.intercept", first_order.intercept_mm, mounting_radius_mm=given("focuser.mounting_radius"),
             height_mm=given("focuser.height"), drawn_out_mm=worked("focuser.drawn_out")),
        step("focuser.station", frame_lengths.focuser_station_mm,
             focal_length_mm=FOCAL_LENGTH, intercept_mm=intercept),
        step("diagonal.rim_to_focus", diagonal.rim_to_focus_mm,
             focal_length_mm=FOCAL_LENGTH, sagitta_mm=worked("optics.sagitta")),
        step("diagonal.least_minor_axis", diagonal.least_minor_axis_mm,
             aperture_mm=aperture, rim_to_focus_mm=rim, intercept_mm=intercept),
        ("diagonal.offset", _offset),
        step("diagonal.station", frame_lengths.diagonal_station_mm,
             focuser_station_mm=worked("focuser.station"), offset_mm=offset),
        step("diagonal.major_axis", diagonal.major_axis_mm, minor_axis_mm=minor_axis),
        step("diagonal.face_offset", diagonal.face_offset_mm, offset_mm=offset),
        step("diagonal.full_field_classical", diagonal.full_field_classical_mm, minor_axis_mm=minor_axis,
             focal_length_mm=FOCAL_LENGTH, intercept_mm=intercept, aperture_mm=aperture),
        ("diagonal.obstruction_diameter", _obstruction_diameter),
    )


def _light() -> tuple[tuple[str, Work], ...]:
    return (
        step("optics.obstruction", first_order.obstruction,
             obstruction_diameter_mm=worked("diagonal.obstruction_diameter"), aperture_mm=APERTURE),
        step("optics.throughput", first_order.throughput, primary_reflectivity=given("primary.reflectivity"),
             diagonal_reflectivity=given("diagonal.reflectivity"), obstruction=worked("optics.obstruction")),
        step("optics.rayleigh_limit", first_order.rayleigh_limit_arcsec,
             wavelength_um=WAVELENGTH, aperture_mm=APERTURE),
        step("optics.dawes_limit", first_order.dawes_limit_arcsec, aperture_mm=APERTURE),
        step("optics.airy_diameter", first_order.airy_diameter_um,
             wavelength_um=WAVELENGTH, focal_ratio=worked("optics.focal_ratio")),
        step("optics.limiting_magnitude", first_order.limiting_magnitude_mag, aperture_mm=APERTURE),
    )


def _field() -> tuple[tuple[str, Work], ...]:
    ratio = worked("optics.focal_ratio")
    return (
        ("field.judged", _judged),
        step("field.judged_angle", field.field_angle_arcmin,
             field_diameter_mm=worked("field.judged"), focal_length_mm=FOCAL_LENGTH),
        step("field.coma_tangential", field.coma_tangential_arcsec,
             field_angle_arcmin=worked("field.judged_angle"), focal_ratio=ratio),
        step("field.coma_free_radius", field.coma_free_radius_mm, wavelength_um=WAVELENGTH, focal_ratio=ratio),
    )


def _drawn_out(sheet: Worksheet) -> Result:
    title = "Focuser drawn out, focal plane at its shoulder"
    if sheet.says("focuser.drawn_out"):
        return choices.as_given_mm.work("focuser.drawn_out", title, chosen_mm=sheet.given("focuser.drawn_out"))
    travel = (sheet.given("focuser.travel") if sheet.says("focuser.travel")
              else Given("focuser.travel", 0.0, "mm", "default", said="a focuser without travel"))
    return choices.half_travel_mm.work("focuser.drawn_out", title, travel_mm=travel)


def _offset(sheet: Worksheet) -> Result:
    """Full, also where the author is silent: the exact offset. None: zero. Otherwise what the author says."""
    said = sheet.build.diagonal.offset
    if said is None or said == "full":
        return diagonal.full_offset_mm.work(
            "diagonal.offset", aperture_mm=APERTURE(sheet), rim_to_focus_mm=sheet.result("diagonal.rim_to_focus"),
            intercept_mm=sheet.result("optics.intercept"), minor_axis_mm=sheet.given("diagonal.minor_axis"))
    if said == "none":
        spot = sheet.loaded.spots["diagonal.offset"]
        chosen = Given("diagonal.offset", 0.0, "mm", "spec", spot.file, spot.line, spot.said)
    else:
        chosen = sheet.given("diagonal.offset")
    return choices.as_given_mm.work("diagonal.offset", diagonal.full_offset_mm.title, chosen_mm=chosen)


def _obstruction_diameter(sheet: Worksheet) -> Result:
    minor_axis = sheet.given("diagonal.minor_axis")
    holder = (sheet.given("diagonal.holder_diameter") if sheet.says("diagonal.holder_diameter") else minor_axis)
    return first_order.obstruction_diameter_mm.work(
        "diagonal.obstruction_diameter", minor_axis_mm=minor_axis, holder_diameter_mm=holder)


def _judged(sheet: Worksheet) -> Result:
    title = "Diameter of the field that is judged"
    if sheet.says("field.judged"):
        return choices.as_given_mm.work("field.judged", title, chosen_mm=sheet.given("field.judged"))
    stops = _field_stops(sheet)
    if stops:
        listed = gathered("field stops of the eyepieces", stops, "mm")
        return choices.largest_field_stop_mm.work("field.judged", title, field_stops_mm=listed)
    usual = Given("field.judged", USUAL_FIELD_MM, "mm", "default", said="no eyepiece's field stop is given")
    return choices.as_given_mm.work("field.judged", title, chosen_mm=usual)


def _field_stops(sheet: Worksheet) -> list[Given]:
    keys = (f"eyepieces[{index}].field_stop" for index in range(len(sheet.build.eyepieces or ())))
    return [sheet.given(key) for key in keys if sheet.says(key)]
