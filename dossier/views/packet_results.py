"""Results on paper: a line each, with its limit as a gauge and the number of the working sheet that proves it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from dossier.charts import FOLDER, PICTURES
from dossier.design import Design
from dossier.drawings import limit_gauge
from dossier.drawings.palette import Palette
from dossier.views.asides import AsideTable
from dossier.views.links import WORKING
from dossier.views.markup import Html
from dossier.views.packet_prose import Section, anchor, sections
from dossier.views.prose import Piece, said
from dossier.views.results import Answered, Entry, Limit, answered
from dossier.views.tables import Table
from dossier.views.working import question_anchor
from dossier.working import Result


@dataclass(frozen=True, slots=True)
class Line:
    """One result: the number of its working, its label, its number padded to the decimal point, its unit."""

    ref: str
    anchor: str
    label: str
    number: str
    pad: str
    unit: str
    limit: Limit | None
    planned: str = ""



@dataclass(frozen=True, slots=True)
class Shown:
    """A picture and what to see in it."""

    picture: Html
    caption: str


@dataclass(frozen=True, slots=True)
class Answer:
    """A question, its answer in a sentence, the words on it, the results, asides, and pictures to compare with."""

    anchor: str
    heading: str
    verdict: str
    said: tuple[Section, ...]
    lines: tuple[Line, ...]
    tables: tuple[Table, ...]
    asides: tuple[AsideTable, ...]
    pictures: tuple[Shown, ...]


def picture_images(design: Design, palette: Palette) -> Mapping[str, bytes]:
    """The raster images that the packet's pictures name, by address."""
    return {FOLDER + name: data for known in PICTURES.values()
            if (made := known.make(design, palette, "wide")) for name, data in made.images.items()}


def answers(design: Design, page: str, whole: tuple[Piece, ...], under: Mapping[str, tuple[Piece, ...]],
            refs: Mapping[str, str], palette: Palette) -> tuple[tuple[Section, ...], tuple[Answer, ...]]:
    """What the author says on a page as a whole, and the page's questions. ``under`` are the words on each."""
    beside = {key: said(pieces, design) for key, pieces in under.items()}
    found = tuple(_answer(each, sections(under.get(each.key, ()), page), design, page, refs, palette)
                  for each in answered(design, page, beside))
    return sections(whole, page), found


def lines(entries: Iterable[Entry], design: Design, refs: Mapping[str, str], palette: Palette) -> tuple[Line, ...]:
    """Entries of a ledger as they stand on paper."""
    return tuple(Line(refs[each.id], anchor(WORKING, each.id), each.label, each.number, each.pad, each.unit,
                      each.limit and on_paper(each.limit, design.results[each.id], palette), each.planned)
                 for each in entries)


def on_paper(limit: Limit, result: Result, palette: Palette) -> Limit:
    """A limit with its gauge in the colours of paper. The gauge has the limit's words, for those who hear the page."""
    if result.goal is None:
        return limit
    return replace(limit, gauge=Html(limit_gauge.draw(result.number, result.goal.limit, result.goal.sense, palette,
                                                      label=limit.words)))


def _answer(each: Answered, said: tuple[Section, ...], design: Design, page: str, refs: Mapping[str, str],
            palette: Palette) -> Answer:
    return Answer(anchor(page, question_anchor(each.key)), each.heading, each.answer, said,
                  lines(each.entries, design, refs, palette), each.tables, each.asides,
                  _pictures(each.heading, design, palette))


def _pictures(heading: str, design: Design, palette: Palette) -> tuple[Shown, ...]:
    """The pictures that belong under this question."""
    made = ((known, known.make(design, palette, "wide")) for known in PICTURES.values()
            if heading.startswith(known.question))
    return tuple(Shown(Html(picture.linked), f"{known.title}. {picture.caption}") for known, picture in made if picture)
