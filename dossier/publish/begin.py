"""``dossier begin``: the starter build, copied into an empty folder for its author to make their own."""

from __future__ import annotations

import shutil
from pathlib import Path

from dossier.errors import Problem, Unusable

STARTER = Path(__file__).parent.parent / "starter"
# What may lie beside the starter in an installed or half-built tree and is none of an author's business.
NOT_COPIED = ("__pycache__", "__init__.py", "*.pyc")


def begin_build(folder: Path) -> tuple[Path, ...]:
    """Write the starter build into this folder and return what was written, sorted.

    Raises Unusable where the folder is a file or not empty; nothing is then written.
    """
    if folder.exists() and not folder.is_dir():
        raise Unusable([Problem(str(folder), 0, "", "is a file; name a new or empty folder")])
    if folder.is_dir() and any(folder.iterdir()):
        raise Unusable([Problem(str(folder), 0, "", "is not empty; name a new or empty folder")])
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns(*NOT_COPIED), dirs_exist_ok=True)
    return tuple(sorted(path for path in folder.rglob("*") if path.is_file()))
