"""Publishing: designs into folders of pages, drawings, downloads and a packet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dossier.design import Design, work_out
from dossier.design.laid_over import laid_over
from dossier.errors import Problem, Unusable
from dossier.spec.load import BUILD_FILE, load_build

Tell = Callable[[str], Any]


@dataclass(frozen=True, slots=True)
class Options:
    """How to publish: theme's name or path, a builder's measured file, kits, paper instead of the spec's, packet or
    not; a packet of each earlier revision too; all of it again although nothing has changed."""

    theme: str = "drawing-office"
    measured: Path | None = None
    kits: int | None = None
    paper: str | None = None
    no_packet: bool = False
    past_packets: bool = False
    fresh: bool = False


def publish_all(builds: Sequence[Path], out: Path, options: Options, step: Tell, remark: Tell) -> tuple[Path, ...]:
    """Publish these builds, or the builds in a folder of them, below ``out`` and return the folders written.

    Everything is worked out before anything is written, so an unusable build among many leaves all as it was. One that
    was published as it is now is left as it stands. More than one build also gets an index page. ``step`` is told what
    is being done, ``remark`` what a user must know. Raises Unusable.
    """
    folders = _builds(builds)
    _refuse_same_names(folders)
    from dossier.publish import write

    orders = [write.Order(folder, out, options) for folder in folders]
    designs = [None if order.made else _worked_out(order.folder, options, step) for order in orders]
    made = [write.write_build(order, design, step, remark) for order, design in zip(orders, designs, strict=True)]
    if len(folders) > 1 or not _is_build(builds[0]):
        from dossier.publish.library import write_index

        step("writing the index")
        write_index([each.line for each in made], out, options)
    return tuple(order.target for order in orders)


def proof(design: Design) -> None:
    """Set every page of this design and write nothing. Raises Unusable where it could not be published."""
    from dossier.publish.book import Book
    from dossier.publish.html import Site
    from dossier.publish.themes import load_theme

    Site(Book(design, load_theme(Options().theme))).files()


def _worked_out(folder: Path, options: Options, step: Tell) -> Design:
    step(f"working out {folder.name}")
    if options.measured is None:
        return work_out(load_build(folder), kits=options.kits)
    return laid_over(load_build(folder), load_build(folder, options.measured), options.kits)


def _builds(named: Sequence[Path]) -> tuple[Path, ...]:
    found: list[Path] = []
    for path in named:
        inside = sorted(child for child in path.iterdir() if _is_build(child)) if path.is_dir() else []
        found += inside if inside and not _is_build(path) else [path]
    return tuple(found)


def _is_build(path: Path) -> bool:
    return path.is_file() or (path / BUILD_FILE).is_file()


def _refuse_same_names(folders: Sequence[Path]) -> None:
    seen: dict[str, Path] = {}
    for named in folders:
        folder = home_of(named).resolve()
        if seen.setdefault(folder.name, folder) != folder:
            raise Unusable([Problem(str(named), 0, "", f"two builds named {folder.name!r} would be written over each "
                                    "other; rename one folder")])


def home_of(build: Path) -> Path:
    """The folder of a build that is named by its folder or by its spec file."""
    return build.parent if build.is_file() else build
