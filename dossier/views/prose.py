"""The author's prose as blocks, and beside each block the working of the numbers in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from dossier.design import Design
from dossier.views.markup import Html
from dossier.views.questions import QUESTIONS
from dossier.views.spoken import Mention
from dossier.views.workings import Work, work_of


@dataclass(frozen=True, slots=True)
class Piece:
    """One block of prose as HTML, the live numbers said in it, and its text where it is a heading of a section."""

    html: Html
    mentions: tuple[Mention, ...] = ()
    section: str = ""


@dataclass(frozen=True, slots=True)
class Passage:
    """A text: the heading that stood at its top, or nothing, and its blocks."""

    heading: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """A block as the site shows it: beside it the workings of the numbers that are first said there.

    ``rows`` is how many blocks, this one and those after it, have the margin to themselves.
    """

    html: Html
    works: tuple[Work, ...] = ()
    rows: str = "1"


def said(pieces: Iterable[Piece], design: Design, told: set[str] | None = None) -> tuple[Said, ...]:
    """Blocks with their workings. ``told`` are results whose working the page shows already; it grows."""
    shown = set() if told is None else told
    blocks = []
    for piece in pieces:
        fresh = [mention.name for mention in piece.mentions if mention.is_result and mention.name not in shown]
        shown.update(fresh)
        blocks.append(Said(piece.html, tuple(work_of(design.results[name], design) for name in fresh)))
    return _spread(blocks)


def _spread(blocks: list[Said]) -> tuple[Said, ...]:
    spread: list[Said] = []
    rows = 1
    for block in reversed(blocks):
        spread.append(replace(block, rows=str(rows)) if block.works else block)
        rows = 1 if block.works else rows + 1
    return tuple(reversed(spread))


def by_question(passage: Passage, page: str) -> tuple[tuple[Piece, ...], Mapping[str, tuple[Piece, ...]]]:
    """The blocks that belong to the page as a whole, and those under a heading that is one of the page's questions.

    A section of prose whose heading is a question of the page stands with that question, without its heading.
    """
    keys = {question.heading.casefold(): question.key for question in QUESTIONS if question.page == page}
    whole: list[Piece] = []
    found: dict[str, list[Piece]] = {}
    current = whole
    for piece in passage.pieces:
        key = keys.get(piece.section.casefold()) if piece.section else None
        if key:
            current = found.setdefault(key, [])
            continue
        current = whole if piece.section else current
        current.append(piece)
    return tuple(whole), {key: tuple(pieces) for key, pieces in found.items()}
