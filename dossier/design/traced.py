"""The plan of what is worked out by tracing light: figure, spots, diffraction, illumination, openings."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc.optics import (
    diffraction,
    illumination,
    offaxis,
    openings,
    spots,
    strehl_budget,
    wavefront,
)
from dossier.design import bench
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, step, worked
from dossier.spec.model import Build
from dossier.working import Given, NoAnswer, Result

MIRROR = {"aperture_mm": given("primary.aperture"), "focal_length_mm": given("primary.focal_length"),
          "conic": bench.conic}
PUPIL = {**MIRROR, "obstruction_diameter_mm": worked("diagonal.obstruction_diameter")}
WAVES = {**PUPIL, "wavelength_nm": given("conditions.wavelength")}
FOLD = {"intercept_mm": worked("optics.intercept"), "minor_axis_mm": given("diagonal.minor_axis"),
        "offset_mm": worked("diagonal.offset")}
JUDGED = {"judged_field_mm": worked("field.judged")}
_SUPPORT = ("cell.wavefront_rms", "cell.pinch_wavefront_rms")
DRAWTUBE = {"bore_mm": given("focuser.bore"), "drawtube_mm": given("focuser.drawtube")}


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module, in order."""
    return dict((*_figure(), *_field(), *_light(), *_openings()))


def or_zero(key: str, unit: str, said: str) -> Source:
    """What the spec says at this key, or nothing of it where it is silent."""

    def source(sheet: Worksheet) -> Given | Result:
        return sheet.given(key) if sheet.says(key) else Given(key, 0.0, unit, "default", said=said)

    return source


def _of_support(result_id: str) -> Source:
    """What the mirror's support costs by this result, or nothing of it where only the other is known."""

    def source(sheet: Worksheet) -> Given | Result:
        known = [each for name in _SUPPORT if (each := _if_known(sheet, name)) is not None]
        if not known:
            raise NotSaid("enough of the cell to know what support or pinch cost")
        return next((each for each in known if each.id == result_id),
                    Given(result_id, 0.0, "wave", "default", said="not worked out here"))

    return source


def _if_known(sheet: Worksheet, result_id: str) -> Result | None:
    try:
        return sheet.result(result_id)
    except (NotSaid, NoAnswer):
        return None


def _figure() -> tuple[tuple[str, Work], ...]:
    surface = bench.surface_rms(or_zero("primary.surface_rms", "nm", "no test report"))
    return (
        step("figure.longitudinal_aberration", spots.longitudinal_aberration_mm, **MIRROR),
        step("figure.best_focus_shift", wavefront.best_focus_shift_mm, **PUPIL),
        step("figure.wavefront_pv", wavefront.wavefront_pv_wave, **WAVES),
        step("figure.wavefront_rms", wavefront.wavefront_rms_wave, **WAVES),
        step("figure.strehl", wavefront.strehl, **WAVES, surface_rms_nm=surface),
        step("figure.strehl_budget", strehl_budget.strehl_budget, strehl=worked("figure.strehl"),
             support_wavefront_rms_wave=_of_support("cell.wavefront_rms"),
             pinch_wavefront_rms_wave=_of_support("cell.pinch_wavefront_rms")),
        step("figure.strehl_focus_shift", wavefront.strehl_focus_shift_mm, **WAVES),
        step("spot.axis_rms_radius", spots.axis_rms_radius_um, **PUPIL),
        step("spot.focus_shift", spots.smallest_spot_shift_mm, **PUPIL),
    )


def _field() -> tuple[tuple[str, Work], ...]:
    return (
        step("field.edge_rms_radius", spots.edge_rms_radius_um, **PUPIL, **JUDGED),
        step("field.edge_wavefront_rms", offaxis.edge_wavefront_rms_wave, **WAVES, **JUDGED),
        step("field.edge_coma", spots.edge_coma_um, **MIRROR, **JUDGED),
        step("field.edge_astigmatism", offaxis.edge_astigmatism_um, **MIRROR, **JUDGED),
        step("field.edge_curvature", offaxis.edge_curvature_um, **MIRROR, **JUDGED),
    )


def _light() -> tuple[tuple[str, Work], ...]:
    return (
        step("diagonal.full_field", illumination.full_field_mm, aperture_mm=MIRROR["aperture_mm"],
             focal_length_mm=MIRROR["focal_length_mm"], sagitta_mm=worked("optics.sagitta"), **FOLD),
        step("diagonal.edge_light", illumination.edge_light, **MIRROR, **FOLD, **JUDGED),
        step("light.mtf_25", diffraction.mtf_25, **WAVES),
        step("light.mtf_50", diffraction.mtf_50, **WAVES),
        step("light.mtf_75", diffraction.mtf_75, **WAVES),
        step("light.airy_energy", diffraction.airy_energy, **WAVES),
        step("spider.light_loss", openings.vane_light_loss, aperture_mm=MIRROR["aperture_mm"],
             obstruction_diameter_mm=PUPIL["obstruction_diameter_mm"], vanes=given("spider.vanes"),
             vane_thickness_mm=given("spider.vane_thickness")),
    )


def _openings() -> tuple[tuple[str, Work], ...]:
    aperture, rim = MIRROR["aperture_mm"], worked("diagonal.rim_to_focus")
    return (
        step("front.least_opening", openings.least_opening_mm, aperture_mm=aperture,
             focal_length_mm=MIRROR["focal_length_mm"], sagitta_mm=worked("optics.sagitta"),
             front_station_mm=given("front.station"), **JUDGED),
        step("focuser.bore_field", openings.bore_field_mm, aperture_mm=aperture, rim_to_focus_mm=rim, **DRAWTUBE),
        step("focuser.least_bore", openings.least_bore_mm, aperture_mm=aperture, rim_to_focus_mm=rim,
             drawtube_mm=DRAWTUBE["drawtube_mm"], **JUDGED),
    )
