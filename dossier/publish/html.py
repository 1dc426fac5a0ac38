"""The site of one build: every page's view filled into the theme's templates."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from dossier.design import Design
from dossier.errors import Problem, Unusable
from dossier.publish import assets, past
from dossier.publish.book import Book
from dossier.publish.drawings import Drawn, drawn
from dossier.publish.lists import MANIFEST, as_csv, manifest
from dossier.publish.prose import Promise
from dossier.publish.templates import Printed, printed
from dossier.spec import text_file
from dossier.views import (
    answers,
    choices,
    downloads,
    drawings,
    history,
    known_issues,
    links,
    listing,
    measured_file,
    overview,
    parts,
    safety,
    sources,
    steps,
    symbols,
    templates,
    working,
)
from dossier.views.figures import picture_files
from dossier.views.links import step_page
from dossier.views.lists import PARTS_LIST, List, lists
from dossier.views.prose import Said, said
from dossier.views.record import as_json
from dossier.views.results import Answered, answered, illustrated
from dossier.views.site import ANSWERS, Page

SPEC_FILE, RESULTS_FILE, PACKET_FILE = "build.yaml", "results.json", "packet.pdf"
_FIRST = frozenset({PACKET_FILE, RESULTS_FILE, SPEC_FILE})
_PICTURES = frozenset({".png", ".jpg", ".jpeg", ".svg", ".webp", ".gif"})

View = tuple[str, Any]


class Site:
    """The views of every page by address, each with its template. Raises Unusable with every problem of the texts."""

    def __init__(self, book: Book, paper: str | None = None) -> None:
        self.book, self._design = book, book.design
        self._paper = paper or book.design.build.readers.paper
        self._views = {href: self._view(href) for href in book.sheets.pages}
        self._views |= {href: ("change", view) for href, view in past.changes(book).items()}
        for step in self._design.steps:
            href = step_page(step.slug)
            self._views[href] = ("step", steps.step_view(
                self._design, step, book.sheets.page(href, heading=step.title),
                self._beside(book.bodies[step.slug].pieces), book.spoken, book.pictures[step.slug]))
        book.complain()

    def files(self, packet: bytes | None = None) -> dict[str, bytes]:
        """Every file of the site but those copied from the build. Raises Unusable where a link leads nowhere."""
        taken = self._taken_along(packet)
        shelves = self._shelves(taken)
        first = [line for shelf in shelves for line in shelf.files if line.name in _FIRST]
        self._views[drawings.HREF] = ("drawings", drawings.drawings_view(
            self._design, *self._intro(drawings.HREF), self._drawn.diagrams, self._drawn.files, self._paper,
            self.book.spoken))
        self._views["templates.html"] = ("templates", templates.templates_view(
            self._design, *self._intro("templates.html"), self._printed.sheets, self._printed.files, self._paper))
        self._views["downloads.html"] = ("downloads", downloads.downloads_view(
            self._design, *self._intro("downloads.html"), shelves, packet is not None))
        self._views["index.html"] = ("overview", overview.overview_view(
            self._design, self.book.page("index.html"), self.book.summary,
            self._beside(self.book.passage("index.html").pieces), self.book.picture, first, self.book.spoken))
        bundle = assets.bundle(self.book.theme)
        pages = {href: render(self.book.theme.templates, name, view, bundle.links)
                 for href, (name, view) in self._views.items()}
        _keep(self.book.writer.promises, pages)
        taken |= past.announced(self.book, lambda name, view: render(
            self.book.theme.templates, name, view, assets.inline(self.book.theme)))
        return {**taken, **bundle.files, **{href: text.encode() for href, text in pages.items()}}

    def copies(self) -> dict[str, Path]:
        """The files of the build that the site hands out, by address."""
        return dict(self.book.files.copies)

    @cached_property
    def _drawn(self) -> Drawn:
        return drawn(self._design, self._paper)

    @cached_property
    def _printed(self) -> Printed:
        return printed(self._design, self._paper)

    def _view(self, href: str) -> View:
        book, design = self.book, self._design
        match href:
            case "safety.html":
                return "safety", safety.safety_view(design, *self._answers(href))
            case _ if href in ANSWERS:
                return "answers", answers.answers_view(design, *self._answers(href), book.spoken)
            case "parts.html":
                return "parts", parts.parts_view(design, *self._answers(href), book.spoken, book.download)
            case links.KNOWN_ISSUES:
                return "known-issues", known_issues.known_issues_view(
                    design, *self._intro(href), book.spoken, book.place.up, book.place.since)
            case links.REVISIONS:
                return "revisions", history.history_view(design, book.place, *self._intro(href))
            case choices.HREF:
                return "choices", choices.choices_view(design, *self._intro(href))
            case "steps.html":
                return "steps", steps.steps_view(design, *self._intro(href))
            case "working.html":
                return "working", working.working_view(design, book.page(href))
            case "symbols.html":
                return "symbols", symbols.symbols_view(design, book.page(href))
            case "sources.html":
                return "sources", sources.sources_view(design, book.page(href))
            case "spec.html":
                return "listing", self._listing()
        return "own", answers.OwnView(*self._intro(href))

    def _beside(self, pieces: Sequence[Any]) -> tuple[Said, ...]:
        return said(pieces, self._design)

    def _intro(self, href: str) -> tuple[Page, tuple[Said, ...]]:
        return self.book.page(href), self._beside(self.book.passage(href).pieces)

    def _answers(self, href: str) -> tuple[Page, tuple[Said, ...], tuple[Answered, ...]]:
        """A page's frame, the author's words on the whole, and its questions with his words on each.

        The working of a result stands beside the result itself there, so not beside his words as well.
        """
        whole, under = self.book.by_question(href)
        told = set(self._design.results)
        beside = {key: said(pieces, self._design, told) for key, pieces in under.items()}
        return self.book.page(href), said(whole, self._design), illustrated(
            answered(self._design, href, beside), self._design)

    def _listing(self) -> listing.ListingView:
        loaded = self._design.loaded
        listings = [listing.listing(SPEC_FILE, text_file.read(loaded.file)[0], "L")]
        measured = next((spot.file for spot in loaded.spots.values() if spot.measured), "")
        if measured:
            listings.append(listing.listing(Path(measured).name, text_file.read(Path(measured))[0], "M"))
        return listing.ListingView(self.book.page("spec.html"), tuple(listings), loaded.sha256)

    def _taken_along(self, packet: bytes | None) -> dict[str, bytes]:
        design = self._design
        files = {} if packet is None else {PACKET_FILE: packet}
        files |= self._drawn.files
        files |= picture_files(design)
        files |= self._printed.files
        files[measured_file.NAME] = measured_file.empty_file(design).encode()
        files |= {each.name: as_csv(each) for each in _lists(design)}
        if text := manifest(design, self.book.part_files, PARTS_LIST in files):
            files[MANIFEST] = text.encode()
        return {**files, RESULTS_FILE: as_json(design).encode(), SPEC_FILE: text_file.read(design.loaded.file)[1]}

    def _shelves(self, files: Mapping[str, bytes]) -> tuple[downloads.Shelf, ...]:
        own = {address: path.read_bytes() for address, path in sorted(self.book.files.copies.items())
               if path.suffix.lower() not in _PICTURES}
        return (
            downloads.Shelf("For the bench", _lines(files, {
                PACKET_FILE: "The whole dossier on paper, with boxes to tick and to sign."})),
            downloads.Shelf("Drawings", _lines(files, drawings.what_each_is(self._drawn.diagrams))),
            downloads.Shelf("Templates at full size", _lines(files, templates.what_each_is(self._printed.sheets))),
            downloads.Shelf("Files of the parts", _lines(own, dict.fromkeys(own, ""))),
            downloads.Shelf("Lists", _lines(files, {each.name: each.what for each in _lists(self._design)})),
            downloads.Shelf("Data", _lines(files, {
                RESULTS_FILE: "Every result at full precision, with its working.",
                SPEC_FILE: "The spec from which all of this is worked out.",
                measured_file.NAME: "What a builder measures, to be filled in and laid over the plan.",
                MANIFEST: "What it is, whose, and where its files are, as Open Know-How says it."})),
        )


def _lists(design: Design) -> tuple[List, ...]:
    """Every list that there is to take along."""
    return (*lists(design), *choices.choice_lists(design))


def render(templates: tuple[Path, ...], name: str, view: object, links: assets.Links) -> str:
    """A page: a view in the template of this name."""
    text: str = environment(templates).get_template(f"{name}.html.j2").render(view=view, assets=links)
    return text


@lru_cache(maxsize=4)
def environment(folders: tuple[Path, ...]) -> Any:
    """Jinja over these folders of templates: every string is escaped, every unknown name an error."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(loader=FileSystemLoader([str(folder) for folder in folders]), autoescape=True,
                       undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    made.globals.clear()
    return made


def _keep(promises: Sequence[Promise], pages: Mapping[str, str]) -> None:
    """Every place that prose points to must be there."""
    lost = [promise for promise in promises if f' id="{promise.anchor}"' not in pages[promise.page]]
    if lost:
        raise Unusable(Problem(promise.file, promise.line, "", f"there is no #{promise.anchor} on {promise.page}")
                       for promise in lost)


def _lines(files: Mapping[str, bytes], what: Mapping[str, str]) -> tuple[downloads.FileLine, ...]:
    return tuple(downloads.FileLine(name, name.rsplit("/", 1)[-1], text, downloads.size_words(len(files[name])),
                                    hashlib.sha256(files[name]).hexdigest())
                 for name, text in what.items() if name in files)
