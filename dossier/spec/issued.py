"""The revisions that were issued, read by their heads alone, and the proof that none has been changed since.

``revisions/<letter>.yaml`` begins with a comment, then the hash of every byte below its line, then a line for each key
of the head, whose value is JSON: neither chain nor hashes need YAML. ``revisions/SHA256SUMS`` lists all of it
in the form that ``sha256sum -c`` reads.
"""

from __future__ import annotations

import json
import os
import re
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec import letters, text_file
from dossier.spec.contents import FOLDER, sha256, sum_of

FILES, SUMS = "files", "SHA256SUMS"
WORKING = "working"
LARGEST = 64_000_000
HEAD = ("letter", "date", "note", "previous", "contents_sha256", "spec_sha256", "program")
_SEAL = re.compile(rb"\A#[^\n]*\nsha256: ([0-9a-f]{64})\n")
_COPY = re.compile(r"([0-9a-f]{64})(?:\.[^/]*)?")
_MEND = "put it back as it was, from a backup or from version control"


@dataclass(frozen=True, slots=True)
class Issued:
    """The head of one issued revision. ``sha256`` is of its whole file; ``previous`` is the letter before, or empty;
    ``contents_sha256`` is of all that it froze, ``spec_sha256`` of its build.yaml."""

    letter: str
    date: str
    note: str
    program: str
    previous: str
    contents_sha256: str
    spec_sha256: str
    sha256: str
    file: Path


def history(folder: Path) -> tuple[Issued, ...]:
    """The revisions of the build in this folder, oldest first. Raises Unusable, naming every file that is missing or no
    longer what was issued."""
    home = folder / FOLDER
    if not home.is_dir():
        return ()
    wrong: dict[Path, str] = {}  # one thing for each file; what was found first tells the most
    found: list[Issued] = []
    actual: dict[str, str] = {}
    for path in _frozen(home):
        raw = raw_of(path)
        actual[path.name] = sha256(raw)
        if head := _head(path, raw, wrong):
            before = head.pop("previous") or {"letter": "", "sha256": ""}
            found.append(Issued(**head, previous=before["letter"], sha256=actual[path.name], file=path))
            _follows(found, before["sha256"], wrong)
    for path in _copies(home):
        actual[f"{FILES}/{path.name}"] = sum_of(path)
        if actual[f"{FILES}/{path.name}"] != path.name[:64]:
            wrong[path] = "has been changed since it was frozen"
    problems = [_problem(path, why) for path, why in _strays(home)]
    if found and not (home / SUMS).exists():
        problems.append(_problem(home / SUMS, _lost(found[-1].letter, any("/" in name for name in actual))))
    else:
        _compare(home, actual, wrong)
    problems += [_problem(path, f"{what}; {_MEND}") for path, what in wrong.items()]
    if problems:
        raise Unusable(problems)
    return tuple(found)


def issued(folder: Path, letter: str) -> Issued:
    """The revision with this letter. Raises Unusable where there is none, or any was changed."""
    known = history(folder)
    for each in known:
        if each.letter == letter:
            return each
    have = [each.letter for each in known]
    near = f" — did you mean '{letter.upper()}'?" if letter.upper() in have else did_you_mean(letter, [*have, WORKING])
    why = (f"there is no revision {letter!r}; "
           + (f"issued so far: {', '.join(have)}" if have else "none was issued yet")
           + f"; {WORKING!r} names the build as it stands{near}")
    raise Unusable([Problem(text_file.shown(folder / FOLDER), 0, "", why)])


def refuse_frozen(spec: Path) -> None:
    """Raises Unusable where a path that should name a build's spec is that of a frozen revision."""
    try:
        with open(spec, "rb") as file:
            seal = _SEAL.match(file.read(400))
    except OSError:
        return  # told by whoever reads it
    if seal:
        why = (f"is a frozen revision, no build.yaml; name its letter, as in: dossier compare "
               f"{text_file.shown(spec.parent.parent)} {spec.stem}")
        raise Unusable([_problem(spec, why)])


def list_sums(home: Path) -> None:
    """Write the list of sums of a folder of revisions anew, all at once."""
    names = [*(path.name for path in _frozen(home)), *(f"{FILES}/{path.name}" for path in _copies(home))]
    fresh = home / f".{SUMS}.new"
    fresh.write_text("".join(f"{sum_of(home / name)}  {name}\n" for name in names), "utf-8")
    fresh.replace(home / SUMS)


def sealed(comment: str, body: bytes) -> bytes:
    """A frozen file: a line of comment, the hash of all that follows, and what follows."""
    return f"# {comment}\nsha256: {sha256(body)}\n".encode() + body


def head_lines(head: Mapping[str, Any]) -> str:
    """The head as its lines."""
    return "".join(f"{key}: {json.dumps(head[key], ensure_ascii=False)}\n" for key in HEAD)


def raw_of(path: Path) -> bytes:
    """The bytes of a frozen file. Raises Unusable where they cannot be read or are far too many."""
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode) or about.st_size > LARGEST:
            raise Unusable([_problem(path, f"is no frozen revision; {_MEND}")])
        return path.read_bytes()
    except OSError as error:
        raise Unusable([_problem(path, f"cannot be read: {error.strerror}")]) from None


def _frozen(home: Path) -> list[Path]:
    """The frozen files in the order of their letters."""
    stems = (name.removesuffix(".yaml") for name in os.listdir(home) if name.endswith(".yaml"))
    return [home / f"{stem}.yaml" for stem in sorted(filter(letters.is_letter, stems), key=letters.rank)]


def _strays(home: Path) -> Iterator[tuple[Path, str]]:
    """Files that look like revisions and that no command can have issued."""
    for name in sorted(os.listdir(home)):
        stem, _, ending = name.rpartition(".")
        if not stem or ending not in ("yaml", "yml") or (ending == "yaml" and letters.is_letter(stem)):
            continue
        capital = stem.upper()
        if letters.is_letter(capital):
            why = f"is read as no revision: its name would be {capital}.yaml; rename it, or move it out of this folder"
        elif stem.isalpha() and len(stem) <= 2:
            why = ("is no revision that was issued: I, O, Q, S, X and Z are not used as letters; move it out of this "
                   "folder")
        else:
            why = "is no revision that was issued; move it out of this folder"
        yield home / name, why


def _lost(last: str, copies: bool) -> str:
    """What is to be done where the list of sums is gone."""
    of = f"*.yaml {FILES}/*" if copies else "*.yaml"
    return (f"is missing, and it alone proves that revision {last} is as it was issued; put it back from a backup or "
            f"from version control. Where there is none, compare {last}.yaml with a copy that you gave out, and make "
            f"the list anew in this folder: sha256sum {of} > {SUMS}")


def _copies(home: Path) -> list[Path]:
    folder = home / FILES
    names = os.listdir(folder) if folder.is_dir() else []
    return [folder / name for name in sorted(filter(_COPY.fullmatch, names))]


def _head(path: Path, raw: bytes, wrong: dict[Path, str]) -> dict[str, Any] | None:
    seal = _SEAL.match(raw)
    if not seal or sha256(raw[seal.end():]) != seal[1].decode():
        turned = "its line ends were changed" if b"\r\n" in raw else "it has been changed since it was issued"
        wrong[path] = f"does not have the hash that it says: {turned}"
        return None
    try:
        lines = raw[seal.end():].decode().split("\n", len(HEAD) + 1)[1:-1]  # the first says the format
        found = {key: json.loads(value) for key, _, value in (line.partition(": ") for line in lines)}
    except ValueError:
        found = {}
    before = found.get("previous")
    texts = [value for key, value in found.items() if key != "previous"]
    texts += before.values() if isinstance(before, dict) else [None]
    if (tuple(found) != HEAD or not all(isinstance(text, str) for text in texts) or found["letter"] != path.stem
            or (before and set(before) != {"letter", "sha256"})):
        wrong[path] = f"is not the frozen file of revision {path.stem}"
        return None
    return found


def _follows(found: list[Issued], sum_before: str, wrong: dict[Path, str]) -> None:
    """Whether the newest of these follows the one before it, by letter and by hash."""
    here, before = found[-1], found[-2] if len(found) > 1 else None
    if here.letter != letters.after(here.previous):
        wrong[here.file] = f"says that it follows {here.previous or 'none'}"
    elif here.previous and (before is None or before.letter != here.previous):
        wrong.setdefault(here.file.with_name(f"{here.previous}.yaml"), f"is missing, and {here.file.name} follows it")
    elif before and before.sha256 != sum_before:
        wrong[before.file] = f"is not the one that {here.file.name} was issued after"


def _compare(home: Path, actual: Mapping[str, str], wrong: dict[Path, str]) -> None:
    """What the list of sums says otherwise. It may lack the last revision, where issuing was cut short."""
    try:
        lines = (home / SUMS).read_text("utf-8").splitlines()
    except FileNotFoundError:  # nothing was issued yet
        return
    except (OSError, ValueError):
        wrong[home / SUMS] = "cannot be read"
        return
    for line in lines:
        said, _, name = line.partition("  ")
        if name not in actual:
            wrong.setdefault(home / name, f"is missing, and {SUMS} has it")
        elif said != actual[name]:
            wrong.setdefault(home / name, f"is not what {SUMS} says of it")


def _problem(path: Path, message: str) -> Problem:
    return Problem(text_file.shown(path), 0, "", message)
