"""ruff and mypy find nothing to say."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

PROJECT = Path(__file__).parents[1]


@pytest.mark.parametrize("words", [("ruff", "check", "."), ("mypy", "dossier")], ids=["ruff", "mypy"])
def test_style(words: tuple[str, ...]) -> None:
    done = subprocess.run([sys.executable, "-m", *words], cwd=PROJECT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
