"""How fast the door opens: ``dossier check`` against the packages it stands on, and what it may not even load.

    python -m pytest -m long tests/bench/test_door.py -s

prints the ratios. Both sides are measured in one run, in turns, by the processor time of the process: another program
that keeps the machine busy slows the clock on the wall for both, and not always by the same.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.conftest import PROJECT, TEASEL

PACKAGES = ("-c", "import numpy, pydantic, yaml, pint")
MOST = 1.5
# A site, all pages, drawings, templates, studies, drawn builders and what changed, against one working out of its
# build: some 130 for the demo; each of its earlier revisions is a site too.
MOST_SITE = 200
TURNS = 15
STARTER = PROJECT / "dossier" / "starter"
# What check has no use for: page, packet, charts, meshes, colour, a sandbox, a typeface, the network.
NOT_LOADED = {"weasyprint", "matplotlib", "trimesh", "scipy", "jinja2", "markdown", "nh3", "rich", "fontTools",
              "brotli", "watchfiles", "ezdxf", "segno", "PIL", "numpy.ma", "pint", "http", "ssl"}


def processor_seconds(words: Sequence[str]) -> float:
    """User and system time of a Python that is given these words, s. Modules are compiled by the first run."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    done = subprocess.Popen([sys.executable, *words], cwd=PROJECT, env=environment, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(done.pid, 0)
    done.returncode = os.waitstatus_to_exitcode(status)
    assert done.returncode in (0, 1)
    return used.ru_utime + used.ru_stime


def in_turns(*sides: Sequence[str]) -> list[float]:
    """The median processor time of each of these, run in turns, s."""
    for side in sides:
        processor_seconds(side)
    times = [[processor_seconds(side) for side in sides] for _ in range(TURNS)]
    return [statistics.median(column) for column in zip(*times, strict=True)]


@pytest.mark.long
@pytest.mark.parametrize("build", [TEASEL, STARTER], ids=lambda build: build.name)
def test_check_answers_within_half_as_much_again_as_its_packages(build: Path) -> None:
    packages, check = in_turns(PACKAGES, ("-m", "dossier", "check", str(build)))
    print(f"\ncheck {build.name}: {check:.3f} s; its packages {packages:.3f} s; ratio {check / packages:.2f}, "
          f"at most {MOST}")
    assert check <= MOST * packages


@pytest.mark.long
def test_other_commands_open_as_fast() -> None:
    """``explain`` works one chain out and reads the symbols; ``schema`` and ``--help`` need none of it."""
    sides = [("-m", "dossier", *words) for words in
             (["explain", str(TEASEL), "figure.strehl"], ["schema"], ["--help"])]
    packages, explain, schema, usage = in_turns(PACKAGES, *sides)
    print(f"\nexplain {explain / packages:.2f}, schema {schema / packages:.2f}, --help {usage / packages:.2f} "
          f"× the packages' {packages:.3f} s")
    assert explain <= MOST * packages
    assert schema <= packages
    assert usage <= packages / 2


@pytest.mark.long
def test_publish_tells_where_its_time_goes(tmp_path: Path) -> None:
    """Stage by stage, as ratios to a check of the same build in the same process."""
    from dossier.design import work_out
    from dossier.publish import Options, publish_all
    from dossier.spec.load import load_build

    work_out(load_build(TEASEL))
    began = time.process_time()
    work_out(load_build(TEASEL))
    worked_out = time.process_time() - began
    marks: list[tuple[str, float]] = []
    publish_all([TEASEL], tmp_path, Options(), lambda text: marks.append((text, time.process_time())), print)
    ends = [at for _, at in marks[1:]] + [time.process_time()]
    print(f"\nworking out alone {worked_out:.3f} s")
    for (stage, at), end in zip(marks, ends, strict=True):
        print(f"  {stage:24} {end - at:7.3f} s  {(end - at) / worked_out:6.1f} ×")
    spent = {stage: end - at for (stage, at), end in zip(marks, ends, strict=True)}
    assert len(spent) == len(marks), "a stage is told twice"
    past = [seconds for stage, seconds in spent.items() if "revision" in stage]
    own = sum(seconds for stage, seconds in spent.items() if "revision" not in stage and "packet" not in stage)
    assert len(past) == 3
    assert max(own, *past) < MOST_SITE * worked_out


def test_check_loads_nothing_it_has_no_use_for() -> None:
    code = ("import sys; sys.argv = ['dossier', 'check', sys.argv[1]]; import os; os._exit = sys.exit\n"
            "from dossier.cli import main\n"
            "try: main()\n"
            "finally: print(*sys.modules, file=sys.stderr)")
    done = subprocess.run([sys.executable, "-c", code, str(TEASEL)], cwd=PROJECT, capture_output=True, text=True,
                          check=False)
    loaded = set(done.stderr.split())
    assert {"dossier.design", "numpy", "pydantic"} <= loaded, done.stderr
    assert not NOT_LOADED & loaded
