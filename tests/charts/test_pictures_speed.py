"""How long all optical results and pictures of the demo take, as a ratio to importing the packet's engine.

Run with ``pytest -m long tests/charts -s`` to read the ratio. Processor time of one thread, so that a busy machine
tells the same: numpy's own threads would count several times.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

PROJECT = Path(__file__).parents[2]
# Timed are the optical results, worked out cold, and the pictures from their import on. What lies between, the rest of
# the design and the drawings' kernel, a publication has at hand without any picture.
OURS = """
import time
from pathlib import Path
import dossier.drawings.general_arrangement
from dossier.views.questions import QUESTIONS
from dossier.design import work_out, worksheet
from dossier.drawings.palette import SCREEN
from dossier.spec.load import load_build
loaded = load_build(Path("content/teasel-150"))
optical = ("optics", "figure", "spot", "field", "light", "diagonal", "front", "focuser", "spider", "stray", "eyepiece",
           "collimation")
sheet = worksheet(loaded)
start = time.process_time()
done = [sheet.result(name) for name in sheet.plan if name.split(".")[0] in optical]
spent = time.process_time() - start
design = work_out(loaded)
start = time.process_time()
from dossier.charts import PICTURES
pages = {"optics.html", "shows.html", "testing.html", "collimation.html"}
headings = [question.heading for question in QUESTIONS if question.page in pages]
made = [picture for picture in PICTURES.values() if any(heading.startswith(picture.question) for heading in headings)]
assert len(made) > 15
for picture in made:
    for form in ("wide", "upright"):
        picture.make(design, SCREEN, form)
print(spent + time.process_time() - start)
"""
THEIRS = """
import time
start = time.process_time()
import weasyprint
print(time.process_time() - start)
"""


def _own_time(code: str) -> float:
    alone = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=alone,
                          cwd=PROJECT)
    return float(done.stdout)


@pytest.mark.long
def test_results_and_all_pictures_of_the_demo(capsys: pytest.CaptureFixture[str]) -> None:
    """In less than twice the import of the packet's engine: every picture of the optics, for screen and phone."""
    ours, theirs = (min(_own_time(code) for _ in range(4)) for code in (OURS, THEIRS))
    with capsys.disabled():
        print(f"\noptical results and all pictures: {ours / theirs:.2f} × the import of weasyprint")
    assert ours < 2 * theirs
