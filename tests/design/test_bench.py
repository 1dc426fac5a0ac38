"""Readings of the bench laid over a plan: their mirror stands for the planned one everywhere, or the line is named."""

from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from dossier.calc.optics import bench_tests
from dossier.design import Design, bench, bench_rows, pictures, work_out, worksheet
from dossier.design.alternatives import alternatives
from dossier.errors import Unusable
from dossier.spec.load import load_build

ZONES = (29.0, 47.0, 60.0, 70.5)
PLAN: dict[str, Any] = {
    "format": 1, "about": {"name": "Trial"}, "diagonal": {"minor_axis": "31 mm"},
    "primary": {"aperture": "150 mm", "focal_length": "1200 mm", "conic": 0},
    "focuser": {"mounting_radius": "100 mm", "height": "50 mm"}, "field": {"judged": "20 mm"}}
Tested = Callable[..., Design]


@pytest.fixture
def tested(tmp_path: Path) -> Tested:
    """A plan worked out with readings: those of ``conic`` with the scale's zero at 7.3 mm and ``off`` added to each,
    or just these. ``primary`` is laid over the plan's, ``found`` over the mirror as measured."""

    def worked(conic: float = -0.4, *, off: tuple[float, ...] = (0, 0, 0, 0), readings: tuple[float, ...] = (),
               source: str = "moving", primary: dict[str, Any] | None = None,
               found: dict[str, Any] | None = None) -> Design:
        exact = bench_tests.knife_readings_mm(150, 1200, conic, ZONES, float(source == "moving"))
        said = readings or [7.3 + reading + error for reading, error in zip(exact, off, strict=True)]
        plan = {**PLAN, "primary": {**PLAN["primary"], **(primary or {})}}
        measured = {"primary": found or {}, "bench": {
            "source": source, "zones": [f"{zone} mm" for zone in ZONES], "readings": [f"{each!r} mm" for each in said]}}
        (tmp_path / "build.yaml").write_text(yaml.safe_dump(plan), "utf-8")
        (tmp_path / "found.yaml").write_text(yaml.safe_dump(measured, sort_keys=False), "utf-8")
        return work_out(load_build(tmp_path, tmp_path / "found.yaml"))

    return worked


@pytest.mark.parametrize("source", ["moving", "fixed"])
def test_the_mirror_found_is_the_mirror_of_every_result(tested: Tested, tmp_path: Path, source: str) -> None:
    """A plan that says this conic gives every number that readings of this conic give."""
    found = tested(-0.4, source=source)
    (tmp_path / "build.yaml").write_text(
        yaml.safe_dump({**PLAN, "primary": {**PLAN["primary"], "conic": -0.4}}), "utf-8")
    said = work_out(load_build(tmp_path))
    assert set(said.results) == {name for name in found.results if not name.startswith("bench.")}
    for name, result in said.results.items():
        assert found.results[name].value == pytest.approx(result.value, rel=1e-6, abs=1e-9), name
    assert found.results["figure.strehl"].inputs["conic"].id == "bench.conic"
    assert pictures.light_of(found).mirror.conic == pytest.approx(-0.4, abs=1e-8)


def test_what_the_bench_says(tested: Tested) -> None:
    results = tested(-0.4, off=(0.01, -0.01, 0.01, -0.01)).results
    assert results["bench.scale_zero"].number == pytest.approx(7.3, abs=0.02)
    assert abs(results["bench.conic"].number + 0.4) < 2 * results["bench.conic_uncertainty"].number
    for name in ("wavefront_pv", "wavefront_rms", "strehl"):
        spread = results[f"bench.{name}_uncertainty"].number
        assert 0 < spread < 0.1 * results[f"bench.{name}"].number
    assert results["bench.profile_pv"].number == pytest.approx(results["bench.wavefront_pv"].number, rel=0.1)
    assert results["bench.profile_rms"].number == pytest.approx(results["bench.wavefront_rms"].number, rel=0.1)
    # The tested mirror is the figure's, but over its whole face: a little worse than the ring that is left open.
    assert results["bench.strehl"].number < results["figure.strehl"].number < results["bench.strehl"].number + 0.1


def test_without_readings_nothing_is_said_of_a_bench(tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_text(yaml.safe_dump(PLAN), "utf-8")
    design = work_out(load_build(tmp_path))
    assert not [name for name in design.results if name.startswith("bench.")]
    assert pictures.bench_profile_of(design) is None


def _surface(design: Design) -> float:
    return pictures.light_of(design).surface_rms_nm


def test_what_the_conic_leaves_stands_for_the_surface_where_it_is_worse(tested: Tested) -> None:
    bad = (0.0, 0.25, -0.25, 0.0)
    left = tested(off=bad).results["bench.surface_rms"].number
    assert left > 5
    assert _surface(tested(off=bad)) == left
    assert _surface(tested(off=bad, primary={"surface_rms": "3 nm"})) == left
    assert _surface(tested(off=bad, primary={"surface_rms": "60 nm"})) == 60
    assert _surface(tested(off=bad, found={"surface_rms": "4 nm"})) == 4
    strehl = tested(off=bad).results["figure.strehl"]
    assert strehl.inputs["surface_rms_nm"].title == "Surface error that the conic does not tell, RMS"


def test_a_change_of_the_plan_does_not_change_what_was_read(tested: Tested) -> None:
    found = tested(-0.4).loaded
    for changes in ({"primary.focal_length": 1300.0}, {"primary.aperture": 120.0}):
        sheet = worksheet(found, changes=changes)
        assert sheet.result("bench.conic").number == pytest.approx(-0.4, abs=1e-8)
        assert sheet.result("figure.strehl").inputs["conic"].value == pytest.approx(-0.4, abs=1e-8)
    assert worksheet(found, changes={"primary.conic": -1.0}).result("figure.strehl").number == pytest.approx(1)


@pytest.mark.parametrize(("readings", "says"), [
    ((0.0, 2.5, 4.5, 6.5), r"bench\.readings: fit a conic of about -\d.*are they positive away from the mirror"),
    ((0.0, 4.0, -2.5, 4.0), r"bench\.readings: lie up to .* off the conic that fits them best.* tell nothing"),
])
def test_readings_that_no_mirror_gives_are_named_with_their_line(tested: Tested, readings: tuple[float, ...],
                                                                says: str) -> None:
    with pytest.raises(Unusable, match=rf"found\.yaml:\d+: {says}") as caught:
        tested(readings=readings)
    (problem,) = caught.value.problems
    line = Path(problem.file).read_text("utf-8").splitlines()[problem.line - 1]
    assert line.strip().startswith("readings:")


def test_profile_of_a_raised_zone(tested: Tested) -> None:
    """A knife that reads long at one zone has met a slope that is too shallow there: outside of it the glass lies
    lower than the conic's, inside higher."""
    made = pictures.bench_profile_of(tested(-1.0, off=(0.0, 0.4, 0.0, 0.0)))
    assert made is not None
    steep = made.surface_nm - made.conic_nm
    inside, outside = (float(steep[int(abs(made.radius_mm - place).argmin())]) for place in (38.0, 56.0))
    assert inside - outside > 5
    assert len(made.left_nm) == len(ZONES)


def test_mask_runs_from_the_shadow_to_the_rim(tested: Tested) -> None:
    mask = pictures.zone_mask_of(tested())
    assert (mask.edges_mm[0], mask.edges_mm[-1]) == pytest.approx((15.5, 75))
    areas = [outer**2 - inner**2 for inner, outer in zip(mask.edges_mm[:-1], mask.edges_mm[1:], strict=True)]
    assert areas == pytest.approx([areas[0]] * len(areas))
    assert len(mask.windows) == len(mask.centres_mm) == math.ceil(150 / 40)


def test_a_tested_mirror_stands_beside_the_planned_one(tested: Tested) -> None:
    made = pictures.bench_pictures(tested(-0.4))
    assert (made.planned, made.other.conic) == (True, 0.0)
    assert made.read.conic == pytest.approx(-0.4)
    near = pictures.bench_pictures(tested(-0.004))
    assert near.read.conic == -1
    assert len(set(near.knife.positions_mm)) == 3


def test_a_plan_knows_the_bench_without_loading_it(tested: Tested) -> None:
    assert tuple(bench_rows.rows()) == bench.RESULTS
    assert set(bench.RESULTS) <= set(tested().results)
    code = ("import sys; from dossier.design import work_out; from dossier.spec.load import load_build; "
            "from pathlib import Path; work_out(load_build(Path('content/teasel-150'))); "
            "print('dossier.calc.optics.bench_tests' in sys.modules)")
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                         cwd=Path(__file__).parents[2])
    assert ran.stdout.strip() == "False"


def test_another_mirror_of_the_parts_list_is_not_the_one_that_was_tested() -> None:
    demo = Path(__file__).parents[2] / "content" / "teasel-150"
    found = work_out(load_build(demo, demo / "measured" / "mirror-3.yaml"))
    paraboloid = next(each for each in alternatives(found) if each.name == "paraboloid of the same size")
    assert paraboloid.results["figure.wavefront_pv"].number == pytest.approx(0, abs=1e-9)
    assert all(not each.unfit for each in alternatives(found))
