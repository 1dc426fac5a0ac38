"""The same inputs give the same files, byte for byte."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

STARTER = Path(__file__).parents[2] / "dossier" / "starter"


def test_two_runs_give_the_same_files(tmp_path: Path) -> None:
    """In two processes, with two seeds of Python's hashing, in two places."""
    sites = []
    for seed in ("1", "2"):
        folder = tmp_path / seed
        shutil.copytree(STARTER, folder / "dunlin-114")
        (folder / "dunlin-114" / "list.csv").write_text("a,b\n")
        (folder / "dunlin-114" / "pages" / "notes.md").write_text("[list](list.csv) {{ optics.focal_ratio }}\n")
        command = [sys.executable, "-m", "dossier", "publish", "dunlin-114", "--no-packet"]
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "SOURCE_DATE_EPOCH": "1750000000"}
        subprocess.run(command, cwd=folder, check=True, capture_output=True, env=surroundings)
        site = folder / "site" / "dunlin-114"
        sites.append({path.relative_to(site).as_posix(): path.read_bytes()
                      for path in site.rglob("*") if path.is_file()})
    assert sites[0] == sites[1]
    assert b"2025-06-15" in sites[0]["index.html"]
