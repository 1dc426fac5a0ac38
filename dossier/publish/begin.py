"""``dossier begin``: a build folder to start from, the starter's or the one that a packet carries inside it."""

from __future__ import annotations

import logging
import shutil
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from typing import Any

from dossier.errors import Problem, Unusable
from dossier.publish.packet_source import BUILD_FILE, KEPT, LAID_OVER, LARGEST_FILE, LARGEST_SUM

STARTER = Path(__file__).parent.parent / "starter"
# What may lie beside the starter in an installed or half-built tree and is none of an author's business.
NOT_COPIED = ("__pycache__", "__init__.py", "*.pyc")
_MOST_FILES = 2000


def begin_build(folder: Path) -> tuple[Path, ...]:
    """Write the starter build into this folder and return what was written, sorted.

    Raises Unusable where the folder is a file or not empty; nothing is then written.
    """
    _refuse_full(folder)
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns(*NOT_COPIED), dirs_exist_ok=True)
    return tuple(sorted(path for path in folder.rglob("*") if path.is_file()))


def begin_from(folder: Path, packet: Path) -> tuple[Path, ...]:
    """Write the build that a packet carries into this folder and return what was written, sorted.

    Raises Unusable where the folder is not empty or the packet carries no build; nothing is then written. A packet may
    be a stranger's: only files of a build are taken, none with a place outside the folder.
    """
    _refuse_full(folder)
    files = dict(_carried(packet))
    if "build.yaml" not in files:
        raise Unusable([Problem(str(packet), 0, "", "carries no build; only a packet.pdf of dossier does")])
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return tuple(sorted(folder / name for name in files))


def _refuse_full(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise Unusable([Problem(str(folder), 0, "", "is a file; name a new or empty folder")])
    if folder.is_dir() and any(folder.iterdir()):
        raise Unusable([Problem(str(folder), 0, "", "is not empty; name a new or empty folder")])


def _carried(packet: Path) -> Iterator[tuple[str, bytes]]:
    """Name and bytes of each file of the build inside the packet."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what is wrong is said below, once
    room = LARGEST_SUM
    try:
        for count, file in enumerate(PdfReader(packet).attachment_list):
            if _what(file) not in (BUILD_FILE, LAID_OVER):
                continue
            data = bytes(file.content)
            room -= len(data)
            if len(data) > LARGEST_FILE or room < 0 or count > _MOST_FILES:
                raise Unusable([Problem(str(packet), 0, file.name, "is larger than a build's files may be")])
            yield _inside(file.name, packet), data
    except OSError as error:
        raise Unusable([Problem(str(packet), 0, "", f"cannot be read: {error.strerror or error}")]) from error
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise Unusable([Problem(str(packet), 0, "", "is not a PDF that can be read; wants a packet.pdf of dossier"
                                )]) from error


def _what(file: Any) -> str:
    return str(file.pdf_object.get("/Desc", ""))


def _inside(name: str, packet: Path) -> str:
    """The name, where it is a place that a build's file may have; a name like ``../x`` or ``.profile`` is refused."""
    path = PurePosixPath(name)
    wrong = (path.is_absolute() or any(part == ".." or part.startswith(".") for part in path.parts)
             or "\\" in name or ":" in name or "\0" in name or not path.parts or path.parts[0] not in KEPT)
    if wrong:
        raise Unusable([Problem(str(packet), 0, "", f"carries a file named {name!r}, which no build has; nothing was "
                                                    "written")])
    return str(path)
