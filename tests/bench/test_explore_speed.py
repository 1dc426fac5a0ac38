"""How many builders a minute are drawn and worked out: of first-order goals, and of traced ones.

    python -m pytest -m long tests/bench/test_explore_speed.py -s

prints both. A rate is of the processor's time, for one core; two cores make twice as many. Beside the floors stands a
ratio to one working out of the whole build, timed in the same run.
"""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.conftest import PROJECT, TEASEL

CORES = 2
FIRST_ORDER = ["optics.focal_ratio", "optics.obstruction", "field.coma_free_radius", "focuser.spare_in",
               "cell.spring_margin", "mount.load_share", "parts.cost"]
TRACED = ["figure.wavefront_pv", "figure.strehl", "collimation.strehl", "diagonal.full_field", "diagonal.edge_light",
          "field.edge_rms_radius", "light.mtf_50", "cell.wavefront_rms"]
DRAWN = """
import sys, time
from pathlib import Path
from dossier.design import work_out
from dossier.design.explore import draw_builders
from dossier.design.explore.ground import ground_read
from dossier.spec.load import load_build

build, count, *shown = sys.argv[1:]
loaded = load_build(Path(build))
work_out(loaded)
start = time.process_time()
work_out(loaded)
whole = time.process_time() - start
ground = ground_read(loaded)
draw_builders(ground, 5, show=shown, again=0)
start = time.process_time()
draw_builders(ground, int(count), 1, show=shown, again=0)
print((time.process_time() - start) / int(count), whole)
"""


def seconds(count: int, shown: list[str]) -> tuple[float, float]:
    """Processor time of one builder, and of working the whole build out, s; by one thread of a fresh interpreter."""
    alone = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run([sys.executable, "-c", DRAWN, str(TEASEL), str(count), *shown], cwd=PROJECT, env=alone,
                          capture_output=True, text=True, check=True)
    one, whole = map(float, done.stdout.split())
    return one, whole


@pytest.mark.long
@pytest.mark.parametrize(("name", "shown", "count", "floor", "share"), [
    ("first-order", FIRST_ORDER, 2000, 10_000, 0.1), ("traced", TRACED, 200, 500, 1.0)])
def test_builders_a_minute_on_two_cores(name: str, shown: list[str], count: int, floor: int, share: float) -> None:
    one, whole = seconds(count, shown)
    rate = CORES * 60 / one
    print(f"\n{name} goals: {rate:,.0f} builders a minute on {CORES} cores, at least {floor:,}; one takes "
          f"{one / whole:.3f} of working the whole build out, at most {share}")
    assert rate >= floor
    assert one <= share * whole
