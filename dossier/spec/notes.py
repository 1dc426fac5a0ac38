"""Notes: flaws that readers must know of, and whether a revision still has one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Literal

from dossier.errors import Problem, did_you_mean
from dossier.spec import letters
from dossier.spec.issued import Issued, raw_of
from dossier.spec.load import Loaded
from dossier.spec.model_about import Note
from dossier.spec.steps import Step, slug_of

# ``open``: this revision has the flaw. ``closed``: an earlier one had it, and this one or one before it mended it.
# ``elsewhere``: it is a flaw of other revisions.
Status = Literal["open", "closed", "elsewhere"]
_DRAFT = "draft"


def target(revision: str) -> str:
    """The letter that a revision has, or that a draft will have: ``draft after B`` gives C."""
    before = revision.removeprefix(_DRAFT)
    return revision if before == revision else letters.after(before.removeprefix(" after "))


def status(note: Note, revision: str) -> Status:
    """How a note stands in a revision, or in a draft such as ``draft after B``, which has the letter it will get.

    A flaw that is not mended stays: a revision after the last one that is named has it too, until one closes it. A note
    that names no revision is about all of them up to that one.
    """
    here = letters.rank(target(revision))
    touched = [letters.rank(letter) for letter in note.touches]
    if note.closed_by and letters.rank(note.closed_by) <= here:
        return "closed" if not touched or min(touched) <= here else "elsewhere"
    return "open" if not touched or here in touched or here > max(touched) else "elsewhere"


def of_part(notes: Sequence[Note], ref: str) -> tuple[Note, ...]:
    """The notes that concern a part."""
    return tuple(note for note in notes if ref in note.parts)


def of_step(notes: Sequence[Note], slug: str) -> tuple[Note, ...]:
    """The notes that concern the build step with this slug."""
    return tuple(note for note in notes if any(_slug(named) == slug for named in note.steps))


def _slug(named: str) -> str:
    """A step's slug from what a note calls it: its file's name without ending, with or without the number."""
    return slug_of(Path(f"{named}.md"))


def problems(loaded: Loaded, steps: Sequence[Step], issued: Sequence[Issued]) -> Iterator[Problem]:
    """Parts, steps and letters that notes name and that are not there. What a closed note names may be of the
    revisions that it touches; of an open one the parts have been looked at already."""
    last = issued[-1].letter if issued else ""
    upcoming = letters.after(last)
    slugs = [step.slug for step in steps]
    refs = [part.ref for part in loaded.build.parts]
    for place, note in enumerate(loaded.build.notes):
        key = f"notes[{place}]"
        for item, ref in enumerate(note.parts):
            if ref not in refs and note.closed_by and not _was(note, issued, rf"ref: *['\"]?{re.escape(ref)}\b"):
                yield loaded.problem(f"{key}.parts[{item}]", f"is no reference of a part (got {ref})"
                                                             f"{did_you_mean(ref, refs)}")
        for item, named in enumerate(note.steps):
            page = rf'"pages/steps/[^"]*\b{re.escape(_slug(named))}\.md"'
            if _slug(named) not in slugs and not _was(note, issued, page):
                near = did_you_mean(_slug(named), slugs)
                yield loaded.problem(f"{key}.steps[{item}]", f"is no build step (got {named}){near}")
        yield from _letters(loaded, note, key, last, upcoming)


def _was(note: Note, issued: Sequence[Issued], pattern: str) -> bool:
    """Whether a closed note's part or step is in one of the revisions that it touches."""
    had = [each for each in issued if note.closed_by and (not note.touches or each.letter in note.touches)]
    return any(re.search(pattern.encode(), raw_of(each.file)) for each in had)


def _letters(loaded: Loaded, note: Note, key: str, last: str, upcoming: str) -> Iterator[Problem]:
    named = [(f"{key}.touches[{item}]", letter) for item, letter in enumerate(note.touches)]
    if note.closed_by:
        named.append((f"{key}.closed_by", note.closed_by))
    for place, letter in named:
        if not letters.is_letter(letter):
            yield loaded.problem(place, f"is no revision letter: I, O, Q, S, X and Z are not used (got {letter})")
        elif letters.rank(letter) > letters.rank(upcoming):
            so_far = f"the last is {last}, and " if last else ""
            yield loaded.problem(place, f"was not issued: {so_far}the next will be {upcoming} (got {letter})")
    known = [letter for letter in (*note.touches, note.closed_by or "") if letters.is_letter(letter)]
    if note.closed_by in known and any(letters.rank(letter) >= letters.rank(note.closed_by) for letter in note.touches
                                       if letter in known):
        yield loaded.problem(f"{key}.closed_by", f"comes before a revision that has the flaw (got {note.closed_by})")
