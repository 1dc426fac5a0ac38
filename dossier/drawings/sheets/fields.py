"""What the title block of a sheet says: the fields of ISO 7200:2004, and what a drawing needs besides."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings import scales
from dossier.drawings.figure import SheetKind
from dossier.drawings.projection import Projection, projection_of
from dossier.drawings.sheets.projection import drawn_in

if TYPE_CHECKING:
    from dossier.design.model import Design

NOT_NAMED, NOT_APPROVED = "not named", "not approved"


@dataclass(frozen=True, slots=True)
class Fields:
    """Mandatory after ISO 7200: owner, identification number, date of issue, sheet number, title, approval person,
    creator, type of document. The others are its optional ones, then scale, unit, tolerances, licence."""

    owner: str
    number: str
    date: str
    sheet: str
    title: str
    approved: str
    creator: str
    document_type: str
    revision: str
    sheets: str
    language: str
    supplementary: str
    scale: str
    unit: str
    tolerances: str
    licence: str
    projection: Projection


def fields_of(design: Design, kind: SheetKind, sheet: int, sheets: int, scale: float) -> Fields:
    """The fields of one sheet. What nobody has said is shown as not said."""
    about, readers = design.build.about, design.build.readers
    authors = ", ".join(about.authors) or NOT_NAMED
    return Fields(
        owner=authors, number=about.drawing_number or design.loaded.folder.resolve().name, date=design.date,
        sheet=str(sheet), title=kind.title, approved=about.approved_by or NOT_APPROVED, creator=authors,
        document_type=kind.document_type, revision=design.revision, sheets=str(sheets),
        language=about.language or readers.language, supplementary=about.name, scale=scales.ratio(scale),
        unit="inches" if readers.units == "inch" else "millimetres", tolerances=about.general_tolerances or "",
        licence=about.licence or "", projection=drawn_in(kind.key, projection_of(design)))
