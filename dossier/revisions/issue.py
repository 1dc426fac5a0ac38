"""Issuing: the build as it stands is frozen as its next revision, whole or not at all, and never written again."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from dossier.design import Design
from dossier.design.revision import EPOCH
from dossier.errors import Problem, Unusable
from dossier.revisions import frozen
from dossier.spec import issued, letters, text_file
from dossier.spec.contents import FOLDER, Contents, contents, sha256
from dossier.working import Result

_MARKS = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Unchanged(Exception):
    """Nothing has changed since the last revision, whose letter this carries."""


class Missed(Exception):
    """Goals are missed and nobody has accepted that. ``results`` are those that miss."""

    def __init__(self, results: tuple[Result, ...]) -> None:
        super().__init__("goals are missed")
        self.results = results


@dataclass(frozen=True, slots=True)
class Written:
    """A revision that was issued: its letter, its date, its file, and how many files were copied for it."""

    letter: str
    date: str
    file: Path
    copies: int


def issue(design: Design, note: str, *, on: date | None = None, accept_misses: bool = False,
          proof: Callable[[Design], None] | None = None) -> Written:
    """Freeze this design's build as its next revision.

    ``on`` is the author's date; else the date of the draft is taken. ``proof`` is asked last whether the design can be
    published, and raises Unusable where it cannot. Raises Unchanged, Missed, or Unusable where the note is empty, the
    date is before the last revision's, or the build changed while it was worked out.
    """
    folder, last = design.loaded.folder, design.issued[-1] if design.issued else None
    kept = contents(design.loaded.file)
    if last and last.contents_sha256 == kept.sha256:
        raise Unchanged(last.letter)
    if design.misses and not accept_misses:
        raise Missed(design.misses)
    letter, day = letters.after(last.letter if last else ""), on.isoformat() if on else design.date
    head = {
        "letter": letter, "date": day, "note": " ".join(note.split()),
        "previous": {"letter": last.letter, "sha256": last.sha256} if last else {},
        "contents_sha256": kept.sha256, "spec_sha256": kept.sums["build.yaml"],
    }
    if problems := list(_problems(design, kept, head, "--date" if on else _dated_by(design))):
        raise Unusable(problems)
    if proof:
        proof(design)
    raw = frozen.written(design, kept, head, f"{design.build.about.name}, revision {letter}: frozen by dossier, not to "
                                             "be changed; what comes next is issued under the next letter.")
    return Written(letter, day, *_put(folder / FOLDER, letter, raw, kept))


def _dated_by(design: Design) -> str:
    """What a draft has its date from."""
    if design.build.about.date:
        return "about.date"
    return EPOCH if os.environ.get(EPOCH) else "the clock"


def _problems(design: Design, kept: Contents, head: Mapping[str, object], dated: str) -> Iterator[Problem]:
    last = design.issued[-1] if design.issued else None
    if not head["note"] or _MARKS.search(str(head["note"])):
        yield Problem("--note", 0, "", "wants a sentence that says what changed, for people who have the last revision")
    if last and str(head["date"]) < last.date:
        yield Problem(dated, 0, "", f"{head['date']} is before revision {last.letter}, which is of {last.date}; "
                                    "give a later one with --date")
    if kept.sums["build.yaml"] != design.loaded.sha256:
        yield Problem(text_file.shown(design.loaded.file), 0, "", "was changed while it was worked out; issue it again")


def _put(home: Path, letter: str, raw: bytes, kept: Contents) -> tuple[Path, int]:
    """Write copies, frozen file and list of sums. The frozen file's name is what makes it issued, and comes last but
    one; what was written before it is taken away again where something fails."""
    target = home / f"{letter}.yaml"
    with _undone_if_it_fails() as made:
        for folder in (home, home / issued.FILES) if kept.files else (home,):
            if not folder.is_dir():
                folder.mkdir()
                made.append(folder)
        copied = [_copy(home / issued.FILES / frozen.copy_name(path, kept.sums[path]), file, kept.sums[path], made)
                  for path, file in kept.files.items()]
        _name(target, raw, made)
    issued.list_sums(home)
    return target, sum(copied)


@contextmanager
def _undone_if_it_fails() -> Iterator[list[Path]]:
    made: list[Path] = []
    try:
        yield made
    except BaseException:
        for path in reversed(made):
            path.rmdir() if path.is_dir() else path.unlink(missing_ok=True)
        raise


def _copy(target: Path, file: Path, sum_: str, made: list[Path]) -> bool:
    if target.exists():
        return False
    raw = file.read_bytes()
    if sha256(raw) != sum_:
        raise Unusable([Problem(text_file.shown(file), 0, "", "was changed while it was read; issue it again")])
    _name(target, raw, made)
    return True


def _name(target: Path, raw: bytes, made: list[Path]) -> None:
    """Give these bytes a name that nothing has yet. Raises Unusable where another run was first."""
    fresh = target.with_name(f".{target.name}.{os.getpid()}.new")
    try:
        with open(fresh, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        try:
            os.link(fresh, target)
        except FileExistsError:
            meanwhile = Problem(text_file.shown(target), 0, "", "is there already: it was issued meanwhile")
            raise Unusable([meanwhile]) from None
        except OSError:  # a file system without links
            if target.exists():
                raise
            fresh.rename(target)
        made.append(target)
    finally:
        fresh.unlink(missing_ok=True)
