"""Several builds: an index page that lists them, one file that stands alone above their folders."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dossier.errors import Problem, Unusable
from dossier.publish import assets
from dossier.publish.html import render
from dossier.publish.themes import load_theme
from dossier.publish.write import put_file
from dossier.views.library import library_view

if TYPE_CHECKING:
    from dossier.publish import Options

INDEX = "index.html"
_OURS = '<meta name="generator" content="dossier library">'


def write_index(lines: Sequence[Mapping[str, Any]], out: Path, options: Options) -> Path:
    """Write the index of builds into ``out``, each as ``views.library.build_line`` tells it. Raises Unusable where
    another page stands in its place."""
    target = out / INDEX
    refuse_foreign_index(out)
    theme = load_theme(options.theme)
    put_file(target, render(theme.templates, "library", library_view(lines), assets.inline(theme)).encode())
    return target


def refuse_foreign_index(out: Path) -> None:
    """Unusable where ``out`` has an index page that this program did not write."""
    target = out / INDEX
    ours = target.is_file() and not target.is_symlink() and _OURS in target.read_text("utf-8", "replace")
    if not ours and (target.exists() or target.is_symlink()):
        raise Unusable([Problem(str(target), 0, "", "is there already and was not written by dossier; move it away or "
                                "choose another --out")])
