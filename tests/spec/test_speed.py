"""The door opens fast: what reading a spec may cost, and what it may not even import."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable

import yaml

from dossier.spec.load import load_build
from tests.conftest import PROJECT, TEASEL

HEAVY = ("scipy", "numpy", "pint", "jinja2", "click", "rich", "weasyprint", "matplotlib", "jsonschema")


def least_time(work: Callable[[], object]) -> float:
    """The processor's time that the work takes at best, in seconds."""
    times = []
    for _ in range(9):
        began = time.process_time()
        work()
        times.append(time.process_time() - began)
    return min(times)


def test_a_spec_is_read_and_checked_in_four_times_the_time_of_its_yaml() -> None:
    """A ratio, since the machine may be busy; on an idle one the demo takes 9 ms, twice its YAML alone."""
    text = (TEASEL / "build.yaml").read_text()
    bare = least_time(lambda: yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)))
    assert least_time(lambda: load_build(TEASEL)) < 4 * bare


def test_nothing_heavy_is_imported_to_read_a_spec() -> None:
    """Not even the unit library, where every value is in the unit that it is kept in."""
    code = (f"import sys; from pathlib import Path; from dossier.spec.load import load_build; "
            f"load_build(Path({str(TEASEL)!r})); print(*[name for name in {HEAVY} if name in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
