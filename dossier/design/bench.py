"""The plan of the bench: what a builder's knife-edge readings say of the finished mirror.

Where there are readings, their conic stands for the planned one in everything that is worked out (``conic``). What they
leave over stands for the surface's RMS error where it is the larger (``surface_rms``): a mask of a few zones cannot
show that a mirror is smoother than its report says.
"""

from __future__ import annotations

from collections.abc import Mapping

from dossier.design.worksheet import Source, Work, Worksheet
from dossier.spec.model import Build
from dossier.working import Given, NoAnswer, Result, converted

# The results of ``bench_rows``, named here so that a build without readings need not load what works them out.
RESULTS = tuple(f"bench.{name}" for name in (
    "conic", "conic_uncertainty", "scale_zero", "wavefront_pv", "wavefront_pv_uncertainty", "wavefront_rms",
    "wavefront_rms_uncertainty", "strehl", "strehl_uncertainty", "profile_pv", "profile_rms", "profile_strehl",
    "surface_rms"))


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module; a design without readings leaves them out."""
    if build.bench is None:
        return dict.fromkeys(RESULTS, _nothing_read)
    from dossier.design import bench_rows

    return bench_rows.rows()


def _nothing_read(sheet: Worksheet) -> Result:
    raise NoAnswer("no knife-edge readings are laid over the plan")


def conic(sheet: Worksheet) -> Given | Result:
    """The mirror's conic: as the bench found it, else as the spec says. A conic put in is that of another mirror."""
    if sheet.build.bench is None or sheet.changes("primary.conic"):
        return sheet.given("primary.conic")
    return sheet.unchanged().result("bench.conic")


def surface_rms(reported: Source) -> Source:
    """What is reported of the surface, or what the bench's conic does not tell of it, whichever is worse. What the
    measured file itself says of the surface stands."""

    def source(sheet: Worksheet) -> Given | Result:
        said, spot = reported(sheet), sheet.loaded.spots.get("primary.surface_rms")
        if sheet.build.bench is None or (spot is not None and spot.measured):
            return said
        left = sheet.unchanged().result("bench.surface_rms")
        return max(left, said, key=lambda each: converted(each, "surface_rms_nm"))

    return source
