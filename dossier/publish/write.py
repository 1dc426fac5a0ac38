"""All or nothing: a published folder is replaced whole, or stays as it was.

Everything is written into a folder beside the target and swapped in by one rename. A run that fails or is killed leaves
the earlier site; what it left lying about is cleared by the next. Only folders that carry the mark are ever removed,
and only where they hold nothing but what was written there.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dossier.errors import Problem, Unusable
from dossier.publish import kept
from dossier.publish.themes import load_theme

if TYPE_CHECKING:
    from dossier.design import Design
    from dossier.publish import Options
    from dossier.publish.book import Book

MARK = ".dossier"
Tell = Callable[[str], Any]


class Order:
    """A build to be published: its folder, where to, how, and what stands there already under the same key."""

    def __init__(self, folder: Path, out: Path, options: Options) -> None:
        home = folder.parent if folder.is_file() else folder
        self.folder, self.options, self.theme = folder, options, load_theme(options.theme)
        self.out, self.name = out, home.resolve().name
        self.target = out / self.name
        measured = [options.measured] if options.measured else []
        there = home.is_dir() and all(file.is_file() for file in measured)
        self.key = kept.key_of(f"build {self.name} {folder.name}", [home, *self.theme.folders()], measured, {
            "kits": options.kits, "paper": options.paper, "packet": not options.no_packet, "day": kept.day(),
            "past packets": options.past_packets}) if there else ""
        self.made = kept.still_there(self.target, self.key, MARK) if self.key and not options.fresh else None


def write_build(order: Order, design: Design | None, step: Tell, remark: Tell) -> kept.Made:
    """Publish this design; None where what stands there is what it would give. Raises Unusable with nothing written."""
    if design is None:
        assert order.made
        for words in order.made.remarks:
            remark(words)
        return order.made
    from dossier.publish.book import Book
    from dossier.publish.earlier import earlier_sites
    from dossier.publish.html import Site
    from dossier.views.library import build_line

    remarks: list[str] = []

    def noted(words: str) -> None:
        remarks.append(words)
        remark(words)

    step("reading the pages")
    site = Site(Book(design, order.theme), order.options.paper)
    packet = None if order.options.no_packet else _packet(site.book, order.options, step, noted)
    step("setting the pages")
    files, copies = site.files(packet), site.copies()
    for earlier in earlier_sites(order, design, step, noted):
        files |= earlier.files
        copies |= earlier.copies
    # What could not be made this time may be possible the next.
    key = "" if packet is None and not order.options.no_packet else order.key
    made = kept.Made(key, kept.sums(files, copies), tuple(remarks), build_line(design))
    step("writing")
    put(order.out, order.name, {**files, kept.RECORD: made.as_bytes()}, copies)
    return made


def _packet(book: Book, options: Options, step: Tell, remark: Tell) -> bytes | None:
    from dossier.publish.packet import NoPacket, packet_pdf
    from dossier.publish.packet_source import left_behind

    step("laying out the packet")
    for name in left_behind(book.design):
        remark(f"packet.pdf does not carry {name}, which is too large")
    try:
        return packet_pdf(book, paper=options.paper)
    except NoPacket as reason:
        remark(str(reason))
        return None


def put(out: Path, name: str, files: Mapping[str, bytes], copies: Mapping[str, Path] | None = None) -> Path:
    """Write these files (by path below the folder) as the folder ``name`` in ``out``, in place of an earlier one.

    Raises Unusable where something stands there that was not written by this program.
    """
    target, fresh, old = out / name, out / f".{name}.new", out / f".{name}.old"
    out.mkdir(parents=True, exist_ok=True)
    with alone_in(out):
        _recover(target, fresh, old)
        refuse_foreign(target)  # under the lock: another run may change the folder between its list and its files
        try:
            _fill(fresh, files, copies or {})
            _swap(fresh, target, old)
        except BaseException:
            _recover(target, fresh, old)
            raise
        _remove(fresh)
        _remove(old)
    return target


def put_file(target: Path, data: bytes) -> None:
    """Write one file whole: a reader finds the old one or the new one, never half."""
    target.parent.mkdir(parents=True, exist_ok=True)
    fresh = target.with_name(f".{target.name}.new")
    fresh.write_bytes(data)
    fresh.replace(target)


def refuse_foreign(folder: Path) -> None:
    """Unusable where this is not a folder that holds only what this program wrote, or nothing."""
    if not folder.is_symlink() and not folder.exists():
        return
    strangers = _strangers(folder)
    if strangers:
        raise Unusable([Problem(str(folder), 0, "", f"{strangers}; move it away or choose another --out")])


def _strangers(folder: Path) -> str:
    if folder.is_symlink() or not folder.is_dir():
        return "is not a folder, and the pages would replace it"
    mark = folder / MARK
    if not mark.is_file():
        return "" if not any(folder.iterdir()) else "is there already and was not written by dossier"
    written = set(mark.read_text("utf-8").splitlines())
    found = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*")
                   if path.is_symlink() or not path.is_dir())
    other = [path for path in found if path not in written and path != MARK]
    return f"holds {other[0]}, which dossier did not write" if other else ""


@contextmanager
def alone_in(out: Path) -> Iterator[None]:
    """Wait until no other run writes into this folder, and keep others out meanwhile."""
    import fcntl

    handle = os.open(out, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _recover(target: Path, fresh: Path, old: Path) -> None:
    """Clear what a run that did not finish left: put the earlier site back where it had just been moved away."""
    if old.is_dir() and not target.exists():
        old.rename(target)
    _remove(fresh)
    _remove(old)


def _remove(folder: Path) -> None:
    if not folder.is_dir() or folder.is_symlink():
        return
    if not (folder / MARK).is_file() and any(folder.iterdir()):
        raise Unusable([Problem(str(folder), 0, "", "is in the way and was not written by dossier; move it away")])
    for path in folder.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        elif path.name != MARK:
            path.unlink()
    (folder / MARK).unlink(missing_ok=True)  # last, so that a kill meanwhile leaves a folder that is still known
    folder.rmdir()


def _fill(folder: Path, files: Mapping[str, bytes], copies: Mapping[str, Path]) -> None:
    folder.mkdir()
    names = sorted({*files, *copies})
    (folder / MARK).write_text("".join(f"{name}\n" for name in names), "utf-8")
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if name in files:
            path.write_bytes(files[name])
        else:
            shutil.copyfile(copies[name], path)


def _swap(fresh: Path, target: Path, old: Path) -> None:
    if not target.exists():
        fresh.rename(target)
    elif not _exchange(fresh, target):
        target.rename(old)
        fresh.rename(target)


def _exchange(one: Path, other: Path) -> bool:
    """Let two folders change names in one step, where the system can: then there is no moment without a site."""
    import ctypes

    here, exchange = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of renameat2(2)
    rename = getattr(ctypes.CDLL(None), "renameat2", None)
    return rename is not None and rename(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0
