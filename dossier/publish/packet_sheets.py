"""A book's sheets for the packet, in the order of a bench: what can hurt, what it is, what it takes, how it is made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace

from dossier.drawings import general_arrangement
from dossier.drawings.palette import PAPER, Palette
from dossier.drawings.sheets.compose import Sheet as DrawnSheet
from dossier.publish.book import Book
from dossier.publish.qr import qr_code
from dossier.spec import letters
from dossier.views import history, known_issues, overview, packet, parts, safety, site, sources, steps, symbols
from dossier.views.links import KNOWN_ISSUES, SAFETY, SOURCES, SYMBOLS, WORKING, step_page
from dossier.views.markup import NOTHING, Html
from dossier.views.packet import ContentLine, Packet, of_answers, of_steps
from dossier.views.packet_parts import parts_list
from dossier.views.packet_prose import Section, sections
from dossier.views.packet_results import Answer, answers, lines, picture_images
from dossier.views.packet_steps import StepSheet, step_sheet
from dossier.views.packet_working import chapters, references, source_rows, symbol_rows
from dossier.views.results import entries_of, judged, verdict
from dossier.views.working import Missing

# What a page has room for beside its margins, in mm.
COVER_WIDTH = {"A4": 170.0, "Letter": 174.0}
_CODE_MM = 25.0  # modules of more than half a millimetre, which a phone reads in poor light


def packet_of(book: Book, paper: str, drawn: Sequence[DrawnSheet]) -> Packet:
    """The packet's view of a book with these sheets of its drawing set."""
    return _Maker(book, paper, drawn).made()


def palette_of(book: Book) -> Palette:
    """The theme's colours for paper; the usual ones where it names none."""
    said = book.theme.print_colours
    return Palette(**{role.name: said.get(role.name, getattr(PAPER, role.name)) for role in fields(Palette)})


def images_of(book: Book) -> Mapping[str, bytes]:
    """The images that the packet names and the program makes, by address."""
    return picture_images(book.design, palette_of(book))


class _Maker:
    def __init__(self, book: Book, paper: str, drawn: Sequence[DrawnSheet]) -> None:
        self.book, self.design, self.paper, self.drawn = book, book.design, paper, drawn
        self.refs: Mapping[str, str] = references(book.design)
        self.palette = palette_of(book)

    def made(self) -> Packet:
        design, about = self.design, self.design.build.about
        safe, over, results = self._safety(), self._overview(), self._results()
        listed, built, own = self._parts(), self._steps(), self._own()
        drawn = packet.drawing_sheets(self.drawn)
        flaws = self._known_issues()
        proofs, signs, known = self._working(), self._symbols(), self._sources()
        inner: list[tuple[packet.Sheet, tuple[ContentLine, ...]]] = [(safe.sheet, ()), (over.sheet, ())]
        inner += [(each.sheet, of_answers(each.answers)) for each in results]
        inner += [(listed.sheet, ())] if listed else []
        inner += [(each.sheet, ()) for each in drawn]
        inner += [(built.sheet, of_steps(built.steps))] if built else []
        inner += [(flaws.sheet, ())] if flaws else []
        inner += [(each.sheet, ()) for each in own]
        inner += [(proofs.sheet, ()), (signs.sheet, ()), (known.sheet, ())]
        return Packet(
            lang=design.build.readers.language, paper=self.paper, name=about.name, authors=about.authors,
            description=about.summary or about.name,
            foot=" · ".join(filter(None, (", ".join(about.authors), about.licence))),
            block=packet.title_block(design), contents=packet.contents(inner), cover=self._cover(), safety=safe,
            overview=over, results=results, parts=listed, drawings=drawn, steps=built, known_issues=flaws, own=own,
            working=proofs, symbols=signs, sources=known,
        )

    def _sheet(self, href: str) -> packet.Sheet:
        page = self.book.page(href)
        return packet.sheet(href, page.block.title, page.heading)

    def _has(self, href: str) -> bool:
        return href in self.book.sheets.pages

    def _cover(self) -> packet.Cover:
        design = self.design
        drawing = general_arrangement.draw(design, palette=self.palette, width_mm=COVER_WIDTH[self.paper],
                                           dimensions=False)
        drawing = drawing.replace("general-arrangement-wide-", "cover-")  # another stands on a sheet of its own
        return packet.Cover(self.book.picture, Html("" if self.book.picture else drawing), self.book.summary,
                            overview.key_figures(design), "one kit" if design.kits == 1 else f"{design.kits} kits",
                            str(design.kits) if design.kits > 1 else "",
                            tuple(safety.caution_view(topic) for topic in design.cautions[:1]), *self._on_the_web())

    def _on_the_web(self) -> tuple[Html, str, str]:
        """Where this revision's pages are, as a code and in words, and what is there."""
        address = history.web_address(self.design)
        leads = (f"Revision {self.design.revision}, and whether there is a later one"
                 if letters.is_letter(self.design.revision) else "This draft is not there; the latest revision is")
        return (qr_code(address, _CODE_MM), address, leads) if address else (NOTHING, "", "")

    def _safety(self) -> packet.Safety:
        said, found = self._answers(SAFETY)
        view = safety.safety_view(self.design, self.book.page(SAFETY), (), ())
        workshop = self.design.build.workshop
        signers = packet.signatures(workshop.people if workshop else packet.SIGNERS)
        return packet.Safety(self._sheet(SAFETY), said, view.cautions, found, signers)

    def _overview(self) -> packet.Overview:
        goals, href = judged(self.design), "index.html"
        unjudged = tuple(overview.Unjudged(unmet.goal.result, unmet.goal.because, unmet.missing)
                         for unmet in self.design.unmet)
        return packet.Overview(self._sheet(href), sections(self.book.passage(href).pieces, href),
                               verdict(goals, self.design),
                               lines(entries_of(goals, self.design), self.design, self.refs, self.palette), unjudged)

    def _answers(self, href: str) -> tuple[tuple[Section, ...], tuple[Answer, ...]]:
        return answers(self.design, href, *self.book.by_question(href), self.refs, self.palette)

    def _results(self) -> tuple[packet.Results, ...]:
        return tuple(self._answered(href) for href in site.ANSWERS if self._has(href))

    def _answered(self, href: str) -> packet.Results:
        """A sheet of results. Where its heading is its first question, it is headed by its title instead."""
        sheet, (said, found) = self._sheet(href), self._answers(href)
        if any(answer.heading == sheet.heading for answer in found):
            sheet = replace(sheet, heading=sheet.title)
        return packet.Results(sheet, said, found)

    def _parts(self) -> packet.Parts | None:
        href = "parts.html"
        if not self._has(href):
            return None
        view = parts.parts_view(self.design, self.book.page(href), (), (), self.book.spoken, lambda _: "")
        return packet.Parts(self._sheet(href), *self._answers(href), parts_list(self.design, view))

    def _steps(self) -> packet.Steps | None:
        href = "steps.html"
        if not self._has(href):
            return None
        view = steps.steps_view(self.design, self.book.page(href), ())
        return packet.Steps(self._sheet(href), sections(self.book.passage(href).pieces, href), view,
                            tuple(self._step(number) for number in range(len(self.design.steps))))

    def _step(self, number: int) -> StepSheet:
        book, step = self.book, self.design.steps[number]
        view = steps.step_view(self.design, step, book.page(step_page(step.slug)), (), book.spoken,
                               book.pictures[step.slug])
        return step_sheet(step, view, book.bodies[step.slug])

    def _known_issues(self) -> packet.KnownIssues | None:
        if not self._has(KNOWN_ISSUES):
            return None
        view = known_issues.known_issues_view(self.design, self.book.page(KNOWN_ISSUES), (), self.book.spoken)
        said = sections(self.book.passage(KNOWN_ISSUES).pieces, KNOWN_ISSUES)
        return packet.KnownIssues(self._sheet(KNOWN_ISSUES), said, view)

    def _own(self) -> tuple[packet.Own, ...]:
        """The author's own pages: those that are no sheet of every dossier."""
        given = {*site.SITE, *site.BACK}
        return tuple(packet.Own(self._sheet(href), sections(passage.pieces, href))
                     for href, passage in self.book.passages.items() if href not in given)

    def _working(self) -> packet.Working:
        wanting: dict[str, list[str]] = {}
        for name, why in self.design.left_out.items():
            wanting.setdefault(why, []).append(name)
        missing = tuple(Missing(", ".join(names), why) for why, names in wanting.items())
        return packet.Working(self._sheet(WORKING), chapters(self.design, self.refs), missing)

    def _symbols(self) -> packet.Symbols:
        view = symbols.symbols_view(self.design, self.book.page(SYMBOLS))
        return packet.Symbols(self._sheet(SYMBOLS), symbol_rows(view, self.refs))

    def _sources(self) -> packet.Sources:
        view = sources.sources_view(self.design, self.book.page(SOURCES))
        return packet.Sources(self._sheet(SOURCES), source_rows(view, self.refs))
