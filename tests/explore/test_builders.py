"""Builders drawn at random, against what can be worked out without drawing any, and against a library of statistics."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from typing import Any

import numpy as np
import pytest
from scipy import stats

from dossier.calc.shares import Z_95, share_at_least, share_at_most, variance_share
from dossier.design.explore import Drawn, draw_builders
from dossier.design.explore.ground import Ground
from dossier.design.explore.tolerances import QUANTILES, draws
from dossier.errors import Unusable
from dossier.spec.ranges import read_tolerance
from dossier.views.exploring import drawn_record

Make = Callable[..., Ground]
# The focuser stands on poles where it was drawn, so that the focal plane is 160 mm from the axis and by as much farther
# as the mirror is longer and the poles are shorter than planned: a plain sum, which spreads as its parts do.
SUM = """\
frame: {kind: poles, outer_diameter: 20 mm, inner_diameter: 17 mm, length: 640 mm, count: 3,
        circle_radius: 110 mm, material: aluminium-6061}
tolerances: {primary.focal_length: 3 mm normal, frame.length: 2 mm, focuser.drawn_out: 1 mm}
goals: [{result: optics.intercept, at_most: 161.5 mm}]
"""
SIGNS = np.array([1, -1, 1])
COUNT = 4000


@pytest.fixture(scope="module")
def summed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Ground, Drawn]:
    """The sum, drawn once."""
    from dossier.design.explore.ground import ground_read
    from dossier.spec.load import load_build
    from tests.explore.conftest import LEAST

    folder = tmp_path_factory.mktemp("sum")
    (folder / "build.yaml").write_text(LEAST + SUM, "utf-8")
    ground = ground_read(load_build(folder))
    return ground, draw_builders(ground, COUNT, 7)


def convolved_share(limit: float) -> float:
    """P(normal(σ 1.5) + uniform(±2) + uniform(±1) ≤ limit) by adding up over a fine grid of the two uniform ones."""
    grid = (np.arange(400) + 0.5) / 200 - 1
    return float(stats.norm.cdf((limit - 2 * grid[:, None] - grid[None, :]) / 1.5).mean())


def test_a_sum_spreads_as_its_parts(summed: tuple[Ground, Drawn]) -> None:
    values = summed[1].values[:, 0]
    deviation = math.sqrt(1.5**2 + 2**2 / 3 + 1 / 3)
    assert values.mean() == pytest.approx(160, abs=4 * deviation / math.sqrt(COUNT))
    assert values.std() == pytest.approx(deviation, rel=4 / math.sqrt(2 * COUNT))
    for level, found in zip(QUANTILES, summed[1].shares[0].quantiles, strict=True):
        assert found == pytest.approx(float(np.percentile(values, 100 * level)), rel=1e-12)
        assert convolved_share(found - 160) == pytest.approx(level, abs=4 * math.sqrt(level * (1 - level) / COUNT))


def test_the_share_that_meets_a_limit(summed: tuple[Ground, Drawn]) -> None:
    share = summed[1].shares[0]
    assert share.met == int((summed[1].values[:, 0] <= 161.5).sum())
    expected = convolved_share(1.5)
    assert share.met / COUNT == pytest.approx(expected, abs=4 * math.sqrt(expected * (1 - expected) / COUNT))
    assert summed[1].met_all == share.met


def test_shares_of_variance_are_those_of_the_sum(summed: tuple[Ground, Drawn]) -> None:
    """Of independent causes in a sum, each has the share of its own variance: 2.25, 1.333 and 0.333 of 3.917."""
    found = {each.key: each.variance_share for each in summed[1].shares[0].spoilers}
    for key, own in (("primary.focal_length", 1.5**2), ("frame.length", 4 / 3), ("focuser.drawn_out", 1 / 3)):
        assert found[key] == pytest.approx(own / (1.5**2 + 5 / 3), abs=0.03)


def test_misses_recovered_are_counted_build_by_build(summed: tuple[Ground, Drawn]) -> None:
    ground, drawn = summed
    tolerances = [read_tolerance(key, said) for key, said in ground.loaded.build.tolerances.items()]
    offsets = draws(tolerances, COUNT, 7) * SIGNS
    missing = np.flatnonzero(160 + offsets.sum(axis=1) > 161.5)[:200]
    for column, each in enumerate(tolerances):
        mended = 160 + offsets[missing].sum(axis=1) - offsets[missing, column] <= 161.5
        spoiler = next(spoiler for spoiler in drawn.shares[0].spoilers if spoiler.key == each.key)
        assert (spoiler.recovered, spoiler.of) == (int(mended.sum()), 200)
    assert drawn.shares[0].spoilers[0].key == "primary.focal_length"


def test_what_keeps_its_place_moves_no_focal_plane(ground: Make) -> None:
    """A tube's hole stays where it was drilled however long the tube is; a higher focuser on it stands farther in by as
    much. A frame that follows its mirror by an expression lets the drawtube stand where it is planned."""
    tube = ("frame: {kind: tube, outer_diameter: 200 mm, inner_diameter: 190 mm, length: %s, "
            "material: aluminium-6061}\n"
            "tolerances: {frame.length: 5 mm, focuser.height: 2 mm, primary.focal_length: 4 mm}")
    said = draw_builders(ground(tube % "1200 mm"), 50, show=["focuser.drawn_out", "optics.intercept"])
    offsets = draws(said.tolerances, 50, 0)
    assert said.values[:, 0] == pytest.approx(10 + offsets[:, 2] - offsets[:, 1], abs=1e-9)
    assert said.values[:, 1] == pytest.approx(160 + offsets[:, 2], abs=1e-9)
    fitted = draw_builders(ground(tube % '"{{ spec.primary.focal_length }}"'), 50, show=["focuser.station"])
    assert fitted.shares[0].most > fitted.shares[0].least + 4


def test_draws_are_spread_as_they_say() -> None:
    tolerances = [read_tolerance("primary.focal_length", "6 mm"), read_tolerance("primary.aperture", "6 mm normal")]
    even, normal = draws(tolerances, 5000, 3).T
    assert stats.kstest(even, stats.uniform(-6, 12).cdf).pvalue > 0.01
    assert stats.kstest(normal, stats.norm(0, 3).cdf).pvalue > 0.01
    assert abs(stats.pearsonr(even, normal).statistic) < 4 / math.sqrt(5000)


def test_the_same_seed_draws_the_same_builders_however_many_and_with_whom() -> None:
    one = [read_tolerance("primary.focal_length", "6 mm")]
    two = [*one, read_tolerance("primary.conic", "0.1 normal")]
    assert (draws(one, 50, 9) == draws(one, 500, 9)[:50]).all()
    assert (draws(two, 50, 9)[:, :1] == draws(one, 50, 9)).all()
    assert (draws(two[::-1], 50, 9)[:, ::-1] == draws(two, 50, 9)).all()
    assert not (draws(one, 50, 9) == draws(one, 50, 10)).any()


class Backwards(Executor):
    """Does what it is handed when its answer is asked for, the last task first, as a slow cluster might."""

    def __init__(self) -> None:
        self.waiting: list[tuple[Future[Any], Callable[[], Any]]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Asked = Asked(self)
        self.waiting.append((future, lambda: fn(*args, **kwargs)))
        return future

    def work(self) -> None:
        while self.waiting:
            future, task = self.waiting.pop()
            future.set_result(task())


class Asked(Future[Any]):
    """An answer that has all the work done when somebody wants it."""

    def __init__(self, executor: Backwards) -> None:
        super().__init__()
        self.executor = executor

    def result(self, timeout: float | None = None) -> Any:
        self.executor.work()
        return super().result(timeout)


def as_bytes(drawn: Drawn) -> bytes:
    return json.dumps(drawn_record(drawn)).encode() + drawn.values.tobytes()


def test_any_executor_gives_the_same_bytes(ground: Make) -> None:
    trial = ground("tolerances: {primary.focal_length: 60 mm, primary.conic: 0.3 normal, primary.tilt: 2 arcmin, "
                   "primary.aperture: 5 mm}",
                   "goals: [{result: figure.strehl, at_least: 0.8}, {result: collimation.strehl, at_least: 0.8}]")
    alone = as_bytes(draw_builders(trial, 250, 5, again=10))
    processes = ProcessPoolExecutor(2, mp_context=get_context("spawn"))
    for executor in (ThreadPoolExecutor(2), Backwards(), processes):
        with executor:
            assert as_bytes(draw_builders(trial, 250, 5, executor=executor, again=10)) == alone
    assert as_bytes(draw_builders(trial, 250, 6, again=10)) != alone


def test_a_tilt_costs_what_the_tilt_tolerance_says(ground: Make) -> None:
    """The tilt that costs 0.05 of Strehl ratio, as worked out by another search, is put in as a builder's own."""
    trial = ground("tolerances: {primary.tilt: 1 arcmin}")
    sheet = trial.sheet({})
    tilt = sheet.result("collimation.tilt_tolerance").number
    straight, tilted = (trial.sheet({"primary.tilt": each}).result("collimation.strehl").number
                        for each in (0.0, -tilt))
    # The two average over the pupil at other nodes, to better than a billionth.
    assert straight == pytest.approx(sheet.result("figure.strehl").number, rel=1e-9)
    assert straight - tilted == pytest.approx(0.05, abs=1e-6)


def test_goals_that_no_tolerance_touches_are_set_apart(ground: Make) -> None:
    drawn = draw_builders(ground("tolerances: {primary.edge_thickness: 1 mm}",
                                 "goals: [{result: optics.focal_ratio, at_most: 9}, "
                                 "{result: cell.mirror_mass, at_most: 1.0 kg}]"), 20)
    assert [share.planned.id for share in drawn.shares] == ["cell.mirror_mass"]
    assert [result.id for result in drawn.untouched] == ["optics.focal_ratio"]


def test_what_cannot_be_built_is_told_once_for_each_reason_and_meets_nothing(ground: Make) -> None:
    drawn = draw_builders(ground("tolerances: {primary.aperture: 10 mm}",
                                 "goals: [{result: optics.focal_ratio, at_most: 9}]"), 200)
    (reason, count), = drawn.unusable.items()
    assert "primary.blank_diameter 154 mm is less than the clear aperture" in reason
    assert count == int(np.isnan(drawn.values).sum()) == 200 - drawn.met_all
    assert 30 < count < 90, "apertures above 154 mm are three tenths of 140 to 160 mm"


def test_an_offset_that_is_worked_out_is_what_a_builder_s_lies_about(ground: Make) -> None:
    trial = ground("tolerances: {diagonal.offset: 0.2 mm, diagonal.minor_axis: 0 mm}")
    drawn = draw_builders(trial, 50, show=["diagonal.offset"])
    assert drawn.centres[0] == trial.sheet({}).result("diagonal.offset").number
    assert np.ptp(drawn.values[:, 0]) > 0.2


@pytest.mark.parametrize(("more", "wrong"), [
    ("", "tolerances: is not in this spec, and no builder can be drawn without"),
    ("tolerances: {primary.surface_rms: 5 nm}",
     "tolerances.primary.surface_rms: has a tolerance and no value to lie about; say primary.surface_rms"),
])
def test_tolerances_about_nothing(ground: Make, more: str, wrong: str) -> None:
    with pytest.raises(Unusable, match=wrong):
        draw_builders(ground(more), 5)


@pytest.mark.parametrize(("met", "drawn"), [(0, 10), (1, 10), (5, 10), (10, 10), (63, 300), (299, 300), (9870, 10000)])
def test_bounds_are_the_library_s(met: int, drawn: int) -> None:
    interval = stats.binomtest(met, drawn).proportion_ci(0.95, method="wilson")
    assert share_at_least(met / drawn, drawn, Z_95) == pytest.approx(interval.low, abs=1e-12)
    assert share_at_most(met / drawn, drawn, Z_95) == pytest.approx(interval.high, abs=1e-12)


def test_share_of_variance_of_curved_and_of_idle_causes() -> None:
    """Of y = x² + ε with x uniform within ±1, Var(x²) = 4/45; the straight correlation with x is nothing."""
    chance = np.random.default_rng(1)
    x, idle, noise = chance.uniform(-1, 1, 20_000), chance.uniform(-1, 1, 20_000), chance.normal(0, 0.2, 20_000)
    y = x**2 + noise
    assert variance_share(x, y) == pytest.approx((4 / 45) / (4 / 45 + 0.04), abs=0.02)
    assert variance_share(idle, y) < 0.002
    assert variance_share(x, np.full(20_000, 3.0)) == 0.0
    assert variance_share(np.zeros(20_000), y) == 0.0
