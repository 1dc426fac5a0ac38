"""The working of the bench: from readings to conic, wavefront, Strehl ratio and surface, each with its uncertainty."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc.optics import bench_profile, bench_tests
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, step, worked
from dossier.errors import Unusable
from dossier.working import Given, NoAnswer, Result

_WAVELENGTH = given("conditions.wavelength")


def rows() -> Mapping[str, Work]:
    """Every result of the bench."""
    return dict((*_conic(), *_wavefront(), *_profile()))


def _tested(key: str) -> Source:
    """What the spec and the measured file say at this key: the mirror that stood on the bench is not a changed one."""
    return lambda sheet: sheet.unchanged().given(key)


_MIRROR = {"aperture_mm": _tested("primary.aperture"), "focal_length_mm": _tested("primary.focal_length")}


def _source_moves(sheet: Worksheet) -> Given:
    """1 where the source moved with the knife, 0 where it stood still."""
    if sheet.build.bench is None:
        raise NotSaid("bench readings")
    spot = sheet.loaded.spots["bench.source"]
    moves = float(sheet.build.bench.source == "moving")
    return Given("bench.source", moves, "", "measured", spot.file, spot.line, spot.said)


_READINGS = {**_MIRROR, "zone_radii_mm": _tested("bench.zones"), "readings_mm": _tested("bench.readings"),
             "source_moves": _source_moves}


def _conic() -> tuple[tuple[str, Work], ...]:
    return (
        _usable(*step("bench.conic", bench_tests.bench_conic, **_READINGS)),
        step("bench.conic_uncertainty", bench_tests.bench_conic_uncertainty, **_READINGS),
        step("bench.scale_zero", bench_tests.scale_zero_mm, **_READINGS),
    )


def _wavefront() -> tuple[tuple[str, Work], ...]:
    found = {**_MIRROR, "conic": worked("bench.conic"), "wavelength_nm": _WAVELENGTH}
    spread = {**_MIRROR, "conic_uncertainty": worked("bench.conic_uncertainty"), "wavelength_nm": _WAVELENGTH}
    return (
        step("bench.wavefront_pv", bench_tests.full_pupil_wavefront_pv_wave, **found),
        step("bench.wavefront_pv_uncertainty", bench_tests.bench_pv_uncertainty_wave, **spread),
        step("bench.wavefront_rms", bench_tests.full_pupil_wavefront_rms_wave, **found),
        step("bench.wavefront_rms_uncertainty", bench_tests.bench_rms_uncertainty_wave, **spread),
        step("bench.strehl", bench_tests.bench_strehl, **found),
        step("bench.strehl_uncertainty", bench_tests.bench_strehl_uncertainty, **found,
             conic_uncertainty=worked("bench.conic_uncertainty")),
    )


def _profile() -> tuple[tuple[str, Work], ...]:
    return (
        step("bench.profile_pv", bench_profile.profile_pv_wave, **_READINGS, wavelength_nm=_WAVELENGTH),
        step("bench.profile_rms", bench_profile.profile_rms_wave, **_READINGS, wavelength_nm=_WAVELENGTH),
        step("bench.profile_strehl", bench_profile.profile_strehl, **_READINGS, wavelength_nm=_WAVELENGTH),
        step("bench.surface_rms", bench_profile.left_surface_rms_nm, **_READINGS),
    )


def _usable(result_id: str, work: Work) -> tuple[str, Work]:
    """The same line of the plan; readings that no mirror gives are a fault of the line where they stand."""

    def judged(sheet: Worksheet) -> Result:
        try:
            return work(sheet)
        except NoAnswer:
            raise
        except ValueError as error:
            key, _, message = str(error).partition(" ")
            if not key.startswith("bench."):
                raise
            raise Unusable([sheet.loaded.problem(key, message)]) from None

    return result_id, judged
