"""The sheets of the drawing set as files: each as SVG and as PDF, and the whole set as one PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.palette import PAPER
from dossier.drawings.sheets.compose import Sheet, sheets_of
from dossier.drawings.svg import render
from dossier.publish.vector_pdf import as_pdf

if TYPE_CHECKING:
    from dossier.design.model import Design

FOLDER, SET = "drawings/", "drawings/drawing-set.pdf"


@dataclass(frozen=True)
class DrawnSet:
    """The sheets of a design on one paper, and their files by address."""

    paper: str
    sheets: tuple[Sheet, ...]
    files: Mapping[str, bytes]


def drawn_set(design: Design, paper: str) -> DrawnSet:
    """Every sheet that the spec gives data for, in black on white, its PDF asking to be printed without scaling."""
    sheets = sheets_of(design, paper)
    name, language = design.build.about.name, design.build.about.language or design.build.readers.language
    files: dict[str, bytes] = {}
    for sheet in sheets:
        address = f"{FOLDER}{sheet.kind.key}"
        files[f"{address}.svg"] = render(sheet.scene, PAPER).encode()
        files[f"{address}.pdf"] = as_pdf([sheet.scene], title=f"{name}: {sheet.kind.title}", language=language)
    if sheets:
        files[SET] = as_pdf([sheet.scene for sheet in sheets], title=f"{name}: drawing set", language=language)
    return DrawnSet(paper, sheets, files)
