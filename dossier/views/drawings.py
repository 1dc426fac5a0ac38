"""The sheet of drawings: each figure of the drawing set as a diagram, with what its numbers come from and its files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from dossier.design import Design
from dossier.drawings.diagrams import Diagram
from dossier.drawings.palette import SCREEN
from dossier.drawings.scene import Scene, Text, Words, leaves
from dossier.drawings.svg import render
from dossier.views.downloads import size_words
from dossier.views.goals import key_words
from dossier.views.known_issues import IssueView, issues_of_drawing
from dossier.views.links import part_of, spec_line, working_of
from dossier.views.markup import Html, joined, text
from dossier.views.prose import Said
from dossier.views.site import Page
from dossier.views.spoken import Spoken
from dossier.views.workings import Work, work_of

HREF, FOLDER, SET = "drawings.html", "drawings/", "drawings/drawing-set.pdf"
HEADING = "Where does everything go, and how large is it?"
FORMS = {"pdf": "to print, lines and lettering as such", "svg": "the same sheet for an editor"}
# Notes on a drawing of the whole telescope are all that concern what is built.
_WHOLE = frozenset({"general-arrangement", "exploded-view"})


@dataclass(frozen=True, slots=True)
class Stated:
    """A number of a drawing that the author said: its key in words, and its line in the spec, if it has one."""

    key: str
    words: str
    origin: str
    href: str


@dataclass(frozen=True, slots=True)
class ShownPart:
    """A part that a balloon names, with its line in the parts list."""

    ref: str
    name: str
    href: str


@dataclass(frozen=True, slots=True)
class DrawingFile:
    """One file of a drawing: its address, its form, what that is good for, its size."""

    href: str
    form: str
    use: str
    size: str


@dataclass(frozen=True, slots=True)
class DrawingView:
    """One figure: for wide screens at the scale of its sheet, for a phone with fewer dimensions; each with its notes.

    ``works`` and ``stated`` are where its numbers come from: results, and what the author said.
    """

    key: str
    title: str
    sheet: str
    scale: str
    caption: str
    wide: Html
    upright: Html
    notes: tuple[Html, ...]
    upright_notes: tuple[Html, ...]
    parts: tuple[ShownPart, ...]
    works: tuple[Work, ...]
    stated: tuple[Stated, ...]
    issues: tuple[IssueView, ...]
    files: tuple[DrawingFile, ...]


@dataclass(frozen=True, slots=True)
class DrawingsView:
    """All figures, after the author's words. ``answer`` says how many sheets there are; ``whole`` is the set as a file.
    """

    page: Page
    heading: str
    intro: tuple[Said, ...]
    answer: str
    unit: str
    drawings: tuple[DrawingView, ...]
    whole: DrawingFile


def drawings_view(design: Design, page: Page, intro: tuple[Said, ...], diagrams: Sequence[Diagram],
                  files: Mapping[str, bytes], paper: str, spoken: Spoken) -> DrawingsView:
    """These diagrams; ``files`` holds the files of their sheets by address."""
    drawings = tuple(_drawing(design, diagram, files, spoken) for diagram in diagrams)
    unit = "inches" if design.build.readers.units == "inch" else "millimetres"
    heading = HEADING if page.heading == page.block.title else page.heading
    projection = projection_of_all(each.sheet.fields.projection for each in diagrams)
    answer = (f"On {_counted(len(drawings))} of {paper}, in {projection}, every length worked out from the build "
              "spec.")
    return DrawingsView(page, heading, intro, answer, unit, drawings,
                        _file(SET, "PDF", "all sheets in one file", files))


def what_each_is(diagrams: Iterable[Diagram]) -> dict[str, str]:
    """Every file of these sheets by its address, with what it is."""
    known = {SET: "All sheets in one file."}
    return known | {address_of(each.sheet.kind.key, form): f"{each.sheet.kind.title}, {use}."
                    for each in diagrams for form, use in FORMS.items()}


def address_of(key: str, form: str) -> str:
    """The address of a sheet as a file."""
    return f"{FOLDER}{key}.{form}"


def _counted(sheets: int) -> str:
    return "one sheet" if sheets == 1 else f"{sheets} sheets"


def projection_of_all(drawn_in: Iterable[str]) -> str:
    """In words, which projection these sheets are drawn in; where not all are drawn in one, both."""
    found = sorted(set(drawn_in))
    words = " or ".join(f"{each}-angle" for each in found)
    return f"{words} projection, as each says" if len(found) > 1 else f"{words} projection"


def _drawing(design: Design, diagram: Diagram, files: Mapping[str, bytes], spoken: Spoken) -> DrawingView:
    sheet, key = diagram.sheet, diagram.sheet.kind.key
    lines = _Origins(design)
    shown = [*_words(diagram.wide), *_words(diagram.upright), *(run for note in (*diagram.notes, *diagram.upright_notes)
                                                               for run in note)]
    results = list(dict.fromkeys(run.result for run in shown if run.result in design.results))
    keys = list(dict.fromkeys(run.key for run in shown if run.key))
    parts = tuple(ShownPart(part.ref, spoken.of_spec_plain(part.name, f"parts[{place}].name"), part_of(part.ref))
                  for place, part in enumerate(design.build.parts) if part.ref in {each.ref for each in sheet.parts})
    refs = None if key in _WHOLE else [part.ref for part in sheet.parts]
    return DrawingView(
        key=key, title=sheet.kind.title, sheet=f"sheet {sheet.number} of {sheet.count}", scale=sheet.fields.scale,
        caption=sheet.kind.caption, wide=lines.drawn(diagram.wide), upright=lines.drawn(diagram.upright),
        notes=lines.notes(diagram.notes), upright_notes=lines.notes(diagram.upright_notes),
        parts=parts, works=tuple(work_of(design.results[name], design) for name in results),
        stated=tuple(map(lines.stated, keys)), issues=issues_of_drawing(design, spoken, refs),
        files=tuple(_file(address_of(key, form), form.upper(), use, files) for form, use in FORMS.items()))


def _file(address: str, form: str, use: str, files: Mapping[str, bytes]) -> DrawingFile:
    return DrawingFile(address, form, use, size_words(len(files[address])))


def _words(scene: Scene) -> Iterator[Words]:
    for shape in leaves(scene.members):
        if isinstance(shape, Text):
            yield from shape.runs


class _Origins:
    """Where the numbers of a design's drawings lead to."""

    def __init__(self, design: Design) -> None:
        self._spots = design.loaded.spots

    def drawn(self, scene: Scene) -> Html:
        return Html(render(scene, SCREEN, working_of, self._line))

    def notes(self, notes: Iterable[Sequence[Words]]) -> tuple[Html, ...]:
        """Notes as text in which each number leads to where it comes from. The unit stands under each figure."""
        return tuple(joined(self._linked(run) for run in runs) for runs in notes
                     if not runs[0].text.startswith("Dimensions in "))

    def stated(self, key: str) -> Stated:
        spot = self._spots.get(key)
        words = key_words(key)
        if spot is None:
            return Stated(key, _begun(words), "the usual value, as the spec does not say it", "")
        name = spot.file.rpartition("/")[2]
        return Stated(key, _begun(words), f"{name}:{spot.line}", self._line(key))

    def _linked(self, run: Words) -> Html:
        href = working_of(run.result) if run.result else self._line(run.key) if run.key else ""
        named = f' data-result="{text(run.result)}"' if run.result else f' data-key="{text(run.key)}"'
        return Html(f'<a class="number" href="{text(href)}"{named}>{text(run.text)}</a>') if href else text(run.text)

    def _line(self, key: str) -> str:
        spot = self._spots.get(key)
        return spec_line(spot.line, measured=spot.measured) if spot else ""


def _begun(words: str) -> str:
    """Words without their article, beginning with a capital."""
    said = words.removeprefix("the ")
    return said[:1].upper() + said[1:]
