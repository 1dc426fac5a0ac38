"""How long a whole drawing set takes: every sheet and every template of a build, in all their files.

Run with ``pytest -m long tests/bench -s`` to read the ratios. Both sides are measured in one run by the processor time.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from dossier.design import work_out
from dossier.publish.drawings import drawn
from dossier.publish.templates import printed
from dossier.spec.load import load_build
from tests.bench.test_door import PACKAGES, processor_seconds
from tests.conftest import PROJECT

BUILDS = sorted(path.parent.name for path in (PROJECT / "content").glob("*/build.yaml"))
# A second on a machine that loads these packages in a quarter of one.
MOST = 4.0
TURNS = 5


def _seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


@pytest.mark.long
@pytest.mark.parametrize("name", BUILDS)
def test_all_sheets_and_templates_of_a_build_take_less_than_a_second(name: str) -> None:
    """SVG and PDF of every sheet, the set as one PDF, its figures for a phone; SVG, PDF and DXF of every template."""
    design = work_out(load_build(PROJECT / "content" / name))
    paper = design.build.readers.paper
    sheets, templates, packages = [], [], []
    for _ in range(TURNS):
        sheets.append(_seconds(lambda: drawn(design, paper)))
        templates.append(_seconds(lambda: printed(design, paper)))
        packages.append(processor_seconds(PACKAGES))
    ratio = (min(sheets) + min(templates)) / min(packages)
    print(f"\n{name}: sheets {min(sheets):.2f} s, templates {min(templates):.2f} s, packages {min(packages):.2f} s: "
          f"{ratio:.2f} of {MOST}")
    assert ratio < MOST
