"""The templates as files: SVG in one piece, PDF on sheets of paper, DXF for a cutter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.palette import PAPER
from dossier.drawings.svg import render
from dossier.drawings.templates import templates_of
from dossier.drawings.templates.model import Template
from dossier.drawings.templates.pages import pages
from dossier.drawings.templates.sheet import scene, whole
from dossier.publish.dxf import as_dxf
from dossier.publish.vector_pdf import as_pdf
from dossier.views.templates import FOLDER

if TYPE_CHECKING:
    from dossier.design.model import Design



@dataclass(frozen=True)
class Printed:
    """The templates of a design, each with the number of its printed sheets, and all files by address."""

    paper: str
    sheets: tuple[tuple[Template, int], ...]
    files: Mapping[str, bytes]


def printed(design: Design, paper: str) -> Printed:
    """Every template in its three forms; PDFs on this paper, asking to be printed without scaling."""
    sheets: list[tuple[Template, int]] = []
    files: dict[str, bytes] = {}
    for template in templates_of(design):
        address, scenes = f"{FOLDER}{template.key}", pages(template, design, paper)
        sheets.append((template, len(scenes)))
        files[f"{address}.pdf"] = as_pdf(scenes, title=template.title)
        files[f"{address}.svg"] = render(scene(template, design), PAPER, alone=True).encode()
        files[f"{address}.dxf"] = as_dxf(whole(template, design))
    return Printed(paper, tuple(sheets), files)
