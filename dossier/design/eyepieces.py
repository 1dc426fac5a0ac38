"""The plan of the eyepieces: what each shows, and whether the focuser brings it to focus."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc import choices
from dossier.calc.optics import eyepieces, illumination
from dossier.design.traced import FOLD, MIRROR, or_zero
from dossier.design.worksheet import NotSaid, Work, Worksheet, given, step, worked
from dossier.spec.defaults import slug
from dossier.spec.model import Build
from dossier.working import Given, Result, gathered

# How far a focal plane may fall from where it was planned before a telescope is a disappointment: what makers reckon
# with for a bought mirror whose focal length is only roughly known. Common practice, no source.
ASTRAY_MM = 10.0


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module, an eyepiece at a time, then the focuser's reserve over all of them."""
    rows = [entry for index, piece in enumerate(build.eyepieces or ())
            for entry in (*_rows(index, slug(piece.name)), *_edge(index, slug(piece.name), piece.field_stop is None))]
    reserve = [_least("focuser.spare_in", "spare_in", "Focuser travel to spare inwards, every eyepiece"),
               _least("focuser.spare_out", "spare_out", "Focuser travel to spare outwards, every eyepiece")]
    return dict((*rows, *reserve))


def _rows(index: int, name: str) -> tuple[tuple[str, Work], ...]:
    row, key = f"eyepiece.{name}", f"eyepieces[{index}]"
    power = worked(f"{row}.magnification")
    return (
        step(f"{row}.magnification", eyepieces.magnification,
             focal_length_mm=given("primary.focal_length"), eyepiece_focal_length_mm=given(f"{key}.focal_length")),
        step(f"{row}.exit_pupil", eyepieces.exit_pupil_mm, aperture_mm=given("primary.aperture"), magnification=power),
        (f"{row}.true_field", lambda sheet: _true_field(sheet, row, key)),
        step(f"{row}.crossing_time", eyepieces.crossing_time_s, true_field_deg=worked(f"{row}.true_field")),
        *_focus(row, key, "", 0.0),
        *_focus(row, key, "_if_nearer", -ASTRAY_MM),
        *_focus(row, key, "_if_farther", ASTRAY_MM),
    )


def _edge(index: int, name: str, unknown: bool) -> tuple[tuple[str, Work], ...]:
    """How well the edge of this eyepiece's field is lit: its stop or, where that is unknown, its true field's edge."""
    row = f"eyepiece.{name}"
    width = worked(f"{row}.field_width") if unknown else given(f"eyepieces[{index}].field_stop")
    found = step(f"{row}.field_width", eyepieces.field_width_mm, true_field_deg=worked(f"{row}.true_field"),
                 focal_length_mm=given("primary.focal_length"))
    light = step(f"{row}.edge_light", illumination.edge_light, "Light at the edge of its field", **MIRROR, **FOLD,
                 judged_field_mm=width)
    return (found, light) if unknown else (light,)


def _focus(row: str, key: str, ending: str, moved_mm: float) -> tuple[tuple[str, Work], ...]:
    """Where the drawtube stands and what it has to spare, with the focal plane this far beyond its planned place."""
    place, shift = worked(f"{row}.focus_position{ending}"), or_zero(f"{key}.stop_shift", "mm", "at the shoulder")
    moved = Given("focal plane beyond its planned place", moved_mm, "mm", "default")
    where = {"": "", "_if_nearer": ", focus 10 mm nearer", "_if_farther": ", focus 10 mm farther"}[ending]
    return (
        step(f"{row}.focus_position{ending}", eyepieces.focus_position_mm, f"Drawtube in focus{where}",
             drawn_out_mm=worked("focuser.drawn_out"), stop_shift_mm=shift,
             focal_plane_moved_mm=lambda _: moved),
        step(f"{row}.spare_in{ending}", eyepieces.spare_in_mm, f"Travel to spare inwards{where}",
             focus_position_mm=place),
        step(f"{row}.spare_out{ending}", eyepieces.spare_out_mm, f"Travel to spare outwards{where}",
             travel_mm=given("focuser.travel"), focus_position_mm=place),
    )


def _true_field(sheet: Worksheet, row: str, key: str) -> Result:
    name = f"{row}.true_field"
    if sheet.says(f"{key}.field_stop"):
        return eyepieces.true_field_from_stop_deg.work(
            name, field_stop_mm=sheet.given(f"{key}.field_stop"), focal_length_mm=sheet.given("primary.focal_length"))
    return eyepieces.true_field_from_apparent_deg.work(
        name, apparent_field_deg=sheet.given(f"{key}.apparent_field"),
        magnification=sheet.result(f"{row}.magnification"))


def _least(result_id: str, column: str, title: str) -> tuple[str, Work]:
    """The eyepiece with the least to spare this way decides what the focuser has in reserve."""

    def work(sheet: Worksheet) -> Result:
        rows = [f"eyepiece.{slug(piece.name)}.{column}" for piece in sheet.build.eyepieces or ()]
        if not rows:
            raise NotSaid("any eyepiece")
        spares = gathered("what each eyepiece leaves", [sheet.result(row) for row in rows], "mm")
        return choices.least_spare_of_mm.work(result_id, title, spares_mm=spares)

    return result_id, work
