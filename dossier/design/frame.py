"""The plan of the frame: where it begins and ends, and what its members measure."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc import choices
from dossier.calc.mechanics import balance, blank, frame_lengths
from dossier.design import bench
from dossier.design.worksheet import Work, Worksheet, given, given_or, material, step, worked
from dossier.spec.model import Build
from dossier.working import Result

BLANK_DIAMETER = given_or("primary.blank_diameter", "primary.aperture")
UPPER_RADIUS = given_or("frame.upper_circle_radius", "frame.circle_radius")
# A build without a frame has the results of this kind, all of them left out for want of one.
UNSAID = "poles"


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module; which there are depends on the kind of frame."""
    kinds = {"tube": _tube, "poles": _poles, "truss": _truss}
    own = kinds[build.frame.kind if build.frame else UNSAID]()
    sawn = _sawn() if has_fittings(build) else ()
    return dict((*_mirror(), *own, *sawn, *_front()))


def has_fittings(build: Build) -> bool:
    """Whether the poles' tubes end elsewhere than at their fixings, so that they are sawn to a length of their own."""
    return build.frame is not None and build.frame.kind != "tube" and build.frame.end_fittings is not None


def _mirror() -> tuple[tuple[str, Work], ...]:
    return (
        step("cell.mirror_mass", balance.mirror_mass_kg, blank_diameter_mm=BLANK_DIAMETER,
             edge_thickness_mm=given("primary.edge_thickness"), focal_length_mm=given("primary.focal_length"),
             conic=bench.conic, sagitta_mm=worked("optics.sagitta"),
             density_kg_per_m3=material("primary.glass", "density")),
        step("cell.centre_thickness", blank.centre_thickness_mm, edge_thickness_mm=given("primary.edge_thickness"),
             sagitta_mm=worked("optics.sagitta")),
        step("cell.mirror_centroid", blank.mirror_centroid_mm, blank_diameter_mm=BLANK_DIAMETER,
             edge_thickness_mm=given("primary.edge_thickness"), focal_length_mm=given("primary.focal_length"),
             conic=bench.conic, sagitta_mm=worked("optics.sagitta")),
    )


def _length(title: str, result_id: str) -> tuple[str, Work]:
    return step(result_id, choices.as_given_mm, title, chosen_mm=given("frame.length"))


def _tube() -> tuple[tuple[str, Work], ...]:
    lower, hole = worked("frame.lower_end"), frame_lengths.from_lower_end_mm
    return (
        _length("Length of the tube", "frame.tube_length"),
        ("frame.lower_end", _lower_end),
        step("frame.focuser_hole", hole, "Focuser's axis from the tube's lower end",
             hole_station_mm=worked("focuser.station"), lower_end_mm=lower),
        step("frame.spider_holes", hole, "Spider's screws from the tube's lower end",
             hole_station_mm=given("spider.station"), lower_end_mm=lower),
    )


def _lower_end(sheet: Worksheet) -> Result:
    """Where the tube begins: its lower fixing as said, else its length back from the sky end."""
    title = "Station of the tube's lower end"
    if sheet.says("frame.lower_fixing"):
        return choices.as_given_mm.work("frame.lower_end", title, chosen_mm=sheet.given("frame.lower_fixing"))
    return frame_lengths.lower_end_mm.work("frame.lower_end", title, front_mm=sheet.given("front.station"),
                                           tube_length_mm=sheet.result("frame.tube_length"))


def _poles() -> tuple[tuple[str, Work], ...]:
    return (
        _length("Free length of one pole", "frame.pole_length"),
        step("frame.upper_fixing", frame_lengths.upper_fixing_mm,
             lower_fixing_mm=given("frame.lower_fixing"), frame_height_mm=worked("frame.pole_length")),
    )


def _sawn() -> tuple[tuple[str, Work], ...]:
    return (step("frame.sawn_length", frame_lengths.sawn_length_mm, pole_length_mm=worked("frame.pole_length"),
                 end_fittings_mm=given("frame.end_fittings")),)


def _truss() -> tuple[tuple[str, Work], ...]:
    return (
        _length("One pole, node to node", "frame.pole_length"),
        step("frame.chord", frame_lengths.truss_chord_mm, lower_radius_mm=given("frame.circle_radius"),
             upper_radius_mm=UPPER_RADIUS, pole_count=given("frame.count")),
        step("frame.height", frame_lengths.truss_height_mm,
             pole_length_mm=worked("frame.pole_length"), truss_chord_mm=worked("frame.chord")),
        step("frame.upper_fixing", frame_lengths.upper_fixing_mm,
             lower_fixing_mm=given("frame.lower_fixing"), frame_height_mm=worked("frame.height")),
    )


def _front() -> tuple[tuple[str, Work], ...]:
    return (
        step("frame.front_beyond_focuser", frame_lengths.front_beyond_focuser_mm,
             front_mm=given("front.station"), focuser_station_mm=worked("focuser.station")),
    )
