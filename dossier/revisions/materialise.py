"""A frozen revision as a build folder again, and worked out as it was."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dossier.design import Design, work_out
from dossier.errors import Problem, Unusable
from dossier.notation import show
from dossier.revisions import frozen
from dossier.revisions.frozen import Frozen, Kept
from dossier.spec import issued, letters, text_file
from dossier.spec.contents import FOLDER
from dossier.spec.issued import FILES
from dossier.spec.load import load_build
from dossier.working import Result


@contextmanager
def design_of(build: Path, letter: str, *, kits: int | None = None) -> Iterator[Design]:
    """A revision of the build in this folder (or with this spec file), worked out by the program of today.

    The design's folder is there only within the ``with``: what is still to be read from it, such as pages, pictures and
    meshes, must be read inside. Its revision and date are those under which it was issued. Raises Unusable where there
    is no such revision, a frozen file was changed, or the program of today cannot work it out.
    """
    with tempfile.TemporaryDirectory(prefix="dossier-", ignore_cleanup_errors=True) as made:
        folder = materialise(build, letter, Path(made).resolve())
        try:
            design = work_out(load_build(folder), kits=kits)
        except Unusable as error:
            raise Unusable(_at_home(problem, folder, _folder(build), letter) for problem in error.problems) from None
        yield design


def materialise(build: Path, letter: str, into: Path) -> Path:
    """Write a revision into ``into``, as the build folder that it was when it was issued: spec, pages, the files they
    name, and the revisions up to it. Returns the folder, which has the build's own name and must not be there yet.

    Raises Unusable as ``design_of``, but works nothing out.
    """
    source = _folder(build)
    kept = frozen.read(issued.issued(source, letter))
    folder = into / source.resolve().name
    for path, text in kept.texts.items():
        _made(folder / path).write_bytes(text.encode())
    for path, sum_ in kept.files.items():
        _take(source / FOLDER / FILES / frozen.copy_name(path, sum_), _made(folder / path), kept)
    for head in issued.history(source):
        if letters.rank(head.letter) <= letters.rank(letter):
            shutil.copyfile(head.file, _made(folder / FOLDER / head.file.name))
    issued.list_sums(folder / FOLDER)
    return folder


@dataclass(frozen=True, slots=True)
class Drift:
    """A result that the program of today works out otherwise than it was frozen; ``now`` is None where it has no such
    result any more."""

    result_id: str
    then: Kept
    now: Result | None


def drift(kept: Frozen, design: Design) -> tuple[Drift, ...]:
    """Where the program of today differs from what was frozen, beyond the digits that are printed. ``design`` is that
    of the same revision. Results that only the program of today works out are no difference."""
    found = (Drift(name, then, design.results.get(name)) for name, then in kept.results.items())
    return tuple(each for each in found if not _same(each, design))


def _same(each: Drift, design: Design) -> bool:
    then, now = each.then, each.now
    if now is None or then.unit != frozen.unit_of(now, design):
        return False
    readers = design.build.readers
    old, new = (show(value, now.unit, result_id=now.id, readers=readers) for value in (then.value, now.value))
    return old == new


def _folder(build: Path) -> Path:
    return build if build.is_dir() else build.parent


def _made(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    return path


def _take(copy: Path, target: Path, kept: Frozen) -> None:
    if not copy.is_file():
        why = f"is missing, and {kept.head.file.name} needs it; put it back from a backup or from version control"
        raise Unusable([Problem(text_file.shown(copy), 0, "", why)])
    shutil.copyfile(copy, target)


def _at_home(problem: Problem, folder: Path, source: Path, letter: str) -> Problem:
    """A problem of a build that was opened somewhere else, told at its frozen file."""
    inside = problem.file.removeprefix(f"{text_file.shown(folder)}/")
    frozen_file = text_file.shown(source / FOLDER / f"{letter}.yaml")
    return Problem(f"{frozen_file}: {inside}", problem.line, problem.key, problem.message)
