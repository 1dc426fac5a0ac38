"""The packet: one dossier laid out for a bench, safety first, each number with the sheet that proves it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from dossier.design import Design
from dossier.drawings.palette import PAPER
from dossier.drawings.scene import Box, Scene
from dossier.drawings.sheets.compose import Sheet as DrawnSheet
from dossier.drawings.svg import render
from dossier.views.known_issues import KnownIssuesView
from dossier.views.markup import NOTHING, Html
from dossier.views.overview import KeyFigure, Unjudged
from dossier.views.packet_parts import PartsList
from dossier.views.packet_prose import Section, anchor
from dossier.views.packet_results import Answer, Line
from dossier.views.packet_steps import StepSheet
from dossier.views.packet_working import Chapter, SourceRow, SymbolRow
from dossier.views.safety import CautionView
from dossier.views.steps import Picture, StepsView
from dossier.views.working import Missing

# Who signs the safety sheet where the spec does not say how many people work at once.
SIGNERS = 8


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The fields of a title block after ISO 7200."""

    owner: str
    number: str
    revision: str
    date: str
    title: str
    summary: str
    kind: str
    creator: str
    approval: str
    language: str
    licence: str
    prose_licence: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet's place in the packet: its name for links, its title in the head of each page, its heading."""

    anchor: str
    title: str
    heading: str


@dataclass(frozen=True, slots=True)
class ContentLine:
    """A line of the contents; ``label`` is the number of a step, ``inner`` what is on the sheet."""

    anchor: str
    title: str
    label: str = ""
    inner: tuple[ContentLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Cover:
    """The first page: what it is, a picture of it, and the caution that comes before all others.

    ``code`` is the address of this revision's pages for a phone to read, ``address`` the same for people, ``leads``
    what is found there; all empty where the build says no address.
    """

    picture: Picture | None
    drawing: Html
    summary: Html
    key_figures: tuple[KeyFigure, ...]
    kits: str
    of_kits: str
    cautions: tuple[CautionView, ...]
    code: Html = NOTHING
    address: str = ""
    leads: str = ""


@dataclass(frozen=True, slots=True)
class Safety:
    """Every caution of the build, before anything else, and who has read them: ``signatures`` are the cells of each row
    to sign in, empty."""

    sheet: Sheet
    said: tuple[Section, ...]
    cautions: tuple[CautionView, ...]
    answers: tuple[Answer, ...]
    signatures: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Overview:
    """What the telescope is, and whether it does what is asked of it."""

    sheet: Sheet
    said: tuple[Section, ...]
    verdict: str
    goals: tuple[Line, ...]
    unjudged: tuple[Unjudged, ...]


@dataclass(frozen=True, slots=True)
class Results:
    """A sheet of questions and their answers."""

    sheet: Sheet
    said: tuple[Section, ...]
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Parts:
    """What it costs, what to get, and why."""

    sheet: Sheet
    said: tuple[Section, ...]
    answers: tuple[Answer, ...]
    list: PartsList


@dataclass(frozen=True, slots=True)
class DrawingSheet:
    """A sheet of the drawing set as a page of its own, at its true scale."""

    sheet: Sheet
    drawing: Html


@dataclass(frozen=True, slots=True)
class Steps:
    """The build steps, after a sheet that says what they are and what must lie on the bench."""

    sheet: Sheet
    said: tuple[Section, ...]
    view: StepsView
    steps: tuple[StepSheet, ...]


@dataclass(frozen=True, slots=True)
class KnownIssues:
    """What is known to be wrong, and what was put right."""

    sheet: Sheet
    said: tuple[Section, ...]
    view: KnownIssuesView


@dataclass(frozen=True, slots=True)
class Own:
    """A sheet of the author's own."""

    sheet: Sheet
    said: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class Working:
    """The workings, and what could not be worked out."""

    sheet: Sheet
    chapters: tuple[Chapter, ...]
    missing: tuple[Missing, ...]


@dataclass(frozen=True, slots=True)
class Symbols:
    """The symbols of the formulas."""

    sheet: Sheet
    rows: tuple[SymbolRow, ...]


@dataclass(frozen=True, slots=True)
class Sources:
    """The sources."""

    sheet: Sheet
    rows: tuple[SourceRow, ...]


@dataclass(frozen=True, slots=True)
class Packet:
    """All of it, in the order of its sheets. ``paper`` is A4 or Letter; ``blanks`` are pages to leave blank because
    they are set apart from these, each the names of the places on it. ``foot`` runs at the foot of each page;
    ``safety_page`` is the page on which the cautions begin, once that is known."""

    lang: str
    paper: str
    name: str
    authors: tuple[str, ...]
    description: str
    foot: str
    block: TitleBlock
    contents: tuple[ContentLine, ...]
    cover: Cover
    safety: Safety
    overview: Overview
    results: tuple[Results, ...]
    parts: Parts | None
    drawings: tuple[DrawingSheet, ...]
    steps: Steps | None
    known_issues: KnownIssues | None
    own: tuple[Own, ...]
    working: Working
    symbols: Symbols
    sources: Sources
    blanks: tuple[tuple[str, ...], ...] = ()
    safety_page: str = ""


def title_block(design: Design) -> TitleBlock:
    """The title block of a design's packet. What nobody has said is shown as not said."""
    about = design.build.about
    authors = ", ".join(about.authors)
    return TitleBlock(
        owner=authors or "not named", number=about.drawing_number or design.loaded.folder.resolve().name,
        revision=design.revision, date=design.date, title=about.name, summary=about.summary or "", kind="Build packet",
        creator=authors or "not named", approval=about.approved_by or "not approved",
        language=about.language or design.build.readers.language, licence=about.licence or "",
        prose_licence=about.prose_licence or "",
    )


# What a page bound on its right leaves of a sheet's left border, where nothing is printed, so that the filing margin
# lies at the binding; and a hair at the foot, lest the picture run over the page.
_TRIM_LEFT, _TRIM_FOOT = 10.0, 0.5


def drawing_sheets(sheets: Iterable[DrawnSheet]) -> tuple[DrawingSheet, ...]:
    """A page for every sheet of a drawing set: its place, and words for those who do not see it. What is seen is drawn
    on the page itself, which is faster than having it laid out, and lets nothing shrink it."""
    return tuple(DrawingSheet(Sheet(drawing_anchor(drawn), drawn.kind.title, drawn.kind.title), _bare(drawn.scene))
                 for drawn in sheets)


def drawing_anchor(drawn: DrawnSheet) -> str:
    """The name of a sheet's page in the packet."""
    return f"drawing-{drawn.kind.key}"


def bound(scene: Scene, *, left: bool) -> Scene:
    """A sheet as it lies on its page: on a left page further to the left."""
    box = scene.box
    return replace(scene, box=Box(box.left + _TRIM_LEFT, box.top, box.right, box.bottom)) if left else scene


def _bare(scene: Scene) -> Html:
    box = Box(scene.box.left + _TRIM_LEFT, scene.box.top, scene.box.right, scene.box.bottom - _TRIM_FOOT)
    return Html(render(replace(scene, name=f"packet-{scene.name}", box=box, members=()), PAPER))


def contents(packet_sheets: Iterable[tuple[Sheet, tuple[ContentLine, ...]]]) -> tuple[ContentLine, ...]:
    """The contents: a line for each sheet, and under it what is on it."""
    return tuple(ContentLine(sheet.anchor, sheet.title, "", inner) for sheet, inner in packet_sheets)


def signatures(people: int) -> tuple[tuple[str, ...], ...]:
    """The cells in which so many people sign, two in a row, each with name, signature and date."""
    return (("",) * 6,) * -(-people // 2)


def of_answers(answers: Iterable[Answer]) -> tuple[ContentLine, ...]:
    """The questions of a sheet, for the contents."""
    return tuple(ContentLine(answer.anchor, answer.heading) for answer in answers)


def of_steps(steps: Iterable[StepSheet]) -> tuple[ContentLine, ...]:
    """The steps, for the contents."""
    return tuple(ContentLine(each.anchor, each.title, each.step.number) for each in steps)


def sheet(href: str, title: str, heading: str) -> Sheet:
    """The packet's sheet of a page of the site."""
    return Sheet(anchor(href), title, heading)
