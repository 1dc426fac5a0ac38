"""The plan of the bench: what a builder's knife-edge readings say of the finished mirror."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc.optics import bench_tests
from dossier.design.worksheet import NotSaid, Work, Worksheet, given, step, worked
from dossier.spec.model import Build
from dossier.working import Given


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module; a design without readings leaves them out."""
    mirror = {"aperture_mm": given("primary.aperture"), "focal_length_mm": given("primary.focal_length")}
    readings = {**mirror, "zone_radii_mm": given("bench.zones"), "readings_mm": given("bench.readings"),
                "source_moves": _source_moves}
    left = {**mirror, "conic": worked("bench.conic"), "wavelength_nm": given("conditions.wavelength")}
    return dict((
        step("bench.conic", bench_tests.bench_conic, **readings),
        step("bench.wavefront_pv", bench_tests.full_pupil_wavefront_pv_wave, **left),
        step("bench.wavefront_rms", bench_tests.full_pupil_wavefront_rms_wave, **left),
    ))


def _source_moves(sheet: Worksheet) -> Given:
    if sheet.build.bench is None:
        raise NotSaid("bench readings")
    spot = sheet.loaded.spots["bench.source"]
    moves = float(sheet.build.bench.source == "moving")
    return Given("bench.source", moves, "", "measured", spot.file, spot.line, spot.said)
