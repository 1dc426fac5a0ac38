"""The door opens fast: what reading a spec may cost, and what it may not even import."""

from __future__ import annotations

import subprocess
import sys
import time

from dossier.spec.load import load_build
from tests.conftest import PROJECT, TEASEL

HEAVY = ("scipy", "numpy", "pint", "jinja2", "click", "rich", "weasyprint", "matplotlib", "jsonschema")


def test_the_demo_loads_in_thirty_milliseconds() -> None:
    times = []
    for _ in range(7):
        began = time.perf_counter()
        load_build(TEASEL)
        times.append(time.perf_counter() - began)
    assert min(times) < 0.030


def test_nothing_heavy_is_imported_to_read_a_spec() -> None:
    """Not even the unit library, where every value is in the unit that it is kept in."""
    code = (f"import sys; from pathlib import Path; from dossier.spec.load import load_build; "
            f"load_build(Path({str(TEASEL)!r})); print(*[name for name in {HEAVY} if name in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], cwd=PROJECT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
