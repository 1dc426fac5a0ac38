"""The drawing set as files: each sheet as SVG and as a PDF of its own, and all of them as one PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.diagrams import Diagram, diagram
from dossier.drawings.palette import PAPER
from dossier.drawings.sheets.compose import sheets_of
from dossier.drawings.svg import render
from dossier.publish.vector_pdf import bound, leaf_of
from dossier.views.drawings import SET, address_of

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True)
class Drawn:
    """The sheets of a design as diagrams for its page, and all files by address."""

    diagrams: tuple[Diagram, ...]
    files: Mapping[str, bytes]


def drawn(design: Design, paper: str) -> Drawn:
    """Every sheet that the spec gives data for, on this paper."""
    sheets = sheets_of(design, paper)
    about = design.build.about
    language = about.language or design.build.readers.language
    # Every sheet stands in two files, its own and the set, and is written once for both.
    pages = [leaf_of(sheet.scene) for sheet in sheets]
    files: dict[str, bytes] = {SET: bound(pages, title=f"Drawing set of {about.name}", language=language)}
    for sheet, page in zip(sheets, pages, strict=True):
        title = f"{sheet.kind.title}, {about.name}"
        files[address_of(sheet.kind.key, "pdf")] = bound([page], title=title, language=language)
        files[address_of(sheet.kind.key, "svg")] = render(sheet.scene, PAPER, alone=True).encode()
    return Drawn(tuple(diagram(design, sheet) for sheet in sheets), files)
