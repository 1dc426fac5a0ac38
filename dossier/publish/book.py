"""What site and packet share: a design, its theme, its numbered sheets, and the author's prose with live numbers."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from dossier.design import Design
from dossier.errors import Problem, Unusable
from dossier.publish.files import BuildFiles
from dossier.publish.pages import Source, author_pages
from dossier.publish.prose import Writer
from dossier.publish.themes import Theme
from dossier.views import choices, history, site
from dossier.views.history import Place
from dossier.views.links import KNOWN_ISSUES, REVISIONS, step_page
from dossier.views.prose import Passage, Piece, by_question
from dossier.views.questions import QUESTIONS, Question
from dossier.views.results import pages_with_answers
from dossier.views.spoken import Spoken, spelled_out
from dossier.views.steps import Picture, said_at
from dossier.views.words import words_for

EMPTY = Passage("", ())
# Sheets that the program fills by itself.
_NO_PROSE = frozenset({"working.html", "spec.html", "symbols.html", "sources.html"})


class Book:
    """One dossier. Its prose is rendered at once; ``complain`` raises Unusable with every problem found so far.

    ``place`` is where it stands among the revisions of its build, where that is not at the build's own root.
    """

    def __init__(self, design: Design, theme: Theme, place: Place | None = None) -> None:
        self.spoken, self.place = Spoken(design), place or Place(design.issued)
        self.design, self.theme = spelled_out(design, self.spoken), theme
        self.sources = _with_a_place(author_pages(design.loaded.folder))
        self.files = BuildFiles(design.loaded.folder)
        self.sheets = self._sheets()
        self.writer = Writer(self.spoken, self.files, self._addresses())
        self.passages = {_page_of(name): self._passage(source) for name, source in self.sources.items()}
        self.bodies = {step.slug: self.writer.passage(step.body, step.file, line=step.body_line,
                                                      page=step_page(step.slug)) for step in self.design.steps}
        self.pictures = {step.slug: self._pictures(step.pictures, step.file, said_at(step, "pictures"))
                         for step in self.design.steps}
        with self.spoken.alone():  # they compare for themselves what was planned with what was found
            self.told = {question.key: self._told(question) for question in QUESTIONS}
        self.summary = self.spoken.of_spec(design.build.about.summary, "about.summary")
        self.picture = self._own_picture()
        self.complain()

    def complain(self) -> None:
        """Raise Unusable where the prose or a text of the spec has a problem."""
        if problems := [*self.writer.problems, *self.spoken.problems]:
            raise Unusable(problems)

    def passage(self, href: str) -> Passage:
        """The author's prose for the page at this address; an empty one where there is none."""
        return self.passages.get(href, EMPTY)

    def by_question(self, href: str) -> tuple[tuple[Piece, ...], Mapping[str, tuple[Piece, ...]]]:
        """The author's words on a page as a whole, and the words on each of its questions: first the program's own on
        what it found, then the author's."""
        whole, under = by_question(self.passage(href), href)
        keys = (question.key for question in QUESTIONS if question.page == href)
        return whole, {key: (*self.told[key], *under.get(key, ())) for key in keys}

    def page(self, href: str) -> site.Page:
        """The frame of the page at this address, with the author's heading where there is one."""
        source = next((each for name, each in self.sources.items() if _page_of(name) == href), None)
        if source is None:
            return self.sheets.page(href)
        return self.sheets.page(href, heading=source.title or self.passage(href).heading, description=source.summary)

    def download(self, path: str) -> str:
        """The address of a file that the spec names, or nothing where it is not in the build's folder."""
        try:
            return self.files.published(path, str(self.design.loaded.file))
        except ValueError:
            return ""

    @property
    def part_files(self) -> dict[str, str]:
        """The addresses of the files that the parts list hands out, by their paths in the build."""
        named = ((part.print and part.print.mesh, part.cad) for part in self.design.build.parts)
        return {path: address for files in named for path in files if path and (address := self.download(path))}

    def _sheets(self) -> site.Sheets:
        build = self.design.build
        given = {*site.SITE, *site.BACK}
        own = [site.Extra(_page_of(name), _title(source)) for name, source in self.sources.items()
               if _page_of(name) not in given]
        inner = {"steps.html": [site.Extra(step_page(step.slug), step.title) for step in self.design.steps],
                 REVISIONS: [site.Extra(history.change_page(*step), history.change_title(*step))
                             for step in (() if self.place.up else history.steps_of(self.design))]}
        answered = pages_with_answers(self.design)
        wanted = {"parts.html": build.parts or "parts" in self.sources,
                  choices.HREF: choices.has_choices(self.design) or "choices" in self.sources,
                  "steps.html": self.design.steps or "steps" in self.sources,
                  KNOWN_ISSUES: build.notes or "known-issues" in self.sources,
                  REVISIONS: self.place.issued or "revisions" in self.sources,
                  **{href: href in answered or href.removesuffix(".html") in self.sources for href in site.ANSWERS}}
        without = [href for href, reason in wanted.items() if not reason]
        return site.Sheets(self.design, own, inner, without, history.notice(self.design, self.place),
                           f"{self.place.up}{history.FEED}" if self.place.issued else "")

    def _addresses(self) -> dict[str, str]:
        """What prose may call each page: by its address, or by the Markdown file it comes from."""
        known = {page: page for page in self.sheets.pages}
        known |= {page.removesuffix(".html") + ".md": page for page in self.sheets.pages}
        known |= {Path(step.file).name: step_page(step.slug) for step in self.design.steps}
        return {**known, "overview.md": "index.html", "overview.html": "index.html"}

    def _told(self, question: Question) -> tuple[Piece, ...]:
        words = words_for(self.design, question.key)
        return self.writer.passage(words, question.heading, page=question.page).pieces if words else ()

    def _passage(self, source: Source) -> Passage:
        return self.writer.passage(source.body, source.file, line=source.line, page=_page_of(source.name))

    def _own_picture(self) -> Picture | None:
        named = self.design.build.about.picture
        spot = self.design.loaded.spots.get("about.picture")
        if not named or not spot:
            return None
        found = self._pictures((f"{named}: {self.design.build.about.name}, a photograph",), spot.file, spot.line)
        return found[0] if found else None

    def _pictures(self, named: tuple[str, ...], file: str, line: int) -> tuple[Picture, ...]:
        """Pictures named in front matter, each with what it shows: ``images/cell.jpg: The cell from behind``."""
        found = []
        for entry in named:
            path, _, alt = entry.partition(":")
            try:
                found.append(Picture(self.files.published(path.strip(), file), alt.strip() or Path(path).stem))
            except ValueError as error:
                self.writer.problems.append(Problem(file, line, "pictures", str(error)))
        return tuple(found)


def _with_a_place(sources: dict[str, Source]) -> dict[str, Source]:
    """These pages, each of which has a sheet to stand on. Raises Unusable where one would be lost."""
    problems, taken = [], dict[str, Source]()
    for name, source in sources.items():
        href = _page_of(name)
        if href in _NO_PROSE:
            why = f"would be lost: {href} is the program's own sheet and holds no prose; give the file another name"
            problems.append(Problem(source.file, 1, "", why))
        elif taken.setdefault(href, source) is not source:
            problems.append(Problem(source.file, 1, "", f"would be lost: {taken[href].file} is on {href} already"))
    if problems:
        raise Unusable(problems)
    return sources


def _page_of(name: str) -> str:
    return "index.html" if name == "overview" else f"{name}.html"


def _title(source: Source) -> str:
    first = source.body.lstrip().partition("\n")[0]
    heading = first.removeprefix("# ").strip() if first.startswith("# ") else ""
    return source.title or heading or source.name.replace("-", " ").capitalize()
